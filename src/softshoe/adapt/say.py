"""An action in plain words, for the list of changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

PLACE_WORDS = {Direction.CENTRE: "home", Direction.IN_PLACE: "in place", Direction.TOGETHER: "beside the other"}
SIDES = {Foot.LEFT: "left hand", Foot.RIGHT: "right hand", Foot.BOTH: "both hands"}
VERB_WORDS = {
    "touch": "toe touch",
    "sweep": "circle on the floor",
    "hitch": "knee lift",
    "stomp-up": "stomp, no weight",
}


def dir_words(direction: Direction | None) -> str:
    """Return a direction as a leader says it; "" for none."""
    if direction is None:
        return ""
    return PLACE_WORDS.get(direction, direction.value)


def arm_words(arm: ArmMove) -> str:
    """Return one arm move: "both hands push forward at the chest"."""
    place = f" at the {arm.place}" if arm.place else ""
    toward = f" {dir_words(arm.toward)}" if arm.toward else ""
    return f"{SIDES[arm.side]} {arm.gesture}{toward}{place}"


def action_words(action: Action) -> str:
    """Return what is done: "right heel forward, a quarter left, both hands push"."""
    said = []
    if action.foot is not None:
        verb = VERB_WORDS.get(action.verb, action.verb)
        said.append(" ".join(word for word in (action.foot.word, verb, dir_words(action.dir)) if word))
    elif action.verb == "hold":
        said.append("hold")
    if action.turn_deg:
        said.append(f"turn {abs(action.turn_deg)} degrees {'right' if action.turn_deg > 0 else 'left'}")
    said += [arm_words(arm) for arm in action.arms]
    return ", ".join(said)
