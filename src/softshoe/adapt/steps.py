"""What feet can do instead: the rows of ``steps.csv`` applied until nothing that is ruled out is left.

Every row changes one action for one limit; several limits are met by rows applied one after the other, so any
combination of abilities has candidates. A count without feet is always one of them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product
from typing import TYPE_CHECKING

from softshoe.adapt.limits import LIMITS, of_feet
from softshoe.adapt.seat_places import SIDE, home_on_chair, on_the_chair
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from softshoe.dance.action import Action

D = Direction
CLOCK = (D.FORWARD, D.FORWARD_RIGHT, D.RIGHT, D.BACK_RIGHT, D.BACK, D.BACK_LEFT, D.LEFT, D.FORWARD_LEFT)
EIGHTH_DEG = 45
SIDEWAYS = {D.FORWARD_LEFT: D.LEFT, D.BACK_LEFT: D.LEFT, D.FORWARD_RIGHT: D.RIGHT, D.BACK_RIGHT: D.RIGHT}
LENGTHWAYS = {D.FORWARD_LEFT: D.FORWARD, D.BACK_LEFT: D.BACK, D.FORWARD_RIGHT: D.FORWARD, D.BACK_RIGHT: D.BACK}
SHIFTING = ("raise", "lower", "swivel", "bump")  # both feet: the words say what bears afterwards
MOST_ROWS = 4  # rows applied one after the other to one action
ALWAYS = "weight"
REST = "left out"


@dataclass(frozen=True, slots=True)
class Row:
    """One row of ``steps.csv``: for which verbs, directions and limits, what instead, and why."""

    verbs: tuple[str, ...]
    dirs: tuple[str, ...]
    limits: tuple[str, ...]
    foot: str
    instead: str
    to: str
    turn: str
    reason: str
    source: str

    def meets(self, action: Action, broken: frozenset[str]) -> bool:
        """True when the row is meant for this action under one of these limits."""
        return (
            any(limit in broken for limit in self.limits)
            and ("*" in self.verbs or action.verb in self.verbs)
            and ("*" in self.dirs or (action.dir is not None and action.dir.value in self.dirs))
        )


@dataclass(frozen=True, slots=True)
class Steps:
    """What feet do at one time, with how many single rows led there, the reasons and their sources."""

    feet: tuple[Action, ...]
    pieces: int = 0
    reasons: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    moved: bool = False
    weighed: bool = False


ROWS = tuple(
    Row(
        tuple(r["verbs"].split(";")), tuple(r["dirs"].split(";")), tuple(r["limits"].split(";")),
        r["foot"], r["instead"], r["to"], r["turn"], r["reason"], r["source"],
    )
    for r in table("adapt/steps")
)  # fmt: skip


def steps_instead(feet: tuple[Action, ...], limits: frozenset[str]) -> tuple[Steps, ...]:
    """Return what these feet can do within the limits, as written first where that is allowed, none last."""
    if not feet:
        return (Steps(()),)
    found: dict[tuple[Action, ...], Steps] = {}
    for combination in product(*(_instead(action, limits) for action in feet)):
        one = _together(combination)
        if "to seat" in limits:
            one = replace(one, feet=tuple(home_on_chair(action) for action in one.feet))
        found.setdefault(one.feet, one)
    reason = "; ".join(LIMITS[one].reason for one in sorted(of_feet(feet, limits))) or REST
    found.setdefault((), Steps((), 1, (reason,), ("common practice",)))
    return tuple(found.values())


def _together(parts: Iterable[Steps]) -> Steps:
    given = tuple(parts)
    feet: dict[Foot | None, Action] = {}
    for part in given:
        for action in part.feet:
            feet.setdefault(action.foot, action)
    if Foot.BOTH in feet:
        feet = {Foot.BOTH: feet[Foot.BOTH]}
    return Steps(
        tuple(feet.values()),
        sum(p.pieces for p in given),
        tuple(dict.fromkeys(r for p in given for r in p.reasons)),
        tuple(dict.fromkeys(s for p in given for s in p.sources)),
    )


@lru_cache(maxsize=4096)
def _instead(action: Action, limits: frozenset[str]) -> tuple[Steps, ...]:
    """Return what one action can become, breadth first; the order of the table decides between equals."""
    kept: list[Steps] = []
    seen: set[tuple[Action, ...]] = {(action,)}
    waiting = [Steps((action,))]
    while waiting:
        one = waiting.pop(0)
        broken = of_feet(one.feet, limits)
        if not broken:
            kept.append(one)
        usable = broken or frozenset(_further(limits, weighed=one.weighed))
        for further in _one_row_on(one, usable) if one.pieces < MOST_ROWS else ():
            if further.feet not in seen:
                seen.add(further.feet)
                waiting.append(further)
    return tuple(kept)


def _further(limits: frozenset[str], *, weighed: bool) -> Iterator[str]:
    """What may be altered where nothing is broken, so that the steps around it stay possible."""
    if "seat" not in limits and not weighed:
        yield ALWAYS
    if "chair" in limits:
        yield "near"
    if "to seat" in limits:
        yield "room"


def _one_row_on(one: Steps, broken: frozenset[str]) -> Iterator[Steps]:
    action = one.feet[0]
    rows = [row for row in ROWS if row.meets(action, broken)]
    if "to seat" in broken:
        now, why = on_the_chair(action)
        yield Steps((now,), one.pieces + 1, (*one.reasons, why), (*one.sources, "our own rule"), weighed=one.weighed)
    for row in rows:
        made = _made(row, action, broken)
        if made is not None:
            weighed = one.weighed or ALWAYS in row.limits
            reasons, sources = (*one.reasons, row.reason), (*one.sources, row.source)
            yield Steps((made,), one.pieces + 1, reasons, sources, weighed=weighed)


def _made(row: Row, action: Action, broken: frozenset[str]) -> Action | None:
    """Return the action of a row; None where it asks for nothing that this foot can do."""
    foot = _foot(row, action, broken)
    if foot is None:
        return None
    swapped = action.foot is foot.other and foot is not Foot.BOTH
    given = action.mirrored if swapped else replace(action, foot=foot)
    verb = action.verb if row.instead == "=" else row.instead
    place = _place(row.to, given)
    if place is None:
        place = VERB[verb].home
    keeps_said = not swapped and (verb == action.verb or (foot is Foot.BOTH and verb in SHIFTING))
    now = replace(
        given,
        verb=verb,
        dir=place,
        turn_deg=action.turn_deg if row.turn == "=" else 0,
        weight_said=action.weight_said if keeps_said else None,
    )
    return now if now != action else None


def _foot(row: Row, action: Action, broken: frozenset[str]) -> Foot | None:
    foot = action.foot
    if row.foot == "=" or foot is None:
        return foot
    if foot is Foot.BOTH:
        resting = Foot.LEFT if "left foot" in broken else Foot.RIGHT
        return resting.other if row.foot == "able" else None
    return foot.other


def _place(to: str, action: Action) -> Direction | None:
    foot, now = action.foot or Foot.BOTH, action.dir
    if to == "=":
        return SIDE[foot] if now is D.APART and foot in SIDE else now
    if to == "unturned":
        return _unturned(now, action.turn_deg)
    if to == "sideways":
        return SIDEWAYS.get(now, now) if now else now
    if to == "lengthways":
        return LENGTHWAYS.get(now, now) if now else now
    return Direction(to)


def _unturned(now: Direction | None, turn_deg: int) -> Direction | None:
    """The way in the room that the step would have gone after its turn, seen by a dancer who hasn't turned."""
    if now not in CLOCK or turn_deg % EIGHTH_DEG:
        return now
    return CLOCK[(CLOCK.index(now) + turn_deg // EIGHTH_DEG) % len(CLOCK)]
