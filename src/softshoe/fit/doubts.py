"""What a run rests on: phrase starts the listener is not sure of, and what would be best if nothing began there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.fit.grid import counted
from softshoe.fit.rules import limit
from softshoe.fit.steps_of import steps_of
from softshoe.fit.told import gives

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from softshoe.fit.grid import Grid, PhraseStart
    from softshoe.fit.run import Run
    from softshoe.fit.steps import Step
    from softshoe.music.songmap import SongMap

MOST_DOUBTS = 2
NEAR_S = 0.01


def with_doubts(run: Run, song: SongMap, best_on: Callable[[SongMap], Run | None]) -> Run:
    """Return the run with a sentence for each unsure phrase start that its tags and restarts lead to.

    ``best_on`` lays the dance on a song map: it is asked about the song without that phrase.
    """
    grid = counted(song, beats_per_count=run.beats_per_count, start_s=run.start.time_s)
    said = [
        _doubt(run, grid.times_s[phrase.at], best_on(_without(song, grid.times_s[phrase.at])))
        for phrase in _led_to(grid, steps_of(run, grid))[:MOST_DOUBTS]
    ]
    return replace(run, why=(*run.why, *said)) if said else run


def _led_to(grid: Grid, steps: tuple[Step, ...]) -> list[PhraseStart]:
    """The unsure phrase starts that a repair nobody wrote leads to."""
    homes = {home for step in steps for home in _homes(step)}
    return [phrase for phrase in grid.phrases if phrase.at in homes and phrase.weight < limit("sure")]


def _homes(step: Step) -> Iterator[int]:
    if step.cut:
        yield step.end
    yield from (at + extra.counts for extra, at in step.places() if not extra.written)


def _without(song: SongMap, at_s: float) -> SongMap:
    kept = [k for k, phrase_s in enumerate(song.phrases_s) if abs(phrase_s - at_s) > NEAR_S]
    sure = song.confidence.phrases
    confidence = replace(song.confidence, phrases=tuple(sure[k] for k in kept if k < len(sure)))
    return replace(song, phrases_s=tuple(song.phrases_s[k] for k in kept), confidence=confidence)


def _doubt(run: Run, at_s: float, other: Run | None) -> str:
    minutes, seconds = divmod(round(at_s), 60)
    rests = f"This rests on the phrase at {minutes}:{seconds:02d}, of which the listener is not sure"
    if other is None or _repairs(other) == _repairs(run):
        return f"{rests}; without it the best is the same."
    return f"{rests}: listen whether something new begins there. If not, {gives(other)}."


def _repairs(run: Run) -> tuple[object, ...]:
    return run.start.time_s, tuple((t.after_wall, t.in_wall, t.counts) for t in run.tags), run.restarts
