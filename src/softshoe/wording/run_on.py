"""Words that run on without a comma: "right toe to the side right together", "step right close left step right".

Where a line's words fill its counts too few, they are parted where a clause is whole and the next one begins; the
reading is taken only if it fills every count.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark
from softshoe.wording.lex import Token

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

DOING = frozenset(("verb", "pattern", "gest", "dual", "draw"))
LIMBS = frozenset(("side", "foot", "footpart", "hand", "thumb"))
HOMES = frozenset(("together", "centre", "in place", "in", "down", "up", "out"))
REFERRING = frozenset(("over", "beside", "behind", "across", "next to", "to", "of", "from", "on", "onto", "by", "past",
"in front of", "towards", "toward", "with", "against", "the", "your", "after", "round", "around"))  # fmt: skip


def parted_run(tokens: Sequence[Token], *, sure: bool) -> Iterator[list[Token]]:
    """Yield the words with commas where clauses end: where one is sure to be whole, then before every home."""
    dashed = _dashed(tokens)
    if dashed is not None:
        yield dashed
    seen = len(tokens)
    for homes in (False,) if sure or any(is_mark(t, ",;/+") for t in tokens) else (False, True):
        words = _parted(tokens, homes=homes)
        if len(words) > seen:
            seen = len(words)
            yield words


def _dashed(tokens: Sequence[Token]) -> list[Token] | None:
    """ "Side-behind-side-scuff": return the words with commas for dashes that part them, None where there are few."""
    dashes = [t for t in tokens[1:-1] if is_mark(t, "-–—‐")]
    if len(dashes) < 2:
        return None
    return [t._replace(text=",", low=",") if t in dashes else t for t in tokens]


def _parted(tokens: Sequence[Token], *, homes: bool) -> list[Token]:
    out: list[Token] = []
    clause = _Clause()
    for i, token in enumerate(tokens):
        before = tokens[i - 1] if i else None
        if token.kind == "mark" or (token.kind == "join" and token.low not in ("to",)):
            clause = _Clause()
        elif before is not None and clause.ends_before(token, before, homes=homes):
            out.append(Token("mark", ",", "", ",", token.start, token.start, token.line, low=","))
            clause = _Clause()
        clause.take(token, before)
        out.append(token)
    return out


class _Clause:
    """What a clause holds so far: something to do, who moves, whither, how high."""

    def __init__(self) -> None:
        self.does = self.way = self.height = ""
        self.limbs = 0
        self.part = self.both = False
        self.told = False  # who moves stands behind whither: nothing more can come

    def take(self, token: Token, before: Token | None) -> None:
        """Add a word to the clause."""
        if token.kind in DOING:
            self.does = token.value
        elif token.kind in LIMBS:
            self.both = self.both or (token.kind == "hand" and token.value == "both")  # "push both hands right"
            own = not self._named(token, before)
            self.limbs += own
            self.part = self.part or token.kind == "footpart"
            self.told = self.told or (own and bool(self.way))
        elif token.kind == "dir":
            self.way = token.value
        elif token.kind == "place":
            self.height = token.value

    def ends_before(self, token: Token, before: Token, *, homes: bool) -> bool:
        """Return whether the clause is whole, and this word begins the next."""
        whole = bool(self.way or self.height) and bool(self.does or self.limbs)
        if homes and self.way and not (self.limbs or self.does) and token.kind in ("dir", *DOING):
            return True  # "side tog side tch"
        home = self.way in HOMES and not self.does
        if token.kind in DOING:
            return bool(self.does) or whole or home or self.limbs > 1
        if token.kind in LIMBS:
            if self._named(token, before) or (token.kind == "side" and self.both):
                return False
            return whole or (self.limbs > 0 and bool(self.does)) or (home and token.kind != "side")
        if (
            token.kind in ("dir", "side")
            and self.way == "across front"
            and self.limbs
            and before.kind in ("dir", "prep", "fill")
        ):
            return False  # "the right hand across the body to the left"
        if token.kind == "dir" and before.low not in REFERRING and before.kind != "prep":
            goes_home = token.value in HOMES
            ends = whole and (goes_home or bool(self.does) or self.told)
            return ends or (homes and goes_home and self.part and not self.way)  # "heel home", not "foot home"
        return False

    def _named(self, token: Token, before: Token | None) -> bool:
        """Return whether a foot is only where another goes ("over right", "beside the left")."""
        lead = before is not None and (before.low in REFERRING or before.kind in ("prep", "fill"))
        refers = before is not None and before.kind == "dir" and before.low.endswith(tuple(REFERRING))
        return token.kind in ("side", "foot") and (lead or refers) and bool(self.does or self.limbs)
