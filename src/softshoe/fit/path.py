"""The search: walls, tags and restarts laid one after another on the counts of a song.

A path is a chain of steps. At each wall start the dance may run whole, run whole with a tag that ends on a phrase
start, or be cut where a phrase begins. The best few partial paths are kept at every position (what a repair charges
depends on the repairs before it), so the whole song is laid in one sweep.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.dance.footwork import state_after
from softshoe.fit.score import MISSED, charges, missed_in, of_repairs, total_of
from softshoe.fit.tags import restart_change

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance, Tag
    from softshoe.fit.grid import Grid

KEPT = 12
TAG_COUNTS = (2, 4, 6, 8, 12, 16)
TAG_COUNTS_WALTZ = (3, 6, 12, 24)
LEAST_WALL = 5  # fewer counts than these at the end are a closing pose, not a wall


@dataclass(frozen=True, slots=True)
class Step:
    """One wall and the tag behind it. ``bridges`` are written tags inside the wall; ``cut``: a restart ends it."""

    wall: int
    at: int
    counts: int
    tag: int = 0
    written_tag: Tag | None = None
    bridges: tuple[Tag, ...] = ()
    cut: bool = False
    change: str | None = None

    @property
    def end(self) -> int:
        """Where the next wall begins."""
        return self.at + self.counts + self.tag + sum(b.counts for b in self.bridges)


@dataclass(frozen=True, slots=True)
class Path:
    """A chain of steps: what its missed phrase starts have cost, which of its steps are repairs, and the sum."""

    steps: tuple[Step, ...]
    missed: float = 0.0
    repairs: tuple[Step, ...] = ()
    cost: float = 0.0

    @property
    def end(self) -> int:
        """Where the chain ends."""
        return self.steps[-1].end if self.steps else 0


@dataclass(frozen=True, slots=True)
class _Ground:
    """What the search looks up again and again: the grid, and where the dance may be cut, with the change needed."""

    dance: Dance
    grid: Grid
    phrase_positions: frozenset[int]
    cuts: tuple[tuple[int, str | None], ...]
    written: bool
    repairs: bool


def paths(dance: Dance, grid: Grid, *, written: bool, repairs: bool) -> tuple[Path, ...]:
    """Return the cheapest ways through the song, best first; none when the song has no counts.

    ``written`` honours the sheet's own tags and restarts; ``repairs`` allows new ones. On a song that fades the dance
    ends with its last whole wall.
    """
    ground = _Ground(dance, grid, grid.phrase_positions, tuple(_cuts(dance)), written, repairs)
    waiting: dict[int, list[Path]] = {0: [Path(())]} if grid.total else {}
    done: list[Path] = []
    least = dance.counts if grid.fades else LEAST_WALL
    while waiting:
        position = min(waiting)
        for path in sorted(waiting.pop(position), key=lambda p: p.cost)[:KEPT]:
            if grid.total - position < least and path.steps:
                done.append(path)
                continue
            for step in _choices(ground, path):
                grown = _grown(ground, path, step)
                (done if grown.end >= grid.total else waiting.setdefault(grown.end, [])).append(grown)
    scored = [replace(path, cost=-total_of(charges(dance, grid, path.steps))) for path in done]
    return tuple(sorted(scored, key=lambda p: (p.cost, len(p.steps))))[:KEPT]


def _grown(ground: _Ground, path: Path, step: Step) -> Path:
    missed = path.missed + MISSED * sum(p.weight for p in missed_in(ground.dance, ground.grid, step))
    is_repair = step.tag or step.cut or step.bridges
    repairs = (*path.repairs, step) if is_repair else path.repairs
    return Path((*path.steps, step), missed, repairs, missed + of_repairs(ground.dance, repairs))


def _choices(ground: _Ground, path: Path) -> Iterator[Step]:
    whole = Step(len(path.steps) + 1, path.end, ground.dance.counts)
    if ground.written and (said := _written(ground.dance, whole)) is not None:
        yield _within(said, ground.grid)
        return
    yield _within(whole, ground.grid)
    if ground.repairs:
        yield from _with_tags(ground, whole)
        yield from _with_cuts(ground, whole)


def _within(step: Step, grid: Grid) -> Step:
    """A wall that the end of the song cuts is no restart and has no tag."""
    left = grid.total - step.at
    if step.end <= grid.total:
        return step
    bridge_counts = sum(b.counts for b in step.bridges if b.after_count < left)
    counts = min(step.counts, left - bridge_counts)
    tag = max(0, min(step.tag, left - bridge_counts - counts))
    whole_tag = step.written_tag if tag == step.tag else None
    return Step(step.wall, step.at, counts, tag if whole_tag else 0, whole_tag, step.bridges if bridge_counts else ())


def _written(dance: Dance, whole: Step) -> Step | None:
    """The wall as the sheet says it, or None when it says nothing of this wall."""
    cut = next((r.after_count for r in dance.restarts if whole.wall in r.walls), None)
    tags = [t for t in dance.tags if whole.wall in t.walls and (cut is None or t.after_count <= cut)]
    after = next((t for t in tags if t.then == "start" or t.after_count == dance.counts), None)
    bridges = tuple(t for t in tags if t is not after)
    if cut is None and not tags:
        return None
    counts = after.after_count if after else cut or dance.counts
    tag = after.counts if after else 0
    return replace(whole, counts=counts, tag=tag, written_tag=after, bridges=bridges, cut=counts < dance.counts)


def _with_tags(ground: _Ground, whole: Step) -> Iterator[Step]:
    for counts in TAG_COUNTS_WALTZ if ground.dance.metre == "3/4" else TAG_COUNTS:
        if whole.end + counts in ground.phrase_positions:
            yield replace(whole, tag=counts)


def _with_cuts(ground: _Ground, whole: Step) -> Iterator[Step]:
    for counts, change in ground.cuts:
        if whole.at + counts in ground.phrase_positions:
            yield replace(whole, counts=counts, cut=True, change=change)


def _cuts(dance: Dance) -> Iterator[tuple[int, str | None]]:
    """Counts after which a wall may stop: facing square, the leading foot free or to be freed by one change."""
    unit = 3 if dance.metre == "3/4" else 4
    for counts in range(unit, dance.counts, unit):
        weight, facing_deg = state_after(dance, counts)
        change = restart_change(dance, counts)
        if facing_deg % 90 == 0 and (weight is dance.start_weight or change):
            yield counts, change
