"""Words behind the steps that only describe them: "… (heels forward)", "… – kicks go to the front", "Heels in front."

They name in the plural what was told step by step before; no step of their own is told.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

PLURALS = frozenset(
    (
        "kicks", "taps", "steps", "stomps", "stamps", "touches", "digs", "brushes", "scuffs", "points", "pats",
        "all heels", "heel digs", "toe taps", "toe touches",
    )
)  # fmt: skip
WAYS = frozenset(("forward", "side", "in place", "across front", "back", "forward diag", "across behind"))
SOFT = frozenset(("fill", "prep", "on", "join", "dir", "place", "word"))
SAID = frozenset(
    ("are", "go", "goes", "is", "please", "all", "always", "each", "straight", "low", "only", "of", "course")
)
CUTS = "(–—-.;["
MOVING = ("verb", "footpart", "gest", "dual", "foot", "pattern")


def describes(words: Sequence[Token]) -> bool:
    """Return whether words only say in the plural where something goes: "heels in front", "kicks go forward"."""
    plain = [t for t in words if t.kind != "mark"]
    named = [t for t in plain if _named(t)]
    if not 0 < len(named) < 3 or not 1 < len(plain) < 9:
        return False
    there = any((t.kind == "dir" and t.value in WAYS) or t.kind == "place" for t in plain)
    others = [t for t in plain if t not in named and t.kind not in SOFT and t.low not in SAID and t.low != "go"]
    strange = [t for t in plain if t.kind == "word" and t.low not in SAID]
    return there and not others and not strange and plain.index(named[0]) < 2


def _named(token: Token) -> bool:
    if token.kind == "footpart":
        return token.low.split()[-1] in ("heels", "toes", "heel") and token.value[:1] not in ("R", "L")
    return token.kind in ("verb", "gest") and token.low in PLURALS


def undescribed_steps(tokens: list[Token]) -> list[Token]:
    """Return a line's words without such a description at its end, its way given to the steps that name none."""
    end = len(tokens)
    while end and is_mark(tokens[end - 1], ")].!;"):
        end -= 1
    cut = next((i for i in range(end - 1, 0, -1) if is_mark(tokens[i], CUTS) and not tokens[i].glued), 0)
    cut = cut or next((i for i in range(end - 1, 0, -1) if is_mark(tokens[i], "([")), 0)
    words = tokens[cut + 1 : end]
    before = tokens[:cut]
    if not cut or not describes(words) or not any(t.kind in MOVING for t in before):
        return tokens
    if not is_mark(tokens[cut], "(–—-[") and not told_before(words, before):
        return tokens
    return _with_ways(before, words)


def told_before(words: Sequence[Token], before: Sequence[Token]) -> bool:
    """Return whether what is named in the plural was told one by one before."""
    named = [t for t in words if _named(t)]
    return any(_alike(one, two) for one in named for two in before)


def _alike(plural: Token, token: Token) -> bool:
    if plural.kind == "footpart":
        part = plural.value.split()[-1]
        return token.value != plural.value and token.value.split()[-1:] == [part] and token.kind in ("footpart", "verb")
    return token.kind == plural.kind and token.value == plural.value and token.low != plural.low


def _with_ways(before: list[Token], words: Sequence[Token]) -> list[Token]:
    way = next((t for t in words if t.kind == "dir" and t.value in WAYS), None)
    named = next(t for t in words if _named(t))
    if way is None:
        return before
    out: list[Token] = []
    for i, token in enumerate(before):
        out.append(token)
        if not _alike(named, token):
            continue
        end = next((k for k in range(i + 1, len(before)) if before[k].kind in ("mark", "join")), len(before))
        if not any(t.kind == "dir" for t in before[i + 1 : end]):
            out.append(way._replace(start=token.end, end=token.end))
    return out
