"""Items that name their limb among their words: "1-4 arms: …", "… Arms: out, in"; words without marks at their ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark
from softshoe.wording.parts import Item

if TYPE_CHECKING:
    from softshoe.wording.lex import Token

ARMS = ("arm", "arms", "hand", "hands", "upper", "top")


def limbed(item: Item) -> Item:
    """ "1-4 arms: …": a limb named behind the label."""
    tokens = item.tokens
    for at in (0, 1):
        if (
            len(tokens) > at + 1
            and tokens[at].kind in ("hand", "foot", "word", "verb", "thumb")
            and is_mark(tokens[at + 1], ":")
        ):
            word = tokens[at].low
            if word in ARMS:
                item.limb, item.tokens, item.heads = "arms", tokens[at + 2 :], tokens[: at + 2]
            elif word in ("feet", "foot", "footwork", "legs", "steps", "step", "leg"):
                item.limb, item.tokens, item.heads = "feet", tokens[at + 2 :], tokens[: at + 2]
            break
    return item


def with_arms(item: Item) -> list[Item]:
    """ "1-4: heel out, in, out, in. Arms: out, in, out, in": a sentence for the arms lies over the same counts."""
    tokens = item.tokens
    for i in range(1, len(tokens) - 1):
        named = tokens[i].low in ARMS and is_mark(tokens[i + 1], ":")
        apart = item.limb == "feet" or is_mark(tokens[i - 1], ".;|,/")
        if named and item.label is not None and apart:
            arms = Item(item.label, bare(tokens[i + 2 :]), item.line, limb="arms", heads=tokens[i : i + 2])
            item.tokens = bare(tokens[:i])
            return [item, arms] if item.tokens else [arms]
    return [item]


def bare(tokens: list[Token]) -> list[Token]:
    """Return the tokens without separators at either end."""
    start, end = 0, len(tokens)
    while start < end and is_mark(tokens[start], ",;.|:-–—\t"):
        start += 1
    while end > start and is_mark(tokens[end - 1], ",;|([\t"):
        end -= 1
    return tokens[start:end]
