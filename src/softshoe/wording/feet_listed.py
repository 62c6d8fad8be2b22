"""A table's cell that lists the feet for the movements of its row: "| 1-2 | R, L | step side, step behind R |"."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark
from softshoe.wording.lex import Token, tokens_of
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.parts import Item

FOOT = r"(?:right|left|[RL]F?)"
LIST = shape(rf"\s*{FOOT}(?:(?:\s*[,/&+–-]\s*|\s+|(?<=[RL])(?=[RL])){FOOT})+\s*", re.IGNORECASE)
TURNING = frozenset(("turnword", "amount", "spin"))


def lists_feet(cell: str) -> bool:
    """Return whether a cell names several feet, one after the other.

    >>> lists_feet(" R, L "), lists_feet("RLR"), lists_feet("left"), lists_feet("step R, L")
    (True, True, False, False)
    """
    return LIST.fullmatch(cell) is not None


def footed(item: Item, cell: str, at: int, line: int) -> Item:
    """Return the item with each movement given its foot from the cell at character ``at``; a pattern's is the first."""
    feet = ["R" if found[0].upper() == "R" else "L" for found in re.findall(r"right|left|[RL]", cell, re.IGNORECASE)]
    item.heads += tokens_of(cell, line=line, offset=at)
    colon = next((i + 1 for i, t in enumerate(item.tokens) if is_mark(t, ":")), 0)
    clauses: list[list[Token]] = [[]]
    for token in item.tokens[colon:]:
        if is_mark(token, ",;") and clauses[-1]:
            clauses.append([])
        clauses[-1].append(token)
    if len(clauses) != len(feet):
        clauses, feet = [item.tokens[colon:]], feet[:1]
    words = [_with_foot(clause, foot) for clause, foot in zip(clauses, feet, strict=True)]
    name = _with_foot(item.tokens[:colon], feet[0]) if colon else []
    item.tokens = [*name, *(t for clause in words for t in clause)]
    return item


def _with_foot(clause: list[Token], foot: str) -> list[Token]:
    """Return a clause that begins with its foot, where it names none there and asks for more than a turn."""
    begin = next((i for i, t in enumerate(clause) if t.kind != "mark"), len(clause))
    rest = clause[begin:]
    if not rest or rest[0].kind in ("side", "foot") or any(t.value == "pivot" or t.kind in TURNING for t in rest[:2]):
        return clause
    at = rest[0].start
    side = Token("side", foot, "", foot, at, at, rest[0].line, low=foot.casefold())
    return [*clause[:begin], side, *rest]
