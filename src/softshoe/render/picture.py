"""A picture of the figure at one moment: floor, chair, body, what bears, and where the leading limb goes.

``figure_marks`` is what films draw frame by frame; ``svg_of`` is the same picture standing alone for sheets.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.figure.motion import JOINT
from softshoe.render.look import palette
from softshoe.render.picture_camera import rig_for
from softshoe.render.picture_chair import chair_items
from softshoe.render.picture_figure import SIDES, Spot, between, figure_items
from softshoe.render.stage import Capsule, Mark, Polygon, arc_points
from softshoe.render.stage_svg import svg

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray, Frames, Motion
    from softshoe.render.picture_camera import Camera, Rig
    from softshoe.render.picture_figure import Item
    from softshoe.teach.lesson import View

BAR_M, BAR_THICK_M = 0.150, 0.026
AHEAD_COUNTS = 0.34
FLOOR_BEHIND_M = 0.45
SPOT_M = 0.5
ROUND = arc_points(0.0, 0.0, 1.0, start_deg=0, end_deg=360, steps=20)[:-1]
SIDEWAYS = 0.55  # an arrow that runs this far sideways goes before the limb, else beside it
BESIDE_M = 0.105
ARROW_FROM_M = (0.035, 0.09)  # a foot, a hand: what moves less than this in a third of a count has no arrow
ARROW_FULL_M = 0.16
TIPS = ("left_toe", "right_toe", "left_fingertip", "right_fingertip")
OTHERS = ("right_toe", "left_toe", "right_fingertip", "left_fingertip")


def figure_marks(frames: Frames, camera: Camera, motion: Motion, *, travels: bool = True) -> list[Mark]:
    """Return the dancer at the first of two frames; the second, a third of a count later, tells where arrows lead.

    Under one who stands and ``travels`` the floor has spots."""
    points, later = frames.points_m[0], frames.points_m[1]
    spots: list[Spot] = [(s[0], s[1], s[2], s[3]) for s in camera.project(points).tolist()]
    bearing = (float(frames.bearing[0, 0]), float(frames.bearing[0, 1]))
    items = figure_items(spots, points, bearing, view=camera.view, seated=motion.stance == "seated")
    if motion.chair is not None:
        items += chair_items(motion.chair, camera)
    spots_under = floor_spots(camera) if travels and motion.stance == "standing" else []
    marks = [*spots_under, *_ground(points, bearing, camera)]
    marks += [mark for _, part in sorted(items, key=_nearness) for mark in part]
    return marks + _arrows(spots, camera.project(later), frames.active[0], points, later)


def _nearness(item: Item) -> float:
    return item[0]


def floor_spots(camera: Camera) -> list[Mark]:
    """Return small spots half a metre apart on the floor near the aim, by which travel is seen."""
    import numpy as np

    near_x, near_z = round(camera.aim_x_m / SPOT_M), round(camera.aim_z_m / SPOT_M)
    grid = [(x, z) for x in range(near_x - 2, near_x + 3) for z in range(near_z - 3, near_z + 4)]
    inside = [
        (x * SPOT_M, 0.0, z * SPOT_M)
        for x, z in grid
        if ((x * SPOT_M - camera.aim_x_m) / 0.62) ** 2 + ((z * SPOT_M - camera.aim_z_m) / 1.0) ** 2 < 1.0
    ]
    spots = camera.project(np.array(inside)).tolist() if inside else []
    return [_flat(x, y, 0.020 * size, 0.008 * size, palette()["rule"]) for x, y, _, size in spots]


def _flat(x: float, y: float, wide: float, high: float, fill: str) -> Mark:
    return Polygon(tuple((x + px * wide, y + py * high) for px, py in ROUND), fill)


def _ground(points: FloatArray, bearing: tuple[float, float], camera: Camera) -> list[Mark]:
    """A soft shadow under each foot, and a thick bar as long as the share it bears."""
    colours = palette()
    marks: list[Mark] = []
    for side, bears in zip(SIDES, bearing, strict=True):
        ends = points[[JOINT[f"{side}_heel"], JOINT[f"{side}_toe"]]].copy()
        ends[:, 1] = 0.0
        heel, toe = ((s[0], s[1], s[2], s[3]) for s in camera.project(ends).tolist())
        middle = between(heel, toe, 0.6)
        marks.append(_shadow(middle, abs(toe[1] - heel[1])))
        if bears > 0.05:
            half, thick = BAR_M * middle[3] * bears / 2, BAR_THICK_M * middle[3] / 2
            y = max(heel[1], toe[1]) + 2.2 * thick
            x = between(heel, toe, 0.8)[0]
            marks.append(Capsule(x - half, y, thick, x + half, y, thick, colours["ink"]))
    return marks


def _shadow(spot: Spot, long_px: float) -> Mark:
    wide, high = 0.085 * spot[3], max(0.03 * spot[3], long_px * 0.6)
    return _flat(spot[0], spot[1], wide, high, palette()["rule"])


def _arrows(
    spots: list[Spot], later: FloatArray, active: FloatArray, points: FloatArray, points_later: FloatArray
) -> list[Mark]:
    marks: list[Mark] = []
    for tip, other, leads in zip(TIPS, OTHERS, active.tolist(), strict=True):
        index = JOINT[tip]
        way = math.dist(points[index], points_later[index])
        if leads > 0.5 and way > ARROW_FROM_M[tip[-3:] == "tip"]:
            x, y, _, size = spots[index]
            outward = -1.0 if x < spots[JOINT[other]][0] else 1.0
            marks += arrow(x, y, float(later[index, 0]) - x, float(later[index, 1]) - y, way, size, outward)
    return marks


def arrow(x: float, y: float, dx: float, dy: float, way_m: float, size: float, outward: float) -> list[Mark]:
    """Return a short arrow that leads a limb and grows with the way still to go.

    It goes before a limb that moves sideways and beside one that moves along the line of sight or up and down, on the
    limb's outer side (``outward``, -1 left or 1 right), so that it never covers what it speaks of.
    """
    colours = palette()
    seen = math.hypot(dx, dy)
    if seen < 4.0:
        return []
    grown = min(way_m / ARROW_FULL_M, 1.0)
    ux, uy = dx / seen, dy / seen
    gap = BESIDE_M * size
    length, half, head = 26 + 26 * grown, 4.5, 15.0
    if abs(ux) > SIDEWAYS:
        x, y = x + ux * gap, y + uy * gap
    else:
        x, y = x + outward * gap - ux * length / 2, y - uy * length / 2
    shape = [(0.0, -half), (length - head, -half), (length - head, -13.0), (length, 0.0)]
    outline = [*shape, *((along, -aside) for along, aside in shape[-2::-1])]
    points = tuple((x + ux * a - uy * b, y + uy * a + ux * b) for a, b in outline)
    return [Polygon(points, colours["accent"], colours["paper"], 3.0)]


def svg_of(
    motion: Motion, moment: float, *, view: View = "mirror", width: int = 360, height: int = 420, alt: str = ""
) -> str:
    """Return the figure at one moment [counts from 0] as an SVG that stands alone, with ``alt`` for screen readers."""
    import numpy as np

    rig = rig_for(motion, (14.0, 10.0, width - 14.0, height - 28.0), view=view, follow=1.0)
    both = motion.at(np.array([moment, moment + AHEAD_COUNTS]))
    return svg(
        [*floor_marks(rig, width=width * 0.94, bottom=height - 8.0), *figure_marks(both, rig.at(moment), motion)],
        width=width,
        height=height,
        alt=alt,
    )


def floor_marks(rig: Rig, *, width: float, bottom: float) -> list[Mark]:
    """Return the floor: a pale round field, ``width`` wide, from behind all that is danced to ``bottom`` [px]."""
    import numpy as np

    camera = replace(rig.camera, aim_x_m=0.0, aim_z_m=0.0)
    sign = 1.0 if camera.view == "mirror" else -1.0
    far_y = float(camera.project(np.array([[-sign * (rig.behind_m + FLOOR_BEHIND_M), 0.0, 0.0]]))[0, 1])
    middle, high = (far_y + bottom) / 2, (bottom - far_y) / 2
    round_ = arc_points(0.0, 0.0, 1.0, start_deg=0, end_deg=360, steps=72)[:-1]
    points = tuple((camera.centre_x + x * width / 2, middle + y * high) for x, y in round_)
    return [Polygon(points, palette()["mist"])]
