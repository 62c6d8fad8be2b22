"""A sound set to a loudness (EBU R 128, in LUFS), its true peaks held under a ceiling (dBTP).

Tracks are set to -16 LUFS with one gain, so that nothing in them moves against the rest; true peaks stay under -1.5
dBTP. Where one gain alone would push peaks over that, ``limit`` turns those few moments down for some milliseconds.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.loudness_meter import QUIETEST_LUFS, integrated_lufs

if TYPE_CHECKING:
    from softshoe.render.band import Samples
    from softshoe.render.loudness_meter import Curve

TARGET_LUFS = -16.0
CEILING_DBTP = -1.5  # an mp3 of it, whose peaks come out up to half a decibel higher, stays under -1
LOOK_AHEAD_S = 0.005
RELEASE_S = 0.12
CELL_S = 0.001  # the limiter's step of time
CELLS_AT_ONCE, MARGIN, FINER = 100, 64, 4  # true peaks are looked for between the samples, four times as fine
NEAR_CEILING = 0.7  # of the ceiling: where all samples stay under it, peaks between them do too
ROUNDS, LOST_MOST_DB = 4, 0.25  # limiting makes a sound softer, making it up makes new peaks


def ratio(level_db: float) -> float:
    """Return decibels as an amplitude ratio."""
    return float(10 ** (level_db / 20))


def levelled(samples: Samples, rate_hz: int, *, target_lufs: float = TARGET_LUFS) -> Samples:
    """Return the sound at the target loudness, true peaks under -1.5 dBTP. Silence stays as it is."""
    out = samples.copy()
    set_level(out, rate_hz, target_lufs=target_lufs)
    return out


def set_level(samples: Samples, rate_hz: int, *, target_lufs: float = TARGET_LUFS) -> None:
    """Set a sound to the target loudness in place (a long track is too big to keep twice)."""
    lufs = integrated_lufs(samples, rate_hz)
    if lufs < QUIETEST_LUFS:
        return
    samples *= np.float32(ratio(target_lufs - lufs))
    lost_db, ceiling_db = 0.0, CEILING_DBTP
    for _ in range(ROUNDS):
        peaks = cell_peaks(samples, rate_hz, ratio(CEILING_DBTP))
        if peaks.max() <= ratio(CEILING_DBTP) and lost_db < LOST_MOST_DB:
            return
        ceiling_db -= 0.1
        samples *= np.float32(ratio(lost_db))
        turn_down(samples, rate_hz, peaks * ratio(lost_db), ceiling_db=ceiling_db)
        lost_db = max(0.0, target_lufs - integrated_lufs(samples, rate_hz))


def limit(samples: Samples, rate_hz: int, *, ceiling_db: float) -> None:
    """Turn down, in place, the moments whose peaks pass the ceiling: smoothly, from 5 ms before, back within 120 ms."""
    turn_down(samples, rate_hz, cell_peaks(samples, rate_hz, ratio(ceiling_db)), ceiling_db=ceiling_db)


def turn_down(samples: Samples, rate_hz: int, peaks: Curve, *, ceiling_db: float) -> None:
    """Limit samples whose peaks, cell by cell, are known."""
    cell = round(CELL_S * rate_hz)
    needed = np.minimum(1.0, ratio(ceiling_db) / np.maximum(peaks, 1e-9))
    gains = smooth_gains(needed, look_ahead=round(LOOK_AHEAD_S / CELL_S), release=round(RELEASE_S / CELL_S))
    middles = (np.arange(len(gains)) + 0.5) * cell
    for at in range(0, samples.shape[1], rate_hz):
        block = samples[:, at : at + rate_hz]
        here = slice(at // cell, (at + rate_hz) // cell + 2)
        if np.any(gains[here] < 1.0):
            block *= np.interp(np.arange(at, at + block.shape[1]), middles, gains).astype(np.float32)


def cell_peaks(samples: Samples, rate_hz: int, ceiling: float) -> Curve:
    """Return the true peak of each cell of some samples; where a tenth of a second stays well below, its own peak."""
    cell = round(CELL_S * rate_hz)
    loud = _highest(samples, cell)
    block, size = cell * CELLS_AT_ONCE, samples.shape[1]
    for at in range(0, size, block):
        cells = slice(at // cell, at // cell + CELLS_AT_ONCE)
        if loud[cells].max() > NEAR_CEILING * ceiling:
            start = max(0, at - MARGIN)
            fine = _finer(samples[:, start : at + block + MARGIN], rate_hz)[:, FINER * (at - start) :]
            own = _highest(fine[:, : FINER * min(block, size - at)], FINER * cell)
            loud[cells][: len(own)] = np.maximum(loud[cells][: len(own)], own)
    return loud


def _finer(piece: Samples, rate_hz: int) -> Samples:
    """A piece of sound with four times as many samples."""
    import soxr

    return np.asarray(soxr.resample(piece.T, rate_hz, FINER * rate_hz), np.float32).T


def _highest(samples: Samples, cell: int) -> Curve:
    """The highest sample of each cell; the last cell may be shorter."""
    size = samples.shape[1]
    peaks = np.zeros(-(-size // cell))
    for side in samples:
        whole = side[: size - size % cell].reshape(-1, cell)
        np.maximum(peaks[: len(whole)], np.maximum(whole.max(1), -whole.min(1)), out=peaks[: len(whole)])
        peaks[len(whole) :] = np.maximum(peaks[len(whole) :], np.abs(side[size - size % cell :]).max(initial=0.0))
    return peaks


def smooth_gains(needed: Curve, *, look_ahead: int, release: int) -> Curve:
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


def lowest_within(x: Curve, *, before: int, after: int) -> Curve:
    """Return at each place the lowest value from ``before`` places ahead of it to ``after`` places behind it.

    >>> lowest_within(np.array([3.0, 3, 1, 3, 3]), before=1, after=0).tolist()
    [3.0, 1.0, 1.0, 3.0, 3.0]
    """
    padded = np.pad(x, (after, before), mode="edge")
    return np.asarray(np.lib.stride_tricks.sliding_window_view(padded, before + after + 1).min(1))
