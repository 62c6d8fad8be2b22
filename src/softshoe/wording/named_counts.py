"""A list whose name stands before the first of its counts: "Knee lifts: right (1), down (2), left (3), down (4)".

What the name says is said for all of the list, so the counts are put together and the words read as one line.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.begins import SPELLED
from softshoe.wording.counting import Label, is_mark, label_at
from softshoe.wording.facts import tells_dance
from softshoe.wording.lex import Token, tokens_of
from softshoe.wording.numbers import in_digits
from softshoe.wording.parts import Item
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

FEW = shape(
    r"^\W*(?:(?:and|then|now)\s+)*(?:(?:the|your)\s+)?(?:(?P<first>first)|next|last|final|another|other|following)\s+"
    r"(?P<n>two|four|2|4)(?:\s*(?:counts?|cts?|beats?))?\s*(?:are\b|is\b|[=:–-]|,)\s*",
    re.IGNORECASE,
)
STOPS = shape(r"[.;,]\s+(?=(?:then\s+)?(?:for\s+)?(?:\d|[a-z]+\s+(?:more\s+)?(?:counts?|beats?)\b))", re.IGNORECASE)
AHEAD = shape(
    rf"^\W*(?:(?:and|then|now|next)\s+)*(?:(?:for|over)\s+)?(?P<n>\d{{1,2}}|{SPELLED})\s*(?:more\s+)?"
    r"(?:counts?|cts?|beats?|c(?=\W))\s*(?:more\b)?\s*(?:[\])}]?\s*(?:[:=|–—-]|,\s)|[\])}]|(?=\s[^\W\d]))\s*",
    re.IGNORECASE,
)
LONGEST_NAME = 8  # words
DOING = frozenset(("verb", "pattern", "gest", "dual", "draw", "repeat", "same", "again", "mirror"))
NAMING = frozenset(("verb", "pattern", "gest", "dual", "footpart"))
LIMBS = frozenset(("side", "foot", "hand"))
HOMING = frozenset(("together", "in place", "centre", "home"))
Piece = tuple[Label, list[Token]]


def counted_under_a_name(tokens: Sequence[Token]) -> Item | None:
    """Return one item for a name and its list, None for any other line, or one whose steps say all by themselves."""
    at = next((i for i, t in enumerate(tokens[: LONGEST_NAME + 1]) if _ends_name(t)), 0)
    name = tokens[:at]
    of_whom = any(t.kind in LIMBS for t in name)
    if not (of_whom or any(t.kind in NAMING for t in name)) or any(t.kind in ("num", "count", "on") for t in name):
        return None
    pieces = _pieces(tokens[at + 1 :])
    bare = [words for _, words in pieces if not any(t.kind in DOING and t.dir not in HOMING for t in words)]
    theirs = of_whom and not any(t.kind in LIMBS for _, words in pieces for t in words)
    if len(pieces) < 2 or not (theirs or 2 * len(bare) > len(pieces)):
        return None
    words = [*name, tokens[at]._replace(text=":", low=":", kind="mark")]
    for _, piece in pieces:
        comma = Token("mark", ",", "", ",", piece[0].start, piece[0].start, piece[0].line, low=",")
        words += [comma, *piece] if piece is not pieces[0][1] else piece
    places = tuple(p for label, _ in pieces for p in label.places)
    return Item(Label(places, True, pieces[0][0].start, pieces[-1][0].end, 0), words, 0)


def name_before_counts(tokens: Sequence[Token], last: Fraction | None) -> int:
    """Return how many words are a name before steps that say all by themselves, each with its count; 0 for none.

    >>> from softshoe.wording.lex import tokens_of
    >>> name_before_counts(tokens_of("Rock: 3 rock L forward, 4 recover onto R", line=1), None)
    2
    """
    at = next((i for i, t in enumerate(tokens[: LONGEST_NAME + 1]) if is_mark(t, ":")), 0)
    named = any(t.kind in NAMING for t in tokens[:at])
    if not named or any(t.kind in ("num", "count", "on", "hand", "note") for t in tokens[:at]):
        return 0
    first = label_at(tokens, at + 1)
    if first is None or is_mark(tokens[first[1] - 1], ".;"):
        return 0  # "right shuffle forward: 1&2. Rock …"
    if last is not None and first[0].first != last.__floor__() + 1:
        return 0
    pieces = _pieces(tokens[at + 1 :])
    words = [words for _, words in pieces] or [list(tokens[first[1] :])]
    whole = all(any(t.kind in DOING or t.kind == "dir" for t in part) for part in words)
    return at + 1 if whole and (pieces or len(first[0].places) > 1) else 0


def next_few(text: str, last: Fraction | None) -> tuple[Label, int] | None:
    """Return the counts of "first 4 = …", "next two: …" behind the count ``last``, and where their words begin."""
    found = (
        FEW.match(text) if "four" in text[:40] or "two" in text[:40] or "2" in text[:40] or "4" in text[:40] else None
    )
    before = last or Fraction(0)
    if found is None or before.denominator != 1 or (last is None and not found["first"]):
        return None
    n = int(in_digits(found["n"]))
    places = tuple(before + k for k in range(1, n + 1))
    return Label(places, True, found.start("n"), found.end("n"), 0), found.end()


def lengths_ahead(text: str, last: Fraction | None) -> list[tuple[Label, int, int]]:
    """Return the lengths that a line's sentences begin with, each with where its words begin and end; [] for others."""
    found: list[tuple[Label, int, int]] = []
    begins = [0, *(m.end() for m in STOPS.finditer(text))] if length_ahead(text, last) is not None else []
    for at in begins:
        one = length_ahead(text[at:], last)
        if one is None:
            continue
        label = one[0].moved(at, 0)
        found = [*found[:-1], (*found[-1][:2], at)] if found else found
        found.append((label, at + one[1], len(text)))
        last = label.last
    return found


