"""Seated actions for hands alone: feet may stay on footrests. Same counts and side; the dance's own arms come first."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.adapt.change import Remade, as_hold, remade
from softshoe.adapt.tables import SEATED
from softshoe.dance.arms import ArmMove
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from softshoe.dance.action import Action

REST = (Direction.CENTRE, Direction.IN_PLACE, Direction.TOGETHER)
ON_ITSELF = ("pat", "clap")  # the body is where they go; they have no other way
INSTEAD = "a hand does what the foot did, on the same side"
OWN = "the dance's own arms stay; the feet rest"


def arms_only(actions: tuple[Action, ...]) -> Remade:
    """Return the actions for hands alone, with every change and its reason."""
    return remade(_one(action) for action in actions)


def _one(action: Action) -> tuple[Action, Action, str]:
    if action.foot is None:
        return action, action, ""
    still = replace(as_hold(action), verb="arms")
    own = tuple(arm for arm in action.arms if arm.place != "foot")
    if own:
        return action, replace(still, arms=own), OWN
    return action, replace(still, arms=(_hand(action),)), INSTEAD


def _hand(action: Action) -> ArmMove:
    row = SEATED[action.verb]
    side = action.foot or Foot.BOTH
    if action.dir in REST and row.hands in ("push", "rest", "sweep", "reach", "circle") and action.verb != "sweep":
        return ArmMove(side, "rest", "lap")
    toward = action.dir if action.dir not in REST and row.hands not in ON_ITSELF else None
    return ArmMove(side, row.hands, row.hand_place, toward)
