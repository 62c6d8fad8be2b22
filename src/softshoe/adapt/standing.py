"""A seated dance danced on one's feet, in place: the same counts, with sound weight.

A foot whose next action is by the other foot must take the weight first; one that moves again at once must not. Steps
become touches and touches become steps where that is so; both-feet actions want both feet down and leave both down.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.adapt.change import Remade, remade
from softshoe.dance.feet import Foot, Weight, weight_on
from softshoe.dance.footwork import danced
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from softshoe.dance.action import Action

BEARS = "standing, the foot takes the weight here so that the other is free"
FREE = "standing, the same foot moves again, so it keeps no weight here"
PLACE = "beside the standing foot is home"


def standing(actions: tuple[Action, ...]) -> Remade:
    """Return the actions with sound footwork, standing in place; the counts stay. Read as a wall that comes again."""
    feet = [action.foot for action in actions if action.foot is not None]
    following = iter([*feet[1:], *feet[:1]])
    return remade(_one(a, next(following)) if a.foot is not None else (a, _unsaid(a), "") for a in actions)


def start_weight(actions: tuple[Action, ...]) -> Weight:
    """Return what bears before count 1 when these actions are danced over and over."""
    first = next((a.foot for a in actions if a.foot is not None), Foot.RIGHT)
    guess = Weight.BOTH if first is Foot.BOTH else weight_on(first.other)
    events = danced(actions, weight=guess)
    return events[-1].weight if events else guess


def _unsaid(action: Action) -> Action:
    return replace(action, weight_said=None)


def _one(action: Action, following: Foot) -> tuple[Action, Action, str]:
    foot = action.foot
    plain = replace(_unsaid(action), dir=Direction.TOGETHER if action.dir is Direction.CENTRE else action.dir)
    if foot is Foot.BOTH:
        return action, _unsaid(action), ""
    takes = VERB[action.verb].weight in ("foot", "both")
    if following is foot and takes:
        return action, replace(plain, verb="stomp-up" if action.verb == "stomp" else "touch"), FREE
    if following is not foot and not takes:
        return action, replace(plain, verb="step", dir=Direction.TOGETHER), BEARS
    return action, plain, PLACE
