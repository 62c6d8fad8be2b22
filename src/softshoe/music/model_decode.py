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
TWICE = 1.7  # so much longer or shorter is another speed, not the band's drift
QUICK_GAP, SLOW_GAP = 20, 54  # frames of a beat that people step on: 150 to 56 beats a minute
# Training counts a hit more than a miss; these bring the odds back.
BAR_LEANING, EIGHT_LEANING, PHRASE_LEANING = -2.0, -0.5, -3.1
DOWN_WEIGHT, EIGHT_WEIGHT, PHRASE_WEIGHT, PRICE_WEIGHT = 0.6, 0.66, 0.67, 0.85
PICKUP_PRICE, LATE_PRICE, CUT_PRICE, SCRAP_PRICE = 2.2, 1.5, 1.4, 3.0
TRIPLE_WEIGHT = 20.0
DANCED_WEIGHT = 0.09
FIRST_TRUST = 1.0
LATEST_START = 0.5  # of the song: the dance has begun by then
USUAL_BEATS, WAITING_PRICE = 36, 0.4  # a beat of waiting beyond the usual intro costs so much
LATEST_BEATS = 72  # and by then: intros of 16 or 32 counts are usual, 64 are the longest (common practice, no source)
SLIP_PRICE = 12.0  # of a phrase with a beat too many or too few: the band waited, or the ear slipped
SLIPPED_BARS = (4, 8)  # phrases of so many bars may slip
# What a phrase of an intro costs, in beats of a song in four, where it differs from one that is danced.
INTRO_PRICES: dict[int, float] = {8: 1.5, 16: 0.4, 24: 3.0, 32: 0.3, 4: 4.0, 64: 2.5}
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
    block = int(lengths[0])  # no beat is shorter, so so many frames don't wait for each other
    for first in range(0, n, block):
        frames = np.arange(first, min(n, first + block))
        ways = total[frames[:, None] + longest - lengths]
        ways += change
        best = ways.argmax(axis=2)
        value = ways.max(axis=2)
        begun = value > -BEGIN_PRICE
        came[frames] = np.where(begun, best, -1)
        total[frames + longest] = np.where(begun, value, -BEGIN_PRICE) + gain[frames, None]
    t, j = (int(x) for x in np.unravel_index(int(total[longest:].argmax()), (n, k)))
    worth, beats = float(total[t + longest, j]), [t]
    while came[t, j] >= 0:
        t, j = t - int(lengths[j]), int(came[t, j])
        beats.append(t)
    return np.array(beats[::-1], dtype=np.int64), worth


