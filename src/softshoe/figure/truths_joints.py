"""Truths of the joints: each bends its own way, no further than joints do, and bones keep their length.

Ceilings are means of people over sixty (``data/body/ranges.csv``): a ceiling, never a target.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.danced import SIDES, least, most
from softshoe.figure.reach import angle_deg, dot, unit
from softshoe.figure.skeleton import ahead, rightward

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.figure.danced import Danced, Measure
    from softshoe.figure.motion import FloatArray

ELBOW_SIDE_M = 0.06  # how far an elbow may pass to the wrong side for a moment, between two gestures


def bend_deg(danced: Danced, first: str, middle: str, last: str) -> FloatArray:
    """Return how far a joint is bent from straight."""
    return angle_deg(danced.joint(middle) - danced.joint(first), danced.joint(last) - danced.joint(middle))


def knees(danced: Danced) -> Iterator[Measure]:
    """Knees bend forward, and no further than knees do."""
    ceiling = least("mckay60_kn_flex_f", "mckay60_kn_flex_m")
    front = ahead(danced.facing) + np.array([0.0, 0.5, 0.0])
    for side in SIDES:
        yield from most("knee", side, danced, bend_deg(danced, f"{side}_hip", f"{side}_knee", f"{side}_ankle"), ceiling)
        out = _off_line(danced, f"{side}_hip", f"{side}_knee", f"{side}_ankle")
        yield from most("knee side", side, danced, -dot(out, front)[:, 0], 0.002)


def _off_line(danced: Danced, first: str, middle: str, last: str) -> FloatArray:
    """Return the way from the line first-last to the middle joint."""
    along = unit(danced.joint(last) - danced.joint(first))
    way = danced.joint(middle) - danced.joint(first)
    off: FloatArray = way - dot(way, along) * along
    return off


def elbows(danced: Danced) -> Iterator[Measure]:
    """Elbows bend no further than elbows do, and never up and forward while the hand is low."""
    ceiling = least("mckay60_el_flex_f", "mckay60_el_flex_m")
    for side, sign in (("left", -1.0), ("right", 1.0)):
        bend = bend_deg(danced, f"{side}_shoulder", f"{side}_elbow", f"{side}_wrist")
        yield from most("elbow", side, danced, bend, ceiling)
        back = -0.5 * ahead(danced.facing) + 0.7 * sign * rightward(danced.facing) - np.array([0.0, 0.8, 0.0])
        low = danced.joint(f"{side}_wrist")[:, 1] < danced.joint(f"{side}_shoulder")[:, 1]
        out = _off_line(danced, f"{side}_shoulder", f"{side}_elbow", f"{side}_wrist")
        yield from most("elbow side", side, danced, -dot(out, back)[:, 0] * low, ELBOW_SIDE_M)


def hips(danced: Danced) -> Iterator[Measure]:
    """Hips bend no further than hips do, the lean of the trunk counted in."""
    ceiling = least("mckay60_hip_flex_f", "mckay60_hip_flex_m")
    trunk = danced.joint("neck") - danced.joint("pelvis")
    for side in SIDES:
        thigh = danced.joint(f"{side}_knee") - danced.joint(f"{side}_hip")
        yield from most("hip", side, danced, 180.0 - angle_deg(trunk, thigh), ceiling)


def ankles(danced: Danced) -> Iterator[Measure]:
    """Ankles: toes up no further than a loaded foot allows, down no further than a free one."""
    up = least("mckay60_an_df_lunge_f", "mckay60_an_df_lunge_m")
    down = least("mckay60_an_pf_f", "mckay60_an_pf_m")
    for side in SIDES:
        sole = danced.joint(f"{side}_ball") - danced.joint(f"{side}_heel")
        shank = danced.joint(f"{side}_knee") - danced.joint(f"{side}_ankle")
        flexed = 90.0 - angle_deg(sole, shank)
        yield from most("ankle up", side, danced, flexed, up)
        yield from most("ankle down", side, danced, -flexed, down)


def shoulders(danced: Danced) -> Iterator[Measure]:
    """Upper arms rise no higher than shoulders do."""
    ceiling = least("soucie45_sh_flex_f", "soucie45_sh_flex_m")
    trunk = danced.joint("pelvis") - danced.joint("neck")
    for side in SIDES:
        arm = danced.joint(f"{side}_elbow") - danced.joint(f"{side}_shoulder")
        yield from most("shoulder", side, danced, angle_deg(trunk, arm), ceiling)


def wrists(danced: Danced) -> Iterator[Measure]:
    """Wrists bend no further than wrists do."""
    ceiling = least("aaos_wrist_flexion", "aaos_wrist_extension")
    for side in SIDES:
        bend = bend_deg(danced, f"{side}_elbow", f"{side}_wrist", f"{side}_fingertip")
        yield from most("wrist", side, danced, bend, ceiling)


def trunk(danced: Danced) -> Iterator[Measure]:
    """The trunk leans and turns no further than backs do, the head no further than necks do."""
    spine = danced.joint("neck") - danced.joint("pelvis")
    side = np.degrees(np.arcsin(np.abs(dot(unit(spine), rightward(danced.facing))[:, 0])))
    yield from most("side bend", "trunk", danced, side, least("cfr_trunk_side_bend"))
    width = danced.joint("right_shoulder") - danced.joint("left_shoulder")
    turn = angle_deg(width * np.array([1.0, 0.0, 1.0]), rightward(danced.facing))
    yield from most("turn", "trunk", danced, turn, least("cfr_trunk_rotation"))
    look = danced.joint("nose") - danced.joint("neck")
    gaze = angle_deg(look * np.array([1.0, 0.0, 1.0]), ahead(danced.facing))
    yield from most("turn", "neck", danced, gaze, least("nk_rot_70plus"))


def bones(danced: Danced) -> Iterator[Measure]:
    """Bones keep their length."""
    body = danced.body
    for side in SIDES:
        for first, last, length in (
            ("hip", "knee", body.thigh_m),
            ("knee", "ankle", body.shank_m),
            ("shoulder", "elbow", body.upper_arm_m),
            ("elbow", "wrist", body.forearm_m),
        ):
            long = np.linalg.norm(danced.joint(f"{side}_{last}") - danced.joint(f"{side}_{first}"), axis=1)
            yield from most("bone", f"{side} {first}", danced, np.abs(long - length), 1e-6)
