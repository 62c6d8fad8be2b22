"""What the checks look at in a dance."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance, Ending, Tag


def extras(dance: Dance) -> tuple[Tag | Ending, ...]:
    """Return the tags and endings."""
    return (*dance.tags, *dance.endings)


def all_actions(dance: Dance) -> list[Action]:
    """Return the actions of the wall, its tags and endings."""
    return [*dance.actions, *(a for extra in extras(dance) for a in extra.actions)]


def moment(at: Count) -> str:
    """Return a count as findings write it: counted from 0."""
    return str(at.moment)
