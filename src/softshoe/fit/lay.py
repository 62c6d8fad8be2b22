"""The dance laid on the song: the best ways, ranked, each with its tags, restarts, ending and the reasons.

The numbers behind ranking are in ``score``, the search in ``path``; this module chooses where to start and how to
count, and builds the runs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.dance.facing import turned
from softshoe.dance.footwork import net_turn_deg, state_after, tag_events
from softshoe.fit import score as sc
from softshoe.fit.ending import ending_of
from softshoe.fit.grid import Grid, counted
from softshoe.fit.path import Path, Step, paths
from softshoe.fit.run import Run, RunEnding, RunRestart, RunTag, RunWall, Score, Start
from softshoe.fit.tags import tag_actions
from softshoe.fit.tempo import Counting, band_for, counting, stated_bpm
from softshoe.fit.unfit import findings_of, metre_finding
from softshoe.fit.why import reasons

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding
    from softshoe.music.songmap import SongMap

LATER_STARTS = 2
SURE = 0.8  # of the first count: below it the sheet's own intro is believed


@dataclass(frozen=True, slots=True)
class FitResult:
    """Runs, best first, and what no run can mend. No runs: the dance can't be danced to the song at all."""

    runs: tuple[Run, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class _Laid:
    run: Run
    kind: tuple[object, ...]  # start, honours the sheet, repaired: one of each kind is shown first


def fit(dance: Dance, song: SongMap, *, most: int = 5) -> FitResult:
    """Lay the dance on the song; at most ``most`` different runs, best first.

    Raises FitError when the song has fewer than two beats.
    """
    wrong = metre_finding(dance, song)
    if wrong is not None:
        return FitResult((), (wrong,))
    chosen = counting(
        song.tempo_bpm, band_for(dance), stated=stated_bpm(dance), halves=dance.metre != "3/4" and song.metre == 4
    )
    laid = [
        one
        for waited, start_s in enumerate(_starts(dance, song, chosen))
        for one in _runs_from(dance, song, chosen, start_s=start_s, waited=waited)
    ]
    runs = _ranked(laid, most)
    return FitResult(runs, findings_of(dance, song, chosen, runs, [one.run for one in laid]))


def _starts(dance: Dance, song: SongMap, chosen: Counting) -> tuple[float, ...]:
    """The first count, then later phrase starts; where the listener said the first count, only that.

    The sheet's own intro goes first where it leads to a phrase start and the listener was not sure of the first count.
    """
    if song.said.first_count_s is not None:
        return (song.said.first_count_s,)
    first_s = song.first_count_s
    if song.confidence.first_count < SURE:
        first_s = _after_intro(dance, song, chosen) or first_s
    beat_s = 60.0 / song.tempo_bpm
    later = [at_s for at_s in song.phrases_s if at_s > first_s + 4 * beat_s]
    return (first_s, *later[:LATER_STARTS])


def _after_intro(dance: Dance, song: SongMap, chosen: Counting) -> float | None:
    """The phrase start where the sheet's intro is over, within a beat."""
    if dance.intro_counts is None:
        return None
    beats = round(dance.intro_counts * chosen.beats_per_count)
    if not 0 < beats < len(song.beats_s):
        return None
    beat_s = 60.0 / song.tempo_bpm
    return next((at_s for at_s in song.phrases_s if abs(at_s - song.beats_s[beats]) < 1.5 * beat_s), None)


def _runs_from(dance: Dance, song: SongMap, chosen: Counting, *, start_s: float, waited: int) -> list[_Laid]:
    grid = counted(song, beats_per_count=chosen.beats_per_count, start_s=start_s)
    says = bool(dance.tags or dance.restarts)
    ways = [(written, repairs) for written in ((True, False) if says else (True,)) for repairs in (False, True)]
    laid: dict[tuple[Step, ...], _Laid] = {}
    for written, repairs in ways:
        for path in paths(dance, grid, written=written, repairs=repairs):
            run = _run(dance, song, grid, path, honoured=written, waited=waited, chosen=chosen)
            kind = (start_s, written, bool(run.tags or run.restarts))
            laid.setdefault(path.steps, _Laid(run, kind))
    return list(laid.values())


def _run(dance: Dance, song: SongMap, grid: Grid, path: Path, *, honoured: bool, waited: int, chosen: Counting) -> Run:
    walls = _walls(dance, grid, path.steps)
    last = walls[-1]
    ending = ending_of(dance, grid, path.steps[-1], last.facing_deg)
    parts = sc.charges(dance, grid, path.steps)
    parts |= _other_charges(grid, song, ending, honoured=honoured, waited=waited)
    total = round(max(0.0, 100.0 + sc.total_of(parts)), 2)
    run = Run(
        beats_per_count=grid.beats_per_count,
        start=_start(grid),
        walls=walls,
        tags=tuple(_tags(dance, path.steps)),
        restarts=tuple(RunRestart(s.wall, s.counts, s.change) for s in path.steps if s.cut),
        ending=ending,
        score=Score(total, parts),
        why=(),
    )
    return _with_reasons(dance, grid, path, run, chosen, honoured=honoured)


def _with_reasons(dance: Dance, grid: Grid, path: Path, run: Run, chosen: Counting, *, honoured: bool) -> Run:
    return replace(run, why=reasons(dance, grid, path.steps, run, chosen, honoured=honoured))


def _start(grid: Grid) -> Start:
    counts = len(grid.intro_s)
    at_s = grid.times_s[0]
    sign = f"{counts} counts from the first beat, about {at_s:.0f} s" if counts else "with the first beat, no intro"
    return Start(at_s, counts, sign)


def _walls(dance: Dance, grid: Grid, steps: tuple[Step, ...]) -> tuple[RunWall, ...]:
    facing, walls = 0, []
    for step in steps:
        walls.append(RunWall(step.wall, grid.times_s[step.at], step.counts, facing))
        facing = turned(facing, _turn_deg(dance, step))
    return tuple(walls)


def _turn_deg(dance: Dance, step: Step) -> int:
    """How far a wall turns with everything danced in it."""
    if dance.seated:
        return 0
    own = net_turn_deg(dance) if step.counts == dance.counts else state_after(dance, step.counts)[1]
    said = [*step.bridges, *([step.written_tag] if step.written_tag else [])]
    return own + sum(event.action.turn_deg for tag in said for event in tag_events(dance, tag))


def _tags(dance: Dance, steps: tuple[Step, ...]) -> list[RunTag]:
    tags = []
    for step in steps:
        tags += [RunTag(None, step.wall, b.after_count, b.counts, b.actions, True) for b in step.bridges]
        if step.tag:
            said = step.written_tag
            actions = said.actions if said else tag_actions(dance, step.tag)
            tags.append(RunTag(step.wall, None, step.counts, step.tag, actions, said is not None))
    return tags


def _other_charges(
    grid: Grid, song: SongMap, ending: RunEnding | None, *, honoured: bool, waited: int
) -> dict[str, float]:
    lost_counts = sum(1 for at_s in grid.intro_s if at_s > song.first_count_s - 1e-6)
    off_phrase = bool(song.phrases_s) and 0 not in grid.phrase_positions
    parts = {
        sc.START_PART: -sc.START_OFF_PHRASE * off_phrase,
        sc.WAIT_PART: -sc.WAITED * waited - sc.DANCED_LESS * lost_counts // 8,
        sc.ENDING_PART: -sc.ENDING * (ending is not None),
        sc.SHEET_PART: -sc.OFF_SHEET * (not honoured),
    }
    return {part: value for part, value in parts.items() if value}


def _ranked(laid: list[_Laid], most: int) -> tuple[Run, ...]:
    """Best first; of each kind the best, then the best of what is left, ``most`` in all."""
    in_order = sorted(laid, key=lambda one: (-one.run.score.total, -sum(one.run.score.parts.values())))
    seen: set[tuple[object, ...]] = set()
    firsts = []
    for one in in_order:
        if one.kind not in seen:
            seen.add(one.kind)
            firsts.append(one)
    rest = [one for one in in_order if one not in firsts]
    shown = (firsts + rest)[:most]
    return tuple(one.run for one in in_order if one in shown)
