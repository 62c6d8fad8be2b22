"""The ring, the foot seen from above, letters and stripes: each a function from a place on the page to marks.

Shape and letter say it; colour says it again. Sizes are those of the page. Plan and rail have modules of their own.
"""

from __future__ import annotations

import math

from softshoe.render.look import palette
from softshoe.render.stage import Arc, Capsule, Circle, Line, Mark, Point, Polygon, Text

GAP_DEG = 7.0


def ring(x: float, y: float, r: float, *, counts: int, done: int, label: str, thick: float) -> list[Mark]:
    """Return the ring of a phrase (eight counts, six in waltz): links fill clockwise from the top, the present one in
    the accent and thicker; the count stands large inside. ``done`` counts from 1; 0 leaves the ring empty."""
    colours = palette()
    marks: list[Mark] = []
    link = 360.0 / counts
    for k in range(counts):
        present = k + 1 == done
        ink = colours["accent"] if present else colours["ink"] if k < done else colours["rule"]
        wide = thick * (1.55 if present else 1.0)
        marks.append(Arc(x, y, r, k * link + GAP_DEG / 2, (k + 1) * link - GAP_DEG / 2, ink, wide))
    size = round(r * (1.16 if len(label) < 2 else 0.86))
    marks.append(Text(x, y + size * 0.365, label, size, colours["ink"], bold=True, anchor="middle", face="count"))
    return marks


def foot_print(
    x: float,
    y: float,
    size: float,
    *,
    side: str,
    bears: float,
    toe_deg: float = 0.0,
    bar: bool = True,
    plate: bool = True,
) -> list[Mark]:
    """Return a foot from above: round, with a heel line, its letter, and a ground bar as long as the weight it bears.

    Left is striped, right solid; the free foot (``bears`` under a quarter) is open. ``bar`` and ``plate`` leave the
    ground bar and the letter away."""
    colours = palette()
    own = colours[side]
    turn = math.radians(toe_deg)
    heel, ball = _along(x, y, -0.30 * size, turn), _along(x, y, 0.24 * size, turn)
    free = bears < 0.25
    ground = colours["paper"] if free else own if side == "right" else colours["left_pale"]
    sole = Capsule(*heel, 0.22 * size, *ball, 0.29 * size, ground, own, 0.055 * size)
    marks: list[Mark] = [sole]
    if side == "left" and not free:
        marks += stripes(sole, 4, own)
    across = [_aside(heel, 0.21 * size * way, turn, 0.13 * size) for way in (-1, 1)]
    marks.append(Line((across[0], across[1]), own if free else colours["ink"], 0.05 * size))
    if plate:
        marks += letter(ball[0], ball[1], 0.2 * size, side=side, filled=not free)
    if bar and not free:
        half, low = 0.42 * size * bears, y + 0.66 * size
        marks.append(Capsule(x - half, low, 0.05 * size, x + half, low, 0.05 * size, colours["ink"]))
    return marks


def _along(x: float, y: float, far: float, turn: float) -> Point:
    return x + far * math.sin(turn), y - far * math.cos(turn)


def _aside(centre: Point, way: float, turn: float, up: float) -> Point:
    x, y = _along(centre[0], centre[1], up, turn)
    return x + way * math.cos(turn), y + way * math.sin(turn)


def letter(x: float, y: float, r: float, *, side: str, filled: bool) -> list[Mark]:
    """Return the letter L or R on its plate: light on the side's colour when filled, else the colour on paper."""
    colours = palette()
    own = colours[side]
    plate, ink = (own, colours["paper"]) if filled else (colours["paper"], own)
    size = max(8, round(r * 1.55))
    return [
        Circle(x, y, r, plate, own, max(1.2, r * 0.16)),
        Text(x, y + size * 0.355, side[0].upper(), size, ink, bold=True, anchor="middle"),
    ]


def stripes(tube: Capsule, bands: int, colour: str) -> list[Mark]:
    """Return stripes across a tapered limb, inside its outline."""
    dx, dy = tube.x1 - tube.x0, tube.y1 - tube.y0
    length = math.hypot(dx, dy)
    if length < 2 * bands:
        return []
    ux, uy = dx / length, dy / length
    marks: list[Mark] = []
    for band in range(bands):
        first, last = (band + 0.28) / bands, (band + 0.78) / bands
        edge = []
        for share, turn in ((first, 1), (last, 1), (last, -1), (first, -1)):
            half = (tube.r0 + (tube.r1 - tube.r0) * share - tube.width / 2) * turn
            edge.append((tube.x0 + dx * share - uy * half, tube.y0 + dy * share + ux * half))
        marks.append(Polygon(tuple(edge), colour))
    return marks
