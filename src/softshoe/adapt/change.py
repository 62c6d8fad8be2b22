"""What one adaptation gives: the remade actions and what was changed, each with its reason."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.adapt.say import action_words
from softshoe.adapt.version import Change
from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.action import Action


HOME = (Direction.CENTRE, Direction.IN_PLACE, Direction.TOGETHER)


@dataclass(frozen=True, slots=True)
class Remade:
    """Actions of the same counts, and the changes that led to them."""

    actions: tuple[Action, ...]
    changes: tuple[Change, ...] = ()


def changed(was: Action, now: Action, reason: str) -> Change:
    """Return the change of one action."""
    return Change(now.at, action_words(was), action_words(now), reason)


def remade(pairs: Iterable[tuple[Action, Action, str]]) -> Remade:
    """Collect (was, now, reason): pairs that say the same in words are no change."""
    kept, changes = [], []
    for was, now, reason in pairs:
        kept.append(now)
        if not _alike(was, now):
            changes.append(changed(was, now, reason))
    return Remade(tuple(kept), tuple(changes))


def _alike(was: Action, now: Action) -> bool:
    """True where nothing a dancer would notice was changed: "home" is "beside the other" on a chair."""
    at_home = was.dir in HOME and now.dir in HOME
    return action_words(was) == action_words(replace(now, dir=was.dir) if at_home else now)


def one_a_count(actions: tuple[Action, ...]) -> tuple[Action, ...]:
    """Leave out a hold where something else is done at the same moment, and doubled actions of one foot."""
    seen: set[tuple[object, object]] = set()
    kept = []
    for action in actions:
        key = (action.at, action.foot)
        if action.foot is not None and key in seen:
            continue
        seen.add(key)
        kept.append(action)
    busy = {a.at for a in kept if a.verb != "hold"}
    return tuple(a for a in kept if a.verb != "hold" or a.at not in busy)


def as_hold(action: Action) -> Action:
    """Return a hold at the same moment."""
    return replace(action, foot=None, verb="hold", dir=None, turn_deg=0, arms=(), weight_said=None)
