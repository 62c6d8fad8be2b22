"""Hands: rows of ``data/look/hands.csv``, one shape a hand, laid along the fingers and across to the thumb.

A hand seen from its edge is thin, one that points at us is short; a palm that looks at us shows its hollow.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.figure.motion import HAND_SHAPES
from softshoe.render.look import mix, palette
from softshoe.render.stage import Capsule, Circle, Line, Mark, blob
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.render.picture_figure import Item, Spot

OUTLINE_PX = 2.2
LINE_M, LINE_LEAST_PX = 0.008, 1.0  # between fingers; thinner than this they are left out
THUMB_ALONG, THUMB_ACROSS = 0.42, 0.3  # where the thumb's joint point lies, in hand lengths (``figure.arms``)
SPREAD, THINNEST = ("flat", "open"), 0.55  # hands that are thin seen from their edge: of their breadth; design value
COMES = 0.4  # of its length: a finger that comes so far towards us lies over the hand
PALM_SEEN = 0.35  # how far a palm must look at us for its hollow to show
HOLLOW_M, HOLLOW_AT, HOLLOW, LINES = 0.026, 0.44, 0.2, 0.7  # shares of the outline's colour on the skin's
BEFORE, PALM, AFTER = ("thumb", "finger"), ("palm", "fingers"), ("line", "over")  # as they lie over each other


class Part(NamedTuple):
    """One part: what it is, its ends along and across [hand lengths], its radii there [m]."""

    part: str
    start: tuple[float, float]
    r0_m: float
    end: tuple[float, float]
    r1_m: float


@cache
def parts() -> dict[str, tuple[Part, ...]]:
    """Return the parts of every shape, the first drawn first."""
    made: dict[str, list[Part]] = {shape: [] for shape in HAND_SHAPES}
    for row in table("look/hands"):
        along, across, r0, to_along, to_across, r1 = (
            float(row[key]) for key in ("along", "across", "r_m", "to_along", "to_across", "to_r_m")
        )
        made[row["shape"]].append(Part(row["part"], (along, across), r0, (to_along, to_across), r1))
    return {shape: tuple(found) for shape, found in made.items()}


class _Hand:
    """A hand on the screen: ``at(along, across)``, how far its palm looks at us (-1 to 1)."""

    def __init__(self, wrist: Spot, tip: Spot, thumb: Spot, side: str, hand_m: float, *, mirrored: bool) -> None:
        self.wrist, self.size = wrist, wrist[3]
        self.way = tip[0] - wrist[0], tip[1] - wrist[1]
        self.side = tuple((thumb[i] - wrist[i] - THUMB_ALONG * self.way[i]) / THUMB_ACROSS for i in (0, 1))
        plane = (self.way[0] * self.side[1] - self.way[1] * self.side[0]) / max((hand_m * self.size) ** 2, 1e-6)
        self.palm = max(-1.0, min(1.0, plane * (1.0 if (side == "right") is not mirrored else -1.0)))
        self.comes = (tip[2] - wrist[2]) / max(hand_m, 1e-6)

    def at(self, along: float, across: float) -> tuple[float, float]:
        x = self.wrist[0] + along * self.way[0] + across * self.side[0]
        return x, self.wrist[1] + along * self.way[1] + across * self.side[1]


def hand_item(wrist: Spot, tip: Spot, thumb: Spot, *, side: str, shape: str, hand_m: float, mirrored: bool) -> Item:
    """Return a hand of a shape as (nearness, marks). ``hand_m`` is how long a hand is, wrist to fingertip;
    ``mirrored``: right stands on the right of the picture though the dancer faces us."""
    hand, rows = _Hand(wrist, tip, thumb, side, hand_m, mirrored=mirrored), parts()[shape]
    thin = THINNEST + (1 - THINNEST) * abs(hand.palm) if shape in SPREAD else 1.0
    marks = [mark for row in rows if row.part in BEFORE for mark in _part(row, hand, thin)]
    marks.append(_palm([row for row in rows if row.part in PALM], hand, thin))
    if shape in SPREAD and hand.palm > PALM_SEEN:
        marks.append(Circle(*hand.at(HOLLOW_AT, 0.0), HOLLOW_M * hand.size, _shade(HOLLOW)))
    marks += [mark for row in rows if row.part in AFTER for mark in _part(row, hand, thin)]
    if shape == "point" and hand.comes > COMES:
        marks += [mark for row in rows if row.part == "finger" for mark in _part(row, hand, thin)]
    return (wrist[2] + tip[2]) / 2 + 0.06, marks


def _palm(rows: Sequence[Part], hand: _Hand, thin: float) -> Mark:
    """The palm, and the fingers that lie together on it, as one shape."""
    balls = []
    for row in rows:
        for place, r_m in ((row.start, row.r0_m), (row.end, row.r1_m)):
            balls.append((*hand.at(*place), r_m * hand.size * thin))
    return blob(balls, palette()["skin"], palette()["outline"], OUTLINE_PX)


def _part(row: Part, hand: _Hand, thin: float) -> Sequence[Mark]:
    colours, (x0, y0), (x1, y1) = palette(), hand.at(*row.start), hand.at(*row.end)
    if row.part == "line":
        wide = LINE_M * hand.size
        told = wide >= LINE_LEAST_PX and (thin == 1.0 or abs(hand.palm) > PALM_SEEN)
        return [Line(((x0, y0), (x1, y1)), _shade(LINES), wide)] if told else []
    r0, r1 = row.r0_m * hand.size * thin, row.r1_m * hand.size * thin
    return [Capsule(x0, y0, r0, x1, y1, r1, colours["skin"], colours["outline"], OUTLINE_PX)]


def _shade(share: float) -> str:
    return mix(palette()["skin"], palette()["outline"], share)
