"""A way through the song made into a run: walls with facings and seconds, tags with their steps, ending, score, why."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.dance.facing import turned
from softshoe.fit import score as sc
from softshoe.fit.anatomy import anatomy
from softshoe.fit.ending import ending_of, needs_ending
from softshoe.fit.rules import part_of
from softshoe.fit.run import Run, RunRestart, RunTag, RunWall, Score
from softshoe.fit.starts import start_charges, start_of
from softshoe.fit.tags import bridge_actions, tag_actions
from softshoe.fit.why import reasons

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.rules import Weights
    from softshoe.fit.steps import Extra, Step
    from softshoe.fit.tempo import Counting
    from softshoe.music.songmap import SongMap


def run_of(
    dance: Dance,
    song: SongMap,
    grid: Grid,
    steps: Sequence[Step],
    counting: Counting,
    weights: Weights,
    *,
    honoured: bool,
    other: bool,
) -> Run:
    """Return the run of these steps. ``honoured``: as the sheet writes it; ``other``: not the pace that suits best."""
    walls = _walls(dance, grid, steps)
    last, facing = steps[-1], walls[-1].facing_deg
    parts = sc.parts_of(dance, grid, steps, weights)
    parts |= start_charges(dance, song, grid, counting, weights)
    others = {
        "ending": needs_ending(dance, grid, last, facing, anatomy(dance)),
        "off_sheet": not honoured,
        "other_pulse": other,
    }
    parts |= {part_of(name): -weights.of(name) for name, asked in others.items() if asked and weights.of(name)}
    run = Run(
        beats_per_count=grid.beats_per_count,
        start=start_of(grid),
        walls=walls,
        tags=tuple(tag for step in steps for tag in _tags(dance, step)),
        restarts=tuple(RunRestart(s.wall, s.counts, s.change) for s in steps if s.cut),
        ending=ending_of(dance, grid, last, facing),
        score=Score(round(max(0.0, sc.BEST + sum(parts.values())), 2), parts),
        why=(),
    )
    return replace(run, why=reasons(dance, grid, steps, run, counting, honoured=honoured))


def _walls(dance: Dance, grid: Grid, steps: Sequence[Step]) -> tuple[RunWall, ...]:
    facing, walls = 0, []
    for step in steps:
        walls.append(RunWall(step.wall, grid.times_s[step.at], step.counts, facing))
        facing = turned(facing, _turn_deg(dance, step))
    return tuple(walls)


def _turn_deg(dance: Dance, step: Step) -> int:
    """How far a wall turns with everything danced in it."""
    if dance.seated:
        return 0
    said = sum(action.turn_deg for extra in step.extras for action in extra.actions)
    return anatomy(dance).facings_deg[step.counts] + said


def _tags(dance: Dance, step: Step) -> Iterator[RunTag]:
    for extra in step.extras:
        behind = extra.after >= step.counts
        after_wall, in_wall = (step.wall, None) if behind else (None, step.wall)
        at_count = min(extra.after, step.counts)
        yield RunTag(after_wall, in_wall, at_count, extra.counts, _actions(dance, extra, step), extra.written)


def _actions(dance: Dance, extra: Extra, step: Step) -> tuple[Action, ...]:
    if extra.actions:
        return extra.actions
    if extra.after >= step.counts:
        return tag_actions(dance, extra.counts)
    return bridge_actions(dance, extra.after, extra.counts)
