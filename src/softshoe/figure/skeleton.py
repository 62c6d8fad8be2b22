"""The skeleton: from feet, pelvis, trunk and hands to the points of all joints, all frames at once.

Axes of a frame are rows forward, up, right, so that ``axes.T @ (forward, up, right)`` is a vector of the room.
Points are (n, 3) metres in ISB axes: X forward, Y up, Z right; a yaw turns clockwise seen from above.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import JOINT, JOINTS
from softshoe.figure.reach import cross, dot, two_bone, unit

if TYPE_CHECKING:
    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray

UP = np.array([0.0, 1.0, 0.0])
CHEST, NECK = 0.62, 1.06  # along the trunk from the hips, shares of hip line to shoulder line; design values
HEAD, NOSE = (0.935 - 0.848, 0.065), 0.915 - 0.848  # shares of stature from the neck: up; forward and up; design values
MOST_TURNED = 1.15  # how far a knee points away from the pelvis' front [rad]; design value
CROWN = 1.0 - 0.848


def ahead(yaw: FloatArray) -> FloatArray:
    """Return the unit vector a yaw [rad] looks along."""
    way = np.zeros((*np.shape(yaw), 3))
    way[..., 0], way[..., 2] = np.cos(yaw), np.sin(yaw)
    return way


def rightward(yaw: FloatArray) -> FloatArray:
    """Return the unit vector to the right of a yaw [rad]."""
    way = np.zeros((*np.shape(yaw), 3))
    way[..., 0], way[..., 2] = -np.sin(yaw), np.cos(yaw)
    return way


def column(a: FloatArray) -> FloatArray:
    """Return (n,) as (n, 1)."""
    wide: FloatArray = np.asarray(a)[..., None]
    return wide


def upright(yaw: FloatArray) -> FloatArray:
    """Return level axes (n, 3, 3) of a yaw."""
    axes = np.zeros((*yaw.shape, 3, 3))
    axes[..., 0, 0] = axes[..., 2, 2] = np.cos(yaw)
    axes[..., 0, 2] = np.sin(yaw)
    axes[..., 2, 0] = -axes[..., 0, 2]
    axes[..., 1, 1] = 1.0
    return axes


def leaning(yaw: FloatArray, *, forward: FloatArray, right: FloatArray, turned: FloatArray) -> FloatArray:
    """Return the trunk's axes (n, 3, 3): leaning by two angles from upright, then turned about its own length [rad]."""
    level = upright(yaw)
    up = unit(UP + column(np.tan(forward)) * level[..., 0, :] + column(np.tan(right)) * level[..., 2, :])
    look = ahead(yaw + turned)
    front = unit(look - dot(look, up) * up)
    return np.stack([front, up, cross(front, up)], axis=-2)


def placed(origin: FloatArray, axes: FloatArray, local: FloatArray) -> FloatArray:
    """Return the room points of local points (forward, up, right) in frames."""
    point: FloatArray = origin + np.einsum("...ij,...i->...j", axes, local)
    return point


@dataclass(frozen=True, slots=True, eq=False)
class FootTrack:
    """One foot over n frames: points (n, 3); yaw, pitch of the sole and knee side (n,) [rad]; the spot of the sole
    that is led (n,), firmness (n,)."""

    heel: FloatArray
    ball: FloatArray
    toe: FloatArray
    ankle: FloatArray
    yaw: FloatArray
    pitch: FloatArray
    spot: FloatArray
    knee: FloatArray
    firm: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Trunk:
    """Pelvis and trunk over n frames: hips' middle (n, 3), pelvis axes and trunk axes (n, 3, 3), shrug (n, 2) [m]."""

    pelvis: FloatArray
    hips: FloatArray
    axes: FloatArray
    shrug: FloatArray


def blank(n: int) -> FloatArray:
    """Return room for the points of n frames."""
    return np.zeros((n, len(JOINTS), 3))


def put(points: FloatArray, name: str, value: FloatArray) -> None:
    """Write one joint's points."""
    points[:, JOINT[name], :] = value


def set_trunk(points: FloatArray, trunk: Trunk, head: FloatArray, body: Body) -> None:
    """Write pelvis, chest, neck, head and shoulders. ``head`` are the head's axes (n, 3, 3)."""
    front, up, right = (trunk.axes[:, i, :] for i in range(3))
    put(points, "pelvis", trunk.pelvis)
    put(points, "chest", trunk.pelvis + CHEST * body.trunk_m * up + 0.012 * body.stature_m * front)
    neck = trunk.pelvis + NECK * body.trunk_m * up
    put(points, "neck", neck)
    tall = body.stature_m
    put(points, "head", neck + tall * (HEAD[0] * head[:, 1, :] + 0.012 * head[:, 0, :]))
    put(points, "nose", neck + tall * (NOSE * head[:, 1, :] + HEAD[1] * head[:, 0, :]))
    put(points, "crown", neck + tall * CROWN * head[:, 1, :])
    for index, (side, sign) in enumerate((("left", -1.0), ("right", 1.0))):
        shoulder = trunk.pelvis + (body.trunk_m + trunk.shrug[:, index, None]) * up
        put(points, f"{side}_shoulder", shoulder + sign * body.half_shoulders_m * right)
        put(points, f"{side}_hip", trunk.pelvis + sign * body.half_hips_m * trunk.hips[:, 2, :])


def knee_pole(pelvis_yaw: FloatArray, yaw: FloatArray, knee: FloatArray) -> FloatArray:
    """Return the way (n, 3) to which a knee bends: between the front of the pelvis and the foot, ``knee`` more out."""
    out = np.arctan2(np.sin(yaw - pelvis_yaw), np.cos(yaw - pelvis_yaw)) * 0.6 + knee
    pole: FloatArray = ahead(pelvis_yaw + np.clip(out, -MOST_TURNED, MOST_TURNED)) + 0.5 * UP
    return pole


def set_leg(points: FloatArray, side: str, foot: FootTrack, pelvis_yaw: FloatArray, body: Body) -> FloatArray:
    """Write hip to toe of one leg; return how far the ankle misses its place (n,) [m]."""
    hip = points[:, JOINT[f"{side}_hip"], :]
    pole = knee_pole(pelvis_yaw, foot.yaw, foot.knee)
    leg = two_bone(hip, foot.ankle, first_m=body.thigh_m, second_m=body.shank_m, pole=pole)
    shift = leg.end_m - foot.ankle
    put(points, f"{side}_knee", leg.middle_m)
    put(points, f"{side}_ankle", leg.end_m)
    put(points, f"{side}_heel", foot.heel + shift)
    put(points, f"{side}_ball", foot.ball + shift)
    put(points, f"{side}_toe", foot.toe + shift)
    return leg.miss_m
