"""Short words that a sheet says the meaning of: "Key: T = tap, IP = in place", "RH, LH = right hand, left hand".

Each is read as its words wherever else the sheet writes it; what is read keeps its place in the sheet.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.lex import tokens_of
from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

HEADED = shape(
    r"^\W*(?:key|abbreviations?|abbr|legend|short(?:hand| forms?| words)|signs?|letters)\b(?:\s+used)?[\s.:=–-]*",
    re.IGNORECASE,
)
MAY_EXPLAIN = shape(r"=|^[^\w\n]{0,8}(?:key|abbr\w*|legend|short\w*|signs?|letters)\b", re.IGNORECASE | re.MULTILINE)
GROUP = shape(r"\s*[;|\n]\s*|\.\s+|\.$|\s{2,}")
MEANS = r"(?:=|:|\bmeans\b|\bis\b|\s[-–—]\s)"
PAIR = shape(
    rf"\s*(?P<short>[^\W\d_]{{1,8}})\.?\s*{MEANS}\s*(?P<words>(?:(?!{MEANS}).)+?)\s*(?:,(?=\s*[^\W\d_]+\.?\s*{MEANS})|$)",
    re.IGNORECASE,
)
LIST = shape(r"\s*(?:,|/|\band\b)\s*")
MOST_LINES, LONGEST_LINE = 600, 300
MOST_WORDS = 5
MOVING = frozenset(
    ("side", "foot", "hand", "dir", "verb", "pattern", "gest", "footpart", "draw", "place", "dual", "both", "turnword")
)


AS_EVER = ("home", "back", "up", "down", "in", "out")  # explained for the reader's sake: they mean what they mean


class Short(NamedTuple):
    """A short word, the words that it stands for, and the line that says so."""

    short: str
    words: str
    line: int


def spelled_out(text: str) -> list[Edit]:
    """Return the short words of a sheet that its own key explains, each with its words.

    >>> [edit.words for edit in spelled_out("X\\nKey: H = heel, IP = in place\\n1-2 R H forward, IP")]
    ['heel']
    """
    rows = text.split("\n")[:MOST_LINES] if MAY_EXPLAIN.search(text) else []
    told = {one.short: one for i, row in enumerate(rows) if i for one in _told(i, row)}
    if not told:
        return []
    keys = {one.line for one in told.values()}
    every = "|".join(sorted(map(_spelled, told), key=len, reverse=True))
    written = re.compile(rf"(?<![\w'’])(?:{every})(?![\w'’])")
    meant = {short.casefold(): one.words for short, one in told.items()}
    out: list[Edit] = []
    at = 0
    for i, row in enumerate(rows):
        if i and i not in keys:
            found = written.finditer(row)
            out += [Edit(at + m.start(), at + m.end(), meant[m[0].casefold()]) for m in found]
        at += len(row) + 1
    return out


def _spelled(short: str) -> str:
    """One letter or two are meant as they are written; longer words with any capitals."""
    return re.escape(short) if len(short) < 3 else f"(?i:{re.escape(short)})"


def _told(i: int, row: str) -> Iterator[Short]:
    """Give the short words that a line explains."""
    head = HEADED.match(row)
    if len(row) > LONGEST_LINE or (head is None and "=" not in row):
        return
    for group in GROUP.split(row[head.end() :] if head is not None else row):
        for short, words in _pairs(group):
            if _explains(short, words, sure=head is not None):
                yield Short(short, words, i)


def _pairs(group: str) -> list[tuple[str, str]]:
    """Return the short words of one group and meanings: "RF, LF = right foot, left foot", "T = tap, H = heel"."""
    sides = group.split("=")
    if len(sides) == 2:
        shorts, words = (LIST.split(side.strip()) for side in sides)
        if len(shorts) == len(words):
            return list(zip(shorts, _shared(words), strict=True))
    out, at = [], 0
    while found := PAIR.match(group, at):
        out.append((found["short"], found["words"]))
        at = found.end()
    return out if at >= len(group.rstrip()) else []


def _shared(words: list[str]) -> list[str]:
    """ "RH, LH = right, left heel forward": what stands behind the last is said of all."""
    own, tail = [w.split() for w in words[:-1]], words[-1].split()[1:]
    return [" ".join((*w, *tail)) for w in own] + [words[-1]] if all(len(w) == 1 for w in own) else words


def _explains(short: str, words: str, *, sure: bool) -> bool:
    """Return whether words of the trade explain a short word that means nothing, or another thing, by itself."""
    if not short.isalpha() or len(short) > 8 or (len(short) == 1 and not short.isupper()):
        return False
    meaning = _kinds(words)
    known = len(words.split()) <= MOST_WORDS and all(kind != "word" for kind, *_ in meaning)
    own = _kinds(short)
    if not known or not any(kind in MOVING for kind, *_ in meaning) or own == meaning or short.casefold() in AS_EVER:
        return False
    return sure or all(kind == "word" for kind, *_ in own)


def _kinds(words: str) -> Sequence[tuple[str, str, str]]:
    return [(t.kind, t.value, t.dir) for t in tokens_of(words, line=0)]
