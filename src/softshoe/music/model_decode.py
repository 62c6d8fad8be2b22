"""From the model's likelihoods to beats and form: two dynamic programmes weigh what was heard against what is usual.

A likelihood p of an event counts ``log(p / (1 - p))`` when the event is taken and nothing when it is not; so ways to
hear the song with more or fewer beats, in three or in four, with other extra counts, can all be compared. Frames are
1 / 50 s.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from softshoe.music.bars import Form, keeps_word, prices

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.songmap import MetreOfSong

    Array = NDArray[np.float32]
    FloatArray = NDArray[np.float64]

SLOWEST_BPM, FASTEST_BPM = 52.0, 205.0
SURE = 5.0  # no single frame says more than this
STEADY = 260.0  # how dear a change of beat length is
LOOSE_FRAMES = 1.01  # changes that frames can't tell are nearly free
LOOSE_PRICE = 0.06
BEGIN_PRICE = 3.0
BEAT_LEANING = -0.4
# Training counts a hit more than a miss; these bring the odds back.
BAR_LEANING, EIGHT_LEANING, PHRASE_LEANING = -1.0, -0.5, -1.5
DOWN_WEIGHT, EIGHT_WEIGHT, PHRASE_WEIGHT, PRICE_WEIGHT = 0.6, 1.0, 1.0, 1.0
PICKUP_PRICE, LATE_PRICE, CUT_PRICE, SCRAP_PRICE = 1.0, 1.5, 1.4, 3.0
TRIPLE_WEIGHT = 20.0
DANCED_WEIGHT = 0.12
NEAR = 2  # frames around a beat in which an event may be heard


def odds(p: FloatArray) -> FloatArray:
    """Return the logarithm of the odds of likelihoods, cut at SURE."""
    p = np.clip(p, 1e-4, 1 - 1e-4)
    return np.asarray(np.clip(np.log(p / (1 - p)), -SURE, SURE))


def chained(gain: FloatArray, lengths: NDArray[np.int64]) -> tuple[NDArray[np.int64], float]:
    """Return the frames of the best run of beats, and what it gains.

    gain : what a beat at each frame gains, shape (n,)
    lengths : what beats may last, in frames, growing
    """
    n, k, longest = len(gain), len(lengths), int(lengths[-1])
    away = np.maximum(0, np.abs(lengths[:, None] - lengths[None]) - LOOSE_FRAMES) / np.minimum(
        lengths[:, None], lengths
    )
    change = -STEADY * away**2 - LOOSE_PRICE * (lengths[:, None] != lengths[None])
    total = np.full((n + longest, k), -1e9)  # row t + longest is frame t
    came = np.full((n, k), -1, dtype=np.int16)
    rows = np.arange(k)
    for t in range(n):
        ways = total[t + longest - lengths] + change
        best = ways.argmax(axis=1)
        value = ways[rows, best]
        begun = value > -BEGIN_PRICE
        came[t] = np.where(begun, best, -1)
        total[t + longest] = np.where(begun, value, -BEGIN_PRICE) + gain[t]
    t, j = (int(x) for x in np.unravel_index(int(total[longest:].argmax()), (n, k)))
    worth, beats = float(total[t + longest, j]), [t]
    while came[t, j] >= 0:
        t, j = t - int(lengths[j]), int(came[t, j])
        beats.append(t)
    return np.array(beats[::-1], dtype=np.int64), worth


def lengths_for(
    frames_hz: float, *, slowest_bpm: float = SLOWEST_BPM, fastest_bpm: float = FASTEST_BPM
) -> NDArray[np.int64]:
    """Return how many frames a beat may last between two tempos."""
    return np.arange(int(60 * frames_hz / fastest_bpm), int(np.ceil(60 * frames_hz / slowest_bpm)) + 1)


@dataclass(frozen=True, slots=True, eq=False)
class AtBeats:
    """What the model says of each beat, as odds: does a bar, an eight, a phrase begin there?"""

    bar: FloatArray
    eight: FloatArray
    phrase: FloatArray


def at_beats(heard: Array, frames: NDArray[np.int64]) -> AtBeats:
    """Return the odds of the events of each beat: the most likely frame near it speaks."""
    spots = np.clip(frames[:, None] + np.arange(-NEAR, NEAR + 1), 0, len(heard) - 1)
    most = heard[spots].max(axis=1).astype(np.float64)
    leanings = (BAR_LEANING, EIGHT_LEANING, PHRASE_LEANING)
    return AtBeats(*(odds(most[:, k]) + leaning for k, leaning in enumerate(leanings, 1)))


def sums(gain: FloatArray, step: int) -> FloatArray:
    """Return for each beat the gains of it and of each ``step``-th beat after it, to the end; two zeros follow."""
    total = np.zeros(len(gain) + 2 * step)
    for i in range(len(gain) - 1, -1, -1):
        total[i] = gain[i] + total[i + step]
    return total


def formed(at: AtBeats, metre: MetreOfSong, *, must_start: int | None = None, ones: tuple[int, ...] = ()) -> Form:
    """Return the likeliest phrases over beats: bars and eights count anew from the start of each.

    must_start : a beat that begins a phrase because the listener said so
    ones : beats that begin an eight because the listener said so
    """
    n = len(at.bar)
    bars, eights = sums(DOWN_WEIGHT * at.bar, metre), sums(EIGHT_WEIGHT * at.eight, 2 * metre)
    cost = {length: PRICE_WEIGHT * price for length, price in prices(metre).items()}
    best, came = np.full(n + 1, -np.inf), np.full(n + 1, -1)
    for first in range(min(n, 2 * metre + 1)):
        if not keeps_word(-1, first, must_start, ones, eight=n + 1):
            break
        before = bars[first % metre] - bars[first]
        best[first] = before - PICKUP_PRICE * (first > 0) - LATE_PRICE * (first >= metre)
    for i in range(n):
        if not np.isfinite(best[i]):
            continue
        for length, price in [*cost.items(), *cut_short(cost, n - i)]:
            j = i + length
            if j > n or not keeps_word(i, j, must_start, ones, eight=2 * metre):
                continue
            run = (
                bars[i]
                - bars[i + -(-length // metre) * metre]
                + eights[i]
                - eights[i + -(-length // (2 * metre)) * 2 * metre]
            )
            total = best[i] + PHRASE_WEIGHT * at.phrase[i] + run - price
            if total > best[j]:
                best[j], came[j] = total, i
    found, i = [], n
    while came[i] >= 0:
        i = int(came[i])
        found.append(i)
    if not found and ones:
        return formed(at, metre, must_start=must_start)
    return Form(metre, n, tuple(found[::-1]), float(best[n]))


def cut_short(cost: dict[int, float], left: int) -> list[tuple[int, float]]:
    """Return the length of a last phrase that the end of the song cuts off, with its price."""
    if not 0 < left < max(cost):
        return []
    return [(left, min(cost.get(left, 99.0), CUT_PRICE + (SCRAP_PRICE if left < 4 else 0.0)))]


def first_counts(heard: Array, frames: NDArray[np.int64], phrases: tuple[int, ...]) -> list[tuple[int, float]]:
    """Return beats on which the dance may begin with their likelihood, best first: where "danced" turns to yes."""
    if not phrases:
        return []
    said = odds(heard[frames, 4].astype(np.float64))
    after = np.append(np.cumsum(said[::-1])[::-1], 0.0)
    early = [p for p in phrases if p <= 0.5 * len(frames)] or list(phrases[:1])
    scores = np.array([DANCED_WEIGHT * after[p] for p in early])
    shares = np.exp(scores - scores.max())
    shares /= shares.sum()
    return sorted(zip(early, shares.tolist(), strict=True), key=lambda pair: -pair[1])
