"""Minimum-jerk movement: the smoothest way from rest to rest (Flash & Hogan 1985, J Neurosci 5:1688-1703).

Shares of time and of way run from 0 to 1; outside they stay at the ends.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray


def share(time: FloatArray) -> FloatArray:
    """Return the share of the way after a share of the time: 10 s^3 - 15 s^4 + 6 s^5.

    >>> share(np.array([0.0, 0.5, 1.0, 2.0])).tolist()
    [0.0, 0.5, 1.0, 1.0]
    """
    s = np.clip(time, 0.0, 1.0)
    way: FloatArray = s**3 * (10 - 15 * s + 6 * s**2)
    return way


def speed(time: FloatArray) -> FloatArray:
    """Return the speed in ways a duration; the peak is 1.875 at half time."""
    s = np.clip(time, 0.0, 1.0)
    rate: FloatArray = 30 * s**2 * (1 - s) ** 2
    return rate


def acceleration(time: FloatArray) -> FloatArray:
    """Return the acceleration in ways a duration squared; the peak is 10/sqrt(3) at (3 - sqrt 3)/6."""
    s = np.clip(time, 0.0, 1.0)
    rate: FloatArray = 60 * s * (1 - s) * (1 - 2 * s)
    return rate


def leaning_bump(time: FloatArray, peak: FloatArray) -> FloatArray:
    """Return a smooth rise and fall from 0 over 1 (at the share ``peak`` of the time) to 0, at rest at both ends and
    nowhere in more haste than it must be (a beta curve, the steeper the less even its sides)."""
    s = np.clip(time, 0.0, 1.0)
    whole = 6.0 + 2.0 * np.minimum(np.abs(peak - 0.5) / 0.15, 1.0)
    a, b = whole * peak, whole * (1 - peak)
    height: FloatArray = (s / peak) ** a * ((1 - s) / (1 - peak)) ** b
    return height


@lru_cache(maxsize=1024)
def when(way: float) -> float:
    """Return the share of the time after which a minimum-jerk movement has gone a share of its way.

    >>> round(when(0.5), 6)
    0.5
    """
    low, high = 0.0, 1.0
    for _ in range(24):
        s = (low + high) / 2
        low, high = (s, high) if s**3 * (10 - 15 * s + 6 * s**2) < way else (low, s)
    return (low + high) / 2


def bump(time: FloatArray) -> FloatArray:
    """Return a smooth rise and fall from 0 over 1 (at half time) to 0, at rest at both ends."""
    s = np.clip(time, 0.0, 1.0)
    height: FloatArray = 16 * s**2 * (1 - s) ** 2
    return height
