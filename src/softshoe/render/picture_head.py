"""Head and face: a calm face that shows as far as it looks at us; hair lies behind and over it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from softshoe.render.look import contrast, guise_now, mix, palette
from softshoe.render.picture_hair import Head, hair_away, hair_behind, hair_over
from softshoe.render.stage import Circle, Line, Mark, blob

if TYPE_CHECKING:
    from softshoe.render.picture_figure import Item, Spot

HEAD_M = 0.122
OUTLINE_PX = 2.2
BLUSH_SHARE = 0.28
PROFILE = 0.6  # how far aside the face looks before its nose stands out
NECK_BEHIND = -0.25  # how far the face may turn away before the back of the head is drawn
DARK = 3.0  # contrast of eyes on skin below which eyes have their whites and the mouth is light (WCAG 2.2, 1.4.11)
WHITE_OF_EYE = "#fbf4ea"


def head_item(centre: Spot, nose: Spot, reach_m: float) -> Item:
    """Return the head as (nearness, marks); which way it looks is read from head and nose, ``reach_m`` apart."""
    reach = max(reach_m, 1e-6)
    toward, aside = (nose[2] - centre[2]) / reach, (nose[0] - centre[0]) / (reach * centre[3])
    head, form = Head(centre[0], centre[1], HEAD_M * centre[3], toward, aside), guise_now().hair
    if toward > NECK_BEHIND:
        marks = [*hair_behind(form, head), *_face(head), *hair_over(form, head)]
    else:
        marks = [*_ears(head), *hair_away(form, head)]
    return centre[2] + 0.16, marks


def _round(x: float, y: float, r: float, fill: str) -> Circle:
    return Circle(x, y, r, fill, palette()["outline"], OUTLINE_PX)


def _ears(head: Head) -> list[Mark]:
    x, y, r = head.x, head.y, head.r
    return [_round(x + side * 0.98 * r, y + 0.14 * r, 0.19 * r, palette()["skin"]) for side in (-1, 1)]


def _face(head: Head) -> list[Mark]:
    colours = palette()
    r, aside = head.r, head.aside
    fx, fy = head.x + aside * 0.18 * r, head.y + 0.12 * r
    skin = blob(
        [(fx, fy, 0.90 * r), (fx + aside * 0.05 * r, fy + 0.20 * r, 0.76 * r)],
        colours["skin"],
        colours["outline"],
        OUTLINE_PX,
    )
    shown = max(head.toward, 0.0)
    middle = fx + aside * 0.62 * r
    ears = [
        _round(fx + side * 0.88 * r * shown, fy + 0.08 * r, 0.17 * r, colours["skin"])
        for side in (-1, 1)
        if shown > 0.3
    ]
    tip = fx + aside * 0.90 * r
    nose = [_round(tip, fy + 0.12 * r, 0.15 * r, colours["skin"])] if abs(aside) > PROFILE else []
    dark = contrast(colours["eye"], colours["skin"]) < DARK
    marks: list[Mark] = [*ears, *nose, skin]
    for side in (-1, 1):
        eye_x = middle + side * 0.36 * r * shown
        if dark:
            marks += _dot(eye_x, fx, fy + 0.01 * r, 0.145 * r, 0.78 * r, WHITE_OF_EYE)
        marks += _dot(eye_x, fx, fy + 0.02 * r, 0.095 * r, 0.78 * r, colours["eye"])
        if shown > 0.2:
            blush = mix(colours["skin"], colours["blush"], BLUSH_SHARE)
            marks += _dot(middle + side * 0.54 * r * shown, fx, fy + 0.30 * r, 0.12 * r, 0.66 * r, blush)
    return marks + _smile(middle, fy, r, shown, WHITE_OF_EYE if dark else colours["eye"])


def _dot(at_x: float, face_x: float, y: float, r: float, limit: float, fill: str) -> list[Mark]:
    """A dot of the face, unless it has gone round the cheek."""
    return [Circle(at_x, y, r, fill)] if abs(at_x - face_x) < limit else []


def _smile(middle: float, y: float, r: float, shown: float, ink: str) -> list[Mark]:
    if shown <= 0.2:
        return []
    wide = 0.30 * r * shown
    turns = (-1.2, -0.8, -0.4, 0.0, 0.4, 0.8, 1.2)
    points = tuple((middle + wide * math.sin(t), y + 0.30 * r + 0.18 * r * math.cos(t)) for t in turns)
    return [Line(points, ink, max(2.0, 0.055 * r))]
