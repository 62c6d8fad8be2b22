"""What hands do, in words; and which of it must stand apart, because a height said before would hold for it too."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.wording.armwords import BODY, KEEPS_HEIGHT

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove
    from softshoe.wording.write_book import Book


def hands_of(action: Action, book: Book) -> str:
    """Return what the hands do in an action, "" for nothing."""
    return hands_words(action.arms, book)


def hands_words(arms: Iterable[ArmMove], book: Book) -> str:
    """Return these moves in words, joined by "and"."""
    return f" {book.say('join', 'and')} ".join(_hand(arm, book) for arm in arms)


def unbled(arms: Sequence[ArmMove]) -> list[list[ArmMove]]:
    """Cut the moves where a height said before would hold for one that has none."""
    runs: list[list[ArmMove]] = []
    for arm in arms:
        if runs and not bleeding([*runs[-1], arm]):
            runs[-1].append(arm)
        else:
            runs.append([arm])
    return runs


def bleeding(arms: Sequence[ArmMove]) -> bool:
    """Return whether a height said of one hand would be read for another that has none.

    A height said for the first half of a sentence holds for the rest of it, and one said behind a row of the same
    gesture for all of the row.
    """
    height = None
    for arm in arms:
        if height is not None and arm.place is None and arm.gesture in KEEPS_HEIGHT:
            return True
        height = arm.place if arm.place not in (*BODY, "foot") else None
    return any(a.gesture == b.gesture and a.place is None and b.place is not None for a, b in pairwise(arms))


def _hand(arm: ArmMove, book: Book) -> str:
    """Return one move; where and how high stand behind it, unless its row says where."""
    one = arm.side is not Foot.BOTH
    template = book.find("gesture", *([f"{arm.gesture}:one"] if one else []), arm.gesture) or "{hand}"
    toward = at = ""
    if arm.toward is not None:
        toward = book.find("toward", f"{arm.gesture}:{arm.toward.value}", arm.toward.value) or arm.toward.value
    if arm.place is not None:
        at = book.say("at", f"{arm.gesture}:{arm.place}", arm.place)
    hand = book.say("hand", arm.side.value)
    words = template.format(hand=hand, by=book.find("by hand", arm.side.value) or hand, toward=toward, at=at)
    rest = [w for w, hole in ((toward, "{toward}"), (at, "{at}")) if hole not in template]
    return " ".join(" ".join([words, *rest]).split())
