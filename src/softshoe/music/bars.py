"""Bars, counts of eight and phrases over beats, found together by one dynamic programme.

Everything here is numbered in beats from the first beat of the song. A phrase is a run of bars that begins anew: its
eights (sixes in three) count from its first beat, and beats left over before the next phrase belong to it. Most phrases
have 8 bars; extra bars and half bars are possible at a price.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from softshoe.music.songmap import MetreOfSong

    FloatArray = NDArray[np.float64]

# What a phrase of so many half bars costs; eight bars are the rule. Lengths not listed can't be.
PRICES: dict[int, float] = {
    2: 6.5, 3: 8.5, 4: 4.5, 5: 8.0, 6: 6.5, 7: 9.0, 8: 1.6, 9: 6.5, 10: 5.0, 11: 8.5, 12: 3.6, 13: 8.5, 14: 6.0,
    15: 7.5, 16: 0.0, 17: 5.0, 18: 3.2, 19: 7.0, 20: 4.2, 22: 6.5, 24: 3.6,
}  # fmt: skip
PICKUP_PRICE = 1.0  # beats before the first phrase
LATE_PRICE = 2.0  # a bar or more before it
CUT_PRICE = 1.4  # a last phrase that the end of the song cuts off, whatever its length
SCRAP_BEATS, SCRAP_PRICE = 4, 3.0  # so few beats are hardly a phrase of their own
BAR_WEIGHT, EIGHT_WEIGHT, PHRASE_WEIGHT = 0.5, 0.35, 1.5
ONE_WEIGHT = 0.5  # a phrase begins on a plain first beat of a bar
PLAIN = 1.2  # evidence for a phrase that any middle of a phrase may show


@dataclass(frozen=True, slots=True)
class Evidence:
    """What speaks for a bar and for a phrase at each beat: standard scores, shape (n_beats,)."""

    bar: FloatArray
    phrase: FloatArray


@dataclass(frozen=True, slots=True)
class Form:
    """Beats that begin phrases, with what the phrases gained; ``score`` compares forms of one song."""

    metre: MetreOfSong
    n_beats: int
    phrases: tuple[int, ...]
    score: float

    def _runs(self) -> Iterator[tuple[int, int]]:
        yield from zip(self.phrases, (*self.phrases[1:], self.n_beats), strict=True)

    def every(self, beats: int) -> tuple[int, ...]:
        """Return each so-manieth beat, starting anew with every phrase."""
        return tuple(b for first, last in self._runs() for b in range(first, last, beats))

    @property
    def eights(self) -> tuple[int, ...]:
        """Beats that begin a count of eight (six in three)."""
        return self.every(2 * self.metre)

    @property
    def downbeats(self) -> tuple[int, ...]:
        """Beats that begin a bar, those before the first phrase among them."""
        first = self.phrases[0] if self.phrases else 0
        before = range(first % self.metre, first, self.metre)
        return (*before, *self.every(self.metre))


def prices(metre: int) -> dict[int, float]:
    """Return the price of each length of phrase, in beats."""
    if metre == 4:
        return {2 * halves: price for halves, price in PRICES.items()}
    return {metre * halves // 2: price for halves, price in PRICES.items() if halves % 2 == 0}


def _gains(evidence: Evidence, metre: int) -> tuple[FloatArray, FloatArray]:
    """Return running sums, shape (n + 1,) each, of bars and of eights counted backwards in steps.

    ``bars[i]`` is the evidence of beats i, i + metre, … to the end: the gain of a run is a difference of two of them.
    """
    n = len(evidence.bar)
    bars, eights = np.zeros(n + 3 * metre), np.zeros(n + 3 * metre)
    two_bars = evidence.bar + 0.5 * np.clip(evidence.phrase, -1, 3)
    for i in range(n - 1, -1, -1):
        bars[i] = evidence.bar[i] + bars[i + metre]
        eights[i] = two_bars[i] + eights[i + 2 * metre]
    return bars, eights


def _run_gain(sums: FloatArray, first: int, last: int, step: int) -> float:
    """Return the evidence at first, first + step, … below last."""
    times = -(-(last - first) // step)
    after = first + times * step
    return float(sums[first] - (sums[after] if after < len(sums) else 0.0))


def form(
    evidence: Evidence,
    metre: MetreOfSong,
    *,
    must_start: int | None = None,
    ones: tuple[int, ...] = (),
    starts: FloatArray | None = None,
) -> Form:
    """Return the likeliest bars and phrases.

    must_start : a beat that begins a phrase because the listener said so
    ones : beats that begin an eight because the listener said so
    starts : shape (n,), what is added to the gain of a phrase that begins there
    """
    n = len(evidence.bar)
    if n == 0:
        return Form(metre, 0, (), 0.0)
    bars, eights = _gains(evidence, metre)
    gain = PHRASE_WEIGHT * (evidence.phrase - PLAIN) + ONE_WEIGHT * evidence.bar + (0 if starts is None else starts)
    gain[0] = max(gain[0], 0.0)  # nothing comes before the first beat that it could stand out from
    cost = prices(metre)
    best = np.full(n + 1, -np.inf)
    came = np.full(n + 1, -1)
    for first in range(min(n, 2 * metre)):
        if not keeps_word(-1, first, must_start, ones, eight=n + 1):
            break
        best[first] = -PICKUP_PRICE * (first > 0) - LATE_PRICE * (first >= metre) - 0.15 * first
    for i in range(n):
        if not np.isfinite(best[i]):
            continue
        for length, price in _lengths(cost, n - i):
            j = i + length
            if not keeps_word(i, j, must_start, ones, eight=2 * metre):
                continue
            run = BAR_WEIGHT * _run_gain(bars, i, j, metre) + EIGHT_WEIGHT * _run_gain(eights, i, j, 2 * metre)
            total = best[i] + gain[i] + run - price
            if total > best[j]:
                best[j], came[j] = total, i
    found = []
    at = n
    while came[at] >= 0:
        at = int(came[at])
        found.append(at)
    if not found and ones:
        return form(evidence, metre, must_start=must_start, starts=starts)
    return Form(metre, n, tuple(found[::-1]), float(best[n]))


def keeps_word(first: int, last: int, must_start: int | None, ones: tuple[int, ...], *, eight: int) -> bool:
    """Return whether a phrase from one beat to the next phrase's agrees with where the listener counts one.

    What can't be (ones seven beats apart) is let go by the callers, and told by the listener's notices.
    """
    if must_start is not None and first < must_start < last:
        return False
    return all((one - first) % eight == 0 for one in ones if first < one < last)


def _lengths(cost: dict[int, float], left: int) -> Iterator[tuple[int, float]]:
    """Yield lengths a phrase may have when so many beats are left; the last may be cut anywhere."""
    for length, price in cost.items():
        if length <= left:
            yield length, price
    if left < max(cost) and left > 0:
        cut = CUT_PRICE + (SCRAP_PRICE if left < SCRAP_BEATS else 0.0)
        yield left, min(cost.get(left, cut), cut)


def metre_odds(bar: FloatArray) -> float:
    """Return the likelihood, 0 to 1, that the bar evidence repeats every three beats and not every two or four.

    In each window of 24 beats the best place in the bar is taken for either, so that extra counts do no harm.
    """
    size = 24
    if len(bar) < 12:
        return 0.1
    three, four = [], []
    for first in range(0, max(1, len(bar) - size // 2), size // 2):
        piece = bar[first : first + size]
        three.append(_best_place(piece, 3))
        four.append(max(_best_place(piece, 4), 0.9 * _best_place(piece, 2)))
    odds = 5.0 * (np.mean(three) - np.mean(four)) - 1.0
    return float(1 / (1 + np.exp(-odds)))


def _best_place(piece: FloatArray, metre: int) -> float:
    """Return how much better than chance the best place in the bar is, in units that compare metres."""
    if len(piece) < 2 * metre:
        return 0.0
    means = np.array([piece[place::metre].mean() for place in range(metre)])
    return float((means.max() - piece.mean()) / np.sqrt(metre - 1))


def _standard(x: FloatArray) -> FloatArray:
    spread = float(x.std()) if len(x) else 0.0
    return np.clip((x - x.mean()) / spread, -2.5, 3.5) if spread > 1e-9 else np.zeros(len(x))


def standard(x: FloatArray) -> FloatArray:
    """Return standard scores, clipped so that one odd moment does not rule; zeros where nothing varies."""
    return np.asarray(_standard(np.asarray(x, dtype=np.float64)))
