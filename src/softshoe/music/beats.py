"""Beats and tempo from evidence: which pulse people would dance to, and when each beat falls.

A pulse is searched in three steps: the tempo (with a leaning to what people dance to), the beats by dynamic programming
over time and beat length, and a smoothing that moves each beat by what its neighbours say. Times in seconds, lengths of
beats in frames while searching.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]

SLOWEST_BPM, FASTEST_BPM = 58.0, 165.0
DANCED_BPM, DANCED_OCTAVES = 108.0, 0.62  # where people dance, and how far from it they still like it
WINDOW_S = 12.0
HARMONICS = ((1, 1.0), (2, 0.8), (3, 0.35), (4, 0.7), (8, 0.5))
TEMPO_PLAY = 0.14  # beats may be this share longer or shorter than the song's usual beat
EVEN_PLAY, EVEN_STEPS, EVEN_PLACES = 0.006, 121, 48
STEADY = 300.0  # how dear a change of beat length is


@dataclass(frozen=True, slots=True)
class Tempo:
    """One way to hear the speed; ``weight`` compares it with the others."""

    bpm: float
    weight: float


def leaning(bpm: FloatArray) -> FloatArray:
    """Return how gladly people dance at a tempo, 0 to 1."""
    return np.asarray(np.exp(-0.5 * (np.log2(bpm / DANCED_BPM) / DANCED_OCTAVES) ** 2))


def likeness(curve: FloatArray, frames_hz: float, longest_s: float) -> FloatArray:
    """Return how like itself a curve is after each delay, mean over windows; shape (longest_s * frames_hz + 1,)."""
    size = min(len(curve), int(WINDOW_S * frames_hz))
    lags = int(longest_s * frames_hz) + 1
    if size < 8:
        return np.zeros(lags)
    total = np.zeros(lags)
    for first in range(0, max(1, len(curve) - size // 2), size // 2):
        piece = curve[first : first + size]
        if len(piece) < size // 2 or not piece.any():
            continue
        spectrum = np.fft.rfft(piece - piece.mean(), 2 * size)
        same = np.fft.irfft(np.abs(spectrum) ** 2)[:lags]
        same = same / np.maximum(1, len(piece) - np.arange(len(same)))  # no leaning to short delays
        if same[0] > 0:
            total[: len(same)] += np.maximum(-0.2, same / same[0])
    return np.asarray(total / max(1e-9, total[0]))


def tempos(curve: FloatArray, frames_hz: float) -> list[Tempo]:
    """Return the tempos worth trying, most likely first, each weighed by evidence and by what people dance to."""
    bpm = np.exp(np.linspace(np.log(SLOWEST_BPM), np.log(FASTEST_BPM), 420))
    beat_frames = 60 * frames_hz / bpm
    same = likeness(curve, frames_hz, 8.5 * 60 / SLOWEST_BPM)
    lags = np.arange(len(same))
    score = np.zeros(len(bpm))
    for times, weight in HARMONICS:
        score += weight * np.interp(times * beat_frames, lags, same)
    own = np.interp(beat_frames, lags, same)
    for part in (2 / 3, 3 / 2):  # a pulse of three against two is less like itself than the true one beside it
        score -= 1.2 * np.maximum(0, np.interp(part * beat_frames, lags, same) - own)
    score = np.maximum(score, 0) * leaning(bpm)
    peaks = np.flatnonzero((score > np.roll(score, 1)) & (score >= np.roll(score, -1)) & (score > 0))
    best = sorted(peaks, key=lambda i: -score[i])[:6]
    top = score[best[0]] if best else 1.0
    return [Tempo(float(bpm[i]), float(score[i] / top)) for i in best]


def tracked(curve: FloatArray, frames_hz: float, *, bpm: float, play: float = TEMPO_PLAY) -> NDArray[np.int64]:
    """Return the frames of the best run of beats near a tempo, from the start of the curve to its end.

    Dynamic programming over (frame, length of the beat that ends there): a beat gains what the curve shows, and pays
    for being longer or shorter than the one before.
    """
    usual = 60 * frames_hz / bpm
    lengths = np.arange(max(2, int(usual * (1 - play))), int(np.ceil(usual * (1 + play))) + 1)
    ratio = np.log(lengths[:, None] / lengths[None, :])
    change = -STEADY * ratio**2
    drawn = -2.0 * np.log(lengths / usual) ** 2
    n, k, longest = len(curve), len(lengths), int(lengths[-1])
    if n <= longest:
        return np.empty(0, dtype=np.int64)
    total = np.zeros((n, k))
    came = np.zeros((n, k), dtype=np.int16)
    total[:longest] = curve[:longest, None]
    came[:longest] = -1
    rows = np.arange(k)
    for t in range(longest, n):
        ways = total[t - lengths] + change
        best = ways.argmax(axis=1)
        came[t] = best
        total[t] = ways[rows, best] + drawn + curve[t]
    t = n - longest + int(total[n - longest :].max(axis=1).argmax())
    j = int(total[t].argmax())
    beats = [t]
    while came[t, j] >= 0:
        t, j = t - int(lengths[j]), int(came[t, j])
        beats.append(t)
    return np.array(beats[::-1], dtype=np.int64)


def even(curve: FloatArray, frames_hz: float, *, bpm: float) -> FloatArray:
    """Return the seconds of the best run of beats of one unchanging length near a tempo, over the whole curve.

    Much music is made to a machine's click; then this finds its beats where little sounds on them.
    """
    usual = 60 * frames_hz / bpm
    n = len(curve)
    if n < 4 * usual:
        return np.empty(0)
    best = (-1.0, usual, 0.0)
    for length in usual * (1 + np.linspace(-EVEN_PLAY, EVEN_PLAY, EVEN_STEPS)):
        place = (np.arange(n) / length % 1 * EVEN_PLACES).astype(int)
        folded = np.bincount(place, weights=curve, minlength=EVEN_PLACES)
        folded = folded + 0.6 * (np.roll(folded, 1) + np.roll(folded, -1))
        top = int(folded.argmax())
        if folded[top] > best[0]:
            best = (float(folded[top]), float(length), (top + 0.5) / EVEN_PLACES)
    _, length, start = best
    return np.asarray(np.arange(start * length, n - 1, length) / frames_hz)


def refined(frames: NDArray[np.int64], curve: FloatArray, frames_hz: float, *, near: int = 6) -> FloatArray:
    """Return seconds of beats: each moved to the top of its onset, then to where a line through its neighbours says.

    near : how many beats on either side are its neighbours
    """
    if len(frames) < 3:
        return frames / frames_hz
    reach = max(1, int(0.03 * frames_hz))
    offsets = np.arange(-reach, reach + 1)
    spots = np.clip(frames[:, None] + offsets, 0, len(curve) - 1)
    heights = curve[spots] ** 2
    weight = heights.sum(axis=1) + 1e-6
    exact = frames + (heights * offsets).sum(axis=1) / weight
    return np.maximum.accumulate(_smoothed(exact, np.minimum(weight, 1.0), near)) / frames_hz


def _smoothed(y: FloatArray, weight: FloatArray, near: int) -> FloatArray:
    """Return what the best line through each point and its neighbours says of it; far ones count less at second try."""
    wide = np.pad(y, near, mode="edge"), np.pad(weight, near)  # beyond the ends nothing has weight
    near_y, near_w = (np.lib.stride_tricks.sliding_window_view(x, 2 * near + 1) for x in wide)
    x = np.arange(-near, near + 1, dtype=np.float64)
    for _ in range(2):
        w = near_w / near_w.sum(axis=1, keepdims=True)
        mean_x, mean_y = w @ x, (w * near_y).sum(axis=1)
        away = x - mean_x[:, None]
        spread = (w * away**2).sum(axis=1)
        slope = (w * away * (near_y - mean_y[:, None])).sum(axis=1) / np.where(spread > 1e-9, spread, np.inf)
        line = mean_y[:, None] + slope[:, None] * away
        near_w = near_w / (1 + ((near_y - line) / 1.5) ** 2)
    return np.asarray(mean_y - slope * mean_x)


def led_in(beats_s: FloatArray) -> FloatArray:
    """Return the beats with the one before them, when it falls at the start of the file or is cut off by it.

    A beat due up to a sixth of a beat before the file is heard where the file begins.
    """
    if len(beats_s) < 4:
        return beats_s
    gap = float(np.median(np.diff(beats_s[:9])))
    due = float(beats_s[0]) - gap
    return np.concatenate([[max(0.0, due)], beats_s]) if -gap / 6 <= due < gap / 2 else beats_s


def at_beats(curve: FloatArray, hz: float, beats_s: FloatArray, *, reach_s: float = 0.04) -> FloatArray:
    """Return the highest value of a curve within ``reach_s`` of each beat."""
    reach = max(0, round(reach_s * hz))
    spots = np.rint(beats_s * hz).astype(int)[:, None] + np.arange(-reach, reach + 1)
    return np.asarray(curve[np.clip(spots, 0, len(curve) - 1)].max(axis=1))


def steadiness(beats_s: FloatArray, curve: FloatArray, frames_hz: float, *, ahead: bool = False) -> FloatArray:
    """Return for each beat, 0 to 1, how much more sounds at the beats around it than between them.

    ahead : only the beat itself and the four after it are looked at, to find where the beat sets in
    """
    if len(beats_s) < 4:
        return np.zeros(len(beats_s))
    on = at_beats(curve, frames_hz, beats_s)
    gaps = np.diff(beats_s)
    reach = min(0.04, float(np.median(gaps)) / 16)  # eighths of a beat: neither halves, thirds nor quarters fall there
    between = [beats_s[:-1] + eighths / 8 * gaps for eighths in (1, 3, 5, 7)]
    off = np.mean([at_beats(curve, frames_hz, places, reach_s=reach) for places in between], axis=0)
    off = np.append(off, off[-1])
    if ahead:
        padded = [np.append(x, np.full(4, x[-1])) for x in (on, off)]
        on, off = (np.convolve(x, np.ones(5) / 5, "valid") for x in padded)
    else:
        near = np.ones(min(9, len(on))) / min(9, len(on))
        on, off = np.convolve(on, near, "same"), np.convolve(off, near, "same")
    return np.asarray(np.clip((on - off) / np.maximum(on + off, 0.05), 0, 1))


def drift(beats_s: FloatArray) -> tuple[float, float]:
    """Return by what share the tempo changes over the song, and where it is farthest from the usual. [-, s]

    Tempos are taken over 16 beats; (0, 0) for songs too short to tell.
    """
    span = 16
    if len(beats_s) < 3 * span:
        return 0.0, 0.0
    lengths = beats_s[span:] - beats_s[:-span]
    usual = float(np.median(lengths))
    away = np.abs(lengths / usual - 1)
    worst = int(away.argmax())
    return float(lengths.max() / lengths.min() - 1), float(beats_s[worst])


def pinned(beats_s: FloatArray, at_s: float) -> tuple[FloatArray, int]:
    """Return the beats with the nearest one moved to exactly ``at_s``, and its number; its neighbours follow."""
    nearest = int(np.abs(beats_s - at_s).argmin())
    moved = at_s - beats_s[nearest]
    away = np.abs(np.arange(len(beats_s)) - nearest)
    drawn = beats_s + moved * np.maximum(0, 1 - away / 4)
    drawn[nearest] = at_s
    return drawn, nearest
