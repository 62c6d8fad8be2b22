"""Truths of bodies that must not go through each other: hands and thighs, limbs and chair, limbs and limbs.

Limbs are round bars of one thickness, thinner than life where flesh gives (design values): what is told is how deep
one would lie in another.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.clear import between
from softshoe.figure.clear_arms import FOREARM
from softshoe.figure.danced import SIDES, most
from softshoe.figure.reach import dot
from softshoe.figure.skeleton import UP, upright
from softshoe.figure.supports import bars, holds, seat_box

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.figure.danced import Danced, Measure
    from softshoe.figure.motion import Chair, FloatArray

HAND_IN_M, GIVES_M = 0.012, 0.003  # how deep a hand, any other limb may press in; design values
BONES = {  # first joint, last joint, thickness from the bone [m] of a 1.62 m dancer; design values
    "upper arm": ("shoulder", "elbow", 0.035),
    "forearm": ("elbow", "wrist", 0.03),
    "hand": ("wrist", "fingertip", 0.008),
    "shank": ("knee", "ankle", 0.035),
    "foot": ("heel", "toe", 0.03),
    "thigh": ("hip", "knee", 0.055),
}
APART_M = {  # least way between the bones of two limbs
    ("shank", "shank"): 0.045,
    ("foot", "foot"): 0.03,
    ("forearm", "forearm"): 0.03,
    ("hand", "forearm"): 0.027,
}
CHEST_M, HEAD_M = 0.085, 0.095  # from the line of the trunk, from the middle of the head: where no forearm or hand is
ALONG = np.linspace(0.0, 1.0, 7)[:, None, None]
GRASP_M = 0.03


def thighs(danced: Danced) -> Iterator[Measure]:
    """Hands lie on thighs, not in them."""
    radius = danced.body.thigh_thick_m - HAND_IN_M
    for hand in SIDES:
        palm = (danced.joint(f"{hand}_wrist") + danced.joint(f"{hand}_fingertip")) / 2
        for leg in SIDES:
            hip, knee = danced.joint(f"{leg}_hip"), danced.joint(f"{leg}_knee")
            far = _from_bone(palm, hip, knee)
            if danced.motion.stance == "seated":
                yield from most("hand in thigh", f"{hand} hand, {leg} thigh", danced, radius - far, 0.0)


def _from_bone(point: FloatArray, start: FloatArray, end: FloatArray) -> FloatArray:
    bone = end - start
    share = np.clip(dot(point - start, bone) / dot(bone, bone), 0.15, 1.0)
    far: FloatArray = np.linalg.norm(point - start - share * bone, axis=1)
    return far


def chairs(danced: Danced) -> Iterator[Measure]:
    """No limb goes through the chair: its legs, its back, its seat; a thigh may lie on the seat."""
    chair = danced.motion.chair
    if chair is None:
        return
    for side in SIDES:
        for name in BONES:
            start, end, thick = _bone(danced, side, name)
            if name == "foot":
                start, end = start + thick * UP, end + thick * UP
            for bar in bars(chair):
                away = between(start, end, np.array([bar.start]), np.array([bar.end]))
                yield from most(f"{name} in {bar.part}", f"{side} {name}", danced, thick + bar.r_m - away, GIVES_M)
            if chair.kind in ("chair", "wheelchair") and name in ("shank", "foot", "thigh", "forearm", "hand"):
                deep = (0.005 if name == "thigh" else 0.02) - _over_seat(start, end, chair)
                yield from most(f"{name} in seat", f"{side} {name}", danced, deep, GIVES_M)


def limbs(danced: Danced) -> Iterator[Measure]:
    """No limb goes through another, no forearm through the chest, no hand through the head."""
    size = danced.body.stature_m / 1.62
    for (one, other), least_m in APART_M.items():
        for side in SIDES if one != other else SIDES[:1]:
            opposite = SIDES[1 - SIDES.index(side)]
            a, b = _bone(danced, side, one), _bone(danced, opposite, other)
            if one == "hand":
                b = b[0], b[0] + FOREARM * (b[1] - b[0]), b[2]
            yield from most(f"{one} in {other}", side, danced, least_m * size - between(a[0], a[1], b[0], b[1]), 0.0)
    trunk = danced.joint("pelvis"), danced.joint("neck") * 0.85 + danced.joint("pelvis") * 0.15
    for side in SIDES:
        arm, hand = _bone(danced, side, "forearm"), _bone(danced, side, "hand")
        away = between(arm[0], arm[1], *trunk)
        yield from most("forearm in chest", side, danced, CHEST_M * size - away, 0.0)
        head = danced.joint("head")
        yield from most("hand in head", side, danced, HEAD_M * size - between(*hand[:2], head, head), 0.0)


def hold(danced: Danced) -> Iterator[Measure]:
    """Behind a chair or a walking frame one hand at least is always on it."""
    chair = danced.motion.chair
    if chair is None or not holds(chair):
        return
    rails = [bar for bar in bars(chair) if bar.part in ("slat", "grip") and bar.start[1] > 0.7 * _top(chair)]
    far = [
        np.minimum.reduce([_palm_to(danced, side, np.array([b.start]), np.array([b.end])) - b.r_m for b in rails])
        for side in SIDES
    ]
    yield from most("hold", "hands", danced, np.minimum(*far), GRASP_M)


def _top(chair: Chair) -> float:
    return chair.seat_m + chair.back_m


def _palm_to(danced: Danced, side: str, start: FloatArray, end: FloatArray) -> FloatArray:
    wrist, tip = danced.joint(f"{side}_wrist"), danced.joint(f"{side}_fingertip")
    palm = wrist + 0.45 * (tip - wrist)
    return between(palm, palm, start, end)


def _bone(danced: Danced, side: str, name: str) -> tuple[FloatArray, FloatArray, float]:
    first, last, thick = BONES[name]
    size = danced.body.stature_m / 1.62
    return danced.joint(f"{side}_{first}"), danced.joint(f"{side}_{last}"), thick * size


def _over_seat(start: FloatArray, end: FloatArray, chair: Chair) -> FloatArray:
    """Return how far outside the seat a limb is (n,), looked at in seven places; negative inside."""
    low, high = (np.array(corner) for corner in seat_box(chair) or ((0, 0, 0), (0, 0, 0)))
    axes = upright(np.radians(np.full(1, chair.yaw_deg)))[0]
    points = (start + (end - start) * ALONG - np.array([chair.x_m, 0.0, chair.z_m])) @ axes.T
    out = np.maximum(low - points, points - high)
    away = np.linalg.norm(np.maximum(out, 0.0), axis=-1) + np.minimum(out.max(axis=-1), 0.0)
    least: FloatArray = away.min(axis=0)
    return least
