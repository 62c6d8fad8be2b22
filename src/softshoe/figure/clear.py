"""Keeping legs out of each other: a foot steps over the other, knees turn out where shanks would meet."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import JOINT
from softshoe.figure.reach import dot
from softshoe.figure.skeleton import column

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray
    from softshoe.figure.skeleton import FootTrack

SOLES_M, SHANKS_M = 0.085, 0.07  # least way between two soles, between two shanks, of 1.62 m; design values
OVER_M = {"standing": SOLES_M, "seated": 0.01}  # the most a foot is raised over the other: seated hips are bent already
OVER_COUNTS = 0.14  # how far before and after a foot is raised already; design value
TURNS_OUT = 12.0  # radians a metre: how eagerly a knee turns out; design value
MOST_OUT = {"standing": 0.6, "seated": 0.13}  # at a time: a seated knee that turns out sinks into the seat
LEAST_LIFT_M = 0.01  # only a foot off the floor is raised: contacts stay


def between(a0: FloatArray, a1: FloatArray, b0: FloatArray, b1: FloatArray) -> FloatArray:
    """Return the least way (n,) between two stretches, each from one point (n, 3) to another."""
    away: FloatArray = np.linalg.norm(way_between(a0, a1, b0, b1), axis=-1)
    return away


def way_between(a0: FloatArray, a1: FloatArray, b0: FloatArray, b1: FloatArray) -> FloatArray:
    """Return the least way (n, 3) from the second of two stretches to the first."""
    u, v, w = a1 - a0, b1 - b0, a0 - b0
    a, b, c = dot(u, u)[..., 0], dot(u, v)[..., 0], dot(v, v)[..., 0]
    d, e = dot(u, w)[..., 0], dot(v, w)[..., 0]
    flat = np.maximum(a * c - b * b, 1e-12)
    s = np.clip((b * e - c * d) / flat, 0.0, 1.0)
    t = np.clip((b * s + e) / np.maximum(c, 1e-12), 0.0, 1.0)
    s = np.clip((b * t - d) / np.maximum(a, 1e-12), 0.0, 1.0)
    way: FloatArray = w + s[..., None] * u - t[..., None] * v
    return way


def calm(track: FloatArray, reach: int) -> FloatArray:
    """Return a track nowhere lower than it is, its peaks widened by ``reach`` samples and rounded."""
    wide = np.lib.stride_tricks.sliding_window_view(np.pad(track, reach, mode="edge"), 2 * reach + 1).max(axis=1)
    window = np.hanning(2 * reach + 3)[1:-1]
    rounded: FloatArray = np.convolve(np.pad(wide, reach, mode="edge"), window / window.sum(), mode="valid")
    return rounded


def stepped_over(
    feet: tuple[FootTrack, FootTrack], moments: FloatArray, stature_m: float, *, most_m: float
) -> tuple[FootTrack, FootTrack]:
    """Return the feet, the one that moves raised, by ``most_m`` at most, where its sole would go through the other."""
    left, right = feet
    least_m = SOLES_M * stature_m / 1.62
    flat = np.array([1.0, 0.0, 1.0])
    near = between(left.heel * flat, left.toe * flat, right.heel * flat, right.toe * flat)
    need = np.sqrt(np.maximum(least_m**2 - near**2, 0.0))
    if not need.any():
        return feet
    reach = max(1, round(OVER_COUNTS / float(moments[1] - moments[0])))
    made = []
    for own, other in ((left, right), (right, left)):
        goes = _speed(own.ball) > _speed(other.ball)
        low = np.minimum.reduce([own.heel[:, 1], own.ball[:, 1], own.toe[:, 1]])
        over = low - np.maximum(other.heel[:, 1], other.toe[:, 1])
        up = calm(np.where(goes, np.clip(need - over, 0.0, most_m), 0.0), reach)
        up *= 1 - calm(1 - np.clip(low / LEAST_LIFT_M, 0.0, 1.0), max(1, reach // 3))
        rise = column(up) * np.array([0.0, 1.0, 0.0])
        free = own.firm * np.clip(1 - up / 0.02, 0.0, 1.0)
        made.append(
            replace(
                own, heel=own.heel + rise, ball=own.ball + rise, toe=own.toe + rise, ankle=own.ankle + rise, firm=free
            )
        )
    return made[0], made[1]


def _speed(points: FloatArray) -> FloatArray:
    speed: FloatArray = np.linalg.norm(np.gradient(points, axis=0), axis=1)
    return speed


def turned_out(
    points: FloatArray, feet: tuple[FootTrack, FootTrack], moments: FloatArray, stature_m: float, *, most: float
) -> tuple[FootTrack, FootTrack]:
    """Return the feet with knees turned further out, by ``most`` [rad] at a time, where the shanks would meet."""
    ends = [points[:, JOINT[f"{side}_{joint}"], :] for side in ("left", "right") for joint in ("knee", "ankle")]
    need = np.maximum(SHANKS_M * stature_m / 1.62 - between(*ends), 0.0)
    if not need.any():
        return feet
    out = np.minimum(TURNS_OUT * calm(need, max(2, round(0.15 / float(moments[1] - moments[0])))), most)
    return replace(feet[0], knee=feet[0].knee - out), replace(feet[1], knee=feet[1].knee + out)
