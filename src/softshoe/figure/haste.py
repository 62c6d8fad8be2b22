"""How long a foot takes for a way: no less than speed and gain of speed allow. Times in counts of half a second.

The way is minimum-jerk with a lift and a bulge (``minjerk``); speeds and gains below are those of the curves' worst
moments put together as if they stood across each other.
"""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.figure.pose import FootKey

COUNT_S = 0.5  # a brisk count: 120 a minute
FASTEST_M_S, QUICKEST_M_S2 = 5.2, 150.0  # a good deal under the limits of the truths: joints swing about what is led
WAY, ROUND, LIFT = (1.875, 5.8), (4.2, 33.0), (3.6, 30.0)  # peak speed and gain of way, bulge, lift of one metre


def counts_needed(before: FootKey, key: FootKey) -> float:
    """Return how many counts a foot takes at least from one key to the next."""
    (ax, ay, az), (bx, by, bz), (rx, ry, rz) = before.point, key.point, key.bulge
    way = (ax - bx) ** 2 + (ay - by) ** 2 + (az - bz) ** 2
    bulge, lift = rx * rx + ry * ry + rz * rz, key.lift_m * key.lift_m
    speed = WAY[0] ** 2 * way + ROUND[0] ** 2 * bulge + LIFT[0] ** 2 * lift
    gain = WAY[1] ** 2 * way + ROUND[1] ** 2 * bulge + LIFT[1] ** 2 * lift
    return max(sqrt(speed) / FASTEST_M_S, sqrt(sqrt(gain) / QUICKEST_M_S2)) / COUNT_S
