"""Neutral marks: a picture as a list of shapes, drawn later by one writer a medium (``stage_pixels``, ``stage_svg``).

Units are pixels of the page they stand on, x to the right, y down; later marks lie over earlier ones. Colours are
"#rrggbb". ``ink`` is the outline's colour (None: no outline), ``width`` its thickness. Angles of arcs are degrees
clockwise from straight up, as on a clock.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace
from typing import Any, Literal

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Face = Literal["words", "count"]
ROUND_STEPS = 9


@dataclass(frozen=True, slots=True)
class Polygon:
    """A filled shape with straight sides."""

    points: tuple[Point, ...]
    fill: str | None
    ink: str | None = None
    width: float = 0.0


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle of radius ``r``."""

    x: float
    y: float
    r: float
    fill: str | None
    ink: str | None = None
    width: float = 0.0


@dataclass(frozen=True, slots=True)
class Capsule:
    """The hull of two circles: a round-ended limb that may taper."""

    x0: float
    y0: float
    r0: float
    x1: float
    y1: float
    r1: float
    fill: str | None
    ink: str | None = None
    width: float = 0.0


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points, with round ends and corners."""

    points: tuple[Point, ...]
    ink: str
    width: float


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle's line, from ``start_deg`` clockwise to ``end_deg``, with flat ends."""

    x: float
    y: float
    r: float
    start_deg: float
    end_deg: float
    ink: str
    width: float


@dataclass(frozen=True, slots=True)
class Text:
    """One line of words; ``y`` is the line the letters stand on; counts have a face of their own."""

    x: float
    y: float
    words: str
    size: int
    ink: str
    bold: bool = False
    anchor: Anchor = "start"
    face: Face = "words"


Mark = Polygon | Circle | Capsule | Line | Arc | Text


LENGTHS = frozenset(("x", "y", "r", "x0", "y0", "r0", "x1", "y1", "r1", "width"))


def scaled(mark: Mark, factor: float) -> Mark:
    """Return the mark with every length multiplied.

    >>> scaled(Circle(1.0, 2.0, 3.0, None), 2.0)
    Circle(x=2.0, y=4.0, r=6.0, fill=None, ink=None, width=0.0)
    """
    changes: dict[str, Any] = {f.name: getattr(mark, f.name) * factor for f in fields(mark) if f.name in LENGTHS}
    if isinstance(mark, Polygon | Line):
        changes["points"] = tuple((x * factor, y * factor) for x, y in mark.points)
    if isinstance(mark, Text):
        changes["size"] = max(1, round(mark.size * factor))
    return replace(mark, **changes)


def arc_points(x: float, y: float, r: float, *, start_deg: float, end_deg: float, steps: int) -> tuple[Point, ...]:
    """Return ``steps`` + 1 points on a circle's line, clockwise from straight up.

    >>> [(round(px), round(py)) for px, py in arc_points(0, 0, 10, start_deg=0, end_deg=90, steps=1)]
    [(0, -10), (10, 0)]
    """
    span = end_deg - start_deg
    turns = [math.radians(start_deg + span * k / steps) for k in range(steps + 1)]
    return tuple((x + r * math.sin(t), y - r * math.cos(t)) for t in turns)


def capsule_points(c: Capsule) -> tuple[Point, ...]:
    """Return the outline of a capsule; one circle's when it swallows the other."""
    dx, dy = c.x1 - c.x0, c.y1 - c.y0
    length = math.hypot(dx, dy)
    if length <= abs(c.r0 - c.r1) + 1e-9:
        x, y, r = (c.x0, c.y0, c.r0) if c.r0 >= c.r1 else (c.x1, c.y1, c.r1)
        return arc_points(x, y, r, start_deg=0, end_deg=360, steps=2 * ROUND_STEPS)[:-1]
    along = math.atan2(dy, dx)
    lean = math.acos((c.r0 - c.r1) / length)
    return _round(c.x0, c.y0, c.r0, along + lean, along + 2 * math.pi - lean) + _round(
        c.x1, c.y1, c.r1, along - lean, along + lean
    )


def _round(x: float, y: float, r: float, start_rad: float, end_rad: float) -> tuple[Point, ...]:
    step = (end_rad - start_rad) / ROUND_STEPS
    return tuple(
        (x + r * math.cos(start_rad + step * k), y + r * math.sin(start_rad + step * k)) for k in range(ROUND_STEPS + 1)
    )


def hull(points: list[Point]) -> tuple[Point, ...]:
    """Return the convex hull of points, in order round it.

    >>> hull([(0, 0), (2, 0), (1, 1), (2, 2), (0, 2)])
    ((0, 0), (2, 0), (2, 2), (0, 2))
    """
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)
    lower, upper = _chain(ordered), _chain(ordered[::-1])
    return tuple(lower[:-1] + upper[:-1])


def _chain(ordered: list[Point]) -> list[Point]:
    chain: list[Point] = []
    for p in ordered:
        while len(chain) >= 2 and _cross(chain[-2], chain[-1], p) <= 0:
            chain.pop()
        chain.append(p)
    return chain


def _cross(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def blob(circles: list[tuple[float, float, float]], fill: str, ink: str | None, width: float) -> Polygon:
    """Return the hull of several circles (x, y, r): a soft shape such as a body or a shoe."""
    points = [(x + r * px, y + r * py) for x, y, r in circles for px, py in UNIT_CIRCLE]
    return Polygon(hull(points), fill, ink, width)


UNIT_CIRCLE = arc_points(0.0, 0.0, 1.0, start_deg=0, end_deg=360, steps=16)[:-1]
