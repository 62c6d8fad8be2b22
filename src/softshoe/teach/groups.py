"""Four counts (three in a waltz) that are called together, with their name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.teach.patterns import hands_beside, pattern_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance


@dataclass(frozen=True, slots=True)
class Group:
    """Counts called together: the first, how many, what they are called, whether there is a turn in them, and what the
    hands do beside the feet ("hands push and pull", "open and cross arms", "" for nothing).
    """

    first: int
    counts: int
    words: str
    turns: bool
    hands: str = ""

    def ways(self, words: str) -> tuple[str, ...]:
        """Return the ways to call these words, the one with the hands first."""
        return (f"{words}, {self.hands}", words) if self.hands else (words,)


def group_counts(dance: Dance) -> int:
    """Return how many counts are called together: half a section."""
    return dance.counts_per_section // 2


def groups(actions: Sequence[Action], counts: int, *, size: int) -> tuple[Group, ...]:
    """Return the groups of these actions, in order; the last may be shorter."""
    found = []
    for first in range(1, counts + 1, size):
        length = min(size, counts - first + 1)
        inside = [action for action in actions if first <= action.at.whole < first + length]
        turns = any(action.turn_deg for action in inside)
        found.append(Group(first, length, pattern_words(inside, waltz=size == 3), turns, hands_beside(inside)))
    return tuple(found)
