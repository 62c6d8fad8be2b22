"""Keeping arms out of each other and off the chest: hands go a little aside where forearms would meet."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.clear import between, calm, way_between
from softshoe.figure.motion import JOINT
from softshoe.figure.reach import cross, dot, unit
from softshoe.figure.skeleton import UP, column

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.figure.motion import FloatArray

    Arm = list[FloatArray]
    Rows = NDArray[np.bool_]

FOREARMS_M, HAND_ARM_M = 0.05, 0.05  # the same between forearms, and between a hand and the other forearm
CHEST_M, CHEST_TOP, BEFORE = 0.095, 0.85, 1.6  # from the line of the trunk to a forearm; up to here; how eagerly
FOREARM = 0.8  # of a forearm from the elbow: hands that meet lie beside each other's wrist
CLEARLY_M, CLEARLY_OVER_M = 0.004, 0.06  # sooner than this the right arm is the upper one
PALMS_M = 0.05  # palms nearer than this meet
ARM = ("elbow", "wrist", "fingertip")
HALF = 0.9  # of what two arms lack, for each of them; design value
SMOOTH_COUNTS = 0.12
LEAST_DIRECTION_M = 0.03  # arms nearer than this go apart up and forward, down and back


def arms_off(points: FloatArray, moments: FloatArray, stature_m: float) -> FloatArray | None:
    """Return (2, n, 3) how much further off the left and the right hand should be, in the room [m], so that arms keep
    out of each other and of the chest; None where nothing is wanted. The arm that is over the other as they come near
    stays over it."""
    left, right = ([points[:, JOINT[f"{side}_{joint}"], :] for joint in ARM] for side in ("left", "right"))
    size, reach = stature_m / 1.62, max(2, round(SMOOTH_COUNTS / float(moments[1] - moments[0])))
    needs = [_in_chest(arm, points, size) for arm in (left, right)]
    close = _close(left, right, size)
    if not close.any() and not any(need.any() for need in needs):
        return None
    front = unit(cross(UP, points[:, JOINT["right_shoulder"], :] - points[:, JOINT["left_shoulder"], :]))
    off = np.zeros((2, len(moments), 3))
    for index, need in enumerate(needs):
        if need.any():
            off[index] += BEFORE * column(calm(need, reach)) * front
    away = _apart(left, right, front, size, close)
    if away.any():
        shift = HALF * _calm_ways(away, reach) * column(_meets(left, right, size))
        off += np.stack([shift, -shift])
    return off if off.any() else None


def _in_chest(arm: Arm, points: FloatArray, size: float) -> FloatArray:
    """Return how deep (n,) a forearm lies in the chest."""
    low, high = points[:, JOINT["pelvis"], :], points[:, JOINT["neck"], :]
    deep: FloatArray = CHEST_M * size - between(arm[0], arm[1], low, low + CHEST_TOP * (high - low))
    return np.maximum(deep, 0.0)


def _close(left: Arm, right: Arm, size: float) -> Rows:
    """Tell (n,) where forearm or hand may be too near the other arm: by the middles of their lines alone."""
    middles = [[(arm[part] + arm[part + 1]) / 2 for part in (0, 1)] for arm in (left, right)]
    halves = [float(np.linalg.norm(left[part][0] - left[part + 1][0])) / 2 for part in (0, 1)]
    close = np.zeros(len(left[0]), dtype=bool)
    for one, other in ((0, 0), (1, 0), (0, 1)):
        way = middles[0][one] - middles[1][other]
        close |= dot(way, way)[:, 0] < (FOREARMS_M * size + halves[one] + halves[other]) ** 2
    return close


def _meets(left: Arm, right: Arm, size: float) -> FloatArray:
    """Return 0 where palms meet, which stay together, and 1 where they are well apart."""
    palms = np.linalg.norm((left[1] + left[2] - right[1] - right[2]) / 2, axis=1)
    meets: FloatArray = np.clip((palms - PALMS_M * size) / PALMS_M, 0.0, 1.0)
    return meets


def _apart(left: Arm, right: Arm, front: FloatArray, size: float, rows: Rows) -> FloatArray:
    """Return (n, 3) the ways by which the left arm should be further off the right one, in these rows."""
    away = np.zeros_like(front)
    if not rows.any():
        return away
    (a, b), need = [[each[rows] for each in arm] for arm in (left, right)], np.zeros(len(rows))
    short = [arm[0] + FOREARM * (arm[1] - arm[0]) for arm in (a, b)]
    pairs = (
        (FOREARMS_M, way_between(a[0], a[1], b[0], b[1])),
        (HAND_ARM_M, way_between(a[1], a[2], b[0], short[1])),
        (HAND_ARM_M, way_between(a[0], short[0], b[1], b[2])),
    )
    far = [least * size - np.linalg.norm(way, axis=1) for least, way in pairs]
    need[rows] = np.maximum(np.maximum.reduce(far), 0.0)
    above = np.where(_left_above(left, right, need), 1.0, -1.0)[rows]
    upward = (UP + front[rows]) * column(above) / 2**0.5
    for lack, (_, way) in zip(far, pairs, strict=True):
        unclear = np.maximum(LEAST_DIRECTION_M - np.linalg.norm(way, axis=1), 0.0)
        away[rows] += column(np.maximum(lack, 0.0)) * unit(way + column(unclear) * upward)
    return away


def _calm_ways(ways: FloatArray, reach: int) -> FloatArray:
    """Return ways (n, 3) with their peaks widened and rounded, their directions smoothed."""
    window = np.hanning(4 * reach + 3)[1:-1]
    smooth = np.stack([np.convolve(ways[:, axis], window, mode="same")[: len(ways)] for axis in range(3)], axis=-1)
    calmed: FloatArray = column(calm(np.linalg.norm(ways, axis=1), reach)) * unit(smooth)
    return calmed


def _left_above(left: Arm, right: Arm, need: FloatArray) -> Rows:
    """Tell (n,) where the left arm is kept over the right one: for each stretch in which they are too near, as it was
    when the stretch began."""
    over = left[1] + left[0] - right[1] - right[0]
    first = np.flatnonzero(np.diff(np.concatenate([[0.0], (need > 0).astype(np.float64)])) > 0)
    if not len(first):
        return np.zeros(len(need), dtype=bool)
    stretch = np.maximum(np.searchsorted(first, np.arange(len(need)), side="right") - 1, 0)
    above: Rows = (over[first, 1] > CLEARLY_OVER_M)[stretch]
    return above
