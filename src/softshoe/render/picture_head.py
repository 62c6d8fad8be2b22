"""Head, face and hair: a calm face that shows as far as it looks at us, a bun that shows as far as it does not."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from softshoe.figure.motion import JOINT
from softshoe.render.look import mix, palette
from softshoe.render.stage import Circle, Line, Mark, Point, Polygon, blob

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray
    from softshoe.render.picture_figure import Item, Spot

HEAD_M = 0.122
OUTLINE_PX = 2.2
BLUSH, BLUSH_SHARE = "#c0603f", 0.28
PROFILE = 0.6  # how far aside the face looks before its nose stands out
NECK_BEHIND = -0.25  # how far the face may turn away before the back of the head is drawn


def head_item(spots: list[Spot], points_m: FloatArray) -> Item:
    """Return the head as (nearness, marks); which way it looks is read from head and nose."""
    head, nose = spots[JOINT["head"]], spots[JOINT["nose"]]
    reach = max(math.dist(points_m[JOINT["nose"]], points_m[JOINT["head"]]), 1e-6)
    toward, aside = (nose[2] - head[2]) / reach, (nose[0] - head[0]) / (reach * head[3])
    x, y, r = head[0], head[1], HEAD_M * head[3]
    if toward > NECK_BEHIND:
        marks = [
            _bun(x, y, r, toward, aside),
            _back_hair(x, y, r, aside),
            *_face(x, y, r, toward, aside),
            _fringe(x, y, r, aside),
        ]
    else:
        marks = [*_ears(x, y, r), _back_hair(x, y + 0.04 * r, r * 1.03, aside), _bun(x, y, r, toward, aside)]
    return head[2] + 0.16, marks


def _round(x: float, y: float, r: float, fill: str) -> Circle:
    return Circle(x, y, r, fill, palette()["ink"], OUTLINE_PX)


def _bun(x: float, y: float, r: float, toward: float, aside: float) -> Mark:
    """High on the back of the head: it peeps over the crown from the front and lies on the hair from behind."""
    lift = 1.02 if toward > 0 else 1.02 + 0.55 * toward
    return _round(x - aside * 0.85 * r, y - lift * r, 0.40 * r, palette()["hair"])


def _back_hair(x: float, y: float, r: float, aside: float) -> Mark:
    return _round(x - aside * 0.16 * r, y - 0.08 * r, 1.02 * r, palette()["hair"])


def _ears(x: float, y: float, r: float) -> list[Mark]:
    return [_round(x + side * 0.98 * r, y + 0.14 * r, 0.19 * r, palette()["skin"]) for side in (-1, 1)]


def _face(x: float, y: float, r: float, toward: float, aside: float) -> list[Mark]:
    colours = palette()
    fx, fy = x + aside * 0.18 * r, y + 0.12 * r
    skin = blob(
        [(fx, fy, 0.90 * r), (fx + aside * 0.05 * r, fy + 0.20 * r, 0.76 * r)],
        colours["skin"],
        colours["ink"],
        OUTLINE_PX,
    )
    shown = max(toward, 0.0)
    middle = fx + aside * 0.62 * r
    ears = [
        _round(fx + side * 0.88 * r * shown, fy + 0.08 * r, 0.17 * r, colours["skin"])
        for side in (-1, 1)
        if shown > 0.3
    ]
    tip = fx + aside * 0.90 * r
    nose = [_round(tip, fy + 0.12 * r, 0.15 * r, colours["skin"])] if abs(aside) > PROFILE else []
    marks: list[Mark] = [*ears, *nose, skin]
    for side in (-1, 1):
        marks += _dot(middle + side * 0.36 * r * shown, fx, fy + 0.02 * r, 0.095 * r, 0.78 * r, colours["ink"])
        if shown > 0.2:
            blush = mix(colours["skin"], BLUSH, BLUSH_SHARE)
            marks += _dot(middle + side * 0.54 * r * shown, fx, fy + 0.30 * r, 0.12 * r, 0.66 * r, blush)
    return marks + _smile(middle, fy, r, shown)


def _dot(at_x: float, face_x: float, y: float, r: float, limit: float, fill: str) -> list[Mark]:
    """A dot of the face, unless it has gone round the cheek."""
    return [Circle(at_x, y, r, fill)] if abs(at_x - face_x) < limit else []


def _smile(middle: float, y: float, r: float, shown: float) -> list[Mark]:
    if shown <= 0.2:
        return []
    wide = 0.30 * r * shown
    turns = (-1.2, -0.8, -0.4, 0.0, 0.4, 0.8, 1.2)
    points = tuple((middle + wide * math.sin(t), y + 0.30 * r + 0.18 * r * math.cos(t)) for t in turns)
    return [Line(points, palette()["ink"], max(2.0, 0.055 * r))]


def _fringe(x: float, y: float, r: float, aside: float) -> Mark:
    """Hair over the forehead, parted to one side."""
    cx, cy = x + aside * 0.02 * r, y - 0.08 * r
    outer = [_clock(cx, cy, 1.02 * r, deg) for deg in range(-84, 85, 12)]
    brow = [(0.90, 0.02), (0.74, -0.30), (0.42, -0.54), (-0.12, -0.62), (-0.52, -0.44), (-0.80, -0.22), (-0.92, 0.04)]
    inner = [(cx + _inside(px + aside * 0.25, py) * r, cy + py * r) for px, py in brow]
    return Polygon(tuple(outer + inner), palette()["hair"], palette()["ink"], OUTLINE_PX)


def _inside(px: float, py: float) -> float:
    """Hair never leaves the head, however far it is turned."""
    edge = math.sqrt(max(0.96 - py * py, 0.0))
    return max(-edge, min(edge, px))


def _clock(x: float, y: float, r: float, deg: float) -> Point:
    return x + r * math.sin(math.radians(deg)), y - r * math.cos(math.radians(deg))
