"""Arrows of the moving limbs: where one goes next, or the way it came.

An arrow goes before (or, for the way it came, up to) a limb that moves sideways, and beside one that moves along the
line of sight or up and down, on the limb's outer side, so that it never covers what it speaks of. A heel that rises or
comes down has the arrow of its foot.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from softshoe.figure.motion import JOINT
from softshoe.render.look import palette
from softshoe.render.stage import Mark, Polygon

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray
    from softshoe.render.picture_camera import Camera
    from softshoe.render.picture_figure import Spot

SIDEWAYS = 0.55  # an arrow that runs this far sideways goes before the limb, else beside it
BESIDE_M = 0.105
FROM_M = {"toe": 0.035, "tip": 0.09}  # what moves less than this in the time looked at has no arrow
FULL_M = 0.16
HEEL_OVER, UPRIGHT = 2.0, 0.7  # times its toe's way, of it up or down: then a heel's way is told; design values
LEAST_SEEN_PX = 4.0
LEADS = 0.5
SHORT_M, GROWS_M = 0.090, 0.080
HALF, HEAD, BARB = (0.014, 4.2), (0.046, 14.0), (0.040, 12.0)  # metres, and the least pixels
TIPS = ("left_toe", "right_toe", "left_fingertip", "right_fingertip")
OTHERS = ("right_toe", "left_toe", "right_fingertip", "left_fingertip")


def arrow_marks(
    spots: list[Spot], points: FloatArray, elsewhere: FloatArray, active: FloatArray, camera: Camera, *, came: bool
) -> list[Mark]:
    """Return an arrow for each limb that leads (``active`` (4,) over a half).

    ``elsewhere`` are the joint points (n, 3) a little later, or with ``came`` those of a little before.
    """
    marks: list[Mark] = []
    if not (active > LEADS).any():
        return marks
    there = camera.project(elsewhere)
    for tip, other, leads in zip(TIPS, OTHERS, active.tolist(), strict=True):
        index, way_m = _told(tip, points, elsewhere)
        if leads > LEADS and way_m > FROM_M[tip[-3:]]:
            spot = spots[index]
            dx, dy = float(there[index, 0]) - spot[0], float(there[index, 1]) - spot[1]
            outward = -1.0 if spot[0] < spots[JOINT[other]][0] else 1.0
            marks += _arrow(spot, (-dx, -dy) if came else (dx, dy), way_m, outward, came=came)
    return marks


def _told(tip: str, points: FloatArray, elsewhere: FloatArray) -> tuple[int, float]:
    """Return the joint whose way the arrow tells and how far it goes [m]: the heel of a foot that rises or comes down
    on its ball, or else the tip."""
    index, way_m = JOINT[tip], math.dist(points[JOINT[tip]], elsewhere[JOINT[tip]])
    if tip.endswith("toe"):
        heel = JOINT[tip.replace("toe", "heel")]
        heel_m = math.dist(points[heel], elsewhere[heel])
        rises_m = abs(float(points[heel, 1] - elsewhere[heel, 1]))
        if heel_m > HEEL_OVER * way_m and rises_m > UPRIGHT * heel_m:
            return heel, heel_m
    return index, way_m


def _arrow(spot: Spot, way: tuple[float, float], way_m: float, outward: float, *, came: bool) -> list[Mark]:
    x, y, _, size = spot
    seen = math.hypot(*way)
    if seen < LEAST_SEEN_PX:
        return []
    ux, uy = way[0] / seen, way[1] / seen
    gap, length = BESIDE_M * size, (SHORT_M + GROWS_M * min(way_m / FULL_M, 1.0)) * size
    if abs(ux) > SIDEWAYS:
        off = -(gap + length) if came else gap
        x, y = x + ux * off, y + uy * off
    else:
        x, y = x + outward * gap - ux * length / 2, y - uy * length / 2
    half, head, barb = (max(m * size, least) for m, least in (HALF, HEAD, BARB))
    shape = [(0.0, -half), (length - head, -half), (length - head, -barb), (length, 0.0)]
    outline = [*shape, *((along, -aside) for along, aside in shape[-2::-1])]
    points = tuple((x + ux * a - uy * b, y + uy * a + ux * b) for a, b in outline)
    return [Polygon(points, palette()["accent"], palette()["paper"], 3.0)]
