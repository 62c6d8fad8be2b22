"""A picture in words, for those who hear the page: which foot does what, where it goes, what bears, where one looks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.dance.feet import Foot, Weight

if TYPE_CHECKING:
    from softshoe.dance.action import Action, Event
    from softshoe.dance.arms import ArmMove

BEARS = {
    Weight.LEFT: "the left foot bears the weight",
    Weight.RIGHT: "the right foot bears the weight",
    Weight.BOTH: "both feet bear the weight",
    Weight.SEAT: "the seat bears the weight",
}


def described(event: Event) -> str:
    """Return what a picture of this event shows, as one or two sentences.

    >>> from softshoe.dance.action import Action, Event
    >>> from softshoe.dance.counts import Count
    >>> from softshoe.dance.places import Direction
    >>> described(Event(Action(Count.at_moment(0), Foot.RIGHT, "heel", Direction.FORWARD), Weight.LEFT, 0))
    'Count 1: right foot, heel forward; the left foot bears the weight.'
    """
    action = event.action
    parts = [_move(action), *(_turn(action, event.facing_deg)), BEARS[event.weight]]
    return f"Count {action.at.label}: {'; '.join(part for part in parts if part)}.{_arms(action.arms)}"


def _move(action: Action) -> str:
    who = "" if action.foot is None else "both feet, " if action.foot is Foot.BOTH else f"{action.foot.word} foot, "
    what = {"arms": "", "hold": "nothing moves"}.get(action.verb, action.verb)
    where = f" {action.dir.value}" if action.dir is not None and what else ""
    return f"{who}{what}{where}"


def _turn(action: Action, facing_deg: int) -> list[str]:
    if not action.turn_deg:
        return []
    way = "right" if action.turn_deg > 0 else "left"
    return [f"a turn of {abs(action.turn_deg)} degrees to the {way}, to face {clock(facing_deg)}"]


def _arms(arms: tuple[ArmMove, ...]) -> str:
    return "".join(f" {_arm(arm)}." for arm in arms)


def _arm(arm: ArmMove) -> str:
    whose = {Foot.LEFT: "Left hand", Foot.RIGHT: "Right hand"}.get(arm.side, "Both hands")
    place = f", {arm.place}" if arm.place else ""
    toward = f" {arm.toward.value}" if arm.toward else ""
    return f"{whose}: {arm.gesture}{toward}{place}"
