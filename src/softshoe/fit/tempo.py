"""How many beats of the song make one count of the dance, and whether the tempo suits the people.

Tempo bands in counts a minute; "band" is what is still good, "comfortable" the middle of it. The numbers are the
project's own choice after common practice of classes; a stated tempo of the dance moves the middle.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log2
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance


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


STANDING = Band(84, 130, (96, 120))
SEATED = Band(72, 116, (88, 108))
WALTZ = Band(78, 120, (84, 108))
BEATS_PER_COUNT = (1.0, 2.0, 0.5)
SLOWER, FASTER = 0.85, 1.08  # music may be so much slower or faster than the dance's own tempo
NEAR = 0.03  # of the band's edge: "slightly" slow or fast


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
    band = WALTZ if dance.metre == "3/4" else SEATED if dance.seated else STANDING
    stated = stated_bpm(dance)
    if stated is None:
        return band
    return Band(min(band.slow, SLOWER * stated), max(band.fast, FASTER * stated), band.comfortable)


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


def _unfitness(per_min: float, band: Band, aim: float) -> tuple[float, float]:
    """How far outside the band, then how far from the aim, both as steps of doubling."""
    outside = max(0.0, log2(band.slow / per_min), log2(per_min / band.fast))
    return round(outside, 6), abs(log2(per_min / aim))


def _verdict(per_min: float, band: Band) -> str:
    if band.slow <= per_min <= band.fast:
        return "fits"
    edge, word = (band.slow, "slow") if per_min < band.slow else (band.fast, "fast")
    slight = abs(per_min - edge) <= NEAR * edge
    return f"{'slightly' if slight else 'too'} {word}"
