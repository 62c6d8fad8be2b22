"""Standing behind a chair: the standing counts and weights without turns, crossings or flight, close to the chair.

Steps are half size; the body stays within half a step forward or back and one step to the side of its place.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.adapt.change import Remade, remade
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

D = Direction
NO_CROSS = {D.ACROSS_FRONT: D.TOGETHER, D.ACROSS_BEHIND: D.TOGETHER}
SWAPS = {
    "pivot": ("recover", D.IN_PLACE, "no turning on planted feet: the weight comes back"),
    "turn": ("touch", D.TOGETHER, "no turn: a touch marks the beat"),
    "unwind": ("raise", D.UP, "no turn: the heels rise"),
    "jump": ("raise", D.UP, "no flight: the heels rise and the toes stay down"),
    "hop": ("step", D.IN_PLACE, "no flight: a step in place"),
    "stomp": ("step", None, "no striking of the floor: a plain step"),
    "stomp-up": ("touch", D.TOGETHER, "no striking of the floor: a touch"),
    "hook": ("touch", D.TOGETHER, "no crossing: a touch beside the other foot"),
    "flick": ("touch", D.BACK, "no leg swung behind: a toe on the floor"),
    "sweep": ("touch", D.TOGETHER, "no long stand on one leg: a touch beside the other foot"),
    "swivel": ("raise", D.UP, "no twisting on planted feet: the heels rise"),
    "lunge": ("rock", None, "no deep bend: a rock of half the size"),
}
SHIFT = {
    D.FORWARD: (0.0, 1.0),
    D.BACK: (0.0, -1.0),
    D.LEFT: (-1.0, 0.0),
    D.RIGHT: (1.0, 0.0),
    D.FORWARD_LEFT: (-1.0, 1.0),
    D.FORWARD_RIGHT: (1.0, 1.0),
    D.BACK_LEFT: (-1.0, -1.0),
    D.BACK_RIGHT: (1.0, -1.0),
}
WAY = {shift: direction for direction, shift in SHIFT.items()}
SIDE_ROOM, FORWARD_ROOM = 1.0, 1.0  # steps of this version, of half the size forward and back
NEAR = "the chair back must stay within reach"
TURN = "the dancer stays behind the chair: no turn"
HOLDS = "one hand at least stays on the chair back: the other hand does it alone"


def supported(actions: tuple[Action, ...]) -> Remade:
    """Return the standing actions as danced behind a chair, with every change and its reason; weights stay."""
    at = [0.0, 0.0]
    return remade(_one(action, at) for action in actions)


def _one(action: Action, at: list[float]) -> tuple[Action, Action, str]:
    now, reason = action, ""
    if action.verb in SWAPS:
        verb, direction, reason = SWAPS[action.verb]
        now = replace(now, verb=verb, dir=direction or now.dir, weight_said=_kept_weight(action, verb))
    if now.dir in NO_CROSS:
        now, reason = replace(now, dir=NO_CROSS[now.dir]), "no crossing behind a chair: the foot comes beside the other"
    if now.turn_deg:
        now, reason = replace(now, turn_deg=0), TURN
    near = _near(now, at)
    if near is not now.dir:
        now, reason = replace(now, dir=near), NEAR
    if any(arm.side is Foot.BOTH for arm in now.arms):
        now, reason = replace(now, arms=tuple(_one_hand(arm, now.foot) for arm in now.arms)), reason or HOLDS
    return action, now, reason


def _kept_weight(action: Action, verb: str) -> Weight | None:
    """The weight after the standing action, said where the new verb would not give it."""
    if action.weight_said is not None or action.foot is None:
        return action.weight_said
    if VERB[action.verb].weight == "both" or (action.foot is Foot.BOTH and VERB[verb].weight == "same"):
        return Weight.BOTH
    return None


def _near(action: Action, at: list[float]) -> D | None:
    """Where the step goes so that the body keeps near its place: as written, else only to the side, else in place.

    ``at`` is where the body stands, steps to the right and forward; it moves with the step.
    """
    if not VERB[action.verb].takes_weight or action.dir not in SHIFT or action.verb in ("rock", "sway"):
        return action.dir
    side, forward = SHIFT[action.dir]
    for step in ((side, forward), (side, 0.0), (0.0, forward)):
        there = (at[0] + step[0], at[1] + step[1])
        if any(step) and abs(there[0]) <= SIDE_ROOM and abs(there[1]) <= FORWARD_ROOM:
            at[:] = there
            return WAY[step]
    return D.IN_PLACE


def _one_hand(arm: ArmMove, foot: Foot | None) -> ArmMove:
    """The free hand: on the side of the moving foot, so that the other holds against the bearing leg."""
    side = foot if foot in (Foot.LEFT, Foot.RIGHT) else Foot.RIGHT
    if arm.side is not Foot.BOTH:
        return arm
    if arm.gesture == "clap":
        return replace(arm, side=side, gesture="pat", place="thigh")
    return replace(arm, side=side)
