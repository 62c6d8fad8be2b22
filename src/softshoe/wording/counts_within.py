"""Counts told twice: "1 2 3 sway to the right on 1, hold 2 and 3", before the words and once more among them; or some
of them: "5-8 coaster step (5&6), left forward, touch right".
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark
from softshoe.wording.labels import WORDS_OF, Row
from softshoe.wording.limbed import bare
from softshoe.wording.parts import Item
from softshoe.wording.prose import prose_items

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.counting import Label
    from softshoe.wording.lex import Token


def counted_within(tokens: Sequence[Token], head: tuple[Label, int] | None) -> list[Item]:
    """Return the items of a sentence that tells each of its line's counts among the words; [] for any other."""
    if head is not None and head[0].ranged:
        return _told_in_part(tokens, *head)
    if head is None or len(head[0].wholes) < 2:
        return []
    words = list(tokens[head[1] :])
    if not any(t.kind == "on" for t in words) or any(is_mark(t, ".;") for t in words[:-1]):
        return []
    items = prose_items(words, 0, head[0].first - 1) or []
    for item in items:
        if item.label is not None and item.tokens and all(t.value == "hold" for t in item.tokens if t.kind in WORDS_OF):
            item.label = item.label._replace(places=item.label.wholes)  # "hold 5 and 6"
    told = [p for item in items if item.label is not None for p in item.label.places]
    if len(items) < 2 or tuple(told) != head[0].places:
        return []
    items[0].heads = [*tokens[: head[1]], *items[0].heads]
    return items


def _told_in_part(tokens: Sequence[Token], head: Label, behind: int) -> list[Item]:
    """Return the words before one bracket with its counts, those around it with what is left of the range."""
    inner = [(a, b, label) for a, b, label in Row(list(tokens[behind:])).labels() if b - a > 2]
    if len(inner) != 1 or len(inner[0][2].places) < 2 or head.places == inner[0][2].places:
        return []
    first, end, label = behind + inner[0][0], behind + inner[0][1], inner[0][2]
    bracketed = is_mark(tokens[first], "([") and is_mark(tokens[end - 1], ")]")
    if not bracketed or not (head.first <= label.first and label.last <= head.last) or label.first != head.first:
        return []
    rest = tuple(p for p in head.wholes if p > label.last)
    words, after = bare(list(tokens[behind:first])), bare(list(tokens[end:]))
    moves = [any(t.kind in WORDS_OF and t.kind not in ("word", "num") for t in part) for part in (words, after)]
    if not all(moves) or not rest:
        return []
    left = label._replace(places=rest, ranged=len(rest) > 1)
    return [Item(label, words, 0, heads=list(tokens[:behind])), Item(left, after, 0)]
