"""A sheet in questions and answers: "Q: What happens in counts 1-8?" heads a section, "A:" before steps is no name."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.lines import Line

ASKED = shape(r"^\s*(?:Q|Question)\s*[:.]\s", re.IGNORECASE)
ANSWERED = shape(r"^\s*(?:A|Answer)\s*[:.]\s", re.IGNORECASE)
RANGE = shape(r"\b(?:counts?|beats?)\s+\d{1,2}\s*(?:-|–|to)\s*\d{1,2}\b", re.IGNORECASE)
MANY = 2


def answered(lines: list[Line]) -> list[Line]:
    """Return the lines with the marks of questions and answers blank; a question keeps no more than its counts."""
    asked = sum(bool(ASKED.match(line.text)) for line in lines)
    if asked < MANY or sum(bool(ANSWERED.match(line.text)) for line in lines) < MANY:
        return lines
    return [line._replace(text=_plain(line.text)) for line in lines]


def _plain(text: str) -> str:
    found = RANGE.search(text) if ASKED.match(text) else None
    if found is not None:
        return " " * found.start() + found[0] + " " * (len(text) - found.end())
    mark = ANSWERED.match(text)
    return " " * mark.end() + text[mark.end() :] if mark else text
