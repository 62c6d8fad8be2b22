"""Where a dance may start in a song, and what starting there charges."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.fit.rules import limit, part_of
from softshoe.fit.run import Start

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.pins import Pins
    from softshoe.fit.rules import Weights
    from softshoe.fit.tempo import Counting
    from softshoe.music.songmap import SongMap

SOON_BEATS = 4
ON_THE_BEAT = 1.5  # beats within which a phrase start is where the intro is over


def starts(dance: Dance, song: SongMap, chosen: Counting, pins: Pins) -> tuple[float, ...]:
    """Return the seconds at which the dance may start, the likeliest first.

    What is pinned or what the listener said holds alone. Else the first count, then later phrase starts. The sheet's
    own intro goes first where it leads to a phrase start and the listener was not sure of the first count.
    """
    if pins.start_s is not None:
        return (pins.start_s,)
    if song.said.first_count_s is not None:
        return (song.said.first_count_s,)
    first_s = first_start(dance, song, chosen)
    return (first_s, *_later(song, first_s)[: int(limit("later_starts"))])


def first_start(dance: Dance, song: SongMap, chosen: Counting) -> float:
    """Return the first sensible start [s]."""
    if song.said.first_count_s is not None:
        return song.said.first_count_s
    if song.confidence.first_count < limit("sure_first_count"):
        return _after_intro(dance, song, chosen) or song.first_count_s
    return song.first_count_s


def _later(song: SongMap, first_s: float) -> list[float]:
    soon_s = SOON_BEATS * 60.0 / song.tempo_bpm
    return [at_s for at_s in song.phrases_s if at_s > first_s + soon_s]


def _after_intro(dance: Dance, song: SongMap, chosen: Counting) -> float | None:
    """The phrase start where the sheet's intro is over, within a beat."""
    if dance.intro_counts is None:
        return None
    beats = round(dance.intro_counts * chosen.beats_per_count)
    if not 0 < beats < len(song.beats_s):
        return None
    near_s = ON_THE_BEAT * 60.0 / song.tempo_bpm
    return next((at_s for at_s in song.phrases_s if abs(at_s - song.beats_s[beats]) < near_s), None)


def start_charges(dance: Dance, song: SongMap, grid: Grid, chosen: Counting, weights: Weights) -> dict[str, float]:
    """Return what this start charges by part, numbers below 0."""
    at_s = grid.times_s[0]
    first_s = first_start(dance, song, chosen)
    beat_s = 60.0 / song.tempo_bpm
    waited = sum(1 for phrase_s in _later(song, first_s) if phrase_s < at_s + beat_s / 2)
    lost = sum(1 for intro_s in grid.intro_s if intro_s > song.first_count_s - beat_s / 4)
    off = bool(song.phrases_s) and 0 not in grid.phrase_positions
    parts = {
        part_of("start_off_phrase"): -weights.of("start_off_phrase") * off,
        part_of("waited"): -weights.of("waited") * waited - weights.of("danced_less") * (lost // 8),
    }
    return {part: value for part, value in parts.items() if value}


def start_of(grid: Grid) -> Start:
    """Return where the dance starts, with the sign one hears there."""
    counts, at_s = len(grid.intro_s), grid.times_s[0]
    if not counts:
        return Start(at_s, 0, "with the first beat, no intro")
    return Start(at_s, counts, f"{counts} counts from the first beat, about {at_s:.0f} s")
