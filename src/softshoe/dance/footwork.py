"""The footwork machine: what bears the dancer and where she looks after each action.

Seated, the seat bears throughout. Standing, an action of one foot that takes the weight hands it to that foot; an
action of both feet that takes weight or moves both leaves it on both; the words win where they say what bears.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.action import Action, Event
from softshoe.dance.facing import turned
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.dance import Dance, Tag


def weight_after(action: Action, before: Weight) -> Weight:
    """Return what bears the dancer after the action; on a chair always the seat."""
    if before is Weight.SEAT:
        return Weight.SEAT
    return action.weight_said or borne(action.foot, action.verb, before)


def borne(foot: Foot | None, verb: str, before: Weight) -> Weight:
    """Return what bears a standing dancer after a foot's verb, where no words say it."""
    if foot is Foot.BOTH:
        return Weight.BOTH
    bears = VERB[verb].weight
    if bears == "foot" and foot is not None:
        return Weight.LEFT if foot is Foot.LEFT else Weight.RIGHT
    return Weight.BOTH if bears == "both" else before


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
    for action in dance.actions:
        if action.at.whole > after_count:
            break
        weight = weight_after(action, weight)
        if action.turn_deg:
            facing = turned(facing, action.turn_deg)
    return weight, facing


def tag_events(dance: Dance, tag: Tag) -> tuple[Event, ...]:
    """Return the events of a tag: its facing begins at 0, its weight goes on from the dance."""
    weight, _ = state_after(dance, tag.after_count)
    return danced(tag.actions, weight=weight)


def net_turn_deg(dance: Dance) -> int:
    """Return the facing at the end of one wall, 0 to 359."""
    return sum(a.turn_deg for a in dance.actions if a.turn_deg and a.at.whole <= dance.counts) % 360


def mirrored(actions: Iterable[Action]) -> tuple[Action, ...]:
    """Left becomes right everywhere; time stays."""
    return tuple(action.mirrored for action in actions)
