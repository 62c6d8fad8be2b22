"""The signs: each a function from a place on the page to marks. Shape and letter say it; colour says it again.

Sizes are pixels of the page; ``facing_deg`` is clockwise from 12 o'clock, and 12 o'clock is up.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from softshoe.render.look import palette
from softshoe.render.stage import Arc, Capsule, Circle, Line, Mark, Point, Polygon, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

GAP_DEG = 7.0
EIGHTH_DEG = 45


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


def beads(x: float, y: float, *, moments: Sequence[float], counts: int, step: float, r: float) -> list[Mark]:
    """Return beads on a thread: one a count, half as large on a half, smaller still on other parts; a bead where
    something is danced is filled. ``moments`` are counts from 0; the thread is ``counts`` long."""
    colours = palette()
    thread = Line(((x, y), (x + step * (counts - 1), y)), colours["rule"], max(1.5, r * 0.22))
    danced = {round(moment * 4) for moment in moments}
    marks: list[Mark] = [thread]
    marks += [
        Circle(x + step * k, y, r, colours["ink"] if 4 * k in danced else colours["paper"], colours["ink"], r * 0.22)
        for k in range(counts)
    ]
    for quarter in sorted(danced - {4 * k for k in range(counts)}):
        marks.append(Circle(x + step * quarter / 4, y, r * (0.55 if quarter % 2 == 0 else 0.36), colours["ink"]))
    return marks


def foot_print(x: float, y: float, size: float, *, side: str, bears: float, toe_deg: float = 0.0) -> list[Mark]:
    """Return a foot from above: round, with a heel line, its letter, and a ground bar as long as the weight it bears.

    Left is striped, right solid; the free foot (``bears`` under a quarter) is open."""
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
    marks += letter(ball[0], ball[1], 0.2 * size, side=side, filled=not free)
    if not free:
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


def room_plan(x: float, y: float, size: float, *, facing_deg: float, turn_deg: float = 0.0) -> list[Mark]:
    """Return a small plan of the room, 12 o'clock up: an arrow where the dancer looks, and for a turn an arc with one
    tick an eighth of a circle, from where she looks (``facing_deg``) clockwise by ``turn_deg``."""
    colours = palette()
    half = size / 2
    corner = [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]
    marks: list[Mark] = [
        Polygon(tuple(corner), colours["paper"], colours["soft"], 2.5),
        Line((corner[0], corner[1]), colours["ink"], max(5.0, size * 0.045)),
    ]
    marks += _plan_arrow(x, y, size * 0.36, facing_deg)
    if turn_deg:
        marks += turn_arc(x, y, size * 0.36, facing_deg=facing_deg, turn_deg=turn_deg)
    return marks


def _plan_arrow(x: float, y: float, r: float, facing_deg: float) -> list[Mark]:
    turn = math.radians(facing_deg)
    shape = [(-0.62, -0.17), (0.22, -0.17), (0.22, -0.55), (1.0, 0.0), (0.22, 0.55), (0.22, 0.17), (-0.62, 0.17)]
    points = tuple(
        (x + r * (a * math.sin(turn) + b * math.cos(turn)), y - r * (a * math.cos(turn) - b * math.sin(turn)))
        for a, b in shape
    )
    return [Polygon(points, palette()["ink"])]


def turn_arc(x: float, y: float, r: float, *, facing_deg: float, turn_deg: float) -> list[Mark]:
    """Return an arc from a facing through a turn (clockwise positive), with a tick an eighth and a head at its end."""
    colours = palette()
    start, end = sorted((facing_deg, facing_deg + turn_deg))
    marks: list[Mark] = [Arc(x, y, r * 1.16, start, end, colours["accent"], r * 0.10)]
    way = 1 if turn_deg > 0 else -1
    for k in range(1, int(abs(turn_deg) // EIGHTH_DEG) + 1):
        t = math.radians(facing_deg + way * EIGHTH_DEG * k)
        inner, outer = ((x + r * f * math.sin(t), y - r * f * math.cos(t)) for f in (1.06, 1.30))
        marks.append(Line((inner, outer), colours["accent"], r * 0.09))
    return marks


def rail(x: float, y: float, length: float, *, walls: Sequence[str], present: int, thick: float = 12.0) -> list[Mark]:
    """Return the rail of a song's walls down an edge: one link a wall, small links for tags ("tag"), a cut link for a
    wall that restarts ("cut"), a hook for the ending ("end"); links up to ``present`` (from 0; -1: none) are filled."""
    colours = palette()
    shares = {"tag": 0.45, "end": 0.5}
    unit = length / max(sum(shares.get(kind, 1.0) for kind in walls), 1.0)
    marks: list[Mark] = []
    top = y
    for k, kind in enumerate(walls):
        low = top + unit * shares.get(kind, 1.0)
        ink = colours["accent"] if k == present else colours["ink"] if k < present else colours["rule"]
        marks += _link(x, top + thick * 0.6, low - thick * 0.6, kind, ink, thick)
        top = low
    return marks


def _link(x: float, top: float, low: float, kind: str, ink: str, thick: float) -> list[Mark]:
    half = thick / 2 * (0.7 if kind == "tag" else 1.0)
    low = max(low, top + 0.5)
    if kind == "end":
        r = thick
        hook = Arc(x + r, low - r, r, 90, 270, ink, thick * 0.8)
        return [Capsule(x, top, half * 0.8, x, max(low - r, top), half * 0.8, ink), hook]
    link: list[Mark] = [Capsule(x, top, half, x, low, half, ink)]
    if kind == "cut":
        link.append(Line(((x - thick, low - thick * 0.2), (x + thick, low - thick)), palette()["paper"], thick * 0.42))
    return link
