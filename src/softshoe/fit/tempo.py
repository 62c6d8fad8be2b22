"""How many beats of the song make one count of the dance, and whether the tempo suits the people.

Tempo bands in counts a minute; "band" is what is still good, "comfortable" the middle of it. The numbers are the
project's own choice after common practice of classes; a stated tempo of the dance moves the middle.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log2
from typing import TYPE_CHECKING

from softshoe.fit.rules import limit
from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.pins import Pins
    from softshoe.music.songmap import SongMap


@dataclass(frozen=True, slots=True)
class Band:
    """Counts a minute: the slow and the fast edge, and what is comfortable between them."""

    slow: float
    fast: float
    comfortable: tuple[float, float]

    @property
    def middle(self) -> float:
        """The middle of the comfortable part."""
        return sum(self.comfortable) / 2


def band(people: str) -> Band:
    """Return the tempo band of "standing", "seated" or "waltz"."""
    row = next(row for row in table("fit/bands") if row["people"] == people)
    comfortable = (float(row["comfortable_from"]), float(row["comfortable_to"]))
    return Band(float(row["slow"]), float(row["fast"]), comfortable)


STANDING, SEATED, WALTZ = band("standing"), band("seated"), band("waltz")
BEATS_PER_COUNT = (1.0, 2.0, 0.5)


@dataclass(frozen=True, slots=True)
class Counting:
    """The choice: beats to a count, the counts a minute it gives, and how it sits ("fits", "too fast")."""

    beats_per_count: float
    counts_per_min: float
    verdict: str

    @property
    def suits(self) -> bool:
        """True inside the band."""
        return self.verdict == "fits"


def band_for(dance: Dance) -> Band:
    """Return the tempo band of the people who dance this, widened so that the dance's own tempo lies well inside."""
    usual = WALTZ if dance.metre == "3/4" else SEATED if dance.seated else STANDING
    stated = stated_bpm(dance)
    if stated is None:
        return usual
    slow, fast = limit("slower") * stated, limit("faster") * stated
    return Band(min(usual.slow, slow), max(usual.fast, fast), usual.comfortable)


def stated_bpm(dance: Dance) -> float | None:
    """Return the dance's own tempo, the middle of a stated range; None when it states none."""
    tempo = dance.tempo_bpm
    return sum(tempo) / 2 if isinstance(tempo, tuple) else tempo


def counting(tempo_bpm: float, band: Band, *, stated: float | None = None, halves: bool = True) -> Counting:
    """Choose the beats to a count: inside the band and nearest its middle; two inside: the beat that is tapped.

    ``stated`` is the dance's own tempo [counts a minute]: of those inside the nearest to it is taken. None inside: what
    lies least outside. ``halves`` False keeps one beat a count (waltzes).

    >>> counting(172, Band(88, 116, (92, 108)))
    Counting(beats_per_count=2.0, counts_per_min=86.0, verdict='slightly slow')
    >>> counting(104, SEATED).beats_per_count
    1.0
    """
    choices = BEATS_PER_COUNT if halves else (1.0,)
    aim = stated or band.middle
    if not stated and band.slow <= tempo_bpm <= band.fast:
        chosen = 1.0
    else:
        chosen = min(choices, key=lambda beats: _unfitness(tempo_bpm / beats, band, aim))
    per_min = tempo_bpm / chosen
    return Counting(chosen, per_min, _verdict(per_min, band))


def countings(dance: Dance, song: SongMap, pins: Pins) -> tuple[Counting, ...]:
    """Return how the dance may be counted on the song, the best first: what is pinned alone, else what suits, then half
    or double of it where that suits too.
    """
    mine = band_for(dance)
    if pins.beats_per_count is not None:
        per_min = song.tempo_bpm / pins.beats_per_count
        return (Counting(pins.beats_per_count, per_min, _verdict(per_min, mine)),)
    halves = dance.metre != "3/4" and song.metre == 4
    best = counting(song.tempo_bpm, mine, stated=stated_bpm(dance), halves=halves)
    if not halves:
        return (best,)
    rates = {beats: song.tempo_bpm / beats for beats in BEATS_PER_COUNT if beats != best.beats_per_count}
    others = (Counting(beats, rate, _verdict(rate, mine)) for beats, rate in rates.items())
    return (best, *(one for one in others if not one.verdict.startswith("too")))


def _unfitness(per_min: float, band: Band, aim: float) -> tuple[float, float]:
    """How far outside the band, then how far from the aim, both as steps of doubling."""
    outside = max(0.0, log2(band.slow / per_min), log2(per_min / band.fast))
    return round(outside, 6), abs(log2(per_min / aim))


def _verdict(per_min: float, band: Band) -> str:
    if band.slow <= per_min <= band.fast:
        return "fits"
    edge, word = (band.slow, "slow") if per_min < band.slow else (band.fast, "fast")
    slight = abs(per_min - edge) <= limit("near_edge") * edge
    return f"{'slightly' if slight else 'too'} {word}"
