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
    from softshoe.dance.counts import Count

HOME = (Direction.CENTRE, Direction.IN_PLACE, Direction.TOGETHER)
LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True)
class Remade:
    """Actions of the same counts, and the changes that led to them."""

    actions: tuple[Action, ...]
    changes: tuple[Change, ...] = ()


def changed(
    was: tuple[Action, ...],
    now: tuple[Action, ...],
    at: Count,
    reasons: tuple[str, ...],
    sources: tuple[str, ...] = ("common practice",),
) -> Change | None:
    """Return the change of one moment; None where nothing a dancer would notice was changed."""
    if _words(was) == _words(now) or _alike(was, now):
        return None
    why = "; ".join(reasons) or "so that the steps around it stay possible"
    return Change(at, _words(was), _words(now) or LEFT_OUT, why, "; ".join(sources) or "common practice")


def _words(actions: tuple[Action, ...]) -> str:
    return "; ".join(action_words(action) for action in actions)


def _alike(was: tuple[Action, ...], now: tuple[Action, ...]) -> bool:
    """True where only the name of home was changed: "home" is "beside the other" on a chair."""
    return len(was) == len(now) and all(
        a.dir in HOME and b.dir in HOME and action_words(a) == action_words(replace(b, dir=a.dir))
        for a, b in zip(was, now, strict=True)
    )


def remade(pairs: Iterable[tuple[Action, Action, str]]) -> Remade:
    """Collect (was, now, reason): pairs that say the same in words are no change."""
    kept, changes = [], []
    for was, now, reason in pairs:
        kept.append(now)
        change = changed((was,), (now,), now.at, (reason,))
        if change is not None:
            changes.append(change)
    return Remade(tuple(kept), tuple(changes))