def at_one_speed(gain: FloatArray, lengths: NDArray[np.int64], frames: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the beats; where they are twice as quick in one part of the song as in another, all of them at one speed.

    A band plays on at its tempo: it is the ear that then takes the notes between the beats for beats. The speed that
    people dance to is taken, and of two such the one whose beats are heard better.
    """
    gaps = np.diff(frames)
    if len(gaps) < 8 or np.percentile(gaps, 92) < TWICE * np.percentile(gaps, 8):
        return frames
    found = []
    for usual in (np.percentile(gaps, 8), np.percentile(gaps, 92)):
        near = lengths[np.abs(np.log(lengths / usual)) < np.log(TWICE) / 2]
        ways, worth = chained(gain, near)
        found.append((QUICK_GAP <= usual <= SLOW_GAP, worth, ways))
    return max(found, key=lambda way: way[:2])[2]


def lengths_for(
    frames_hz: float, *, slowest_bpm: float = SLOWEST_BPM, fastest_bpm: float = FASTEST_BPM
) -> NDArray[np.int64]:
    """Return how many frames a beat may last between two tempos."""
    return np.arange(int(60 * frames_hz / fastest_bpm), int(np.ceil(60 * frames_hz / slowest_bpm)) + 1)


@dataclass(frozen=True, slots=True, eq=False)
class AtBeats:
    """What the model says of each beat, as odds: does a bar, an eight, a phrase begin there; is it danced?"""

    bar: FloatArray
    eight: FloatArray
    phrase: FloatArray
    danced: FloatArray


def at_beats(heard: Array, frames: NDArray[np.int64]) -> AtBeats:
    """Return the odds of the events of each beat: the most likely frame near it speaks."""
    spots = np.clip(frames[:, None] + np.arange(-NEAR, NEAR + 1), 0, len(heard) - 1)
    most = heard[spots].max(axis=1).astype(np.float64)
    leanings = (BAR_LEANING, EIGHT_LEANING, PHRASE_LEANING)
    bar, eight, phrase = (odds(most[:, k]) + leaning for k, leaning in enumerate(leanings, 1))
    return AtBeats(bar, eight, phrase, odds(heard[frames, 4].astype(np.float64)))


def sums(gain: FloatArray, step: int) -> FloatArray:
    """Return for each beat the gains of it and of each ``step``-th beat after it, to the end; two zeros follow."""
    total = np.zeros(len(gain) + 2 * step)
    for i in range(len(gain) - 1, -1, -1):
        total[i] = gain[i] + total[i + step]
    return total


@dataclass(frozen=True, slots=True, eq=False)
class Phrased:
    """Phrases over beats, with what each beat is worth as the one on which the dance begins."""

    form: Form
    first: int
    worth: FloatArray


class _Runs:
    """What a run of beats from one phrase to the next is worth: its bars and eights count anew from its start."""

    def __init__(self, at: AtBeats, metre: MetreOfSong, must_start: int | None, ones: tuple[int, ...]) -> None:
        self.n, self.metre, self.must_start, self.ones = len(at.bar), metre, must_start, ones
        self.bars, self.eights = sums(DOWN_WEIGHT * at.bar, metre), sums(EIGHT_WEIGHT * at.eight, 2 * metre)
        self.phrase = PHRASE_WEIGHT * at.phrase
        danced = {length: PRICE_WEIGHT * price for length, price in prices(metre).items()}
        usual = [(bars * metre, danced[bars * metre]) for bars in SLIPPED_BARS]
        danced |= {length + one: price + SLIP_PRICE for length, price in usual for one in (-1, 1)}
        self.danced = self.table(danced)
        self.intro = self.table(
            danced | {length * metre // 4: PRICE_WEIGHT * price for length, price in INTRO_PRICES.items()}
        )

    def table(self, cost: dict[int, float]) -> tuple[NDArray[np.int64], FloatArray]:
        """Return lengths of phrases, and for each beat what a phrase of each from it on gains, -inf where none can be.

        The last length is that of a phrase that the end of the song cuts off; it differs from beat to beat, and is
        written 0.
        """
        n, starts = self.n, np.arange(self.n)
        lengths = np.array([*cost, 0])
        gain = np.full((n, len(lengths)), -np.inf)
        for column, (length, price) in enumerate(cost.items()):
            whole = max(0, n - length + 1)
            gain[:whole, column] = self.worth(starts[:whole], length) - price
        for i in range(max(0, n - max(cost) + 1), n):
            for length, price in cut_short(cost, n - i):
                gain[i, -1] = float(self.worth(starts[i : i + 1], length)[0]) - price
        ends = starts[:, None] + np.where(lengths > 0, lengths, (n - starts)[:, None])
        before = starts[:, None]
        if self.must_start is not None:
            gain[(before < self.must_start) & (ends > self.must_start)] = -np.inf
        for one in self.ones:
            gain[(before < one) & (ends > one) & ((one - before) % (2 * self.metre) != 0)] = -np.inf
        return lengths, gain

    def worth(self, starts: NDArray[np.int64], length: int) -> FloatArray:
        """Return what phrases of a length gain by the bars, eights and phrase that are heard there."""
        own = self.phrase[starts] + self.bars[starts] + self.eights[starts]
        for gains, step in ((self.bars, self.metre), (self.eights, 2 * self.metre)):
            own -= gains[starts + -(-length // step) * step]
        return np.asarray(own)


def phrased(at: AtBeats, metre: MetreOfSong, *, must_start: int | None = None, ones: tuple[int, ...] = ()) -> Phrased:
    """Return the likeliest phrases over beats, and the one with which the dance begins.

    must_start : the beat on which the dance begins because the listener said so
    ones : beats that begin an eight because the listener said so
    """
    runs, n = _Runs(at, metre, must_start, ones), len(at.bar)
    latest = max(min(int(LATEST_START * n), LATEST_BEATS), must_start or 0)
    before, came = _undanced(runs, latest)
    later, then = _danced(runs)
    worth = before[:n] + later[:n] + DANCED_WEIGHT * np.cumsum(at.danced[::-1])[::-1]
    worth -= WAITING_PRICE * np.maximum(0, np.arange(n) - USUAL_BEATS)
    worth[latest + 1 :] = -np.inf
    if ones and not np.any(np.isfinite(worth)):
        return phrased(at, metre, must_start=must_start)
    first = int(worth.argmax()) if must_start is None or not np.isfinite(worth[must_start]) else must_start
    starts, i = [], first
    while came[i] >= 0:
        i = int(came[i])
        starts.append(i)
    starts, i = starts[::-1], first
    while i < n and then[i] >= 0:
        starts.append(i)
        i = int(then[i])
    return Phrased(Form(metre, n, tuple(starts), float(worth[first])), first, worth)


def _danced(runs: _Runs) -> tuple[FloatArray, NDArray[np.int64]]:
    """Return for each beat what the phrases from it to the end are worth, and where the first of them ends."""
    n, (lengths, gain) = runs.n, runs.danced
    later, then = np.full(n + 1, -np.inf), np.full(n + 1, -1)
    later[n] = 0
    ends = np.minimum(np.arange(n)[:, None] + np.where(lengths > 0, lengths, n), n)
    for i in range(n - 1, -1, -1):
        ways = gain[i] + later[ends[i]]
        best = int(ways.argmax())
        if ways[best] > -np.inf:
            later[i], then[i] = ways[best], ends[i, best]
    return later, then


def _undanced(runs: _Runs, latest: int) -> tuple[FloatArray, NDArray[np.int64]]:
    """Return for each beat what the intro up to it is worth, and where its last phrase begins."""
    n, metre = runs.n, runs.metre
    before, came = np.full(n + 1, -np.inf), np.full(n + 1, -1)
    for first in range(min(n, 2 * metre + 1)):
        if not keeps_word(-1, first, runs.must_start, runs.ones, eight=n + 1):
            break
        lost = PICKUP_PRICE * (first > 0) + LATE_PRICE * (first >= metre)
        before[first] = runs.bars[first % metre] - runs.bars[first] - lost
    lengths, gain = runs.intro
    for i in range(min(n, latest + 1)):
        for column in np.flatnonzero(np.isfinite(gain[i])) if np.isfinite(before[i]) else ():
            j = i + int(lengths[column] or n - i)
            if before[i] + gain[i, column] > before[j]:
                before[j], came[j] = before[i] + gain[i, column], i
    return before, came


def cut_short(cost: dict[int, float], left: int) -> list[tuple[int, float]]:
    """Return the length of a last phrase that the end of the song cuts off, with its price."""
    if not 0 < left < max(cost):
        return []
    return [(left, min(cost.get(left, 99.0), CUT_PRICE + (SCRAP_PRICE if left < 4 else 0.0)))]


def first_counts(found: Phrased) -> list[tuple[int, float]]:
    """Return beats on which the dance may begin with their likelihood, the chosen one first, then the likeliest."""
    places = np.flatnonzero(np.isfinite(found.worth))
    if len(places) == 0:
        return [(found.first, 0.3)]
    shares = np.exp(FIRST_TRUST * (found.worth[places] - found.worth[places].max()))
    shares /= shares.sum()
    pairs = sorted(zip(places.tolist(), shares.tolist(), strict=True), key=lambda pair: -pair[1])
    own = dict(pairs).get(found.first, 0.0)
    return [(found.first, own), *(pair for pair in pairs if pair[0] != found.first)]
