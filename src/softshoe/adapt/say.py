"""An action in plain words, for the list of changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

PLACE_WORDS = {Direction.CENTRE: "home", Direction.IN_PLACE: "in place", Direction.TOGETHER: "beside the other"}
HANDS = {Foot.LEFT: "left hand", Foot.RIGHT: "right hand", Foot.BOTH: "both hands"}
HAND_PLACES = {
    "lap": "in the lap",
    "thigh": "on the thighs",
    "knee": "on the knees",
    "hip": "at the hips",
    "head": "at the head",
    "overhead": "over the head",
    "foot": "above the foot",
}
PARTS = {  # named by the part of the foot that does it: one foot, both
    "heel": ("heel", "heels"),
    "touch": ("toe", "toes"),
    "hitch": ("knee", "knees"),
    "raise": ("heel", "heels"),
    "lower": ("heel", "heels"),
    "swivel": ("heel", "heels"),
    "fan": ("toes", "toes"),
}
DOES = {"sweep": "circle on the floor", "stomp-up": "stomp without weight", "swivel": "swing", "fan": "swing"}
SILENT = ("heel", "touch", "hitch", "raise", "lower")  # the part says it all


def dir_words(direction: Direction | None) -> str:
    """Return a direction as a leader says it; "" for none."""
    if direction is None:
        return ""
    return PLACE_WORDS.get(direction, direction.value)


def arm_words(arm: ArmMove) -> str:
    """Return one arm move: "both hands: push forward, at the chest"."""
    place = f", {_hand_place(arm)}" if arm.place else ""
    toward = f" {dir_words(arm.toward)}" if arm.toward else ""
    return f"{HANDS[arm.side]}: {arm.gesture}{toward}{place}"


def _hand_place(arm: ArmMove) -> str:
    words = HAND_PLACES.get(arm.place or "", f"at the {arm.place}")
    return words if arm.side is Foot.BOTH else words.removesuffix("s") if words.startswith("on the ") else words


def action_words(action: Action) -> str:
    """Return what is done: "right heel forward; both hands: push forward, at the chest"."""
    said = []
    if action.foot is not None:
        said.append(_foot_words(action, action.foot))
    elif action.verb == "hold":
        said.append("hold")
    if action.turn_deg:
        said.append(f"turn {abs(action.turn_deg)} degrees {'right' if action.turn_deg > 0 else 'left'}")
    said += [arm_words(arm) for arm in action.arms]
    return "; ".join(said)


def _foot_words(action: Action, foot: Foot) -> str:
    both = foot is Foot.BOTH
    who = "both" if both else foot.word
    part = PARTS.get(action.verb, ("foot", "feet"))[both]
    does = "" if action.verb in SILENT else DOES.get(action.verb, action.verb)
    colon = ":" if action.verb not in PARTS else ""
    return " ".join(word for word in (who, f"{part}{colon}", does, dir_words(action.dir)) if word)
