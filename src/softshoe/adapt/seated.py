"""Standing actions made over for a chair: verbs by the table, places by rule, no turn, no crossing, nothing drifts.

The chair has room for one step each way, so travel becomes out and in: a foot that would step where it already is comes
home. Parts too quick for one foot (under half a second from its last) are left out where the tempo is known.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.adapt.change import Remade, changed, remade
from softshoe.adapt.tables import SEATED
from softshoe.adapt.version import Change
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.adapt.tables import SeatedVerb
    from softshoe.dance.action import Action

D = Direction
SIDE = {Foot.LEFT: D.LEFT, Foot.RIGHT: D.RIGHT}
FORWARD_DIAGONAL = {Foot.LEFT: D.FORWARD_LEFT, Foot.RIGHT: D.FORWARD_RIGHT}
FIXED = {"home": D.CENTRE, "forward": D.FORWARD, "back": D.BACK, "up": D.UP, "down": D.DOWN, "circle": D.CENTRE}
PLAIN = {
    D.TOGETHER: D.CENTRE,
    D.IN_PLACE: D.CENTRE,
    D.ACROSS_FRONT: D.FORWARD,
    D.ACROSS_BEHIND: D.BACK,
}
DIAGONALS = (D.FORWARD_LEFT, D.FORWARD_RIGHT)
BACK_DIAGONALS = (D.BACK_LEFT, D.BACK_RIGHT)
SIDES = (D.LEFT, D.RIGHT)
SAME_FOOT_S = 0.5
CROSSED = "crossed feet pass the midline"
ROOM = "a chair has room for one step each way: the foot comes home"
LOOK_DEG = 30
WALKS = ("step", "stomp")  # what travels standing; a rock presses where the foot is
LIFTED = "there is no time to set a lifted foot down: the heel marks the beat on the floor"


def seated_place(foot: Foot, direction: Direction | None) -> Direction | None:
    """Return where a foot goes on a chair: on its own side or straight, never past the middle.

    >>> seated_place(Foot.RIGHT, Direction.ACROSS_FRONT).value
    'forward'
    """
    if direction is None or foot is Foot.BOTH:
        return direction
    if direction in SIDES:
        return direction if direction is SIDE[foot] else D.CENTRE
    if direction in DIAGONALS:
        return direction if direction is FORWARD_DIAGONAL[foot] else D.FORWARD
    if direction in BACK_DIAGONALS:
        return SIDE[foot] if direction is FORWARD_DIAGONAL_BACK[foot] else D.CENTRE
    return PLAIN.get(direction, direction)


FORWARD_DIAGONAL_BACK = {Foot.LEFT: D.BACK_LEFT, Foot.RIGHT: D.BACK_RIGHT}


def seated(actions: tuple[Action, ...], *, counts_per_min: float | None = None) -> Remade:
    """Return the actions for a chair with every change and its reason; the counts stay."""
    where: dict[Foot, Direction] = {Foot.LEFT: D.CENTRE, Foot.RIGHT: D.CENTRE}
    made = remade(_one(action, where) for action in actions)
    if counts_per_min is None:
        return made
    kept, dropped = _slow_enough(made.actions, counts_per_min)
    return Remade(kept, (*made.changes, *dropped))


def _one(action: Action, where: dict[Foot, Direction]) -> tuple[Action, Action, str]:
    row = SEATED[action.verb]
    foot = _foot(action, row, where)
    place = action.dir
    if row.place in FIXED:
        place = FIXED[row.place]
    elif row.place == "table" and foot is not None:
        place = seated_place(foot, action.dir)
    reason = CROSSED if place is not action.dir and action.dir in (D.ACROSS_FRONT, D.ACROSS_BEHIND) else row.reason
    if foot in where and action.verb in WALKS and place is not D.CENTRE and where[foot] is place:
        place, reason = D.CENTRE, ROOM
    if foot in where and place is not None and place not in (D.UP, D.DOWN):
        where[foot] = place
    now = replace(action, foot=foot, verb=row.seated_verb, dir=place, turn_deg=0, weight_said=None)
    if action.turn_deg:
        reason = f"the chair stays: look {_way(action)} up to {LOOK_DEG} degrees instead of turning; {reason}"
    return action, now, reason


def _foot(action: Action, row: SeatedVerb, where: dict[Foot, Direction]) -> Foot | None:
    """The foot that moves: on a pivot the one that stood forward draws the circle."""
    if row.place != "circle" or action.foot is None:
        return action.foot
    if action.foot is Foot.BOTH:
        return Foot.LEFT if where[Foot.LEFT] is D.FORWARD else Foot.RIGHT
    return action.foot.other


def _way(action: Action) -> str:
    return "right" if action.turn_deg > 0 else "left"


def _slow_enough(actions: tuple[Action, ...], counts_per_min: float) -> tuple[tuple[Action, ...], list[Change]]:
    """Leave out parts between counts that come too soon before or after the same foot's other action."""
    reason = f"one foot has less than half a second between two actions at {counts_per_min:.0f} counts a minute"
    drop = set(_quick(actions, counts_per_min))
    changes = [Change(actions[i].at, changed(actions[i], actions[i], "").was, "left out", reason) for i in sorted(drop)]
    kept = (_grounded(actions, i, drop) for i in range(len(actions)) if i not in drop)
    made = remade((was, now, LIFTED) for was, now in kept)
    return made.actions, [*made.changes, *changes]


def _grounded(actions: tuple[Action, ...], index: int, drop: set[int]) -> tuple[Action, Action]:
    """A lifted foot whose way home was left out marks the beat with its heel on the floor instead."""
    action = actions[index]
    following = next((i for i in range(index + 1, len(actions)) if actions[i].foot is action.foot), None)
    if following not in drop or not VERB[action.verb].lifts:
        return action, action
    return action, replace(action, verb="heel", dir=D.FORWARD)


def _quick(actions: tuple[Action, ...], counts_per_min: float) -> Iterator[int]:
    for i, action in enumerate(actions):
        if action.foot is None or action.at.at.denominator == 1:
            continue
        beside = [b for b in actions if b is not action and b.foot in (action.foot, Foot.BOTH)]
        gaps = [abs(b.at.at - action.at.at) * 60 / counts_per_min for b in beside]
        if any(0 < gap < SAME_FOOT_S - 1e-9 for gap in gaps):
            yield i
