"""Counts told twice: "1 2 3 sway to the right on 1, hold 2 and 3", before the words and once more among them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark
from softshoe.wording.labels import WORDS_OF
from softshoe.wording.prose import prose_items

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.counting import Label
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Item


def counted_within(tokens: Sequence[Token], head: tuple[Label, int] | None) -> list[Item]:
    """Return the items of a sentence that tells each of its line's counts among the words; [] for any other."""
    if head is None or len(head[0].wholes) < 2 or head[0].ranged:
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
