"""Sound played slower or faster with its pitch kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.errors import SettingError

if TYPE_CHECKING:
    from softshoe.render.band import Samples

SLOWEST, FASTEST = 0.4, 2.0


def slowed(samples: Samples, rate_hz: int, *, pace: float) -> Samples:
    """Return the sound at another pace: second t comes at t / pace, to within a millisecond.

    samples : (channels, n) float32. pace : 0.7 is 70 % of the sound's own speed; 0.4 to 2.0.

    Returns (channels, about n / pace) float32; at pace 1 the samples themselves.
    Raises SettingError for a pace out of range.
    """
    if not SLOWEST <= pace <= FASTEST:
        raise SettingError(
            "pace",
            f"a song can't be played at {100 * pace:.0f} % of its speed",
            f"it stays a song between {100 * SLOWEST:.0f} and {100 * FASTEST:.0f} %",
            "choose a pace of 70, 80 or 90 %",
        )
    if pace == 1.0 or not samples.shape[1]:
        return samples
    import python_stretch

    engine = python_stretch.Signalsmith.Stretch()
    engine.preset(samples.shape[0], rate_hz)
    engine.timeFactor = pace
    return np.asarray(engine.process(np.ascontiguousarray(samples, np.float32)), np.float32)
