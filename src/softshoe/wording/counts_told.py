"""Counts told as a caller shouts or a letter writes them: "ONE reach up, TWO bring it down", "on the first count"."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.numbers import ORDINALS, SPELLED
from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Iterator

MOST = 16  # counts
SHOUTED = {word.upper(): n for word, n in SPELLED.items() if 0 < n <= MOST}
SHOUT = shape(rf"(?<![\w-])(?:{'|'.join(SHOUTED)})(?=,?\s+[a-z])")
NUMBERS = "|".join(SHOUTED)
NTH = "|".join(word for word, n in ORDINALS.items() if n)
FIRST = shape(r"\bon the first (?:count|beat)\b", re.IGNORECASE, needs="first")
ON_NTH = shape(
    rf"\b(?P<on>on|for) the (?P<nth>(?:{NTH})(?:(?:, (?:and )?|,? and )(?:the )?(?:{NTH}))*)(?: counts?| beats?)?"
    r"(?=\W*$|[,.;:]|\s(?!walls?\b|time|step|section|round|verse|wall\b|line|foot|part))",
    re.IGNORECASE,
)
A_COUNT = shape(  # "(1 to 8, one thing a count)"
    r"\(\s*(?P<counts>\d{1,2}\s*(?:-|–|to)\s*\d{1,2})\s*(?P<said>[,;:–-]\s*(?:one|a|each)\s+(?:(?:thing|move|movement|step|word)\s+)?"
    r"(?:a|per|each|to a|to each|on each|for each)\s+(?:count|beat|number))\s*\)",
    re.IGNORECASE,
)
RANGED = shape(r"\W*(?:counts?\s+)?\d{1,2}\s*(?:-|–|to)\s*\d{1,2}\b", re.IGNORECASE)
SUMMED = shape(  # "Counts 1-8: … (that's four), …": the counts before the line tell as much
    rf"\s*\(\s*(?:and\s+)?that(?:'s|’s| is| makes)\s+(?:\d{{1,2}}|{NUMBERS})(?:\s+(?:counts?|beats?))?\s*\)",
    re.IGNORECASE,
    needs="that",
)
OFTEN = 3


def counts_told(text: str) -> list[Edit]:
    """Return the counts of a sheet that tells them so, as digits.

    >>> [e.words for e in counts_told("X\\nONE reach up, TWO hold, THREE bring it down, FOUR hold")]
    ['1', '2', '3', '4']
    >>> [e.words for e in counts_told("X\\nOn the first count clap. Hold on the second and third. Clap on the fourth.")]
    ['On 1', 'on 2 and 3', 'on 4']
    """
    summed = [m for m in SUMMED.finditer(text) if RANGED.match(text, text.rfind("\n", 0, m.start()) + 1)]
    talk = [Edit(*m.span("said"), "") for m in A_COUNT.finditer(text)]
    return [*_shouted(text), *_ordered(text), *talk, *(Edit(m.start(), m.end(), "") for m in summed)]


def _shouted(text: str) -> Iterator[Edit]:
    """Give the numbers that are shouted amid words, where they count up."""
    found = list(SHOUT.finditer(text))
    numbers = [SHOUTED[m[0]] for m in found]
    if len(found) > OFTEN and all(b in (a + 1, 1) for a, b in pairwise(numbers)) and numbers[0] == 1:
        for m, number in zip(found, numbers, strict=True):
            yield Edit(m.start(), m.end(), str(number))


def _ordered(text: str) -> Iterator[Edit]:
    """Give the counts told by their order, on lines that begin with the first."""
    at = 0
    for row in text.split("\n"):
        found = list(ON_NTH.finditer(row)) if FIRST.search(row) else []
        for m in found if len(found) >= OFTEN else ():
            told = re.sub(NTH, lambda nth: str(ORDINALS[nth[0].casefold()]), m["nth"], flags=re.IGNORECASE)
            yield Edit(at + m.start(), at + m.end(), f"{m['on']} {told.replace('the ', '')}")
        at += len(row) + 1
