"""How loud a sound is, and setting it: EBU R 128 loudness (LUFS), true peak (dBTP).

Tracks are set to -16 LUFS with one gain, so that nothing in them moves against the rest; true peaks stay under -1 dBTP.
Where one gain alone would push peaks over that, ``limited`` turns those few moments down for some milliseconds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.render.band import Samples

TARGET_LUFS = -16.0
CEILING_DBTP = -1.0
QUIETEST_LUFS = -70.0
LOOK_AHEAD_S = 0.005
RELEASE_S = 0.12
CELL_S = 0.001  # the limiter's step of time


@dataclass(frozen=True, slots=True)
class Loudness:
    """Integrated loudness (-inf for silence or less than 0.4 s) and true peak."""

    lufs: float
    peak_dbtp: float


def decibel(ratio: float) -> float:
    """Return an amplitude ratio in decibels; nothing is -200."""
    return float(20 * np.log10(max(ratio, 1e-10)))


def ratio(level_db: float) -> float:
    """Return decibels as an amplitude ratio."""
    return float(10 ** (level_db / 20))


def seconds(samples: Samples, rate_hz: int) -> Iterator[tuple[np.ndarray[tuple[int], np.dtype[np.float64]], int]]:
    """Give the sound second by second as the meter wants it: one frame after the other, and the number of frames."""
    for at in range(0, samples.shape[1], rate_hz):
        block = samples[:, at : at + rate_hz]
        yield np.ascontiguousarray(block.T, np.float64).ravel(), block.shape[1]


def measure(samples: Samples, rate_hz: int) -> Loudness:
    """Return the loudness and true peak of a sound, (channels, n)."""
    import pyebur128

    mode = pyebur128.MeasurementMode
    meter = pyebur128.R128State(samples.shape[0], rate_hz, mode.MODE_I | mode.MODE_TRUE_PEAK)
    for frames, count in seconds(samples, rate_hz):
        meter.add_frames(frames, count)
    peak = max(pyebur128.get_true_peak(meter, channel) for channel in range(samples.shape[0]))
    return Loudness(float(pyebur128.get_loudness_global(meter)), decibel(peak))


def integrated_lufs(samples: Samples, rate_hz: int) -> float:
    """Return the integrated loudness alone, four times as fast as ``measure``."""
    import pyebur128

    meter = pyebur128.R128State(samples.shape[0], rate_hz, pyebur128.MeasurementMode.MODE_I)
    for frames, count in seconds(samples, rate_hz):
        meter.add_frames(frames, count)
    return float(pyebur128.get_loudness_global(meter))


def loudness_curve(samples: Samples, rate_hz: int, *, step_s: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return momentary loudness (400 ms) in LUFS every step, at least -70, each about its own middle."""
    import pyebur128

    meter = pyebur128.R128State(samples.shape[0], rate_hz, pyebur128.MeasurementMode.MODE_M)
    step, read = round(step_s * rate_hz), []
    for at in range(0, samples.shape[1], step):
        block = samples[:, at : at + step]
        meter.add_frames(np.ascontiguousarray(block.T, np.float64).ravel(), block.shape[1])
        read.append(max(QUIETEST_LUFS, float(pyebur128.get_loudness_momentary(meter))))
    late = min(len(read) - 1, round(0.2 / step_s)) if read else 0
    return np.array(read[late:] + [QUIETEST_LUFS] * late)


def levelled(samples: Samples, rate_hz: int, *, target_lufs: float = TARGET_LUFS) -> Samples:
    """Return the sound at the target loudness, peaks under -1 dBTP. Silence stays as it is."""
    out = samples.copy()
    set_level(out, rate_hz, target_lufs=target_lufs)
    return out


