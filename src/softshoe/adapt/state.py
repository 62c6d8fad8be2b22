"""Where a dancer is while a version is searched: what bears, where the feet and the body are; and what may follow."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from softshoe.adapt.costs import HOME, comes_home, walked
from softshoe.dance.checks.weights import moves_bearing
from softshoe.dance.feet import ONE, Foot, Weight
from softshoe.dance.footwork import weight_after
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

OFF_THE_FLOOR = (Direction.UP, Direction.DOWN)
WALKS = ("step", "stomp")
LIGHTLY = Direction.APART  # out, but only touching: it may step down there
ROOM = 1  # steps that a dancer behind a chair is from her place at most


class State(NamedTuple):
    """``left`` and ``right``: where the feet of a seated dancer are; ``x``, ``y``: steps from the place behind the
    chair; ``air``: the foot left in the air; ``off_deg`` how far she
    looks away from where the dance as written looks; ``last`` what was danced last.
    """

    weight: Weight
    left: Direction = Direction.CENTRE
    right: Direction = Direction.CENTRE
    x: int = 0
    y: int = 0
    air: Foot | None = None
    off_deg: int = 0
    last: tuple[tuple[Foot | None, str, Direction | None], ...] | tuple[ArmMove, ...] = ()


def after(state: State, feet: tuple[Action, ...], limits: frozenset[str]) -> tuple[State, tuple[str, ...]] | None:
    """Return the state after feet have done this and the parts of what it costs; None where it can't be."""
    parts: tuple[str, ...] = ()
    for action in feet:
        if state.weight is not Weight.SEAT and moves_bearing(action, state.weight):
            parts = (*parts, "clash")
        if "to seat" in limits and state.air in ONE and action.foot is not state.air:
            parts = (*parts, "in the air")
        state = state._replace(weight=weight_after(action, state.weight))
        found: State | None = state
        if "chair" in limits:
            found = _behind_chair(state, action)
        elif "to seat" in limits:
            found = _on_chair(state, action)
        if found is None:
            return None
        state = found
    return state, parts


def _behind_chair(state: State, action: Action) -> State | None:
    if comes_home(action):
        return state._replace(x=0, y=0)
    right, forward = walked(action)
    if not right and not forward:
        return state
    x, y = state.x + right, state.y + forward
    return state._replace(x=x, y=y) if max(abs(x), abs(y)) <= ROOM else None


def _on_chair(state: State, action: Action) -> State | None:
    """The feet of a dancer brought to a chair: none steps again to where it is, never both are in the air."""
    where = state.left if action.foot is Foot.LEFT else state.right
    out = action.dir not in HOME and action.dir is not None
    lifts = VERB[action.verb].lifts
    if action.verb in WALKS and out and where is action.dir and action.foot in ONE:
        return None
    if lifts and state.air in ONE and action.foot is not state.air:
        return None
    state = state._replace(air=action.foot if lifts else None)
    if action.dir in OFF_THE_FLOOR:
        return state
    there = Direction.CENTRE if not out or action.dir is None else action.dir if action.verb in WALKS else LIGHTLY
    return state._replace(left=there) if action.foot is Foot.LEFT else state._replace(right=there)
