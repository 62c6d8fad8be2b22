"""Seated actions for one side: the able foot and hand dance, the other side rests. Same counts.

Parts between counts are left out. An action of the other foot brings the able foot home if it is out, and is done by
the able foot, mirrored, if that is home. A clap becomes a pat on the own thigh.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.adapt.change import Remade, changed, one_a_count, remade
from softshoe.adapt.version import Change
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

HOME = (Direction.CENTRE, Direction.IN_PLACE, Direction.TOGETHER, None)
OUT_VERBS = ("step", "touch", "point", "heel", "kick", "drag", "drop")
BETWEEN = "parts between counts are left out: one side would have to hurry"
OTHER = "the other side rests: the able foot does it instead"
COMES_HOME = "the other side rests: the able foot uses the count to come home"
BOTH = "the other side rests: this side does it alone"


def one_sided(actions: tuple[Action, ...], side: Foot) -> Remade:
    """Return the actions for the able ``side`` (left or right), with every change and its reason."""
    whole = tuple(a for a in actions if a.at.at.denominator == 1)
    dropped = [a for a in actions if a.at.at.denominator != 1]
    left_out = [Change(a.at, changed(a, a, "").was, "left out", BETWEEN) for a in dropped]
    where = [Direction.CENTRE]
    made = remade(_one(action, side, where) for action in whole)
    return Remade(one_a_count(made.actions), (*made.changes, *left_out))


def _one(action: Action, side: Foot, where: list[Direction]) -> tuple[Action, Action, str]:
    arms = tuple(_hand(arm, side) for arm in action.arms)
    now, reason = replace(action, arms=arms), BOTH
    if action.foot is side.other and where[0] not in HOME:
        now = replace(now, foot=side, verb="step", dir=Direction.CENTRE)
        reason = COMES_HOME
    elif action.foot is side.other:
        now, reason = replace(action.mirrored, arms=arms), OTHER
    elif action.foot is Foot.BOTH:
        now = replace(now, foot=side)
    if now.foot is side and now.verb in OUT_VERBS and now.dir is not None:
        where[0] = now.dir
    return action, now, reason


def _hand(arm: ArmMove, side: Foot) -> ArmMove:
    if arm.gesture == "clap":
        return replace(arm, side=side, gesture="pat", place="thigh")
    return arm.mirrored if arm.side is side.other else replace(arm, side=side)
