"""Differences of counts in words: a leader's, not a programmer's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.teach.patterns import pattern_words
from softshoe.teach.words import arm_phrase, turn_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action

ONLY = {
    "foot": "{counts} by the other foot: {new}",
    "way": "{counts} another way: “{old}” is now “{new}”",
    "time": "{counts} at other moments: {old_at} is now {new_at}",
    "arms": "{counts}, the arms: {old_arms} now {new_arms}",
    "turn": "{counts}: {old_turn}, now {new_turn}",
    "mirrored": "{counts} mirrored",
    "changed": "{counts}: “{old}” is now “{new}”",
}


def counts_words(first: int, last: int) -> str:
    """Return the counts in words.

    >>> counts_words(13, 16), counts_words(4, 4), counts_words(0, 0)
    ('counts 13–16', 'count 4', 'the “&” before count 1')
    """
    if last == 0:
        return "the “&” before count 1"
    first = max(first, 1)
    return f"counts {first}–{last}" if last > first else f"count {last}"


def danced_words(actions: Sequence[Action], *, waltz: bool) -> str:
    """Return what a few counts are called; a longer stretch by its first counts."""
    return pattern_words(actions, waltz=waltz) if actions else "nothing"


def now_words(kind: str, counts: tuple[int, int], old: Sequence[Action], new: Sequence[Action], *, waltz: bool) -> str:
    """Return the sentence for counts that became something else."""
    said = {"old": danced_words(old, waltz=waltz), "new": danced_words(new, waltz=waltz)}
    if kind == "changed" and said["old"] == said["new"]:
        said = {"old": _each(old), "new": _each(new)}
    return ONLY[kind].format(
        counts=counts_words(*counts), old_at=_labels(old), new_at=_labels(new), old_arms=_arms(old),
        new_arms=_arms(new), old_turn=_turns(old), new_turn=_turns(new), **said,
    )  # fmt: skip


def _each(actions: Sequence[Action]) -> str:
    """Every action by itself, where the names of patterns hide what changed."""
    return ", ".join(
        " ".join(filter(None, (a.at.label, a.foot.word if a.foot else "", a.verb, a.dir.value if a.dir else "")))
        for a in actions
    )


def _labels(actions: Sequence[Action]) -> str:
    return " ".join(action.at.label for action in actions)


def _arms(actions: Sequence[Action]) -> str:
    said = [arm_phrase(action.arms) for action in actions if action.arms]
    return ", ".join(dict.fromkeys(said)) or "at rest"


def _turns(actions: Sequence[Action]) -> str:
    turned = sum(action.turn_deg for action in actions)
    share, _, side = turn_words(turned).rpartition(" ")
    return f"a {share} turn {side}" if turned else "no turn"
