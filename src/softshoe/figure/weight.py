"""Where the weight is: what each foot bears, the point the floor pushes from, and the centre of mass that goes with it.

The centre of mass is that of a walking pendulum (Hof, Gazendam & Sinke 2005): it hurries ahead of the point of pressure
when a step is coming and stays behind when one is over, so that the extrapolated centre of mass is always a mean of
the points of pressure to come, and never leaves the feet that bear or will bear.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.balance import GRAVITY
from softshoe.figure.body import BALL
from softshoe.figure.clear import calm
from softshoe.figure.skeleton import ahead, rightward

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray
    from softshoe.figure.skeleton import FootTrack

OFF_FLOOR_M = 0.02  # a foot this high bears nothing
BEARS = 0.01  # both feet together bearing less than this are in the air
LANDS_COUNTS = 0.08  # how long weight takes at least to come onto a foot that lands; design value
INWARD_M = 0.004
SOLE_CENTRE = 0.44  # along the sole: where the weight stands on a foot; design value
PENDULUM = 1.24  # times the height of the hip joint (Hof 2005; memory)
REACH_COUNTS = 4.0  # how far before and after the pendulum looks


def shares(feet: Sequence[FootTrack], weight: FloatArray, *, per_count: float) -> FloatArray:
    """Return (n, 2): the shares of weight on the left and right foot; a lifted foot leaves its share to the other.

    ``weight`` (n,) is the share meant for the right foot. In the air both are less than one together. A foot that lands
    bears little by little: nobody falls onto it in no time.
    """
    share = np.stack([1 - weight, weight], axis=-1)
    low = [np.minimum(np.minimum(f.heel[:, 1], f.ball[:, 1]), f.toe[:, 1]) for f in feet]
    reach = max(2, round(LANDS_COUNTS * per_count))
    down = 1 - np.stack([calm(np.clip(each / OFF_FLOOR_M, 0.0, 1.0), reach) for each in low], axis=-1)
    lifted = share * (1 - down)
    borne: FloatArray = share * down + lifted[:, ::-1] * down
    return borne


def pressure(feet: Sequence[FootTrack], weight: FloatArray, body: Body, *, per_count: float) -> FloatArray:
    """Return (n, 2), in plan, the point the floor pushes from [m]; in the air it goes from take-off to landing."""
    borne = shares(feet, weight, per_count=per_count)
    whole, frames = borne.sum(axis=1), np.arange(len(weight))
    down = whole > BEARS
    if not down.any():
        down, whole, borne = np.ones_like(down), np.ones_like(whole), np.stack([1 - weight, weight], axis=-1)
    right = np.interp(frames, frames[down], borne[down, 1] / whole[down])
    borne = np.stack([1 - right, right], axis=-1)
    spots = []
    for foot, inward in zip(feet, (1.0, -1.0), strict=True):
        middle = foot.ball + (SOLE_CENTRE - BALL) * body.foot_m * ahead(foot.yaw)
        spots.append((middle + inward * INWARD_M * rightward(foot.yaw))[:, [0, 2]])
    point: FloatArray = spots[0] * borne[:, :1] + spots[1] * borne[:, 1:]
    return point


def pendulum_s(body: Body) -> float:
    """Return how long the pendulum takes to fall away by a factor e [s]: the root of its length over gravity."""
    return float(np.sqrt(PENDULUM * body.of("dc_hip_h") / GRAVITY))


def centre_over(point: FloatArray, *, fall_samples: float) -> FloatArray:
    """Return where the centre of mass is in plan for points of pressure (n + 2k, 2), k samples known before and after.

    It is the mean of them all, weighed less the further off they are in time: x - x'' / w^2 is the point of pressure.
    ``fall_samples`` is 1 / w. Returns (n, 2).
    """
    reach = padding(fall_samples)
    kernel = np.exp(-np.abs(np.arange(-reach, reach + 1)) / fall_samples)
    kernel /= kernel.sum()
    return np.stack([np.convolve(point[:, axis], kernel, mode="valid") for axis in range(2)], axis=-1)


def padding(fall_samples: float) -> int:
    """Return how many samples before and after ``centre_over`` wants."""
    return round(6.0 * fall_samples)
