"""The arm gestures of the trade: how the dance events write each, what it asks for, what is most like it without that.

One row of ``trade_gestures.csv`` a gesture. ``toward`` is told from the hand: "side" its own side, "over" the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.dance.arms import ArmMove
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.arms import Place

ASKS = ("overhead", "shoulder", "crossing", "behind", "both", "grip")
WITHOUT = {  # column of the gesture most alike: the limits under which it is danced instead
    "low": ("overhead",),
    "lower": ("high arms",),
    "uncrossed": ("crossing",),
    "before": ("behind",),
    "open": ("grip",),
    "alone": ("left hand", "right hand", "one hand"),
}
OWN_SIDE = {Foot.RIGHT: Direction.RIGHT, Foot.LEFT: Direction.LEFT}
OVER = {
    Foot.RIGHT: (Direction.LEFT, Direction.FORWARD_LEFT, Direction.BACK_LEFT),
    Foot.LEFT: (Direction.RIGHT, Direction.FORWARD_RIGHT, Direction.BACK_RIGHT),
}
BEHIND = (Direction.BACK, Direction.BACK_LEFT, Direction.BACK_RIGHT, Direction.ACROSS_BEHIND)
TURNS = "rotate"  # its way is that of the thumb


@dataclass(frozen=True, slots=True)
class TradeGesture:
    """One gesture of the trade; ``asks`` some of ``ASKS``, ``instead`` ids of other rows by column of ``WITHOUT``."""

    id: str
    words: str
    gesture: str
    place: Place | None
    toward: str
    asks: frozenset[str]
    instead: dict[str, str]
    source: str

    def arm(self, side: Foot) -> ArmMove:
        """Return the gesture as the dance events write it for this hand."""
        return ArmMove(side, self.gesture, self.place, way_of(self.toward, side))


def way_of(toward: str, side: Foot) -> Direction | None:
    """Return the direction of a way told from the hand; both hands go to their own sides."""
    if toward == "side":
        return OWN_SIDE.get(side, Direction.APART)
    if toward == "over":
        return OVER[side][0] if side in OVER else Direction.ACROSS_FRONT
    return Direction(toward) if toward else None


def crosses(arm: ArmMove) -> bool:
    """True where one hand is sent past the middle to the other side."""
    return arm.gesture != TURNS and arm.side in OVER and arm.toward in OVER[arm.side]


def goes_behind(arm: ArmMove) -> bool:
    """True where a hand goes behind the body; a pull only comes back to the ribs."""
    return arm.gesture not in (TURNS, "pull") and arm.toward in BEHIND


def _row(row: dict[str, str]) -> TradeGesture:
    return TradeGesture(
        row["id"], row["words"], row["gesture"], row["place"] or None, row["toward"],  # type: ignore[arg-type]
        frozenset(one for one in ASKS if row[one]), {one: row[one] for one in WITHOUT if row[one]}, row["source"],
    )  # fmt: skip


TRADE_GESTURES = {row["id"]: _row(row) for row in table("adapt/trade_gestures")}


def replacements() -> Iterator[tuple[TradeGesture, TradeGesture, tuple[str, ...]]]:
    """Yield a gesture, the one most like it, and the limits under which that is danced instead."""
    for one in TRADE_GESTURES.values():
        for column, other in one.instead.items():
            yield one, TRADE_GESTURES[other], WITHOUT[column]
