"""The walls of a run as links, the counts added to them as diamonds, the counts left over as open beads."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.render.look import mix, palette, typeface
from softshoe.render.look_plan import plan_marks
from softshoe.render.stage import Circle, Line, Mark, Polygon, Text, arc_points

if TYPE_CHECKING:
    from softshoe.render.fit_rows import Piece
    from softshoe.render.stage import Point

THICK, GAP = 3.4, 2.0
ROUND, TOOTH = 16.0, 7.0
NUMBER, SECTION = 22, 14
LEAST_FOR_PLAN, LEAST_FOR_NAME, LEAST_FOR_CLOCK = 84.0, 140.0, 190.0


def link(
    piece: Piece, left: float, right: float, top: float, high: float, *, slot: float, section: int, turns: bool
) -> list[Mark]:
    """Return a wall, or a part of it, as a link: its number, its facing, its sections; torn where a restart ends it.

    A part behind a bridge has a flat left edge, one that a bridge or the song's end cuts a flat right one.
    """
    colours = palette()
    ink = colours["ink"]
    a, b = left + GAP, right - GAP
    marks: list[Mark] = [Polygon(_outline(piece, a, b, top, high), colours["paper"], ink, THICK)]
    marks += _sections(piece, left, top, high, slot=slot, section=section)
    room = b - a - 14 - (TOOTH if piece.cut else 0.0)
    if piece.first == 1 and room > typeface().width(str(piece.wall), size=NUMBER, bold=True):
        named = b - a > LEAST_FOR_NAME
        words = f"wall {piece.wall}" if named else str(piece.wall)
        marks.append(Text(a + 9, top + 27, words, NUMBER, ink, bold=True))
        after = a + (98 if named else 42)
        if turns and b - a > LEAST_FOR_PLAN:
            marks += plan_marks(after + 14, top + 20, 24, facing_deg=piece.facing_deg)
        if turns and b - a > LEAST_FOR_CLOCK:
            marks.append(Text(after + 32, top + 26, clock(piece.facing_deg), SECTION + 2, ink))
    return marks


def _outline(piece: Piece, a: float, b: float, top: float, high: float) -> tuple[Point, ...]:
    low, r = top + high, min(ROUND, (b - a) / 2)
    points: list[Point] = []
    if piece.first == 1:
        points += arc_points(a + r, low - r, r, start_deg=180, end_deg=270, steps=5)
        points += arc_points(a + r, top + r, r, start_deg=270, end_deg=360, steps=5)
    else:
        points += [(a, low), (a, top)]
    if piece.cut:
        teeth = 6
        points += [(b - (TOOTH if k % 2 else 0.0), top + high * k / teeth) for k in range(teeth + 1)]
    elif piece.whole:
        points += arc_points(b - r, top + r, r, start_deg=0, end_deg=90, steps=5)
        points += arc_points(b - r, low - r, r, start_deg=90, end_deg=180, steps=5)
    else:
        points += [(b, top), (b, low)]
    return tuple(points)


def _sections(piece: Piece, left: float, top: float, high: float, *, slot: float, section: int) -> list[Mark]:
    """Thin lines between the sections, and their numbers along the lower edge."""
    soft = palette()["soft"]
    light = mix(soft, palette()["paper"], 0.45)
    marks: list[Mark] = []
    last = piece.first + piece.counts - 1
    for number in range((piece.first - 1) // section, (last - 1) // section + 1):
        begins, ends = max(piece.first, number * section + 1), min(last, (number + 1) * section)
        x0, x1 = (left + slot * (count - piece.first) for count in (begins, ends + 1))
        if begins > piece.first:
            marks.append(Line(((x0, top + high * 0.56), (x0, top + high - 3)), light, 1.6))
        if x1 - x0 > 18 and piece.counts > section:
            marks.append(Text((x0 + x1) / 2, top + high - 9, str(number + 1), SECTION, soft, anchor="middle"))
    return marks


def diamonds(left: float, mid: float, counts: int, slot: float) -> list[Mark]:
    """Return a diamond for every count that is added."""
    colours = palette()
    r = min(7.0, slot * 0.44)
    marks: list[Mark] = []
    for k in range(counts):
        x = left + slot * (k + 0.5)
        shape = ((x, mid - 1.7 * r), (x + r, mid), (x, mid + 1.7 * r), (x - r, mid))
        marks.append(Polygon(shape, mix(colours["accent"], colours["paper"], 0.8), colours["accent"], 2.4))
    return marks


def held(left: float, mid: float, counts: int, slot: float) -> list[Mark]:
    """Return an open bead for every count that is left over at the end."""
    colours = palette()
    r = min(5.0, slot * 0.42)
    return [Circle(left + slot * (k + 0.5), mid, r, colours["paper"], colours["ink"], 2.0) for k in range(counts)]
