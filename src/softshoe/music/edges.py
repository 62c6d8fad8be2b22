"""Where the music begins and ends, and where the dance's first count falls.

The music begins with the first steady beat; sound before it that has no pulse carries no counts. It ends where it
stops, or where a fade has fallen by 6 dB. The first count falls on the phrase with which the fuller part begins, most
often after 16 or 32 counts of intro (24 or 12 in three).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.colour import Beatwise
    from softshoe.music.engine import Pulse

    FloatArray = NDArray[np.float64]

SILENT_DB = -42.0  # below the body of the song
STOPPED_DB = -28.0
DYING_DB = -9.0
CLOSING_S, SOFT_END_DB = 15.0, 8.0
FADED_DB = -6.0
SHORTEST_FADE_S = 4.0
NOISE_S, NOISE_FLAT, NOISE_STROKE_DB = 3.0, 0.42, 4.0
LATEST_START_S, LATEST_START_SHARE = 80.0, 0.45
INTRO_BELIEF = {0: -0.4, 8: -0.8, 16: 0.2, 24: -0.9, 32: 0.1, 40: -1.2, 48: -0.6, 64: -0.5}
ODD_INTRO_BELIEF = -1.6


@dataclass(frozen=True, slots=True)
class Edges:
    """Seconds of the first and last sound that is music, of its end for a dancer, and whether it fades."""

    first_s: float
    last_s: float
    end_s: float
    fades: bool


def _smooth_db(loud_db: FloatArray, rows: int) -> FloatArray:
    power = 10 ** (np.maximum(loud_db, -90) / 10)
    rows = max(1, min(rows, len(power)))
    sums = np.cumsum(np.pad(power, (1, 0)))
    i = np.arange(len(power))
    first, last = np.maximum(0, i - rows // 2), np.minimum(len(power), i + rows - rows // 2)
    return np.asarray(10 * np.log10(np.maximum((sums[last] - sums[first]) / (last - first), 1e-12)))


def edges(pulse: Pulse) -> Edges:
    """Return where the sound of the music begins and ends."""
    hz = pulse.colour_hz
    loud_db = without_applause(pulse)
    short = _smooth_db(loud_db, 3)
    body = float(np.percentile(short, 70))
    heard = np.flatnonzero(short > body + SILENT_DB)
    if len(heard) == 0:
        return Edges(0.0, 0.0, 0.0, fades=False)
    first, last = int(heard[0]), int(heard[-1])
    closing = float(np.percentile(short[max(first, last - int(CLOSING_S * hz)) : last + 1], 60))  # a soft ending
    stop = int(np.flatnonzero(short > min(body, closing + SOFT_END_DB) + STOPPED_DB)[-1])
    fade = _fade_start(loud_db[: last + 1], hz)
    end = fade if fade is not None else stop
    return Edges(first / hz, (last + 1) / hz, (end + 1) / hz, fades=fade is not None)


def without_applause(pulse: Pulse) -> FloatArray:
    """Return the loudness of each row, silent where the recording ends in applause or other even noise.

    Such noise has every pitch alike and no strokes in it; it must last some seconds, up to the last sound.
    """
    chords, loud = pulse.harmony[:, :12], pulse.loud_db
    sounding = np.flatnonzero(loud > loud.max() + SILENT_DB) if len(loud) else np.zeros(0, dtype=int)
    if len(sounding) < NOISE_S * pulse.colour_hz:
        return loud
    flat = chords.min(axis=1) > NOISE_FLAT * np.maximum(chords.max(axis=1), 1e-9)
    stroke = np.abs(np.diff(loud, prepend=loud[0])) > NOISE_STROKE_DB
    noise = np.convolve((flat & ~stroke).astype(float), np.ones(9) / 9, "same") > 0.7
    last = int(sounding[-1])
    music = np.flatnonzero(~noise[: last + 1])
    begins = max(0, int(music[-1]) - 4) if len(music) else last + 1  # the mean above sees noise late
    if last - begins < NOISE_S * pulse.colour_hz or begins < len(loud) / 2:
        return loud
    return np.where(np.arange(len(loud)) < begins, loud, -90.0)


def _fade_start(loud_db: FloatArray, hz: float) -> int | None:
    """Return the row where a closing fade has fallen by 6 dB, or None when the music does not fade."""
    wide = _smooth_db(loud_db, int(2 * hz))
    if len(wide) < 20 * hz:
        return None
    tail = wide[-int(75 * hz) :]
    before = float(np.percentile(tail[: max(1, len(tail) * 2 // 3)], 60))
    above = np.flatnonzero(wide > before + FADED_DB)
    if len(above) == 0:
        return None
    fallen = int(above[-1])
    long_way = np.flatnonzero(wide > before - 20)
    begun = int(np.flatnonzero(wide > before - 2.5)[-1]) if np.any(wide > before - 2.5) else fallen
    slow = int(long_way[-1]) - begun
    steps = np.diff(wide[fallen :: max(1, int(hz))])
    if slow < SHORTEST_FADE_S * hz or (len(steps) and np.mean(steps < 0.5) < 0.8):
        return None
    return fallen


def steady_span(steady: FloatArray, on: FloatArray, loud_db: FloatArray) -> tuple[int, int]:
    """Return the first beat that counts and the one after the last.

    steady : how plain each beat and those after it are, 0 to 1
    on : how much sounds on each beat; the first must be heard itself
    loud_db : loudness after each beat; a last beat on which nothing new sounds while the music dies away is none
    """
    if len(steady) == 0:
        return 0, 0
    plain = steady >= 0.34 * float(np.percentile(steady, 75))
    struck = on >= 0.35 * float(np.median(on))
    lasting = np.array([bool(np.all(steady[i : i + 4] >= 0.2 * float(steady.max()))) for i in range(len(steady))])
    starts = np.flatnonzero(plain & struck & lasting)
    last = len(steady)
    while last > 1 and on[last - 1] < 0.25 * float(np.median(on)) and loud_db[last - 1] < np.median(loud_db) + DYING_DB:
        last -= 1
    return (int(starts[0]) if len(starts) else 0), last


def fuller(colour: Beatwise, at: int, *, bar: int) -> float:
    """Return how much fuller the four bars from a beat are than what went before; about 1 where a voice comes in."""
    before, after = slice(0, at), slice(at, at + 4 * bar)
    if at == 0:
        return _full_at_once(colour, after)
    if at < 4 or at + bar > len(colour.loud_db):
        return 0.0
    late = slice(max(0, at - 4 * bar), at)
    louder = colour.loud_db[after].mean() - max(colour.loud_db[late].mean(), colour.loud_db[before].mean())
    gains = colour.timbre[after].mean(axis=0) - np.maximum(
        colour.timbre[late].mean(axis=0), colour.timbre[before].mean(axis=0)
    )
    voice = float(np.clip(gains[3:9], -2, 12).mean())
    lasting = float(np.abs(gains).mean())
    return float(np.clip(louder / 5, -1, 1.5) + np.clip(voice / 5, -0.5, 1.5) + np.clip(lasting / 8, 0, 1))


def _full_at_once(colour: Beatwise, opening: slice) -> float:
    """Return about 1 when the song opens as full as it goes on, 0 or less when it opens as an intro does."""
    quieter = float(np.median(colour.loud_db)) - float(np.median(colour.loud_db[opening]))
    thinner = np.median(colour.timbre, axis=0) - np.median(colour.timbre[opening], axis=0)
    return float(np.clip(1.3 - max(0.0, quieter) / 3 - float(np.clip(thinner[3:9], 0, 12).mean()) / 3, -0.5, 1.3))


def first_counts(
    colour: Beatwise, phrases: tuple[int, ...], beats_s: FloatArray, *, metre: int, weights: tuple[float, ...]
) -> list[tuple[int, float]]:
    """Return beats on which the dance may begin with their likelihood, best first; they sum to 1.

    weights : for each phrase how strong its start is, 0 to 1
    """
    if not phrases:
        return []
    latest = min(LATEST_START_S, LATEST_START_SHARE * float(beats_s[-1])) + float(beats_s[0])
    scores: list[tuple[int, float]] = []
    for beat, weight in zip(phrases, weights, strict=True):
        if beats_s[beat] > latest and scores:
            break
        counted = beat * 4 // 3 if metre == 3 else beat
        believed = INTRO_BELIEF.get(counted - phrases[0], ODD_INTRO_BELIEF)
        scores.append((beat, believed + 1.1 * fuller(colour, beat, bar=metre) + 0.6 * weight))
    top = max(score for _, score in scores)
    shares = [(beat, float(np.exp(1.6 * (score - top)))) for beat, score in scores]
    total = sum(share for _, share in shares)
    return sorted(((beat, share / total) for beat, share in shares), key=lambda pair: -pair[1])
