"""The borders behind which the ear can be changed.

An engine turns sound into evidence and knows nothing of dancing: it says, frame by frame, how much sounds like a beat,
and what colour the music has. One that also knows phrases fills ``phrase``; one that does not leaves it at None.

A listener is the whole way from sound to a counted song, in two halves: it hears once, and counts what it heard
as often as the person who listens says something new. ``listener()`` alone chooses the one in use.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from softshoe.music.songmap import Said, SongMap

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

    def between(self, first_s: float, last_s: float) -> Pulse:
        """Return the evidence from one second to another, which begin anew at 0."""
        a, b = (round(at * self.frames_hz) for at in (first_s, last_s))
        c, d = (round(at * self.colour_hz) for at in (first_s, last_s))
        return replace(
            self,
            beat=self.beat[a:b],
            low=self.low[a:b],
            snap=self.snap[a:b],
            phrase=None if self.phrase is None else self.phrase[a:b],
            harmony=self.harmony[c:d],
            timbre=self.timbre[c:d],
            loud_db=self.loud_db[c:d],
        )


class Engine(Protocol):
    """Anything that can hear a pulse in sound."""

    rate_hz: int
    """The rate at which it wants the sound."""

    def heard(self, mono: SampleArray) -> Pulse:
        """Return the evidence in one channel of sound, shape (n,), at ``rate_hz``."""


def engine() -> Engine:
    """Return the engine by which the rules hear."""
    from softshoe.music.ear import Ear

    return Ear()


class Heard(Protocol):
    """What a listener heard in one song: it is counted again and again without hearing again."""

    def counted(self, said: Said) -> SongMap | None:
        """Return the song counted as far as this listener knows it, in its own seconds; None: nothing to count.

        Confidence is the listener's own, not yet calibrated; tempo curve and ``why`` may be left empty.
        """

    def beat_curve(self) -> tuple[FloatArray, float]:
        """Return how much sounds like a beat, frame by frame, and how many frames a second has."""

    def piece(self, first_s: float, last_s: float) -> Heard:
        """Return what was heard from one second to another, with seconds of its own."""

    def arrays(self) -> dict[str, NDArray[Any]]:
        """Return everything that ``recalled`` needs, to keep in a file."""


class Listener(Protocol):
    """Anything that hears a song and counts it."""

    name: str
    """Under which its confidence is calibrated and what it heard is kept."""
    rate_hz: int
    """The rate at which it wants the sound."""

    def heard(self, mono: SampleArray) -> Heard:
        """Return what is heard in one channel of sound, shape (n,), at ``rate_hz``."""

    def recalled(self, arrays: dict[str, NDArray[Any]]) -> Heard:
        """Return what was heard before, from its arrays."""


def listener() -> Listener:
    """Return the listener in use."""
    from softshoe.music.by_model import ByModel

    return ByModel()
