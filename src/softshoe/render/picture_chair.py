"""The chair of a seated figure, as marks: whole behind the dancer who faces us, in two parts when seen from behind.

Nearness keys are those of ``picture_figure``: facing us everything of the chair lies behind the body; from behind, the
seat lies between shins and thighs and the open back lies over the dancer.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.render.look import palette
from softshoe.render.stage import Capsule, Mark, Polygon, hull

if TYPE_CHECKING:
    from softshoe.figure.motion import Chair
    from softshoe.render.picture_camera import Camera
    from softshoe.render.picture_figure import Item

LEG_M, SLAT_M, SEAT_THICK_M = 0.017, 0.030, 0.045
OUTLINE_PX = 2.0
Room = tuple[float, float, float]


def chair_items(chair: Chair, camera: Camera) -> list[Item]:
    """Return the chair's parts as (nearness, marks); its seat's centre stands over the room's origin."""
    front, back = chair.depth_m / 2, -chair.depth_m / 2
    side = chair.width_m / 2 - LEG_M
    top = chair.seat_m + chair.back_m
    feet = [_bar(camera, (front, 0.0, z), (front, chair.seat_m, z), LEG_M) for z in (-side, side)]
    posts = [_bar(camera, (back, 0.0, z), (back - 0.03, top, z), LEG_M) for z in (-side, side)]
    slats = [
        _bar(camera, (back - 0.03, chair.seat_m + h, -side), (back - 0.03, chair.seat_m + h, side), SLAT_M)
        for h in (chair.back_m * 0.55, chair.back_m - SLAT_M)
    ]
    seat = _seat(camera, chair)
    if camera.view == "mirror":
        return [(-9.0, [*posts, *slats]), (-8.0, [*feet, seat])]
    return [(-0.32, [*feet, seat]), (0.6, [*posts, *slats])]


def _bar(camera: Camera, a: Room, b: Room, r_m: float) -> Mark:
    import numpy as np

    colours = palette()
    (x0, y0, _, s0), (x1, y1, _, s1) = camera.project(np.array([a, b])).tolist()
    return Capsule(x0, y0, r_m * s0, x1, y1, r_m * s1, colours["wood"], colours["wood_deep"], OUTLINE_PX)


def _seat(camera: Camera, chair: Chair) -> Mark:
    import numpy as np

    colours = palette()
    x, z = chair.depth_m / 2, chair.width_m / 2
    corners = [(f, y, s) for f in (-x, x) for s in (-z, z) for y in (chair.seat_m, chair.seat_m - SEAT_THICK_M)]
    spots = camera.project(np.array(corners))[:, :2].tolist()
    return Polygon(hull([(p[0], p[1]) for p in spots]), colours["seat"], colours["wood_deep"], OUTLINE_PX)
