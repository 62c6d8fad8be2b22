"""The plan of the room: its front wall thick, an arrow where the dancer looks, a turn as an arc ticked at each eighth.

One drawing for sheet, picture and film. ``facing_deg`` is clockwise from 12 o'clock, and 12 o'clock is up.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from softshoe.render.look import palette
from softshoe.render.stage import Arc, Line, Mark, Point, Polygon

if TYPE_CHECKING:
    from typing import Literal

EIGHTH_DEG = 45
ARROW = ((-0.62, -0.17), (0.22, -0.17), (0.22, -0.55), (1.0, 0.0), (0.22, 0.55), (0.22, 0.17), (-0.62, 0.17))
ARROW_R, ARC_R = 0.36, 0.42  # of the plan's side


def plan_marks(
    x: float,
    y: float,
    size: float,
    *,
    facing_deg: float,
    turn_deg: float = 0.0,
    when: Literal["to come", "done"] = "to come",
) -> list[Mark]:
    """Return a plan about (x, y), ``size`` wide: an arrow where the dancer looks, and a turn clockwise by ``turn_deg``,
    from there ("to come") or that led there ("done")."""
    colours = palette()
    half = size / 2
    corner: list[Point] = [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]
    wall = max(size * 0.055, 1.6)
    marks: list[Mark] = [
        Polygon(tuple(corner), colours["paper"], colours["soft"], max(size * 0.02, 1.0)),
        Line((corner[0], corner[1]), colours["ink"], wall),
    ]
    if turn_deg:
        start = facing_deg if when == "to come" else facing_deg - turn_deg
        marks += turn_arc(x, y, size * ARC_R, facing_deg=start, turn_deg=turn_deg)
    return marks + arrow_marks(x, y, size * ARROW_R, facing_deg, colours["ink"])


def arrow_marks(x: float, y: float, r: float, deg: float, colour: str) -> list[Mark]:
    """Return an arrow about (x, y) that points ``deg`` clockwise from straight up, ``r`` long to its tip."""
    turn = math.radians(deg)
    return [
        Polygon(
            tuple(
                (x + r * (a * math.sin(turn) + b * math.cos(turn)), y - r * (a * math.cos(turn) - b * math.sin(turn)))
                for a, b in ARROW
            ),
            colour,
        )
    ]


def turn_arc(x: float, y: float, r: float, *, facing_deg: float, turn_deg: float) -> list[Mark]:
    """Return an arc from a facing through a turn (clockwise positive), with a tick an eighth."""
    accent = palette()["accent"]
    turn_deg = max(-360.0, min(360.0, turn_deg))
    start, end = sorted((facing_deg, facing_deg + turn_deg))
    marks: list[Mark] = [Arc(x, y, r, start, end, accent, r * 0.12)]
    way = 1 if turn_deg > 0 else -1
    for k in range(1, int(abs(turn_deg) // EIGHTH_DEG) + 1):
        t = math.radians(facing_deg + way * EIGHTH_DEG * k)
        inner, outer = ((x + r * f * math.sin(t), y - r * f * math.cos(t)) for f in (0.90, 1.12))
        marks.append(Line((inner, outer), accent, r * 0.08))
    return marks
