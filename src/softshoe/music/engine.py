"""The border behind which the ear can be changed: an engine turns sound into evidence, the rest counts on it.

An engine knows nothing of dancing. It says, frame by frame, how much sounds like a beat, and what colour the music has.
An engine that also knows phrases fills ``phrase``; one that does not leaves it at None.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]
    SampleArray = NDArray[np.float32]


@dataclass(frozen=True, slots=True, eq=False)
class Pulse:
    """Evidence, frame by frame. Frame i is heard at ``i / frames_hz`` seconds, colour row i at ``i / colour_hz``.

    beat : shape (n,), 0 or more; about 1 at a clear beat, near 0 between beats
    low : shape (n,), the same from the bass alone
    snap : shape (n,), the same from drums of the middle and high range
    phrase : shape (n,), 0 to 1, likelihood of a phrase start, or None when the engine has no opinion
    harmony : shape (m, 24), 12 pitch classes of the chords, then 12 of the bass; rows of length 1 or 0
    timbre : shape (m, k), loudness in decibels of k bands from low to high
    loud_db : shape (m,), loudness of the whole in decibels; the loudest is about 0
    """

    frames_hz: float
    beat: FloatArray
    low: FloatArray
    snap: FloatArray
    colour_hz: float
    harmony: FloatArray
    timbre: FloatArray
    loud_db: FloatArray
    phrase: FloatArray | None = None


class Engine(Protocol):
    """Anything that can hear a pulse in sound."""

    rate_hz: int
    """The rate at which it wants the sound."""

    def heard(self, mono: SampleArray) -> Pulse:
        """Return the evidence in one channel of sound, shape (n,), at ``rate_hz``."""


def engine() -> Engine:
    """Return the engine in use."""
    from softshoe.music.ear import Ear

    return Ear()