def length_ahead(text: str, last: Fraction | None) -> tuple[Label, int] | None:
    """Return the counts of "4 counts: …" behind the count ``last``, and where their words begin; None for others.

    Behind the length something is danced; a header's "32 counts, 4 walls" is none.
    """
    found = AHEAD.match(text) if "c" in text[:24].casefold() or "beat" in text[:24].casefold() else None
    before = last or Fraction(0)
    if found is None or before.denominator != 1:
        return None
    rest, n = text[found.end() :], int(in_digits(found["n"]))
    parted = found.group().rstrip()[-1:] in ":=|–—-])}"
    words = tokens_of(rest[:80], line=0) if 0 < n <= LONGEST_AHEAD and not tells_dance(rest) else ()
    first = next((t for t in words if t.kind not in ("fill", "mark")), None)
    if first is None or not any(t.kind in MOVED for t in words) or not (parted or first.kind in MOVED):
        return None
    places = tuple(before + k for k in range(1, n + 1))
    label = Label(places, False, found.start("n"), found.end("n"), 0, plus=n == 2, floats=True)
    return label, found.end()


def tells_how_often(tokens: Sequence[Token], last: Fraction | None) -> bool:
    """ "4 right toe taps", "4 more kicks": a number before things told in the plural is no count, unless it comes next.

    Only where no other number stands on the line.
    """
    head = tokens[0]
    if (
        head.kind != "num"
        or head.number < 2
        or len(tokens) < 2
        or tokens[1].glued
        or tokens[1].kind in ("mark", "num", "count", "times")
    ):
        return False
    if last is not None and head.number == last.__floor__() + 1:
        return False
    return all(_before_things(tokens, i) for i, t in enumerate(tokens) if t.kind == "num")


def _before_things(tokens: Sequence[Token], i: int) -> bool:
    """Return whether things in the plural stand behind a number: "8 marches", "4 left toe taps"."""
    ends = next((k for k in range(i, len(tokens)) if tokens[k].kind == "mark"), len(tokens))
    words = tokens[i + 1 : min(ends, i + 5)]
    plural = (
        k
        for k, t in enumerate(words)
        if t.kind in COUNTED and t.low.endswith("s") and not t.low.endswith(("ss", "hips"))
    )
    named = next(plural, None)
    return named is not None and all(t.kind in SAYING for t in words[:named])


COUNTED = (NAMING | {"draw", "times"}) - {"footpart"}
SAYING = ("fill", "side", "footpart", "again", "alternate")
LONGEST_AHEAD = 32  # counts
MOVED = DOING | frozenset(("footpart", "side", "foot", "hand", "quiet"))


def _ends_name(token: Token) -> bool:
    return is_mark(token, ":") or (is_mark(token, "-–—") and not token.glued)


def _pieces(tokens: Sequence[Token]) -> list[Piece]:
    """Return the list with the count of each part, if every part has one and they follow on each other."""
    found: list[tuple[int, int, Label]] = []
    i = 0
    while i < len(tokens):
        read = label_at(tokens, i)
        if read is not None and len(read[0].places) == 1 and (not found or read[0].first == found[-1][2].last + 1):
            found.append((i, read[1], read[0]))
            i = read[1]
        else:
            i += 1
    if len(found) < 2 or found[0][2].first.denominator != 1:
        return []
    if found[0][0] == 0:
        ends = [*(start for start, _, _ in found[1:]), len(tokens)]
        parts = [(label, _bare(tokens[end:until])) for (_, end, label), until in zip(found, ends, strict=True)]
    else:
        starts = [0, *(end for _, end, _ in found)]
        parts = [(label, _bare(tokens[a:start])) for a, (start, _, label) in zip(starts, found, strict=False)]
        if any(t.kind != "mark" for t in tokens[found[-1][1] :]):
            return []
    return parts if all(words for _, words in parts) else []


def _bare(tokens: Sequence[Token]) -> list[Token]:
    """Return the words without marks and joints at either end."""
    words = list(tokens)
    while words and (is_mark(words[0], ",;.:|") or words[0].low in ("and", "then")):
        words.pop(0)
    while words and (is_mark(words[-1], ",;.:|") or words[-1].low in ("and", "then", "on")):
        words.pop()
    return words