def set_level(samples: Samples, rate_hz: int, *, target_lufs: float = TARGET_LUFS) -> None:
    """Set a sound to the target loudness in place (a long track is too big to keep twice)."""
    now = measure(samples, rate_hz)
    if now.lufs < QUIETEST_LUFS:
        return
    gain_db = target_lufs - now.lufs
    samples *= np.float32(ratio(gain_db))
    if now.peak_dbtp + gain_db <= CEILING_DBTP:
        return
    ceiling_db = CEILING_DBTP - 0.1
    for _ in range(3):
        limit(samples, rate_hz, ceiling_db=ceiling_db)
        now = measure(samples, rate_hz)
        lost_db = max(0.0, target_lufs - now.lufs)
        if now.peak_dbtp <= CEILING_DBTP and lost_db < 0.25:
            return
        samples *= np.float32(ratio(lost_db))
        ceiling_db -= max(0.0, now.peak_dbtp - CEILING_DBTP)
    limit(samples, rate_hz, ceiling_db=ceiling_db - 0.3)


def limit(samples: Samples, rate_hz: int, *, ceiling_db: float) -> None:
    """Turn down, in place, the moments whose peaks pass the ceiling: smoothly, from 5 ms before, back within 120 ms."""
    cell = round(CELL_S * rate_hz)
    ceiling = ratio(ceiling_db)
    needed = np.minimum(1.0, ceiling / np.maximum(cell_peaks(samples, rate_hz, cell, ceiling), 1e-9))
    gains = smooth_gains(needed, look_ahead=round(LOOK_AHEAD_S / CELL_S), release=round(RELEASE_S / CELL_S))
    middles = (np.arange(len(gains)) + 0.5) * cell
    for at in range(0, samples.shape[1], rate_hz):
        block = samples[:, at : at + rate_hz]
        here = slice(at // cell, (at + rate_hz) // cell + 2)
        if np.any(gains[here] < 1.0):
            block *= np.interp(np.arange(at, at + block.shape[1]), middles, gains).astype(np.float32)


def cell_peaks(
    samples: Samples, rate_hz: int, cell: int, ceiling: float
) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return the true peak of each cell of some samples; where a second's samples stay well below, their own peak."""
    import soxr

    peaks = np.zeros(-(-samples.shape[1] // cell))
    block, margin, finer = cell * 1000, 64, 4
    for at in range(0, samples.shape[1], block):
        start, stop = max(0, at - margin), min(samples.shape[1], at + block + margin)
        piece = samples[:, start:stop]
        loud = np.abs(piece).max(0)
        if loud.max() > 0.7 * ceiling:
            fine = np.abs(soxr.resample(piece.T, rate_hz, finer * rate_hz)).max(1)
            fine = np.pad(fine, (0, max(0, finer * len(loud) - len(fine))))[: finer * len(loud)]
            loud = np.maximum(loud, fine.reshape(-1, finer).max(1))
        own = loud[at - start : at - start + block]
        whole = np.pad(own, (0, -len(own) % cell)).reshape(-1, cell).max(1)
        peaks[at // cell : at // cell + len(whole)] = whole
    return peaks


def smooth_gains(
    needed: np.ndarray[tuple[int], np.dtype[np.float64]], *, look_ahead: int, release: int
) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return gains that nowhere pass what is needed: falling over the look-ahead, rising over the release."""
    held = lowest_within(needed, before=look_ahead + 1, after=look_ahead + 1)
    risen = held.copy()
    keep = np.exp(-1.0 / (release / 3))
    for k in np.flatnonzero(held[:-1] < held[1:]):
        level, j = held[k], k + 1
        while j < len(held) and (level := 1 - (1 - level) * keep) < risen[j] - 1e-4:
            risen[j] = level
            j += 1
    kernel = np.hanning(2 * look_ahead + 3)[1:-1]
    kernel /= kernel.sum()
    return np.convolve(np.pad(risen, look_ahead, mode="edge"), kernel, "valid")


def lowest_within(
    x: np.ndarray[tuple[int], np.dtype[np.float64]], *, before: int, after: int
) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return at each place the lowest value from ``before`` places ahead of it to ``after`` places behind it.

    >>> lowest_within(np.array([3.0, 3, 1, 3, 3]), before=1, after=0).tolist()
    [3.0, 1.0, 1.0, 3.0, 3.0]
    """
    padded = np.pad(x, (after, before), mode="edge")
    return np.asarray(np.lib.stride_tricks.sliding_window_view(padded, before + after + 1).min(1))
