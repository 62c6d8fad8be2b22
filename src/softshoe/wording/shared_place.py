"""A place said once for two feet: "pivot half left, right and left in place" are two steps in place."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

PAIR = ("right and left", "left and right")  # by themselves they tell no step: "look right and left"
BEFORE = ("mark", "join")


def placed_alike(tokens: Sequence[Token]) -> list[Token]:
    """Return the words of a line with such a place said of each foot; other words as they are.

    >>> from softshoe.wording.lex import tokens_of
    >>> [t.text for t in placed_alike(tokens_of("recover L, R and L in place", line=0))][-5:]
    ['R', 'in place', 'and', 'L', 'in place']
    """
    out: list[Token] = []
    for i, token in enumerate(tokens):
        begins = i > 0 and (tokens[i - 1].kind in BEFORE or tokens[i - 1].value == "step")
        row = tokens[i : i + 4]
        if begins and token.low in PAIR and _in_place(row[1:2]):
            out += _two(token, row[1])
            continue
        out.append(token)
        two = len(row) == 4 and row[0].kind == row[2].kind == "side" and {row[0].value, row[2].value} == {"R", "L"}
        if begins and two and row[1].low in ("and", "&") and _in_place(row[3:]):
            out.append(row[3]._replace(start=token.end, end=token.end))
    return out


def _in_place(tokens: Sequence[Token]) -> bool:
    return bool(tokens) and tokens[0].kind == "dir" and tokens[0].value == "in place"


def _two(pair: Token, place: Token) -> list[Token]:
    """Return "right and left" as two feet, the first with the place."""
    first, joint, last = pair.text.split()
    at, end = pair.start + pair.text.rindex(joint), pair.start + len(first)
    one = pair._replace(kind="side", value=first[0].upper(), text=first, end=end, low=first.casefold())
    other = pair._replace(
        kind="side", value=last[0].upper(), text=last, start=pair.end - len(last), low=last.casefold()
    )
    between = pair._replace(kind="join", value="and", text=joint, start=at, end=at + len(joint), low="and")
    return [one, place._replace(start=end, end=end), between, other]
