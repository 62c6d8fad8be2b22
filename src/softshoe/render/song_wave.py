"""The wave of a song for its picture: how far the sound swings, in short pieces."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.audio import Sound

PIECES_HZ = 100


@dataclass(frozen=True, slots=True, eq=False)
class Wave:
    """The largest swing in each 1/100 s, shape (n,), 0 to 1; the loud parts of the song are about 1."""

    swing: NDArray[np.float32]
    start_s: float = 0.0

    def between(self, first_s: float, last_s: float, points: int) -> NDArray[np.float64]:
        """Return the swing from one second to another at so many points, shape (points,)."""
        edges = np.linspace(first_s, last_s, points + 1) - self.start_s
        at = np.clip((edges * PIECES_HZ).astype(int), 0, len(self.swing))
        return np.array([self.swing[a : max(b, a + 1)].max(initial=0.0) for a, b in pairwise(at)])


def wave_of(sound: Sound) -> Wave:
    """Return the wave of a recording."""
    piece = sound.rate_hz // PIECES_HZ
    n = sound.samples.shape[1] // piece
    swing = np.abs(sound.samples[:, : n * piece]).max(axis=0).reshape(n, piece).max(axis=1)
    top = float(np.percentile(swing, 98)) if n else 0.0
    return Wave(np.asarray(np.minimum(1.0, swing / max(top, 1e-9)), dtype=np.float32), sound.start_s)
