"""Hearing with the trained network: its likelihoods are kept, and counted anew with each word of the listener."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.engine import Pulse, SampleArray
    from softshoe.music.songmap import Said, SongMap


@dataclass(frozen=True, slots=True, eq=False)
class HeardByModel:
    """Likelihoods, shape (n, heads), 50 a second, and the loudness of the song as a pulse."""

    likelihoods: NDArray[np.float32]
    pulse: Pulse

    def counted(self, said: Said) -> SongMap | None:
        """Return the song counted; see ``engine.Heard``."""
        from softshoe.music.model import counted, mapped

        song = counted(self.likelihoods, said)
        return None if song is None else mapped(self.pulse, self.likelihoods, song, said)

    def beat_curve(self) -> tuple[NDArray[np.float64], float]:
        """Return the likelihood of a beat, and its frames a second."""
        return self.pulse.beat, self.pulse.frames_hz

    def piece(self, first_s: float, last_s: float) -> HeardByModel:
        """Return what was heard from one second to another."""
        first, last = (round(at * self.pulse.frames_hz) for at in (first_s, last_s))
        return HeardByModel(self.likelihoods[first:last], self.pulse.between(first_s, last_s))

    def arrays(self) -> dict[str, NDArray[Any]]:
        """Return all of it as arrays."""
        loud = self.pulse.loud_db.astype(np.float32)
        return {"likelihoods": self.likelihoods, "loud_db": loud, "loud_hz": np.array(self.pulse.colour_hz)}


class ByModel:
    """The listener that hears with the network."""

    name = "model"

    def __init__(self) -> None:
        from softshoe.music.model_features import RATE_HZ

        self.rate_hz = RATE_HZ

    def heard(self, mono: SampleArray) -> HeardByModel:
        """Return what the network hears, shape (n,) at ``rate_hz``."""
        from softshoe.music.model import loudness_pulse, sounding
        from softshoe.music.model_features import features
        from softshoe.music.model_net import likelihoods

        found = likelihoods(features(mono))
        pulse = loudness_pulse(mono, found)
        return HeardByModel(sounding(found, pulse), pulse)

    def recalled(self, arrays: dict[str, NDArray[Any]]) -> HeardByModel:
        """Return what was heard before."""
        from softshoe.music.engine import Pulse
        from softshoe.music.model_features import FRAMES_HZ

        found = arrays["likelihoods"].astype(np.float32)
        loud, none = arrays["loud_db"].astype(np.float64), np.zeros(len(found))
        rows = len(loud)
        pulse = Pulse(FRAMES_HZ, found[:, 0].astype(np.float64), none, none, float(arrays["loud_hz"]),
                      np.zeros((rows, 24)), np.zeros((rows, 1)), loud)  # fmt: skip
        return HeardByModel(found, pulse)
