"""The plain engine: onsets, chords and loudness from spectra, with nothing learned from data.

Frames are centred: frame i holds the sound around ``i * hop / rate``. Spectra are made in blocks, so that memory stays
small however long the song is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.music.engine import Pulse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]
    SampleArray = NDArray[np.float32]

RATE_HZ = 22_050
ONSET_WINDOW, ONSET_HOP = 1024, 220
ONSETS_HZ = RATE_HZ / ONSET_HOP
COLOUR_WINDOW, COLOUR_HOP = 4096, 2205
BANDS = 48
LOW_BANDS, HIGH_BANDS = slice(0, 5), slice(30, 48)  # about under 200 Hz, over 3 kHz
MID_BANDS = slice(5, 30)
BLOCK = 1024
STEEP_FRAMES = 2  # a rise is measured over this many frames
LATE_S = -0.002  # the curve is read this much later: halfway between clicks and soft attacks, measured on made sound
LEVEL_S = 8.0  # onsets are compared with the music within this time
FAINT = 0.01  # a rise of less than this is no onset, however still the music
GROUP_WEIGHTS = (1.0, 1.0, 0.55)  # low, middle, high: off-beat cymbals must not lead


def spectra(mono: SampleArray, window: int, hop: int) -> Iterator[NDArray[np.float32]]:
    """Yield blocks of magnitude spectra under a Hann window, a frame a hop, shape (<= BLOCK, window // 2 + 1)."""
    shape = np.hanning(window + 1)[:-1].astype(np.float32)
    padded = np.pad(mono, (window // 2, window // 2))
    views = np.lib.stride_tricks.sliding_window_view(padded, window)[::hop]
    for first in range(0, len(views), BLOCK):
        yield np.abs(np.fft.rfft(views[first : first + BLOCK] * shape, axis=1)).astype(np.float32)


def mel_bands(*, bands: int, window: int, rate_hz: int, lowest_hz: float = 30.0) -> NDArray[np.float32]:
    """Return triangular bands spaced evenly in mel, shape (window // 2 + 1, bands); each sums to 1.

    Mel after O'Shaughnessy 1987: 2595 log10(1 + f / 700). A band narrower than a bin takes the nearest bin.
    """
    top = 2595 * np.log10(1 + rate_hz / 2 / 700)
    mel = np.linspace(2595 * np.log10(1 + lowest_hz / 700), top, bands + 2)
    edges_hz = 700 * (10 ** (mel / 2595) - 1)
    hz = np.fft.rfftfreq(window, 1 / rate_hz)[:, None]
    low, centre, high = edges_hz[:-2], edges_hz[1:-1], edges_hz[2:]
    weights = np.maximum(0, np.minimum((hz - low) / (centre - low), (high - hz) / (high - centre)))
    empty = weights.sum(axis=0) == 0
    weights[np.argmin(np.abs(hz - centre), axis=0)[empty], np.flatnonzero(empty)] = 1
    return np.asarray(weights / weights.sum(axis=0), dtype=np.float32)


def pitch_classes(*, window: int, rate_hz: int, lowest_hz: float, highest_hz: float) -> NDArray[np.float32]:
    """Return weights that fold a spectrum into 12 pitch classes, C first, A = 440 Hz; shape (window // 2 + 1, 12)."""
    hz = np.fft.rfftfreq(window, 1 / rate_hz)
    inside = (hz >= lowest_hz) & (hz <= highest_hz)
    pitch = 69 + 12 * np.log2(np.maximum(hz, 1e-3) / 440)
    away = (pitch[:, None] - np.arange(12) + 6) % 12 - 6
    return np.asarray(np.exp(-0.5 * (away / 0.4) ** 2) * inside[:, None], dtype=np.float32)


def _running_mean(x: FloatArray, n: int) -> FloatArray:
    """Return the mean of n frames around each, shape as x; shorter at the ends."""
    n = max(1, min(n, len(x)))
    sums = np.cumsum(np.pad(x, (1, 0)))
    first = np.clip(np.arange(len(x)) - n // 2, 0, len(x))
    last = np.clip(first + n, 0, len(x))
    return np.asarray((sums[last] - sums[first]) / np.maximum(1, last - first))


def _levelled(rise: FloatArray, frames_hz: float) -> FloatArray:
    """Return onsets above their surroundings, about 1 where they are strong, loud and soft passages alike."""
    bare = np.maximum(0, rise - _running_mean(rise, int(0.4 * frames_hz)))
    spread = np.sqrt(_running_mean(bare**2, int(LEVEL_S * frames_hz)))
    floor = max(0.1 * float(np.sqrt(np.mean(bare**2))), FAINT)
    return np.asarray(np.minimum(bare / (3 * np.maximum(spread, floor)), 2.0))


def _rises(mono: SampleArray) -> FloatArray:
    """Return the rise of low, middle and high bands, shape (3, n)."""
    weights = mel_bands(bands=BANDS, window=ONSET_WINDOW, rate_hz=RATE_HZ)
    mel = np.concatenate([block @ weights for block in spectra(mono, ONSET_WINDOW, ONSET_HOP)])
    top = float(np.percentile(mel, 99)) + 1e-12
    loud = np.log1p(60 * mel / top)
    before = np.pad(loud, ((STEEP_FRAMES, 0), (1, 1)), mode="edge")[: len(loud)]
    before = np.maximum(np.maximum(before[:, :-2], before[:, 2:]), before[:, 1:-1])  # a gliding tone is no onset
    rise = np.maximum(0, loud - before)
    rise[:STEEP_FRAMES] = loud[:STEEP_FRAMES] if len(loud) > STEEP_FRAMES else 0
    return np.stack([rise[:, part].mean(axis=1) for part in (LOW_BANDS, MID_BANDS, HIGH_BANDS)]).astype(np.float64)


def onset_curves(mono: SampleArray) -> FloatArray:
    """Return the onsets of low, middle and high bands, shape (3, n), ``ONSETS_HZ`` a second; ``mono`` at 22 050 Hz."""
    return np.stack([_on_time(_levelled(rise, ONSETS_HZ)) for rise in _rises(mono)])


def _on_time(curve: FloatArray) -> FloatArray:
    """Move a curve so that a click is seen when it sounds."""
    shift = LATE_S * ONSETS_HZ
    x = np.arange(len(curve), dtype=np.float64)
    return np.interp(x + shift, x, curve)


def _unit(rows: FloatArray) -> FloatArray:
    length = np.linalg.norm(rows, axis=1, keepdims=True)
    return np.asarray(np.where(length > 1e-9, rows / np.maximum(length, 1e-9), 0.0))


def colour_of(mono: SampleArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return harmony (m, 24), timbre (m, 12) and loudness (m,), both in decibels."""
    chords = pitch_classes(window=COLOUR_WINDOW, rate_hz=RATE_HZ, lowest_hz=130, highest_hz=2200)
    bass = pitch_classes(window=COLOUR_WINDOW, rate_hz=RATE_HZ, lowest_hz=32, highest_hz=240)
    bands = mel_bands(bands=12, window=COLOUR_WINDOW, rate_hz=RATE_HZ)
    rows = []
    for block in spectra(mono, COLOUR_WINDOW, COLOUR_HOP):
        soft = np.sqrt(block)
        power = (block**2) @ bands
        rows.append(np.concatenate([soft @ chords, soft @ bass, power, power.sum(axis=1, keepdims=True)], axis=1))
    table = np.concatenate(rows).astype(np.float64)
    power = table[:, 24:]
    loudest = np.percentile(power, 99, axis=0) + 1e-12
    decibels = 10 * np.log10(np.maximum(power / loudest[-1], 1e-8))
    harmony = np.concatenate([_unit(table[:, :12]), _unit(table[:, 12:24])], axis=1)
    return harmony, decibels[:, :-1], decibels[:, -1]


class Ear:
    """Hears onsets and colours by rule."""

    rate_hz = RATE_HZ

    def heard(self, mono: SampleArray) -> Pulse:
        """Return the evidence in one channel of sound, shape (n,), float32, at 22 050 Hz."""
        low, middle, high = onset_curves(mono)
        a, b, c = GROUP_WEIGHTS
        harmony, timbre, loud_db = colour_of(mono)
        return Pulse(
            frames_hz=ONSETS_HZ,
            beat=(a * low + b * middle + c * high) / (a + b + c),
            low=low,
            snap=0.5 * (middle + high),
            colour_hz=RATE_HZ / COLOUR_HOP,
            harmony=harmony,
            timbre=timbre,
            loud_db=loud_db,
        )
