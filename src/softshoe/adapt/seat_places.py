"""A standing action brought to a chair: its verb by the table, its place by rule, no turn, nothing past the midline."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.adapt.limits import ON_THE_SPOT
from softshoe.adapt.tables import SEATED
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.adapt.choices import Choice
    from softshoe.dance.action import Action

D = Direction
SIDE = {Foot.LEFT: D.LEFT, Foot.RIGHT: D.RIGHT}
FORWARD_DIAGONAL = {Foot.LEFT: D.FORWARD_LEFT, Foot.RIGHT: D.FORWARD_RIGHT}
BACK_DIAGONAL = {Foot.LEFT: D.BACK_LEFT, Foot.RIGHT: D.BACK_RIGHT}
FIXED = {"home": D.CENTRE, "forward": D.FORWARD, "back": D.BACK, "up": D.UP, "down": D.DOWN, "circle": D.CENTRE}
PLAIN = {D.TOGETHER: D.CENTRE, D.IN_PLACE: D.CENTRE, D.ACROSS_FRONT: D.FORWARD, D.ACROSS_BEHIND: D.BACK}
CROSSED = "crossed feet pass the midline"
LOOK_DEG = 30


def seated_place(foot: Foot, direction: Direction | None) -> Direction | None:
    """Return where a foot goes on a chair: on its own side or straight, never past the middle.

    >>> seated_place(Foot.RIGHT, Direction.ACROSS_FRONT).value
    'forward'
    """
    if direction is None or foot is Foot.BOTH:
        return direction
    if direction in (D.LEFT, D.RIGHT):
        return direction if direction is SIDE[foot] else D.CENTRE
    if direction in FORWARD_DIAGONAL.values():
        return direction if direction is FORWARD_DIAGONAL[foot] else D.FORWARD
    if direction in BACK_DIAGONAL.values():
        return SIDE[foot] if direction is BACK_DIAGONAL[foot] else D.CENTRE
    return PLAIN.get(direction, direction)


def home_on_chair(action: Action) -> Action:
    """Return the action with its place named as a chair knows it: beside the other foot, and in place, are home."""
    if SEATED[action.verb].place != "table" or action.dir not in (D.TOGETHER, D.IN_PLACE) or action.foot is Foot.BOTH:
        return action
    return replace(action, dir=D.CENTRE)


def in_place(choices: Sequence[Choice]) -> tuple[Choice, ...]:
    """Return the choices with steps that were written in place, of a foot that is home, said so again: a march."""
    home = {Foot.LEFT: True, Foot.RIGHT: True}
    found = []
    for choice in choices:
        marched = {a.foot for a in choice.was.feet if a.verb == "step" and a.dir is D.IN_PLACE}
        feet = []
        for action in choice.now.feet:
            foot = action.foot
            marches = action.verb == "step" and action.dir is D.CENTRE and foot in marched
            feet.append(replace(action, dir=D.IN_PLACE) if marches and foot and home.get(foot) else action)
            if (
                foot in home
                and foot is not None
                and action.dir not in (D.UP, D.DOWN)
                and action.verb not in ON_THE_SPOT
            ):
                home[foot] = action.dir in (D.CENTRE, D.IN_PLACE, D.TOGETHER)
        found.append(replace(choice, now=replace(choice.now, feet=tuple(feet))))
    return tuple(found)


def on_the_chair(action: Action) -> tuple[Action, str]:
    """Return what an action of a foot becomes on a chair, with the reason."""
    row = SEATED[action.verb]
    foot = _foot(action, row.place)
    place = action.dir
    if row.place in FIXED:
        place = FIXED[row.place]
    elif row.place == "table" and foot is not None:
        place = seated_place(foot, action.dir)
    crossed = place is not action.dir and action.dir in (D.ACROSS_FRONT, D.ACROSS_BEHIND)
    reason = CROSSED if crossed else row.reason
    if action.turn_deg:
        way = "right" if action.turn_deg > 0 else "left"
        reason = f"the chair stays: look {way} up to {LOOK_DEG} degrees instead of turning; {reason}"
    return replace(action, foot=foot, verb=row.seated_verb, dir=place, turn_deg=0, weight_said=None), reason


def _foot(action: Action, place: str) -> Foot | None:
    """The foot that does it: on a pivot the one that stood forward draws the circle."""
    if place != "circle" or action.foot is None:
        return action.foot
    if action.foot is Foot.BOTH:
        return Foot.RIGHT if action.turn_deg <= 0 else Foot.LEFT  # the outer foot of the turn
    return action.foot.other
