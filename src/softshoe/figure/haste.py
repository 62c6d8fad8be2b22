"""How long a foot takes for a way: no less than speed and gain of speed allow; and how small a way is made for which
there is no time. Times in counts of half a second.

The way is minimum-jerk with a lift, a bulge and a ring (``minjerk``); speeds and gains are those of the curves' worst
moments put together as if they stood across each other.
"""

from __future__ import annotations

from functools import lru_cache
from math import pi, sqrt
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.minjerk import leaning_bump, when

if TYPE_CHECKING:
    from softshoe.figure.pose import FootKey, Vector

COUNT_S = 0.5  # a brisk count: 120 a minute
FASTEST_M_S, QUICKEST_M_S2 = 5.2, 150.0  # a good deal under the limits of the truths: joints swing about what is led
HURRIED_M_S, HURRIED_M_S2 = 4.9, 190.0  # the same for one who has no more time
WAY = (1.875, 5.78)  # peak speed and gain of a way of one metre in one second
RING = (2 * pi * WAY[0], (2 * pi * WAY[0]) ** 2)  # of a ring of that radius: towards its middle
ANKLE_OFF_M = 0.12  # from the ball, about which a foot mostly turns, to the ankle; design value
LEAST_WAY = 0.55  # of a way there is no time for: what is gone at least; design value


def counts_needed(before: FootKey, key: FootKey) -> float:
    """Return how many counts a foot takes at least from one key to the next."""
    speed, gain = _rates(before.point, key, key.yaw - before.yaw)
    return max(sqrt(speed) / FASTEST_M_S, sqrt(sqrt(gain) / QUICKEST_M_S2)) / COUNT_S


def in_time(begin: Vector, key: FootKey, turned: float) -> FootKey:
    """Return the key with so much less lift, bulge and ring, and then with so much less of its way over the floor, as
    the time from its start to its end asks for. ``begin`` is where the led spot of the sole comes from, ``turned`` how
    far the foot turns on the way [rad]."""
    if fits(begin, key, turned):
        return key
    for part in (0.85, 0.7, 0.55, 0.4):
        x, y, z = key.bulge
        less = key._replace(lift_m=part * key.lift_m, bulge=(part * x, part * y, part * z), ring_m=part * key.ring_m)
        if fits(begin, less, turned):
            return less._replace(part=part if key.ring_m else 1.0)
    (ax, _, az), (bx, up, bz) = begin, less.point
    for part in (0.9, 0.8, 0.7, LEAST_WAY):
        shorter = less._replace(point=(ax + part * (bx - ax), up, az + part * (bz - az)), part=part)
        if fits(begin, shorter, turned):
            return shorter
    return shorter


def fits(begin: Vector, key: FootKey, turned: float) -> bool:
    """Tell whether one who hurries has time for a key's way from the place its led spot comes from, and for the turn of
    the foot on it [rad]."""
    return hurry(begin, key, turned) <= 1.0


def hurry(begin: Vector, key: FootKey, turned: float) -> float:
    """Return how much of what one who hurries can a key's way asks for: over 1 there is no time for it."""
    seconds = max(key.end - key.start, 0.05) * COUNT_S
    speed, gain = _rates(begin, key, turned)
    return max(sqrt(speed) / (HURRIED_M_S * seconds), sqrt(gain) / (HURRIED_M_S2 * seconds**2))


def _rates(begin: Vector, key: FootKey, turned: float) -> tuple[float, float]:
    """Return the squares of the peaks of speed and gain if the way took one second."""
    (ax, ay, az), (bx, by, bz), (rx, ry, rz) = begin, key.point, key.bulge
    way = (ax - bx) ** 2 + (ay - by) ** 2 + (az - bz) ** 2 + (ANKLE_OFF_M * turned) ** 2
    bulge, lift, ring = rx * rx + ry * ry + rz * rz, key.lift_m * key.lift_m, key.ring_m * key.ring_m
    round_, high = _bump(round(when(key.peak), 2)), _bump(round(0.5 ** (1 / key.late), 2))
    speed, gain = (
        WAY[n] ** 2 * way + round_[n] ** 2 * bulge + high[n] ** 2 * lift + RING[n] ** 2 * ring for n in (0, 1)
    )
    return speed, gain


@lru_cache(maxsize=256)
def _bump(peak: float) -> tuple[float, float]:
    """Return the peaks of speed and gain of a rise and fall of one metre in one second."""
    time = np.linspace(0.0, 1.0, 1001)
    speed = np.gradient(leaning_bump(time, np.array(peak)), time)
    return float(np.abs(speed).max()), float(np.abs(np.gradient(speed, time)[5:-5]).max())
