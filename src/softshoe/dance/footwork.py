"""The footwork machine: what bears the dancer and where she looks after each action.

Seated, the seat bears throughout. Standing, an action of one foot that takes the weight hands it to that foot; an
action of both feet that takes weight or moves both leaves it on both; the words win where they say what bears.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.action import Action, Event
from softshoe.dance.facing import turned
from softshoe.dance.feet import Foot, Weight, weight_on
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.dance import Dance, Tag


def weight_after(action: Action, before: Weight) -> Weight:
    """Return what bears the dancer after the action; on a chair always the seat."""
    if before is Weight.SEAT:
        return Weight.SEAT
    if action.weight_said is not None:
        return action.weight_said
    if action.foot is Foot.BOTH:
        return Weight.BOTH
    bears = VERB[action.verb].weight
    if bears == "both":
        return Weight.BOTH
    return weight_on(action.foot) if bears == "foot" and action.foot is not None else before


def danced(actions: Iterable[Action], *, weight: Weight, facing_deg: int = 0) -> tuple[Event, ...]:
    """Dance the actions in order from a weight and a facing [degrees] and return their events."""
    events = []
    for action in actions:
        weight = weight_after(action, weight)
        facing_deg = turned(facing_deg, action.turn_deg)
        events.append(Event(action, weight, facing_deg))
    return tuple(events)


def wall_events(dance: Dance) -> tuple[Event, ...]:
    """Return the events of one wall, begun facing 12 o'clock."""
    return danced(dance.actions, weight=dance.start_weight)


def state_after(dance: Dance, after_count: int) -> tuple[Weight, int]:
    """Return the weight and the facing [degrees] when whole count ``after_count`` of a wall is over."""
    weight, facing = dance.start_weight, 0
    for event in wall_events(dance):
        if event.action.at.whole > after_count:
            break
        weight, facing = event.weight, event.facing_deg
    return weight, facing


def tag_events(dance: Dance, tag: Tag) -> tuple[Event, ...]:
    """Return the events of a tag: its facing begins at 0, its weight goes on from the dance."""
    weight, _ = state_after(dance, tag.after_count)
    return danced(tag.actions, weight=weight)


def net_turn_deg(dance: Dance) -> int:
    """Return the facing at the end of one wall, 0 to 359."""
    return state_after(dance, dance.counts)[1]


def mirrored(actions: Iterable[Action]) -> tuple[Action, ...]:
    """Left becomes right everywhere; time stays."""
    return tuple(action.mirrored for action in actions)
