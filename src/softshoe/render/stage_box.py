"""How far marks reach: the box of a mark, boxes put together, boxes in whole and even pixels.

A box is (left, top, right, bottom) of the page [px]; it may be a little larger than what is drawn, never smaller.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from softshoe.render.stage import Arc, Capsule, Circle, Line, Mark, Polygon, Text

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.render.stage_pixels import Typeface

    Box = tuple[float, float, float, float]
    Even = tuple[int, int, int, int]

SOFT_PX = 1.5  # soft edges reach into the next pixel
CORNER = 2.0  # an outline's corner juts out by no more than so many widths
LEAST_SAVING = 0.75  # two boxes become one unless they are smaller than this share of it


def box_of(mark: Mark, face: Typeface) -> Box:
    """Return the box of one mark.

    >>> from softshoe.render.look import typeface
    >>> box_of(Circle(10.0, 10.0, 4.0, "#000000"), typeface())
    (4.5, 4.5, 15.5, 15.5)
    """
    match mark:
        case Polygon():
            more = CORNER * mark.width if mark.ink else 0.0
            return _round_points(mark.points, more)
        case Line():
            return _round_points(mark.points, mark.width / 2)
        case Capsule():
            more = SOFT_PX + mark.width
            return (
                min(mark.x0 - mark.r0, mark.x1 - mark.r1) - more,
                min(mark.y0 - mark.r0, mark.y1 - mark.r1) - more,
                max(mark.x0 + mark.r0, mark.x1 + mark.r1) + more,
                max(mark.y0 + mark.r0, mark.y1 + mark.r1) + more,
            )
        case Circle() | Arc():
            r = mark.r + mark.width / 2 + SOFT_PX
            return mark.x - r, mark.y - r, mark.x + r, mark.y + r
        case Text():
            return _text_box(mark, face)


def _round_points(points: tuple[tuple[float, float], ...], more: float) -> Box:
    if not points:
        return 0.0, 0.0, 0.0, 0.0
    across, down = zip(*points, strict=True)
    more += SOFT_PX
    return min(across) - more, min(down) - more, max(across) + more, max(down) + more


def _text_box(text: Text, face: Typeface) -> Box:
    """Letters stand out of their line by less than a size above and half of one below."""
    wide = sum(run[2] for run in face.runs(text))
    left = text.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * wide
    size = text.size
    return left - 0.2 * size, text.y - 1.2 * size, left + wide + 0.2 * size, text.y + 0.5 * size


def meet(one: Box | Even, other: Box | Even) -> bool:
    """Tell whether two boxes share anything."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def inside(one: Box | Even, other: Box | Even) -> bool:
    """Tell whether the first box lies wholly in the other."""
    return one[0] >= other[0] and one[1] >= other[1] and one[2] <= other[2] and one[3] <= other[3]


def around(boxes: Sequence[Box | Even]) -> Box:
    """Return the one box round all of these, at least one."""
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def joined(boxes: Iterable[Box | Even]) -> list[Box | Even]:
    """Return boxes that cover all of these, none meeting another; what is near enough is one box."""
    apart: list[Box | Even] = []
    for box in boxes:
        while (near := next((k for k, other in enumerate(apart) if _near(box, other)), None)) is not None:
            box = around((box, apart.pop(near)))
        apart.append(box)
    return apart


def _near(one: Box | Even, other: Box | Even) -> bool:
    if meet(one, other):
        return True
    left, top, right, bottom = around((one, other))
    return _area(one) + _area(other) > LEAST_SAVING * (right - left) * (bottom - top)


def _area(box: Box | Even) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def sized(box: Box, factor: float) -> Box:
    """Return the box with every length multiplied."""
    return box[0] * factor, box[1] * factor, box[2] * factor, box[3] * factor


def even(box: Box, within: Even) -> Even | None:
    """Return the box in whole pixels, even as a film's colours want it, inside another; None where nothing is left.

    >>> even((1.2, 3.0, 7.0, 9.5), (0, 0, 8, 8))
    (0, 2, 8, 8)
    """
    left, top = max(2 * math.floor(box[0] / 2), within[0]), max(2 * math.floor(box[1] / 2), within[1])
    right, bottom = min(2 * math.ceil(box[2] / 2), within[2]), min(2 * math.ceil(box[3] / 2), within[3])
    return (left, top, right, bottom) if left < right and top < bottom else None
