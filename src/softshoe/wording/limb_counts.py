"""A count before limbs told one behind the other: "1-4 Hands: clap x 4. Feet: still" counts for both."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.labels import Row
from softshoe.wording.lex import tokens_of
from softshoe.wording.looking import told

if TYPE_CHECKING:
    from softshoe.wording.parts import Item


def counted_before(text: str, items: list[Item]) -> list[Item]:
    """ "1-4 Hands: clap x 4. Feet: still": the count before the limbs is for each of them."""
    row = Row(told(tokens_of(text, line=0)))
    head = row.label_at(0) if row.tokens else None
    if head is None:
        return items
    items[0].heads = [*row.tokens, *items[0].heads]
    return [item if item.label is not None else replace(item, label=head[0]) for item in items]
