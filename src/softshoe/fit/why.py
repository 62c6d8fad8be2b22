"""Why a run is as it is, in sentences a leader would say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.fit import score as sc
from softshoe.fit.rules import limit

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.run import Run
    from softshoe.fit.steps import Step
    from softshoe.fit.tempo import Counting

PULSES = {
    1.0: "One count is one beat",
    2.0: "One count is two beats (half time)",
    0.5: "Two counts are one beat (double time)",
}
INTRO_SLACK = 1


def reasons(
    dance: Dance, grid: Grid, steps: Sequence[Step], run: Run, chosen: Counting, *, honoured: bool
) -> tuple[str, ...]:
    """Return the sentences, most important first."""
    return (
        *_counting(run, chosen),
        *_start(dance, grid, run),
        *_walls(dance, grid, steps, run),
        *_repairs(grid, steps),
        *_missed(dance, grid, steps),
        *_ending(grid, run),
        *_sheet(dance, honoured=honoured),
    )


def _counting(run: Run, chosen: Counting) -> Iterator[str]:
    verdict = "which suits the dance" if chosen.suits else f"{chosen.verdict} for it"
    yield f"{PULSES[run.beats_per_count]}: {chosen.counts_per_min:.0f} counts a minute, {verdict}."


def _start(dance: Dance, grid: Grid, run: Run) -> Iterator[str]:
    where = "on a phrase" if 0 in grid.phrase_positions else "not on a phrase start that was heard"
    yield f"The dance starts after {run.start.intro_counts} counts, {run.start.time_s:.1f} s into the song, {where}."
    said = dance.intro_counts
    if said is not None and abs(said - run.start.intro_counts) > INTRO_SLACK:
        yield f"The sheet says {said} counts of intro; in this song there are {run.start.intro_counts}."


def _walls(dance: Dance, grid: Grid, steps: Sequence[Step], run: Run) -> Iterator[str]:
    whole = sum(1 for step in steps if step.counts == dance.counts)
    met = sum(1 for step in steps if step.at in grid.phrase_positions)
    yield f"{len(run.walls)} walls, {whole} of them whole; {met} begin on a phrase."


def _repairs(grid: Grid, steps: Sequence[Step]) -> Iterator[str]:
    for step in steps:
        for bridge in step.bridges:
            where, written = f"In wall {step.wall}, after count {bridge.after}", "written " * bridge.written
            yield f"{where}, come {'the ' * bridge.written}{written}{bridge.counts} counts more: a bridge."
        yield from _cut(grid, step) if step.cut else _tagged(grid, step)


def _cut(grid: Grid, step: Step) -> Iterator[str]:
    change = f", and {step.change}" if step.change else ""
    tag = f"; after {step.tag.counts} counts more, a tag, comes the" if step.tag is not None else ":"
    yield f"Wall {step.wall} stops after count {step.counts}{change}{tag} restart{_lands(grid, step)}."


def _tagged(grid: Grid, step: Step) -> Iterator[str]:
    tag = step.tag
    if tag is not None and tag.written:
        yield f"After wall {step.wall} comes the written tag of {tag.counts} counts{_lands(grid, step)}."
    elif tag is not None:
        yield (
            f"After wall {step.wall} the song has {tag.counts} counts more before its next phrase, at "
            f"{_moment(grid, step.end)}: a tag of {tag.counts}."
        )


def _lands(grid: Grid, step: Step) -> str:
    if step.end not in grid.phrase_positions:
        return ""
    return f", and the next wall begins on the phrase at {_moment(grid, step.end)}"


def _moment(grid: Grid, position: int) -> str:
    return _clock(grid.times_s[min(position, grid.total - 1)])


def _missed(dance: Dance, grid: Grid, steps: Sequence[Step]) -> Iterator[str]:
    missed = sc.missed(dance, grid, steps)
    if missed:
        times = ", ".join(f"{_clock(grid.times_s[phrase.at])}" for phrase in missed[:4])
        more = " and later" if len(missed) > 4 else ""
        yield f"{len(missed)} phrase start{'s fall' if len(missed) > 1 else ' falls'} inside a wall, at {times}{more}."
        unsure = sum(phrase.weight < limit("sure") for phrase in missed)
        if unsure:
            whose = "it" if len(missed) == 1 else "them all" if unsure == len(missed) else f"{unsure} of them"
            yield f"The listener is not sure of {whose}, so that charges less."


def _ending(grid: Grid, run: Run) -> Iterator[str]:
    if grid.fades:
        yield f"The song fades out: the dance ends with wall {run.walls[-1].wall}, before the sound is half as loud."
        if run.ending:
            yield f"There, {run.ending.what}."
        return
    if run.ending is None:
        yield "The music stops with the last count of a whole wall, at the front."
        return
    yield f"The music stops in wall {run.ending.wall} at {_clock(run.ending.time_s)}: {run.ending.what}."


def _sheet(dance: Dance, *, honoured: bool) -> Iterator[str]:
    if not (dance.tags or dance.restarts):
        return
    yield (
        "Tags and restarts are as the sheet writes them."
        if honoured
        else "The sheet's own tags and restarts are left out."
    )


def _clock(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes}:{rest:02d}"
