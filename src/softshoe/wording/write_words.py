"""One action in words: the foot with its verb, place, turn and weight, and what the hands do with it."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import weight_after
from softshoe.dance.places import Direction
from softshoe.wording.write_hands import hands_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.counts import Count
    from softshoe.wording.write_book import Book

ONE = (Foot.LEFT, Foot.RIGHT)
FOOT_BY_WEIGHT = ("pivot", "turn", "hop")  # verbs whose foot is told by what bears


def words_of(action: Action, book: Book) -> str:
    """Return the words of an action with its arms."""
    hands = hands_of(action, book)
    if action.verb == "arms":
        return hands
    feet = feet_of(action, book)
    return f"{feet} {book.say('join', 'and')} {hands}" if hands else feet


def feet_of(action: Action, book: Book) -> str:
    """Return the words of an action without its arms; feet that rest hold."""
    if action.verb == "arms":
        return book.say("verb", "hold")
    parts = (_step(action, book), _turn(action, book), _weight(action, book))
    return " ".join(part for part in parts if part)


def moment_words(together: Sequence[Action], book: Book, *, arms: bool = True) -> str:
    """Return what happens at one moment."""
    say = words_of if arms else feet_of
    said = [say(a, book) for a in together]
    return f" {book.say('join', 'while')} ".join(lower(words, book) if i else words for i, words in enumerate(said))


def lower(words: str, book: Book) -> str:
    """Return the words as they go on in a line; letters, names and a language's nouns keep their capital."""
    if book.find("case", "nouns"):
        return words
    return words[0].lower() + words[1:] if len(words) > 1 and words[1].islower() else words


def plain_moments(actions: Iterable[Action], weight: Weight) -> frozenset[Count]:
    """Return the moments whose pivot, spin or hop needs no word on the weight: footwork leaves one foot."""
    plain: set[Count] = set()
    for action in actions:
        bears = Foot(weight.value) if weight in (Weight.LEFT, Weight.RIGHT) else None
        if bears is not None and action.foot is (bears.other if action.verb == "pivot" else bears):
            plain.add(action.at)
        weight = weight_after(action, weight)
    return frozenset(plain)


def reached_moments(actions: Iterable[Action]) -> frozenset[Count]:
    """Return the moments at which a heel is lowered straight after its own foot has touched: no drop, no weight."""
    return frozenset(b.at for a, b in pairwise(actions) if b.verb == "lower" and a.foot is b.foot and a.verb in REACHED)


def dropped_moments(actions: Iterable[Action]) -> frozenset[Count]:
    """Return the moments at which a heel that was only lifted drops and bears: lowered, it would bear nothing."""
    before: dict[Foot | None, str] = {}
    told: set[Count] = set()
    for action in actions:
        if action.verb == "drop" and before.get(action.foot, "raise") == "raise":
            told.add(action.at)
        before[action.foot] = action.verb
    return frozenset(told)


REACHED = ("touch", "heel", "point")
NAMES = ("foot", "by", "bare", "the", "fem", "other", "beside")


def foot_words(foot: Foot, book: Book) -> dict[str, str]:
    """Return the words that name a foot in all the forms a language needs: ``foot``, ``bare``, ``other``, ``lead`` …"""
    if foot not in ONE:
        whole = {"foot": book.say("foot", foot.value), "by": book.find("by", "feet") or ""}
        return dict.fromkeys((*NAMES, "side", "lead", "listed"), "") | whole
    named = {name: book.find(name, foot.value) or "" for name in NAMES}
    return named | {
        "other": book.say("other", foot.other.value), "beside": book.find("beside", foot.other.value) or "",
        "side": book.say("way", "left" if foot is Foot.LEFT else "right"), "lead": book.say("side", foot.value),
        "listed": book.find("listed", foot.value) or book.say("side", foot.value),
    }  # fmt: skip


def _step(action: Action, book: Book) -> str:
    foot = action.foot or Foot.BOTH
    way = action.dir.value if action.dir is not None else ""
    keys = [f"{action.verb}:{way}", action.verb]
    if foot not in ONE:
        keys = [f"{action.verb}:{way}:both", f"{action.verb}:both", action.verb]
    said = _place(action, book)
    template = book.say("verb", *keys, dir=said, **foot_words(foot, book))
    return " ".join(template.split())


def _place(action: Action, book: Book) -> str:
    if action.dir is None or (action.verb in ("pivot", "turn", "unwind") and action.dir is Direction.IN_PLACE):
        return ""
    if action.verb in ("bump", "sway", "fan", "swivel") and action.dir in (Direction.LEFT, Direction.RIGHT):
        return book.say("way", action.dir.value)
    return book.say("place", f"{action.verb}:{action.dir.value}", action.dir.value)


def turn_words(turn_deg: int, book: Book, *keys: str) -> str:
    """Return the words of a turn, clockwise positive [degrees]; "" for none."""
    if not turn_deg:
        return ""
    part = book.find("part", str(abs(turn_deg))) or f"{abs(turn_deg)}°"
    foot = "R" if turn_deg > 0 else "L"
    return book.say("turn", *keys, "", part=part, side=book.say("side", foot), bare=book.say("bare", foot))


def _turn(action: Action, book: Book) -> str:
    return turn_words(action.turn_deg, book, action.verb)


def _weight(action: Action, book: Book) -> str:
    """Return what is to be said of the weight: where words make it another than the verb's, or tell the foot."""
    said = action.weight_said
    if action.verb == "lower" and action.at in book.reached:
        return book.say("weight", "no")
    if said is None and action.verb in FOOT_BY_WEIGHT and action.foot in ONE and action.at not in book.plain:
        said = Weight(action.foot.value)
    if action.verb == "drop" and action.foot in ONE and action.at in book.dropped:
        said = Weight(action.foot.value)
    if said is None and action.verb == "unwind":
        said = Weight.BOTH
    return book.say("weight", said.value) if said in (Weight.LEFT, Weight.RIGHT, Weight.BOTH) else ""
