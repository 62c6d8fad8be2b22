"""The song as counts: a count is a beat, every other beat, or half a beat, from the dance's first count on.

Positions are whole counts from the start: position 0 is count 1 of wall 1. Nothing is invented after the last beat.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING

from softshoe.errors import FitError

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap

STILL_A_COUNT = 0.25  # of a count must sound before the music's end
FIRM = 0.5  # a phrase start surer than this can be strong


@dataclass(frozen=True, slots=True)
class PhraseStart:
    """A phrase begins at this position; ``strong``: the listener is at least as sure of it as of its neighbours."""

    at: int
    strong: bool


@dataclass(frozen=True, slots=True)
class Grid:
    """Seconds of the counts of a song: ``intro_s`` those before the start, ``times_s`` from the start to the end."""

    beats_per_count: float
    intro_s: tuple[float, ...]
    times_s: tuple[float, ...]
    phrases: tuple[PhraseStart, ...]

    @property
    def total(self) -> int:
        """Counts from the start to the music's end."""
        return len(self.times_s)

    @property
    def phrase_positions(self) -> frozenset[int]:
        """Where phrases begin."""
        return frozenset(p.at for p in self.phrases)

    @property
    def phrase_counts(self) -> int:
        """The usual length of a phrase in counts; 0 when fewer than two phrases are known."""
        lengths = [b.at - a.at for a, b in pairwise(self.phrases)]
        return int(median(lengths)) if lengths else 0


def nearest_index(times_s: tuple[float, ...], at_s: float) -> int:
    """Return the index of the time nearest to ``at_s``."""
    after = bisect_left(times_s, at_s)
    around = [i for i in (after - 1, after) if 0 <= i < len(times_s)]
    return min(around, key=lambda i: abs(times_s[i] - at_s))


def _half_beats(beats_s: tuple[float, ...]) -> tuple[float, ...]:
    halves = [time for a, b in pairwise(beats_s) for time in (a, (a + b) / 2)]
    return (*halves, beats_s[-1])


def _strong(confidence: tuple[float, ...], index: int) -> bool:
    if index >= len(confidence):
        return True
    beside = [confidence[i] for i in (index - 1, index + 1) if 0 <= i < len(confidence)]
    return confidence[index] >= FIRM and (not beside or confidence[index] >= sum(beside) / len(beside))


def counted(song: SongMap, *, beats_per_count: float, start_s: float) -> Grid:
    """Lay counts on the song from the beat nearest ``start_s``.

    Raises FitError when the song has fewer than two beats.
    """
    if len(song.beats_s) < 2:
        raise FitError(
            "song", "no steady beat to lay a dance on", "fewer than two beats were found", "tap the beat along"
        )
    pulses = _half_beats(song.beats_s) if beats_per_count == 0.5 else song.beats_s
    every = 2 if beats_per_count == 2 else 1
    first = nearest_index(pulses, start_s)
    end_s = _end_of_counts(song, pulses, every)
    times = tuple(t for t in pulses[first::every] if t <= end_s)
    intro = tuple(reversed(pulses[first - every :: -every])) if first >= every else ()
    return Grid(beats_per_count, intro, times, _phrases(song, pulses, first=first, every=every, total=len(times)))


def _end_of_counts(song: SongMap, pulses: tuple[float, ...], every: int) -> float:
    step_s = (pulses[-1] - pulses[0]) / (len(pulses) - 1) * every
    return song.end_s - STILL_A_COUNT * step_s


def _phrases(
    song: SongMap, pulses: tuple[float, ...], *, first: int, every: int, total: int
) -> tuple[PhraseStart, ...]:
    starts: dict[int, bool] = {}
    for index, at_s in enumerate(song.phrases_s):
        beats = nearest_index(pulses, at_s) - first
        position = beats // every
        if 0 <= position < total:
            starts[position] = starts.get(position, False) or _strong(song.confidence.phrases, index)
    return tuple(PhraseStart(at, starts[at]) for at in sorted(starts))
