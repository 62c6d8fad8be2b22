"""Reaching: two bones from a root to a target, with the middle joint on the side of a pole; and the angles of joints.

Points are (..., 3) in metres. A target too far or too near is brought onto the reachable stretch of the same line
and the miss is reported. The middle joint never folds to the other side: it lies on the pole's side by construction.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray

STRAIGHT = 0.9995  # the longest a limb may be, as a share of both bones: a joint is never locked
TINY = 1e-9


class Reached(NamedTuple):
    """Middle joint and end of a two-bone limb (..., 3), how far the end misses its target (...,) [m], and how much of
    that the target lies too far off."""

    middle_m: FloatArray
    end_m: FloatArray
    miss_m: FloatArray
    short_m: FloatArray


def dot(a: FloatArray, b: FloatArray) -> FloatArray:
    """Return the dot product over the last axis, kept as one column."""
    each = a * b
    product: FloatArray = each[..., 0:1] + each[..., 1:2] + each[..., 2:3]
    return product


def cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """Return the cross product over the last axis."""
    a0, a1, a2, b0, b1, b2 = (each[..., axis] for each in (a, b) for axis in range(3))
    made = np.empty(np.broadcast_shapes(np.shape(a), np.shape(b)))
    made[..., 0], made[..., 1], made[..., 2] = a1 * b2 - a2 * b1, a2 * b0 - a0 * b2, a0 * b1 - a1 * b0
    return made


def unit(a: FloatArray) -> FloatArray:
    """Return the vectors at length one; vectors of no length stay as they are."""
    length = np.sqrt(dot(a, a))
    one: FloatArray = a / np.where(length > TINY, length, 1.0)
    return one


def two_bone(
    root_m: FloatArray,
    target_m: FloatArray,
    *,
    first_m: float,
    second_m: float,
    pole: FloatArray,
    most_bent_deg: float = 180.0,
) -> Reached:
    """Return where the middle joint and the end come to lie.

    ``pole`` (..., 3): the side to which the middle joint bends; it must not lie along the line to the target.
    ``most_bent_deg``: how far the middle joint may bend from straight; a nearer target is missed.
    """
    way = target_m - root_m
    far = np.sqrt(dot(way, way))
    low, high = nearest_m(first_m, second_m, most_bent_deg), (first_m + second_m) * STRAIGHT
    length = np.clip(far, low, high)
    along = unit(way)
    side = unit(pole - dot(pole, along) * along)
    share = (first_m**2 - second_m**2 + length**2) / (2 * length)
    out = np.sqrt(np.maximum(first_m**2 - share**2, 0.0))
    end = root_m + along * length
    missed = (far - length)[..., 0]
    return Reached(root_m + along * share + side * out, end, np.abs(missed), np.maximum(missed, 0.0))


def nearest_m(first_m: float, second_m: float, most_bent_deg: float) -> float:
    """Return how near to its root a limb comes whose middle joint bends so far from straight [m]."""
    folded = first_m**2 + second_m**2 + 2 * first_m * second_m * np.cos(np.radians(most_bent_deg))
    return float(np.sqrt(folded)) + 1e-4


def pushed_out(off_m: FloatArray, way: FloatArray, least_m: float) -> FloatArray:
    """Return how far points (n, 3), told from a centre, must go along unit ways (n, 3) to lie ``least_m`` from it."""
    ahead = dot(off_m, way)[..., 0]
    near = dot(off_m, off_m)[..., 0]
    out: FloatArray = np.where(near < least_m**2, np.sqrt(np.maximum(ahead**2 + least_m**2 - near, 0.0)) - ahead, 0.0)
    return out


def plane_angles_rad(
    x_m: float, y_m: float, *, first_m: float, second_m: float, bend_up: bool = False
) -> tuple[float, float] | None:
    """Return (first, second) joint angles of a flat two-link arm reaching (x, y), or None where it can't reach.

    The second angle is positive; with ``bend_up`` the other solution, where it is negative.
    """
    cosine = (x_m**2 + y_m**2 - first_m**2 - second_m**2) / (2 * first_m * second_m)
    if abs(cosine) > 1 + TINY:
        return None
    bend = float(np.arccos(np.clip(cosine, -1, 1))) * (-1 if bend_up else 1)
    first = np.arctan2(y_m, x_m) - np.arctan2(second_m * np.sin(bend), first_m + second_m * np.cos(bend))
    return float(first), bend


def angle_deg(a: FloatArray, b: FloatArray) -> FloatArray:
    """Return the angle between vectors, 0 to 180 degrees."""
    ua, ub = unit(a), unit(b)
    aside = cross(ua, ub)
    angle: FloatArray = np.degrees(np.arctan2(np.sqrt(dot(aside, aside)), dot(ua, ub)))[..., 0]
    return angle


def towards(a: FloatArray, b: FloatArray, most_deg: float) -> FloatArray:
    """Return the unit vectors ``a``, brought so near to ``b`` that the angle is at most ``most_deg``."""
    ua, ub = unit(a), unit(b)
    side = unit(ua - dot(ua, ub) * ub)
    limit = np.radians(most_deg)
    bent = np.cos(limit) * ub + np.sin(limit) * side
    near: FloatArray = np.where(dot(ua, ub) < np.cos(limit), bent, ua)
    return near
