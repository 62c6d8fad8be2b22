"""Names of a few counts together: "heels", "vine right", "roll, pat, clap": what a leader calls ahead of time.

Patterns are written in ``data/dance/pattern_names.csv`` as verb:place, the place seen from the moving foot (out is its
own side); "s." before it wants the foot that began the pattern, "o." the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.tables import table
from softshoe.teach.words import ARMS, FEET, LASTING, QUIET_ARMS, arm_phrase, foot_words, turn_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action

D = Direction
MOST_ITEMS = 3
DOWN = ("step:home", "step:place")
STAYING = ("rock", "close")  # in these the other foot was at home
AT_HOME = ("", "home", "place")
QUICK = ("shuffle", "kick ball change", "sailor step")  # three steps to two counts; on even counts they are others
SILENT = ("recover", "lower", "drop", "hold", "arms")
PLACES = {
    D.FORWARD: "forward",
    D.BACK: "back",
    D.TOGETHER: "home",
    D.CENTRE: "home",
    D.IN_PLACE: "place",
    D.ACROSS_FRONT: "front",
    D.ACROSS_BEHIND: "behind",
}
OUT = {
    (Foot.LEFT, D.LEFT): "out",
    (Foot.RIGHT, D.RIGHT): "out",
    (Foot.LEFT, D.FORWARD_LEFT): "fdiag",
    (Foot.RIGHT, D.FORWARD_RIGHT): "fdiag",
    (Foot.LEFT, D.BACK_LEFT): "bdiag",
    (Foot.RIGHT, D.BACK_RIGHT): "bdiag",
}


@dataclass(frozen=True, slots=True)
class Pattern:
    """One row: its name, the name of several, whether the side is said, its actions as verb:place."""

    name: str
    many: str
    side: bool
    actions: tuple[str, ...]


def _patterns() -> tuple[Pattern, ...]:
    rows = [
        Pattern(row["called"], row["calls"], row["side"] == "yes", tuple(actions.split(" ")))
        for row in table("dance/pattern_names")
        if row["actions"]
        for actions in row["actions"].split(" | ")
    ]
    return tuple(sorted(rows, key=lambda pattern: (-len(pattern.actions), "waltz" not in pattern.name)))


PATTERNS = _patterns()


@dataclass(frozen=True, slots=True)
class _Item:
    """One thing that is called: its name, the name of several, whose side, whether that side is always said."""

    name: str
    many: str
    side: str
    said: bool


def _token(action: Action) -> str:
    place = OUT.get((action.foot, action.dir)) if action.foot and action.dir else None
    plain = PLACES.get(action.dir, "") if action.dir else ""
    home = action.verb in ("recover", "drop") and plain == "place"
    return f"{action.verb}:{'home' if home else place or plain}"


def _alternate(actions: Sequence[Action], length: int) -> bool:
    """Steps of a walk or march change feet; two actions of one foot are another thing."""
    feet = [action.foot for action in actions[:length]]
    return all(a is not b for a, b in pairwise(feet))


def _hurries(actions: Sequence[Action]) -> bool:
    """True where a step falls between two counts."""
    return any(action.at.at.denominator > 1 for action in actions)


def _set_down(actions: Sequence[Action]) -> list[Action]:
    """Leave out what adds nothing new: a lifted foot set down on the next count, a circle or drag that goes on."""
    passed = [after for before, after in pairwise(actions) if _sets_down(before, after) or _goes_on(before, after)]
    return [action for action in actions if action not in passed]


def _sets_down(before: Action, after: Action) -> bool:
    same = after.verb == "step" and after.foot is before.foot and after.at.at.denominator == 1
    return same and VERB[before.verb].lifts and _token(after) in DOWN


def _goes_on(before: Action, after: Action) -> bool:
    return after.verb in LASTING and after.verb == before.verb and after.foot is before.foot is not None


def _items(actions: Sequence[Action], *, waltz: bool) -> list[_Item]:
    items: list[_Item] = []
    rest = list(actions)
    while rest:
        away = _away(actions[: len(actions) - len(rest)])
        found = next((p for p in PATTERNS if _matches(p, rest, away) and (waltz or "waltz" not in p.name)), None)
        if found is None:
            items += _single(rest.pop(0))
            continue
        side = rest[0].foot.word if found.side and rest[0].foot else ""
        many = f"{found.many} {side}".strip() if found.many == found.name else found.many
        items.append(_Item(found.name, many, side, said=found.side))
        turn = sum(action.turn_deg for action in rest[: len(found.actions)])
        if turn:
            items.append(_Item(turn_words(turn), turn_words(turn), "", said=False))
        rest = rest[len(found.actions) :]
    return items


def _away(before: Sequence[Action]) -> set[Foot]:
    """Return the feet that these actions have left away from home."""
    last = {action.foot: _token(action) for action in before if action.foot and not VERB[action.verb].lifts}
    return {foot for foot, token in last.items() if token.partition(":")[2] not in AT_HOME}


def _fits(wanted: str, action: Action, first: Foot | None) -> bool:
    """True where an action is what the pattern wants; "s." by the foot that began, "o." by the other."""
    who, _, token = wanted.rpartition(".")
    if who and (action.foot is first) is not (who == "s"):
        return False
    return _token(action) == token


def _matches(pattern: Pattern, actions: Sequence[Action], away: set[Foot]) -> bool:
    length = len(pattern.actions)
    if len(actions) < length or not all(map(_fits, pattern.actions, actions, [actions[0].foot] * length)):
        return False
    if any(quick in pattern.name for quick in QUICK) and not _hurries(actions[:length]):
        return False
    if "rock" in pattern.name and any(a.verb == "step" and a.dir is D.TOGETHER for a in actions[:length]):
        return False
    if any(word in pattern.name for word in STAYING) and _comes_home(actions[1:length], away):
        return False
    return pattern.name not in ("march", "walk forward", "walk back") or _alternate(actions, length)


def _comes_home(actions: Sequence[Action], away: set[Foot]) -> bool:
    """True where a foot comes home from somewhere else: on a chair, where no foot takes the body along."""
    return any(action.dir is D.CENTRE and action.foot in away for action in actions)


def _single(action: Action) -> list[_Item]:
    """What one action adds: its noun; nothing for coming home and for holds without arms."""
    if action.foot is None:
        if not action.arms or not ARMS[action.arms[0].gesture].many:
            return []
        row = ARMS[action.arms[0].gesture]
        return [_Item(arm_phrase(action.arms), row.many, "", said=False)]
    if action.verb in SILENT or (action.verb == "step" and action.dir in (D.CENTRE, D.TOGETHER)):
        turn = turn_words(action.turn_deg)
        return [_Item(turn, turn, "", said=False)] if turn else []
    words, row = foot_words(action), FEET[action.verb]
    if action.foot is Foot.BOTH:
        return [_Item(words, words, "", said=False)]
    many = row.many if not action.turn_deg else words
    return [_Item(words, many, "" if action.foot.word in words.split(" ") else action.foot.word, said=False)]


def pattern_words(actions: Sequence[Action], *, waltz: bool = False) -> str:
    """Return the name of a few counts together, at most three things; "hold" where nothing is done.

    The same thing twice is named once, in the plural; one thing alone with its side. ``waltz`` knows steps in three.
    """
    items = _items(_set_down(actions), waltz=waltz)
    kinds = list(dict.fromkeys(item.many for item in items))
    names = [_named([item for item in items if item.many == many], alone=len(kinds) == 1) for many in kinds]
    return ", ".join(names[:MOST_ITEMS]) or next((arm_phrase(a.arms) for a in actions if a.arms), "hold")


def hands_beside(actions: Sequence[Action]) -> str:
    """Return what the hands do while a foot moves, at most two things: "hands push and pull", "right hand too", "open
    and cross arms"; "" where they only rest.
    """
    moved = [a for a in actions if a.foot is not None and a.arms and a.arms[0].gesture not in QUIET_ARMS]
    names = " and ".join(list(dict.fromkeys(arm_phrase(a.arms) for a in moved))[:2])
    if names.endswith(" hand"):
        return f"{names} too"
    return names if not names or "arms" in names or "hand" in names else f"hands {names}"


def _named(same: Sequence[_Item], *, alone: bool) -> str:
    """Name one kind of thing: both sides or repeated, in the plural; else with its side where it is said."""
    first = same[0]
    if len({item.side or item.name for item in same}) > 1:
        return first.many
    several = len(same) > 1 and not first.said and not first.name.startswith(first.many)
    name = first.many if several else first.name
    return f"{name} {first.side}" if first.side and (alone or first.said) else name
