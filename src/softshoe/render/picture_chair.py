"""What supports a dancer, as marks: a chair, a chair back to hold, a wheelchair, a walking frame.

Drawn from the very bars that the truths of the figure read (``figure.supports``). Nearness keys are those of
``picture_figure``. Facing us, a chair one sits on lies wholly behind the body; from behind, its seat lies between shins
and thighs and its open back over the dancer. What is held stands where it is: nearer or farther than the dancer.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.figure.supports import SEAT_THICK_M, bars, holds, in_room, seat_box
from softshoe.render.look import guise_now, palette
from softshoe.render.stage import Capsule, Mark, Polygon, capsule_points, hull

if TYPE_CHECKING:
    from softshoe.figure.motion import Chair
    from softshoe.figure.supports import Bar
    from softshoe.render.look import Guise
    from softshoe.render.picture_camera import Camera
    from softshoe.render.picture_figure import Item

OUTLINE_PX = 2.0
TYRE_HALF_M = 0.016
PLATE_M = (0.27, 0.56, 0.02, 0.19)  # of a footplate: from and to ahead, from and to the side; design value
METAL = ("frame", "wheelchair")
# nearness of the parts of a chair one sits on: facing us, from behind
BEHIND_BODY = {"post": (-9.0, 0.6), "slat": (-9.0, 0.61), "push": (-9.1, 0.62), "leg": (-8.1, -0.33)}
SEAT, WHEEL, CASTER, PLATE = (-8.0, -0.32), (-7.8, 0.4), (-7.9, -0.34), (-7.7, -0.35)


def chair_items(chair: Chair, camera: Camera) -> list[Item]:
    """Return the support's parts as (nearness, marks), unsorted; kept while neither it nor the camera moves."""
    return _items(chair, camera, guise_now())


@lru_cache(maxsize=16)
def _items(chair: Chair, camera: Camera, _guise: Guise) -> list[Item]:
    view = 1 if camera.view == "behind" else 0
    items = [item for bar in bars(chair) if bar.part != "tyre" for item in _bar(bar, chair, camera, view)]
    if seat_box(chair) is not None:
        items.append(_seat(camera, chair, view))
    if chair.kind == "wheelchair":
        items += [(WHEEL[view], _wheel(chair, camera, side)) for side in (-1.0, 1.0)]
        items += [(PLATE[view], [_plate(chair, camera, side)]) for side in (-1.0, 1.0)]
    return items


def _bar(bar: Bar, chair: Chair, camera: Camera, view: int) -> list[Item]:
    import numpy as np

    fill, edge = _paint(chair, bar.part)
    (x0, y0, n0, s0), (x1, y1, n1, s1) = camera.project(np.array([bar.start, bar.end])).tolist()
    near = (n0 + n1) / 2
    if not holds(chair):
        near = CASTER[view] if bar.part == "caster" else BEHIND_BODY[bar.part][view]
        if bar.part == "leg" and n0 < 0 and view == 0 and chair.kind == "chair" and bar.start[0] < 0:
            return []  # the back legs lie behind the front ones
    outline = capsule_points(Capsule(x0, y0, bar.r_m * s0, x1, y1, bar.r_m * s1, fill))
    return [(near, [Polygon(outline, fill, edge, OUTLINE_PX)])]


def _paint(chair: Chair, part: str) -> tuple[str, str]:
    colours = palette()
    if part in ("grip", "push", "caster"):
        return colours["trousers_deep"], colours["outline"]
    if chair.kind in METAL and part not in ("slat",):
        return colours["rule"], colours["soft"]
    if chair.kind == "wheelchair":
        return colours["soft"], colours["trousers_deep"]
    return colours["wood"], colours["wood_deep"]


def _seat(camera: Camera, chair: Chair, view: int) -> Item:
    import numpy as np

    colours = palette()
    x, z = chair.depth_m / 2, chair.width_m / 2
    heights = (chair.seat_m, chair.seat_m - SEAT_THICK_M)
    corners = [in_room(chair, (f, y, s)) for f in (-x, x) for s in (-z, z) for y in heights]
    spots = camera.project(np.array(corners))
    near = float(spots[:, 2].mean()) if holds(chair) else SEAT[view]
    metal = chair.kind == "wheelchair"
    fill, edge = (colours["soft"], colours["trousers_deep"]) if metal else (colours["seat"], colours["wood_deep"])
    return near, [Polygon(hull([(p[0], p[1]) for p in spots[:, :2].tolist()]), fill, edge, OUTLINE_PX)]


def _wheel(chair: Chair, camera: Camera, side: float) -> list[Mark]:
    """A big wheel, seen nearly edge on: its tyre, and its rim inside."""
    import numpy as np

    colours, aside = palette(), np.array([0.0, 0.0, 1.0])
    rim = [bar.start for bar in bars(chair) if bar.part == "tyre" and bar.start[2] * side > 0]
    centre = np.mean(np.array(rim), axis=0)
    marks: list[Mark] = []
    for share, half, fill in ((1.0, TYRE_HALF_M, colours["trousers_deep"]), (0.86, TYRE_HALF_M / 2, colours["rule"])):
        ring = centre + share * (np.array(rim) - centre)
        both = np.concatenate([ring + half * aside, ring - half * aside])
        spots = camera.project(both)[:, :2].tolist()
        marks.append(Polygon(hull([(p[0], p[1]) for p in spots]), fill, colours["outline"], OUTLINE_PX))
    return marks[:1] if _thin(marks[0]) else marks


def _thin(mark: Mark) -> bool:
    """Tell whether a wheel is seen so much edge on that its rim hides."""
    xs = [x for x, _ in mark.points] if isinstance(mark, Polygon) else [0.0]
    ys = [y for _, y in mark.points] if isinstance(mark, Polygon) else [1.0]
    return (max(xs) - min(xs)) < 0.3 * (max(ys) - min(ys))


def _plate(chair: Chair, camera: Camera, side: float) -> Mark:
    import numpy as np

    colours = palette()
    ahead, beyond, inner, outer = PLATE_M
    corners = [
        in_room(chair, (x, y, side * z))
        for x in (ahead, beyond)
        for z in (inner, outer)
        for y in (chair.plate_m, chair.plate_m - 0.025)
    ]
    spots = camera.project(np.array(corners))[:, :2].tolist()
    return Polygon(hull([(p[0], p[1]) for p in spots]), colours["soft"], colours["trousers_deep"], OUTLINE_PX)
