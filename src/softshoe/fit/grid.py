"""The song as counts: a count is a beat, every other beat, or half a beat, from the dance's first count on.

Positions are whole counts from the start: position 0 is count 1 of wall 1. Nothing is invented after the last beat.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING

from softshoe.errors import FitError
from softshoe.fit.rules import limit

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap

STILL_A_COUNT = 0.25  # of a count must sound before the music's end
FADE = "fade"  # the kind of the listener's finding


@dataclass(frozen=True, slots=True)
class PhraseStart:
    """A phrase begins at this position.

    ``weight`` is how sure the listener is of it, 0 to 1; 0 where it is no more than a guess.
    """

    at: int
    weight: float


@dataclass(frozen=True, slots=True)
class Grid:
    """Seconds of the counts of a song: ``intro_s`` those before the start, ``times_s`` from the start to the end.

    ``phrase_counts`` is the usual length of a phrase, 0 when fewer than two phrases are known; ``fades`` when the song
    dies away instead of stopping (the last counts are then those before it has fallen by 6 dB). ``pauses`` are the
    positions before which the beat stands still.
    """

    beats_per_count: float
    intro_s: tuple[float, ...]
    times_s: tuple[float, ...]
    phrases: tuple[PhraseStart, ...]
    phrases_at: tuple[int, ...]
    phrase_positions: frozenset[int]
    phrase_counts: int
    fades: bool
    pauses: tuple[int, ...] = ()
    counts_per_bar: int = 4

    @property
    def landings(self) -> frozenset[int]:
        """Positions on which a repair may bring the dance home: phrase starts and the music after a pause."""
        return frozenset(phrase.at for phrase in self.phrases if phrase.weight) | frozenset(self.pauses)

    @property
    def total(self) -> int:
        """Counts from the start to the music's end."""
        return len(self.times_s)

    def phrases_between(self, start: int, end: int) -> tuple[PhraseStart, ...]:
        """Return the phrase starts after position ``start`` and before ``end``."""
        low = bisect_right(self.phrases_at, start)
        return self.phrases[low : bisect_left(self.phrases_at, end)]

    def phrase_before(self, position: int) -> PhraseStart | None:
        """Return the phrase that a position lies in, None before the first."""
        index = bisect_right(self.phrases_at, position)
        return self.phrases[index - 1] if index else None


def nearest_index(times_s: tuple[float, ...], at_s: float) -> int:
    """Return the index of the time nearest to ``at_s``."""
    after = bisect_left(times_s, at_s)
    around = [i for i in (after - 1, after) if 0 <= i < len(times_s)]
    return min(around, key=lambda i: abs(times_s[i] - at_s))


def _half_beats(beats_s: tuple[float, ...]) -> tuple[float, ...]:
    halves = [time for a, b in pairwise(beats_s) for time in (a, (a + b) / 2)]
    return (*halves, beats_s[-1], beats_s[-1] + (beats_s[-1] - beats_s[-2]) / 2)


def _weight(confidence: tuple[float, ...], index: int) -> float:
    sure = confidence[index] if index < len(confidence) else 1.0
    return round(sure, 2) if sure >= limit("guess") else 0.0


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
    phrases = _phrases(song, pulses, first=first, every=every, total=len(times))
    lengths = [b.at - a.at for a, b in pairwise(phrases)]
    usual = int(median(lengths)) if lengths else 0
    fades = any(finding.kind == FADE for finding in song.findings)
    known = tuple(p.at for p in phrases)
    bar = max(1, int(song.metre // beats_per_count))
    return Grid(beats_per_count, intro, times, phrases, known, frozenset(known), usual, fades, _pauses(times), bar)


def _pauses(times_s: tuple[float, ...]) -> tuple[int, ...]:
    """The positions after a gap much longer than a usual count."""
    gaps = [b - a for a, b in pairwise(times_s)]
    longest = limit("pause") * median(gaps) if gaps else 0.0
    return tuple(at + 1 for at, gap in enumerate(gaps) if gap > longest)


def _end_of_counts(song: SongMap, pulses: tuple[float, ...], every: int) -> float:
    step_s = (pulses[-1] - pulses[0]) / (len(pulses) - 1) * every
    return song.end_s - STILL_A_COUNT * step_s


def _phrases(
    song: SongMap, pulses: tuple[float, ...], *, first: int, every: int, total: int
) -> tuple[PhraseStart, ...]:
    starts: dict[int, float] = {}
    for index, at_s in enumerate(song.phrases_s):
        beats = nearest_index(pulses, at_s) - first
        position = beats // every
        if 0 <= position < total:
            starts[position] = max(starts.get(position, 0.0), _weight(song.confidence.phrases, index))
    return tuple(PhraseStart(at, starts[at]) for at in sorted(starts))
