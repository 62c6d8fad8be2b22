"""The count labels of a line: where one can begin, and which numbers amid words are counts."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.counting import BEGINS, Label, counts_named, is_mark, label_at, leads_counts

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from softshoe.wording.lex import Token

NO_COUNT_BEHIND = ("for", "over", "wall", "from", "after", "on")
MOST_WORDS = 1500  # of one line, in which counts are looked for
BOUNDARY = ",;.|(:[+-–—\t/"
WORDS_OF = frozenset(("verb", "pattern", "side", "foot", "footpart", "dir", "gest", "dual", "hand", "draw", "amount",
"turnword", "again", "repeat", "same", "mirror", "quiet", "place", "word", "num", "spin", "thumb"))  # fmt: skip
TOWARDS = ("to", "to the", "into", "into the", "onto", "back to", "in", "up", "down")
COPYING = ("repeat", "again", "same", "mirror")
Found = tuple[int, int, Label]  # index of the label's first token, index behind it, the label


class Row:
    """The words of a line; each label in it is read once, however often it is asked for."""

    def __init__(self, tokens: list[Token]) -> None:
        self.tokens = tokens
        self.begins = [i for i in range(len(tokens)) if _may_count(tokens, i)]
        self._read: dict[int, tuple[Label, int] | None] = {}
        self._labels: dict[Fraction | None, list[Found]] = {}

    def label_at(self, i: int) -> tuple[Label, int] | None:
        """Return the label that begins at token i and the index behind it, or None."""
        if i not in self._read:
            self._read[i] = label_at(self.tokens, i)
        return self._read[i]

    def labels(self, last: Fraction | None = None) -> list[Found]:
        """Return the labels of the line; ``last`` is the count that stands before it."""
        if last not in self._labels:
            self._labels[last] = self._all(last)
        return self._labels[last]

    def _all(self, last: Fraction | None) -> list[Found]:
        found: list[Found] = []
        free = 0
        for i in self.begins:
            hit = _label(self, i, found, last) if free <= i < MOST_WORDS else None
            if hit is not None:
                found.append((i, hit[1], hit[0]))
                free = hit[1]
            elif self.tokens[i].kind == "on" and self.tokens[0].kind in COPYING and (read := self.label_at(i)):
                free = max(free, read[1])  # "Do all of that once more on 5, 6, 7 and 8": one range, no count amid it
        return found


def _may_count(tokens: Sequence[Token], i: int) -> bool:
    """Return whether a count label can begin at token i, by its first words or marks."""
    token = tokens[i]
    if token.kind != "mark":
        return token.kind in BEGINS or token.low in ("for", "during", "from")
    if token.text not in "(&[+" or i + 1 == len(tokens):
        return False
    behind = tokens[i + 1]
    return behind.kind in BEGINS or behind.low in ("for", "during", "&", "+")


def _label(row: Row, i: int, found: list[Found], last: Fraction | None) -> tuple[Label, int] | None:
    tokens = row.tokens
    token = tokens[i]
    named = counts_named(tokens, i)
    if not (named or token.kind in BEGINS or token.kind == "mark" or leads_counts(tokens, i)):
        return None
    read = row.label_at(i)
    if read is None:
        return None
    label, _ = read
    if i == 0 or (found and found[-1][1] == i):
        return read if i == 0 or label.places[0] > found[-1][2].last else None
    before = tokens[i - 1]
    boundary = is_mark(before, BOUNDARY)
    so_far = found[-1][2].last if found else last
    if named or token.kind in ("on", "count") or token.low in ("from", "for"):
        if before.low in ("as", "like", "same", "repeat", "rpt", "of", "do"):
            return None
        clause = boundary or before.kind == "join" or before.low in ("and", "then")
        if before.low in ("and", "&") and not any(t.kind in WORDS_OF for t in tokens[read[1] :]):
            return None  # "pat on 1 and on 4"
        return read if clause and (so_far is None or label.first > so_far) else None
    if is_mark(token, "(["):
        return read
    behind = tokens[read[1]] if read[1] < len(tokens) else None
    tight = tokens[i + 1].glued and not token.glued if i + 1 < len(tokens) else False  # "2 hold &3 step"
    if label.spelled and before.kind == "join" and i > 1 and so_far is not None and label.first == so_far + 1:
        return (
            read
            if is_mark(tokens[i - 2], ",;") and any(is_mark(t, ",:") for t in tokens[read[1] - 1 : read[1] + 1])
            else None
        )
    heels = behind is not None and behind.kind == "footpart" and found and tokens[found[-1][1]].low == behind.low
    if heels and is_mark(before, ",;") and so_far is not None and 1 < label.first - so_far <= 3:
        return read  # "5 heels up, 7 heels up": two counts, and not seven heels
    return read if _begins(token, before, behind, label, so_far, tight=tight) else None


def _begins(
    token: Token, before: Token, behind: Token | None, label: Label, so_far: Fraction | None, *, tight: bool
) -> bool:
    """Return whether numbers amid a line are counts: they go on from those before, or stand behind a mark."""
    boundary = is_mark(before, BOUNDARY)
    follows = so_far is not None and 0 < label.first - so_far <= 1
    if is_mark(token, "&+"):
        return follows and (boundary or tight)
    lands = behind is not None and behind.low in TOWARDS and not label.ranged and not label.spelled  # "4 to lap"
    words = behind is not None and (behind.kind in WORDS_OF or lands)
    skips = so_far is not None and 1 < label.first - so_far <= 3
    if boundary and skips and words and behind is not None and not behind.low.endswith("s"):
        return True
    if boundary and (len(label.places) > 1 or follows or is_mark(before, ";.|")):
        return so_far is None or label.first > so_far or is_mark(before, ";|")
    if before.low in NO_COUNT_BEHIND:
        return False
    return follows and words and behind is not None and behind.kind != "num"


def listed(tokens: Sequence[Token]) -> bool:
    """ "2. For counts 5 and 6, …", "3. Right arm up on 7", "1. Walk R, walk L (1 2)": a number before a line's
    own counts numbers the line.
    """
    if len(tokens) < 4 or tokens[0].kind != "num" or not is_mark(tokens[1], ".)"):
        return False
    if counts_named(tokens, 2) and label_at(tokens, 2) is not None:
        return True
    opens = [i for i in range(2, len(tokens)) if is_mark(tokens[i], "([")]
    behind = label_at(tokens, opens[-1]) if opens else None
    if behind is not None and behind[1] >= len(tokens) and len(behind[0].wholes) > 1:
        return True
    told = [b.number for a, b in pairwise(tokens[2:]) if b.kind == "num" and a.kind == "on"]
    return bool(told) and (len(told) > 1 or told[0] != tokens[0].number) and told == sorted(told)
