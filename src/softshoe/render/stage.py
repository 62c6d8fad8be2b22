"""Neutral marks: a picture as a list of shapes, drawn later by one writer a medium (``stage_pixels``, ``stage_svg``).

Units are pixels of the page they stand on, x to the right, y down; later marks lie over earlier ones. Colours are
"#rrggbb". ``ink`` is the outline's colour (None: no outline), ``width`` its thickness. Angles of arcs are degrees
clockwise from straight up, as on a clock.

Marks are named tuples: a film makes tens of thousands of them a minute. No two kinds have as many parts, so marks of
two kinds are never equal.
"""

from __future__ import annotations

import cmath
import math
from functools import cache, lru_cache
from typing import Any, Literal, NamedTuple

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Face = Literal["words", "count"]
ROUND_STEPS = 9
_End = tuple[float, float, float, list[complex]]


class Polygon(NamedTuple):
    """A filled shape with straight sides."""

    points: tuple[Point, ...]
    fill: str | None
    ink: str | None = None
    width: float = 0.0


class Circle(NamedTuple):
    """A circle of radius ``r``."""

    x: float
    y: float
    r: float
    fill: str | None
    ink: str | None = None
    width: float = 0.0


class Capsule(NamedTuple):
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


class Line(NamedTuple):
    """A line through points, with round ends and corners."""

    points: tuple[Point, ...]
    ink: str
    width: float


class Arc(NamedTuple):
    """A part of a circle's line, from ``start_deg`` clockwise to ``end_deg``, with flat ends."""

    x: float
    y: float
    r: float
    start_deg: float
    end_deg: float
    ink: str
    width: float


class Text(NamedTuple):
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
    changes: dict[str, Any] = {name: getattr(mark, name) * factor for name in mark._fields if name in LENGTHS}
    if isinstance(mark, Polygon | Line):
        changes["points"] = tuple((x * factor, y * factor) for x, y in mark.points)
    if isinstance(mark, Text):
        changes["size"] = max(1, round(mark.size * factor))
    return mark._replace(**changes)


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
    flat = _rim(_spokes(c), 0.0)
    return tuple(zip(flat[0::2], flat[1::2], strict=True))


def capsule_rims(c: Capsule, half: float) -> tuple[list[float], list[float]]:
    """Return two outlines of a capsule, ``half`` farther out and ``half`` farther in, as x, y, x, y and so on."""
    spokes = _spokes(c)
    return _rim(spokes, half), _rim(spokes, -half)


def _rim(ends: list[_End], more: float) -> list[float]:
    flat: list[float] = []
    add = flat.append
    for x, y, r, ways in ends:
        r += more
        for way in ways:
            add(x + r * way.real)
            add(y + r * way.imag)
    return flat


def _spokes(c: Capsule) -> list[_End]:
    """The round ends of a capsule: middle, radius, and the ways in which its outline's points lie."""
    dx, dy = c.x1 - c.x0, c.y1 - c.y0
    length = math.hypot(dx, dy)
    if length <= abs(c.r0 - c.r1) + 1e-9:
        x, y, r = (c.x0, c.y0, c.r0) if c.r0 >= c.r1 else (c.x1, c.y1, c.r1)
        return [(x, y, r, _fan(0.0, 2 * math.pi, 2 * ROUND_STEPS)[:-1])]
    along = math.atan2(dy, dx)
    lean = math.acos((c.r0 - c.r1) / length)
    first, last = (min(ROUND_STEPS, 4 + int(r / 3.0)) for r in (c.r0, c.r1))  # a small end needs few points
    return [
        (c.x0, c.y0, c.r0, _fan(along + lean, along + 2 * math.pi - lean, first)),
        (c.x1, c.y1, c.r1, _fan(along - lean, along + lean, last)),
    ]


def _fan(start_rad: float, end_rad: float, steps: int) -> list[complex]:
    """Ways from one to another, each the one before turned by the same step."""
    way, step = cmath.rect(1.0, start_rad), cmath.rect(1.0, (end_rad - start_rad) / steps)
    ways = [way]
    for _ in range(steps):
        way *= step
        ways.append(way)
    return ways


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
    """The lower side of the hull; written out flat, for films spend much of their time here."""
    chain: list[Point] = []
    size = 0
    for p in ordered:
        px, py = p
        while size >= 2:
            (ax, ay), (bx, by) = chain[-2], chain[-1]
            if (bx - ax) * (py - ay) - (by - ay) * (px - ax) > 0:
                break
            chain.pop()
            size -= 1
        chain.append(p)
        size += 1
    return chain


def blob(circles: list[tuple[float, float, float]], fill: str, ink: str | None, width: float) -> Polygon:
    """Return the hull of several circles (x, y, r): a soft shape such as a body or a shoe.

    In each of 48 directions the circle that reaches farthest gives the outline's point: exact where it is round, and
    a pixel's part off where it is straight.

    >>> len(blob([(0.0, 0.0, 5.0), (20.0, 0.0, 2.0)], "#000000", None, 0.0).points)
    48
    """
    return Polygon(_outline(tuple(circles)), fill, ink, width)


@lru_cache(maxsize=64)
def _outline(circles: tuple[tuple[float, float, float], ...]) -> tuple[Point, ...]:
    import numpy as np

    ways, round_ = _ways(), np.array(circles)
    reach = ways @ round_[:, :2].T + round_[:, 2]
    farthest = round_[reach.argmax(axis=1)]
    outline = farthest[:, :2] + farthest[:, 2:] * ways
    return tuple(map(tuple, outline.tolist()))


@cache
def _ways() -> Any:
    """The directions in which a blob is measured, shape (48, 2)."""
    import numpy as np

    return np.array(arc_points(0.0, 0.0, 1.0, start_deg=0, end_deg=360, steps=48)[:-1])
