"""Breath told beside a movement: "breathe in and raise both arms", "lower them as you breathe out", "breathing in".

Where something else moves in the same words, the breath needs no count of its own; alone it is a hold.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

BREATH = ("breath", "inhal", "exhal")
LEAD = frozenset(
    (
        "as", "while", "with", "on", "you", "we", "a", "an", "the", "your", "deep", "big", "slow", "long", "gentle",
        "on the", "with a", "and", "in", "out", "on an", "take", "have", "-", "in-", "out-",
    )
)  # fmt: skip
TAIL = frozenset(
    ("in", "out", "deeply", "slowly", "again", "through", "the", "nose", "mouth", "gently", "as", "you", "go")
)
MOVING = frozenset(("verb", "pattern", "gest", "dual", "draw", "footpart", "hand", "place"))


def unbreathed(tokens: Sequence[Token]) -> list[Token]:
    """Return the words with those for the breath as words that only say how, where anything else moves."""
    at = [i for i, t in enumerate(tokens) if t.low.startswith(BREATH) or (t.value == "hold" and "breath" in t.low)]
    if not at:
        return list(tokens)
    if not any(t.kind in MOVING and t.value != "hold" for t in tokens):
        return [t._replace(kind="fill", value="", dir="") if t.low in ("in", "out") else t for t in tokens]
    held = {j for i in at for j in _stretch(tokens, i)}
    if not any(t.kind in MOVING and t.value != "hold" for i, t in enumerate(tokens) if i not in held):
        return list(tokens)
    out = [t._replace(kind="fill", value="", dir="") if i in held else t for i, t in enumerate(tokens)]
    return _without_marks(out, held)


def _stretch(tokens: Sequence[Token], i: int) -> range:
    """Return which words belong to the breath at token i."""
    begin = end = i
    while begin and tokens[begin - 1].low in LEAD and tokens[begin - 1].kind not in ("num", "times"):
        begin -= 1
    while begin < i and tokens[begin].low == "and":
        begin += 1
    while end + 1 < len(tokens) and tokens[end + 1].low in TAIL:
        end += 1
    if end > i and end + 1 < len(tokens) and tokens[end].low in ("as", "you"):
        end -= 1 if tokens[end].low == "as" else 0
    return range(begin, end + 1)


def _without_marks(tokens: list[Token], held: set[int]) -> list[Token]:
    """ "Breathe in, raise both arms": the comma or "and" between the breath and what moves parts nothing."""
    out = list(tokens)
    for i, token in enumerate(tokens):
        beside = i - 1 in held or i + 1 in held
        if beside and i not in held and (token.text == "," or token.low == "and"):
            opens = not any(j not in held and tokens[j].kind not in ("mark", "join", "fill") for j in range(i))
            closes = not any(
                j not in held and tokens[j].kind not in ("mark", "join", "fill") for j in range(i + 1, len(tokens))
            )
            if opens or closes:
                out[i] = token._replace(kind="fill", value="", dir="")
    return out
