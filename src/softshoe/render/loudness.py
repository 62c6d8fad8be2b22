"""A sound set to a loudness (EBU R 128, in LUFS), its true peaks held under a ceiling (dBTP).

Tracks are set to -16 LUFS with one gain, so that nothing in them moves against the rest; true peaks stay under -1.5
dBTP. Where one gain alone would push peaks over that, ``limit`` turns those few moments down for some milliseconds.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.loudness_meter import QUIETEST_LUFS, integrated_lufs, measure

if TYPE_CHECKING:
    from softshoe.render.band import Samples
    from softshoe.render.loudness_meter import Curve

TARGET_LUFS = -16.0
CEILING_DBTP = -1.5  # an mp3 of it, whose peaks come out up to half a decibel higher, stays under -1
LOOK_AHEAD_S = 0.005
RELEASE_S = 0.12
CELL_S = 0.001  # the limiter's step of time
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
    ceiling_db = CEILING_DBTP - 0.1
    for _ in range(ROUNDS):
        now = measure(samples, rate_hz)
        lost_db = max(0.0, target_lufs - now.lufs)
        if now.peak_dbtp <= CEILING_DBTP and lost_db < LOST_MOST_DB:
            return
        samples *= np.float32(ratio(lost_db))
        limit(samples, rate_hz, ceiling_db=ceiling_db)
        ceiling_db -= 0.1


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


def cell_peaks(samples: Samples, rate_hz: int, cell: int, ceiling: float) -> Curve:
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
