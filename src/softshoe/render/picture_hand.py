"""Hands: rows of ``data/look/hands.csv``, one shape a hand, laid along the fingers and across to the thumb.

A hand seen from its edge is thin, one that points at us is short; a palm that looks at us shows its hollow.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.render.look import mix, palette
from softshoe.render.picture_hand_parts import AFTER, BEFORE, PALM, hand_parts
from softshoe.render.stage import Capsule, Circle, Line, Mark, blob

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.figure.motion import HandShape
    from softshoe.render.picture_figure import Item, Spot
    from softshoe.render.picture_hand_parts import Part

OUTLINE_PX = 2.2
LINE_M, LINE_LEAST_PX = 0.008, 1.0  # between fingers; thinner than this they are left out
THUMB_ALONG, THUMB_ACROSS = 0.42, 0.3  # where the thumb's joint point lies, in hand lengths (``figure.arms``)
SPREAD, THINNEST = ("flat", "open"), 0.55  # hands that are thin seen from their edge: of their breadth; design value
NOT_THIN, HOLLOW_FROM = 0.999, 0.7  # of its breadth; how spread a hand must be for its hollow to show
COMES = 0.4  # of its length: a finger that comes so far towards us lies over the hand
PALM_SEEN = 0.35  # how far a palm must look at us for its hollow to show
HOLLOW_M, HOLLOW_AT, HOLLOW, LINES = 0.026, 0.44, 0.2, 0.7  # shares of the outline's colour on the skin's


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


def hand_item(
    wrist: Spot, tip: Spot, thumb: Spot, *, side: str, shape: HandShape, hand_m: float, mirrored: bool
) -> Item:
    """Return a hand as (nearness, marks). ``hand_m`` is how long a hand is, wrist to fingertip; ``mirrored``: right
    stands on the right of the picture though the dancer faces us."""
    hand, rows = _Hand(wrist, tip, thumb, side, hand_m, mirrored=mirrored), hand_parts(shape)
    spread = shape.gone * (shape.now in SPREAD) + (1 - shape.gone) * (shape.before in SPREAD)
    thin = 1 - spread * (1 - THINNEST) * (1 - abs(hand.palm))
    marks = [mark for row in rows if row.part in BEFORE for mark in _part(row, hand, thin)]
    marks.append(_palm([row for row in rows if row.part in PALM], hand, thin))
    if spread > HOLLOW_FROM and hand.palm > PALM_SEEN:
        marks.append(Circle(*hand.at(HOLLOW_AT, 0.0), HOLLOW_M * hand.size, _shade(HOLLOW)))
    marks += [mark for row in rows if row.part in AFTER for mark in _part(row, hand, thin)]
    if "point" in (shape.before, shape.now) and hand.comes > COMES:
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
        told = wide >= LINE_LEAST_PX and (thin > NOT_THIN or abs(hand.palm) > PALM_SEEN)
        return [Line(((x0, y0), (x1, y1)), _shade(LINES), wide)] if told else []
    r0, r1 = row.r0_m * hand.size * thin, row.r1_m * hand.size * thin
    return [Capsule(x0, y0, r0, x1, y1, r1, colours["skin"], colours["outline"], OUTLINE_PX)]


def _shade(share: float) -> str:
    return mix(palette()["skin"], palette()["outline"], share)
