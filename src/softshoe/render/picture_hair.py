"""Hair, or what is worn in its place: six forms, each seen from before, from the side and from behind.

Every form is three things: what lies behind the face, what lies over it, and what is seen of a head turned away.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.render.look import mix, palette
from softshoe.render.stage import Circle, Line, Mark, Point, Polygon, blob

if TYPE_CHECKING:
    from collections.abc import Callable

OUTLINE_PX = 2.2
CURLS = 11
BROW = ((0.90, 0.02), (0.74, -0.30), (0.42, -0.54), (-0.12, -0.62), (-0.52, -0.44), (-0.80, -0.22), (-0.92, 0.04))
SHORT_BROW = ((0.92, -0.16), (0.72, -0.42), (0.30, -0.56), (-0.30, -0.56), (-0.72, -0.42), (-0.93, -0.16))


@dataclass(frozen=True, slots=True)
class Head:
    """A head on the screen: its middle and radius [px], how far the face looks toward us and aside (-1 to 1)."""

    x: float
    y: float
    r: float
    toward: float
    aside: float


def hair_behind(form: str, head: Head) -> list[Mark]:
    """Return what lies behind the face."""
    return _BEHIND[form](head)


def hair_over(form: str, head: Head) -> list[Mark]:
    """Return what lies over the face."""
    return _OVER[form](head)


def hair_away(form: str, head: Head) -> list[Mark]:
    """Return the head of one who looks away."""
    return _AWAY[form](head)


def _ball(x: float, y: float, r: float, fill: str) -> Circle:
    return Circle(x, y, r, fill, palette()["outline"], OUTLINE_PX)


def _cap(head: Head, size: float = 1.02, down: float = -0.08) -> Mark:
    x, y, r = head.x, head.y, head.r
    return _ball(x - head.aside * 0.16 * r, y + down * r, size * r, palette()["hair"])


def _bun(head: Head) -> Mark:
    """High on the back of the head: it peeps over the crown from the front and lies on the hair from behind."""
    lift = 1.02 if head.toward > 0 else 1.02 + 0.55 * head.toward
    return _ball(head.x - head.aside * 0.85 * head.r, head.y - lift * head.r, 0.40 * head.r, palette()["hair"])


def _cloud(head: Head) -> list[Mark]:
    """Round curls about the head, and one within that joins them."""
    x, y, r, hair = head.x - head.aside * 0.16 * head.r, head.y - 0.14 * head.r, head.r, palette()["hair"]
    curls: list[Mark] = []
    for k in range(CURLS):
        turn = math.radians(-126 + 252 * k / (CURLS - 1))
        curls.append(_ball(x + 0.98 * r * math.sin(turn), y - 0.94 * r * math.cos(turn), 0.34 * r, hair))
    return [*curls, Circle(x, y - 0.1 * r, 1.0 * r, hair)]


def _fall(head: Head, *, wide: float, low: float) -> Mark:
    """Hair or cloth that falls from the crown to the shoulders."""
    x, y, r = head.x - head.aside * 0.22 * head.r, head.y, head.r
    circles = [
        (x, y - 0.08 * r, 1.05 * r),
        (x - wide * r, y + low * r, 0.26 * r),
        (x + wide * r, y + low * r, 0.26 * r),
    ]
    return blob(circles, palette()["hair"], palette()["outline"], OUTLINE_PX)


def _fringe(brow: tuple[Point, ...]) -> Callable[[Head], list[Mark]]:
    def drawn(head: Head) -> list[Mark]:
        cx, cy, r = head.x + head.aside * 0.02 * head.r, head.y - 0.08 * head.r, head.r
        reach = 84 if brow is BROW else 76
        outer = [_clock(cx, cy, 1.02 * r, deg) for deg in range(-reach, reach + 1, 12)]
        inner = [(cx + _inside(px + head.aside * 0.25, py) * r, cy + py * r) for px, py in brow]
        return [Polygon(tuple(outer + inner), palette()["hair"], palette()["outline"], OUTLINE_PX)]

    return drawn


def _curled_brow(head: Head) -> list[Mark]:
    r, hair = head.r, palette()["hair"]
    places = ((-0.72, -0.56), (-0.38, -0.76), (0.0, -0.84), (0.38, -0.76), (0.72, -0.56))
    return [
        Circle(head.x + _inside(px + head.aside * 0.3, py) * r, head.y + py * r, 0.27 * r, hair) for px, py in places
    ]


def _wrapped(head: Head) -> list[Mark]:
    """Cloth round the face, crossed under the chin."""
    fx, fy, r = head.x + head.aside * 0.30 * head.r, head.y + 0.20 * head.r, head.r
    outer = [_clock(head.x, head.y - 0.04 * r, 1.06 * r, deg) for deg in range(0, 361, 10)]
    inner = [(fx + 0.74 * r * math.sin(t), fy - 0.84 * r * math.cos(t)) for t in _round_the_clock()]
    cloth = palette()["hair"]
    seam = [_clock(head.x, head.y - 0.04 * r, 1.06 * r, deg) for deg in range(-150, 151, 10)]
    return [
        Polygon(tuple(outer + inner), cloth),
        Line(tuple(inner), palette()["outline"], OUTLINE_PX),
        Line(tuple(seam), palette()["outline"], OUTLINE_PX),
    ]


def _round_the_clock() -> list[float]:
    return [math.radians(deg) for deg in range(360, -1, -10)]


def _bald(head: Head) -> list[Mark]:
    return [_ball(head.x - head.aside * 0.10 * head.r, head.y - 0.06 * head.r, 0.99 * head.r, palette()["skin"])]


def _parting(head: Head) -> list[Mark]:
    """Long hair seen from behind: two soft lines that tell it from a hood."""
    x, y, r = head.x, head.y, head.r
    ink = mix(palette()["hair"], palette()["outline"], 0.5)
    return [Line(((x + s * 0.3 * r, y - 0.2 * r), (x + s * 0.38 * r, y + 0.9 * r)), ink, 1.6) for s in (-1, 1)]


def _inside(px: float, py: float) -> float:
    """Hair never leaves the head, however far it is turned."""
    edge = math.sqrt(max(0.96 - py * py, 0.0))
    return max(-edge, min(edge, px))


def _clock(x: float, y: float, r: float, deg: float) -> Point:
    return x + r * math.sin(math.radians(deg)), y - r * math.cos(math.radians(deg))


def _long(head: Head) -> Mark:
    return _fall(head, wide=0.82, low=1.10)


def _scarf(head: Head) -> Mark:
    return _fall(head, wide=0.86, low=1.22)


_BEHIND: dict[str, Callable[[Head], list[Mark]]] = {
    "bun": lambda head: [_bun(head), _cap(head)],
    "short": lambda head: [_cap(head, 1.0, -0.12)],
    "curls": _cloud,
    "long": lambda head: [_long(head)],
    "scarf": lambda head: [_scarf(head)],
    "none": _bald,
}
_OVER: dict[str, Callable[[Head], list[Mark]]] = {
    "bun": _fringe(BROW),
    "short": _fringe(SHORT_BROW),
    "curls": _curled_brow,
    "long": _fringe(BROW),
    "scarf": _wrapped,
    "none": lambda _: [],
}
_AWAY: dict[str, Callable[[Head], list[Mark]]] = {
    "bun": lambda head: [_cap(head, 1.05, -0.04), _bun(head)],
    "short": lambda head: [_cap(head, 1.02, -0.06)],
    "curls": _cloud,
    "long": lambda head: [_long(head), *_parting(head)],
    "scarf": lambda head: [_scarf(head)],
    "none": _bald,
}
