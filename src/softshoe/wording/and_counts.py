"""An "and" that stands alone as a count: "right side (&)", "… to the side on the and", "& step right, 5 touch left".

It is the half before the next count, or behind the last one; the number is written in, so that labels read it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import ALONE, is_mark
from softshoe.wording.lex import Token

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

AND = ("&", "and", "the and", "the &")
ON = ("on", "on the", "on count", "on the count")


def counted_ands(tokens: Sequence[Token], last: Fraction | None) -> list[Token]:
    """Return the tokens with each "and" that is a count as "& 7", for the half before 7.

    >>> from softshoe.wording.lex import tokens_of
    >>> [t.text for t in counted_ands(tokens_of("left behind (6), right side (&), cross (7)", line=1), None)][6:]
    ['right', 'side', '(', '&', '7', ')', ',', 'cross', '(', '7', ')']
    """
    tokens = _before_its_count(_unhyphened(tokens))
    out: list[Token] = []
    for i, token in enumerate(tokens):
        alone = token.low in AND and i > 0 and _stands_alone(tokens, i)
        opens = i == 0 and is_mark(token, "&") and len(tokens) > 1 and tokens[1].kind in MOVING
        count = _behind(tokens, i) if alone else _ahead(tokens, last) if opens else None
        if count is None:
            out.append(token)
        else:
            out.append(token._replace(kind="mark", value=ALONE, text="&", low="&"))
            out.append(_number(count, token))
    return out


def _unhyphened(tokens: Sequence[Token]) -> Sequence[Token]:
    """ "On one-and-two": counts said with hyphens."""
    if not any(t.dir == "spelled" for t in tokens):
        return tokens
    out: list[Token] = []
    for i, token in enumerate(tokens):
        beside = (tokens[i - 1], tokens[i + 1]) if 0 < i < len(tokens) - 1 else ()
        joins = any(t.dir == "spelled" for t in beside) and any(t.low in ("and", "a") for t in beside)
        spelt = token.low == "and" and bool(out) and out[-1].dir == "spelled" and is_mark(tokens[i - 1], "-")
        if is_mark(token, "-") and token.glued and joins:
            continue
        out.append(token._replace(kind="mark", value="&", text="&", low="&", glued=True) if spelt else token)
    return out


def _before_its_count(tokens: Sequence[Token]) -> Sequence[Token]:
    """ "Point R (5), & R together, point L (6)": where counts stand behind, that "&" is behind its step as well."""
    at = next((i for i in range(4, len(tokens)) if is_mark(tokens[i], "&") and _follows_count(tokens, i)), 0)
    end = next((k for k in range(at + 1, len(tokens)) if tokens[k].kind == "num" or is_mark(tokens[k], ",;(")), 0)
    ahead = next((k for k in range(end + 1, len(tokens) - 1) if tokens[k].kind == "num"), 0)
    if not at or not ahead or end - at < 2 or not is_mark(tokens[end], ",;") or not is_mark(tokens[ahead - 1], "(["):
        return tokens
    if tokens[ahead].number != _behind(tokens, at):
        return tokens
    opens, closes = (tokens[end - 1]._replace(kind="mark", value=text, text=text, low=text, start=tokens[end - 1].end)
                     for text in "()")  # fmt: skip
    half = [opens, tokens[at]._replace(start=opens.start, end=opens.end), closes]
    return _before_its_count([*tokens[:at], *tokens[at + 1 : end], *half, *tokens[end:]])


def _follows_count(tokens: Sequence[Token], i: int) -> bool:
    """Return whether a count in brackets and a comma stand straight before token ``i``."""
    return is_mark(tokens[i - 1], ",;") and is_mark(tokens[i - 2], ")]") and tokens[i - 3].kind == "num"


MOVING = ("verb", "pattern", "side", "foot", "footpart", "dir", "fill", "dual", "word")


def _stands_alone(tokens: Sequence[Token], i: int) -> bool:
    """Return whether brackets hold nothing else, or "on" stands before it and a mark behind."""
    before, behind = tokens[i - 1], tokens[i + 1] if i + 1 < len(tokens) else None
    if is_mark(before, "(["):
        return behind is not None and is_mark(behind, ")]")
    return before.low in ON and (behind is None or is_mark(behind, ",;."))


def _behind(tokens: Sequence[Token], i: int) -> int | None:
    """Return the count that follows on the last one told before token ``i``."""
    found = next((t for t in reversed(tokens[:i]) if t.kind == "num"), None)
    return found.number + 1 if found is not None else None


def _ahead(tokens: Sequence[Token], last: Fraction | None) -> int | None:
    """Return the count that the line goes on with behind its "&", where it goes on from ``last``."""
    for k in range(2, len(tokens)):
        if tokens[k].kind == "num" and is_mark(tokens[k - 1], ",;("):
            n = tokens[k].number
            return n if n == (last.__floor__() if last is not None else n % 8 and n - 1) + 1 else None
    return None


def _number(n: int, before: Token) -> Token:
    return Token("num", str(n), "", str(n), before.end, before.end, before.line, glued=True, low=str(n))
