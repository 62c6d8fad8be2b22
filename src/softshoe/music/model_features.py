"""What the listening model sees of a song: loudness in 96 bands, 50 times a second.

Frame i holds the sound around i / 50 s. The weights were trained on exactly this; a change here asks for new training.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    SampleArray = NDArray[np.float32]

RATE_HZ = 22_050
HOP = 441
FRAMES_HZ = RATE_HZ / HOP
WINDOW = 2048
BANDS = 96
LOWEST_HZ, HIGHEST_HZ = 30.0, 10_500.0
QUIET = 1e-5  # of the loudest: the floor of what is heard
FLOOR = float(np.log(QUIET))
BLOCK = 512


@cache
def bands() -> NDArray[np.float32]:
    """Return triangular bands, shape (WINDOW // 2 + 1, BANDS), each summing to 1.

    Centres are even on 2595 log10(1 + f / 700) (O'Shaughnessy 1987); a band narrower than a bin takes the nearest bin.
    """
    low, high = (2595 * np.log10(1 + hz / 700) for hz in (LOWEST_HZ, HIGHEST_HZ))
    edges = 700 * (10 ** (np.linspace(low, high, BANDS + 2) / 2595) - 1)
    hz = np.fft.rfftfreq(WINDOW, 1 / RATE_HZ)[:, None]
    left, centre, right = edges[:-2], edges[1:-1], edges[2:]
    weights = np.maximum(0, np.minimum((hz - left) / (centre - left), (right - hz) / (right - centre)))
    empty = weights.sum(axis=0) == 0
    weights[np.argmin(np.abs(hz - centre), axis=0)[empty], np.flatnonzero(empty)] = 1
    return np.asarray(weights / weights.sum(axis=0), dtype=np.float32)


def features(mono: SampleArray) -> NDArray[np.float32]:
    """Return the logarithm of loudness in bands against the loudest, shape (n // HOP + 1, BANDS), at least FLOOR.

    mono : shape (n,), at RATE_HZ. The loudness of the recording as a whole changes nothing.
    """
    shape = np.hanning(WINDOW + 1)[:-1].astype(np.float32)
    views = np.lib.stride_tricks.sliding_window_view(np.pad(mono, (WINDOW // 2, WINDOW // 2)), WINDOW)[::HOP]
    mel = np.concatenate(
        [
            np.abs(np.fft.rfft(views[k : k + BLOCK] * shape, axis=1)).astype(np.float32) @ bands()
            for k in range(0, len(views), BLOCK)
        ]
    )
    loudest = float(np.percentile(mel, 99.5)) + 1e-12
    return np.asarray(np.log(mel / loudest + QUIET), dtype=np.float32)
