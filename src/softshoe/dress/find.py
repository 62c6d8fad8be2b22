"""Finding the song inside a filmed run-through: where it starts, and how fast the film's sound runs against it.

Two steps: onset patterns in 48 bands against a range of speeds, then local correlation and a straight line through it,
three times. Film second = ``speed`` × song second + ``start_s``. A match is likely, never proved, to be the song.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from softshoe.errors import MusicError
from softshoe.music.ear import mel_bands, spectra

if TYPE_CHECKING:
    from numpy.typing import NDArray

    FloatArray = NDArray[np.floating]

RATE_HZ, WINDOW, HOP = 22_050, 1024, 256
BANDS, LOWEST_HZ = 48, 60.0
BAND_HZ, EDGE_OCTAVES = (150.0, 6000.0), 0.33
SPEEDS = np.arange(0.97, 1.0301, 0.0025)
WINDOW_S, SLACK_S, STEP_S = 6.0, 0.15, 2.0
LEAST_WINDOWS = 3
STRONG, CLOSE_S = 0.6, 0.004
SURE_MISS_S, CLEAR_PEAK = 0.01, 8.0


@dataclass(frozen=True, slots=True)
class Found:
    """Film second of the song's second 0, film seconds a song second, share of windows that clearly agree, 0 to 1."""

    start_s: float
    speed: float
    agree: float

    def film_s(self, song_s: float) -> float:
        """Return the film second of a song second."""
        return self.speed * song_s + self.start_s


def find_song(song: FloatArray, film: FloatArray, *, where: str) -> Found:
    """Find the song in the film's sound; both mono, 22,050 Hz, any level.

    Raises MusicError when fewer than three windows of the song lie inside the film.
    """
    speed, start_s = _coarse(song, film)
    found = _fine(song, film, speed, start_s, where)
    for _ in range(2):
        found = _fine(song, film, 1 / found.speed, found.start_s, where)
    return found


def _rises(sound: FloatArray) -> FloatArray:
    """How suddenly each band gets louder, frame by frame, each band to mean 0 and spread 1; shape (BANDS, n)."""
    weights = mel_bands(bands=BANDS, window=WINDOW, rate_hz=RATE_HZ, lowest_hz=LOWEST_HZ)
    loud = np.concatenate([block**2 @ weights for block in spectra(sound.astype(np.float32), WINDOW, HOP)]).T
    rise = np.maximum(0, np.diff(np.log1p(200 * loud / max(float(loud.max()), 1e-12)), axis=1))
    rise -= rise.mean(1, keepdims=True)
    spread: FloatArray = rise / (rise.std(1, keepdims=True) + 1e-9)
    return spread


def _banded(sound: FloatArray) -> FloatArray:
    """The part of the sound between ``BAND_HZ``, without any delay: the edges fall off over a third of an octave."""
    hz = np.fft.rfftfreq(len(sound), 1 / RATE_HZ)
    below, above = (np.log2(np.maximum(hz, 1e-3) / edge) / EDGE_OCTAVES for edge in BAND_HZ)
    gain = np.clip(0.5 + below, 0, 1) * np.clip(0.5 - above, 0, 1)
    part: FloatArray = np.fft.irfft(np.fft.rfft(sound) * gain, len(sound))
    return part


def _correlated(a: FloatArray, b: FloatArray, *, whiten: bool) -> FloatArray:
    """Correlate ``b`` against ``a`` at every lag, along the last axis."""
    n = 1 << (a.shape[-1] + b.shape[-1]).bit_length()
    fa, fb = np.fft.rfft(a, n), np.fft.rfft(b, n)
    if whiten:
        fa /= np.maximum(abs(fa), 1e-3 * abs(fa).max())
        fb /= np.maximum(abs(fb), 1e-3 * abs(fb).max())
    lags: FloatArray = np.fft.irfft(fb * np.conj(fa), n)
    return lags


def _coarse(song: FloatArray, film: FloatArray) -> tuple[float, float]:
    a, b = _rises(song), _rises(film)
    best = (-np.inf, 1.0, 0.0)
    for speed in SPEEDS:
        at = np.arange(int(a.shape[1] / speed)) * speed
        squeezed = np.stack([np.interp(at, np.arange(a.shape[1]), row) for row in a])
        lags = _correlated(squeezed, b, whiten=False).sum(0)
        k = int(np.argmax(lags))
        lag = k if k < b.shape[1] else k - len(lags)
        best = max(best, (float(lags[k]), float(speed), lag * HOP / RATE_HZ))
    return best[1], best[2]


def _fine(song: FloatArray, film: FloatArray, speed: float, start_s: float, where: str) -> Found:
    import soxr

    a, b = _banded(soxr.resample(song, RATE_HZ * speed, RATE_HZ)), _banded(film)
    points = [p for t in np.arange(0.5, len(a) / RATE_HZ - WINDOW_S, STEP_S) if (p := _window(a, b, t, speed, start_s))]
    if len(points) < LEAST_WINDOWS:
        raise MusicError(where, "the song is not found in this film", "too little of it can be heard",
                         "name the film of this very song, with twelve seconds of it or more")  # fmt: skip
    return _line(np.array(points))


def _window(a: FloatArray, b: FloatArray, t: float, speed: float, start_s: float) -> tuple[float, float, float] | None:
    i, m = int((start_s + t - SLACK_S) * RATE_HZ), int((WINDOW_S + 2 * SLACK_S) * RATE_HZ)
    if i < 0 or i + m > len(b):
        return None
    lags = _correlated(a[int(t * RATE_HZ) : int((t + WINDOW_S) * RATE_HZ)], b[i : i + m], whiten=True)
    lags = lags[: int(2 * SLACK_S * RATE_HZ)]
    k = int(np.argmax(lags >= STRONG * lags.max()))  # the first strong arrival, not the loudest echo
    k += int(np.argmax(lags[k : k + 8]))
    return t * speed, start_s + t - SLACK_S + k / RATE_HZ, float(lags.max() / (lags.std() + 1e-12))


def _line(points: FloatArray) -> Found:
    x, y, q = points.T
    keep = q > 0.7 * np.median(q)
    line = np.polyfit(x[keep], y[keep], 1)
    for _ in range(8):
        miss = abs(y - np.polyval(line, x))
        keep = miss <= max(CLOSE_S, 2.5 * float(np.median(miss[keep])))
        line = np.polyfit(x[keep], y[keep], 1)
    agree = float(np.mean((abs(y - np.polyval(line, x)) < SURE_MISS_S) & (q > CLEAR_PEAK)))
    return Found(float(line[1]), float(line[0]), agree)
