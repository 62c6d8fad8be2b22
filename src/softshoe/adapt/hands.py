"""What arms can do instead, and what hands do where feet rest: rows of ``gestures.csv`` and ``hands.csv``.

A gesture is altered row by row until nothing that is ruled out is left. Where the feet rest, a hand does on the same
side what the foot did, if the dance has no arms of its own at that moment.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, cast

from softshoe.adapt.limits import of_arms
from softshoe.adapt.trade_gestures import crosses, replacements, way_of
from softshoe.dance.arms import ArmMove
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.action import Action
    from softshoe.dance.arms import Place

MOST_ROWS = 4
LEVEL = {Direction.UP: Direction.FORWARD}  # the way of a gesture that may no longer go up
SIDES = (Direction.LEFT, Direction.RIGHT)
STILL = "still feet"  # the hand goes along with a foot of its side that doesn't move
NO_FEET: frozenset[Foot] = frozenset()
OVER = {Foot.RIGHT: Direction.LEFT, Foot.LEFT: Direction.RIGHT}


@dataclass(frozen=True, slots=True)
class GestureRow:
    """One row of ``gestures.csv``."""

    gestures: tuple[str, ...]
    places: tuple[str, ...]
    toward: tuple[str, ...]
    limits: tuple[str, ...]
    side: str
    instead: str
    place: str
    way: str
    reason: str
    source: str

    def meets(self, arm: ArmMove, broken: frozenset[str]) -> bool:
        """True when the row is meant for this arm move under one of these limits."""
        return (
            any(limit in broken for limit in self.limits)
            and ("*" in self.gestures or arm.gesture in self.gestures)
            and ("*" in self.places or arm.place in self.places)
            and ("*" in self.toward or self._goes(arm))
        )

    def _goes(self, arm: ArmMove) -> bool:
        if arm.toward is None:
            return "" in self.toward
        own = any(way_of(one, arm.side) is arm.toward for one in self.toward if one == "side")
        return own or arm.toward.value in self.toward or ("over" in self.toward and crosses(arm))


@dataclass(frozen=True, slots=True)
class HandRow:
    """One row of ``hands.csv``: what a hand does for a foot that rests."""

    verbs: str
    dirs: tuple[str, ...]
    gesture: str
    place: str
    way: str
    side: str
    reason: str


@dataclass(frozen=True, slots=True)
class Arms:
    """What the arms do at one time, and the reasons; ``pieces`` single rows applied."""

    arms: tuple[ArmMove, ...]
    pieces: int = 0
    reasons: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def _split(text: str) -> tuple[str, ...]:
    return tuple(text.split(";"))


GESTURE_ROWS = tuple(
    GestureRow(
        _split(r["gestures"]), _split(r["places"]), _split(r["toward"]), _split(r["limits"]),
        r["side"], r["instead"], r["place"], r["way"], r["reason"], r["source"],
    )
    for r in table("adapt/gestures")
)  # fmt: skip
TRADE_ROWS = tuple(
    GestureRow(
        (one.gesture,), (one.place or "",), (one.toward,), limits, "able" if "one hand" in limits else "=",
        other.gesture, other.place or "", other.toward, f"{other.words} instead of {one.words}", other.source,
    )
    for one, other, limits in replacements()
)  # fmt: skip
HAND_ROWS = tuple(
    HandRow(r["verbs"], _split(r["dirs"]), r["gesture"], r["place"], r["way"], r["side"], r["reason"])
    for r in table("adapt/hands")
)


def arms_instead(
    arms: tuple[ArmMove, ...], limits: frozenset[str], free: Foot | None, *, feet: frozenset[Foot] = NO_FEET
) -> tuple[Arms, ...]:
    """Return what the arms can do within the limits, as written first where allowed, none last.

    ``free`` is the hand that may move where only one may, None where that is not asked; ``feet`` move at that moment,
    so that a hand can go along with them.
    """
    if not arms:
        return (Arms(()),)
    best: list[Arms] = [Arms(())]
    for arm in arms:
        options = _instead(arm, limits, free, feet, lone=len(arms) == 1)
        best = [_with(one, more) for one in best for more in options[:3]] if options else best
    found = {one.arms: one for one in best if not of_arms(one.arms, limits)}
    found.setdefault((), Arms((), 1, ("the arms rest here",), ("common practice",)))
    return tuple(found.values())


def _with(one: Arms, more: Arms) -> Arms:
    """Both together, where no hand is asked for two things: what came first stays."""
    taken = {a.side for a in one.arms}
    add = tuple(a for a in more.arms if not (a.side in taken or (taken and Foot.BOTH in (a.side, *taken))))
    reasons = tuple(dict.fromkeys((*one.reasons, *more.reasons)))
    sources = tuple(dict.fromkeys((*one.sources, *more.sources)))
    return Arms((*one.arms, *add), one.pieces + more.pieces, reasons, sources)


@lru_cache(maxsize=4096)
def _instead(
    arm: ArmMove, limits: frozenset[str], free: Foot | None, feet: frozenset[Foot], *, lone: bool
) -> tuple[Arms, ...]:
    kept: list[Arms] = []
    seen = {arm}
    waiting = [Arms((arm,))]
    while waiting:
        one = waiting.pop(0)
        broken = _broken(one.arms[0], limits, free, feet, lone=lone)
        if not broken:
            kept.append(one)
            continue
        for row in (*TRADE_ROWS, *GESTURE_ROWS):
            if one.pieces >= MOST_ROWS or not row.meets(one.arms[0], broken):
                continue
            now = _made(row, one.arms[0], broken, free)
            if now not in seen:
                seen.add(now)
                waiting.append(Arms((now,), one.pieces + 1, (*one.reasons, row.reason), (*one.sources, row.source)))
    return tuple(kept)


def _broken(
    arm: ArmMove, limits: frozenset[str], free: Foot | None, feet: frozenset[Foot], *, lone: bool
) -> frozenset[str]:
    broken = of_arms((arm,), limits)
    if "chair" in limits and free is not None and (not lone or arm.side is Foot.BOTH) and arm.side is not free:
        broken |= {"chair"}
    goes_along = arm.gesture == "follow" or arm.place == "foot"
    if goes_along and arm.side not in feet and (not feet or Foot.BOTH not in (arm.side, *feet)):
        broken |= {STILL}
    return frozenset("one hand" if one == "chair" else one for one in broken)


def _made(row: GestureRow, arm: ArmMove, broken: frozenset[str], free: Foot | None) -> ArmMove:
    side, toward = arm.side, arm.toward
    if row.side == "able":
        side = _able(arm, broken, free)
        if arm.side is side.other and toward is not None:
            toward = toward.mirrored
    place = arm.place if row.place == "=" else cast("Place | None", row.place or None)
    if row.way == "level":
        toward = LEVEL.get(toward, toward) if toward else None
    elif row.way != "=":
        toward = way_of(row.way, side)
    gesture = arm.gesture if row.instead == "=" else row.instead
    return replace(arm, side=side, gesture=gesture, place=place, toward=toward)


def _able(arm: ArmMove, broken: frozenset[str], free: Foot | None) -> Foot:
    if "left hand" in broken:
        return Foot.RIGHT
    if "right hand" in broken:
        return Foot.LEFT
    if free is not None:
        return free
    return arm.side if arm.side is not Foot.BOTH else Foot.RIGHT


def for_the_feet(feet: tuple[Action, ...]) -> Iterator[Arms]:
    """Yield what hands can do in the place of these feet, the first choice first, each with its reason."""
    action = next((a for a in feet if a.foot is not None), None)
    if action is None:
        return
    if action.turn_deg and action.verb not in ("pivot", "turn", "unwind"):
        turn = next(row for row in HAND_ROWS if row.side == "turn")
        yield Arms((_hand(turn, action),), 0, (turn.reason,), ("our own rule",))
    for row in HAND_ROWS:
        fits = row.verbs == action.verb and ("*" in row.dirs or (action.dir and action.dir.value in row.dirs))
        if fits:
            yield Arms((_hand(row, action),), 0, (row.reason,), ("our own rule",))


def _hand(row: HandRow, action: Action) -> ArmMove:
    side = action.foot or Foot.BOTH
    if row.side == "both":
        side = Foot.BOTH
    elif row.side == "turn" and action.turn_deg:
        side = Foot.RIGHT if action.turn_deg > 0 else Foot.LEFT
    way: Direction | None = None
    if row.way == "=":
        way = action.dir if action.dir in SIDES else None
    elif row.way == "over":
        way = OVER.get(side)
    elif row.way:
        way = Direction(row.way)
    return ArmMove(side, row.gesture, cast("Place", row.place), way)
