"""From what a person can and may do to the kind of version, and what is softened in it beyond the kind."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.adapt.change import Remade, remade
from softshoe.dance.feet import Foot

if TYPE_CHECKING:
    from softshoe.adapt.version import Abilities, Kind
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

HIGH = ("shoulder", "head", "overhead")
LOW = "hands stay below the shoulder for this dancer"


def kind_for(abilities: Abilities) -> Kind:
    """Return the kind of version that serves these abilities best."""
    if not abilities.feet:
        return "arms"
    if len(abilities.sides) == 1 and abilities.sides[0] is not Foot.BOTH:
        return "left" if abilities.sides[0] is Foot.LEFT else "right"
    if abilities.support == "seat":
        return "seated"
    return "standing" if abilities.support == "free" and abilities.turns else "supported"


def softened(actions: tuple[Action, ...], abilities: Abilities) -> Remade:
    """Return the actions with hands kept low where the dancer's must be."""
    if abilities.arms_high:
        return Remade(actions)
    return remade((a, replace(a, arms=tuple(_low(arm) for arm in a.arms)), LOW) for a in actions)


def _low(arm: ArmMove) -> ArmMove:
    return replace(arm, place="chest") if arm.place in HIGH else arm
