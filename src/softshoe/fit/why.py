"""Why a run is as it is, in sentences a leader would say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.fit import score as sc

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.path import Step
    from softshoe.fit.run import Run
    from softshoe.fit.tempo import Counting

PULSES = {
    1.0: "One count is one beat",
    2.0: "One count is two beats (half time)",
    0.5: "Two counts are one beat (double time)",
}
INTRO_SLACK = 1


def reasons(
    dance: Dance, grid: Grid, steps: tuple[Step, ...], run: Run, chosen: Counting, *, honoured: bool
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


def _walls(dance: Dance, grid: Grid, steps: tuple[Step, ...], run: Run) -> Iterator[str]:
    whole = sum(1 for step in steps if step.counts == dance.counts)
    met = sum(1 for step in steps if step.at in grid.phrase_positions)
    yield f"{len(run.walls)} walls, {whole} of them whole; {met} begin on a phrase."


def _repairs(grid: Grid, steps: tuple[Step, ...]) -> Iterator[str]:
    for step in steps:
        if step.tag and step.written_tag is None:
            yield f"After wall {step.wall} the song has {step.tag} counts more: a tag of {step.tag}."
        elif step.tag:
            yield f"After wall {step.wall} comes the written tag of {step.tag} counts{_lands(grid, step)}."
        if step.cut:
            change = f", and {step.change}" if step.change else ""
            lands = ", where the song begins a new phrase" if step.end in grid.phrase_positions else ""
            yield f"Wall {step.wall} stops after count {step.counts}{lands}: restart{change}."
        for bridge in step.bridges:
            where = f"In wall {step.wall}, after count {bridge.after_count}"
            yield f"{where}, come the written {bridge.counts} counts more."


def _lands(grid: Grid, step: Step) -> str:
    return ", and the next wall begins on a phrase" if step.end in grid.phrase_positions else ""


def _missed(dance: Dance, grid: Grid, steps: tuple[Step, ...]) -> Iterator[str]:
    missed = sc.missed(dance, grid, steps)
    if missed:
        times = ", ".join(f"{_clock(grid.times_s[phrase.at])}" for phrase in missed[:4])
        more = " and later" if len(missed) > 4 else ""
        yield f"{len(missed)} phrase start{'s fall' if len(missed) > 1 else ' falls'} inside a wall, at {times}{more}."


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
