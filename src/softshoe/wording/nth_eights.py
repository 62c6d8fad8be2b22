"""Sections that sentences begin, several on a line: "In the first eight we march …. In the second eight …".

Each gets a line and a heading of its own; they count up from the first, and the last may be called the last.
"""

from __future__ import annotations

import re

from softshoe.wording.numbers import place_number
from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

NTH = "first|second|third|fourth|fifth|sixth|seventh|eighth"
BEGINS = shape(
    r"(?:^|(?<=[.!?;])\s+)(?P<lead>(?:(?:and|then|now|so)\b,?\s*)*(?:(?:in|for|during|on)\s+)?(?:the\s+|our\s+|your\s+)?"
    rf"(?P<nth>{NTH}|next|last|final)\s+"
    r"(?:(?:set|lot)\s+of\s+)?(?:eight|six|part|section|set|phrase|block|figure)\b(?!\s+(?:of|on|in)\b)"
    r"(?:\s+(?:counts?|beats?)\b)?\s*[,:–-]?\s*)(?=[^\W\d])",
    re.IGNORECASE,
)
MOST_LINES, MOST = 400, 16


def nth_eights(text: str) -> list[Edit]:
    """Return such sections, each with a heading; none where no line holds several, or they do not count up.

    >>> [edit.words for edit in nth_eights("X\\nIn the first eight march. And in the last eight clap.")]
    ['Section 1: ', '\\nSection 2: ']
    """
    out: list[Edit] = []
    at = several = 0
    names: list[str] = []
    for i, line in enumerate(text.split("\n")[:MOST_LINES]):
        found = list(BEGINS.finditer(line)) if i else []
        several += len(found) > 1
        for m in found:
            names.append(m["nth"].casefold())
            begin = m.start("lead")
            out.append(Edit(at + begin, at + m.end(), f"{chr(10) if begin else ''}Section {len(names)}: "))
        at += len(line) + 1
    return out if several and _count_up(names) else []


def _count_up(names: list[str]) -> bool:
    told = [n for n, name in enumerate(names, 1) if name not in ("next", "last", "final")]
    last = any(name in ("last", "final") for name in names[:-1])
    return (
        names[0] == "first" and len(names) <= MOST and not last and all(place_number(names[n - 1]) == n for n in told)
    )
