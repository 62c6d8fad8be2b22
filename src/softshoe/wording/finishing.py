""" "To finish, kick right on 1 …": the last part of the dance, where the header says that it has one part more."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.begins import first_count
from softshoe.wording.numbers import in_digits
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Iterable

FINISHING = shape(
    r"\W*(?:and |then |now )*(?:to (?:finish|end|close)(?: off| up)?|(?:the )?finish|finale|(?:for|to) the finish|"
    r"last of all)\b[ ,:–-]+(?=\w)",
    re.IGNORECASE,
)
OF_WALL = shape(
    r"\bwalls?\b|\blast time\b|\b(?:end|close) of the (?:song|music|dance)\b|\bfac\w+ (?:the )?front\b", re.IGNORECASE
)
STATED = shape(r"(?<![\d:-])(\d{2})[\s-]*(?:counts?|beats?|c)\b", re.IGNORECASE)


def finishing(text: str) -> bool:
    """Return whether words that finish a dance tell counts from 1 of their own, and no wall.

    >>> finishing("To finish, kick right on 1, home on 2."), finishing("To finish on wall 7: 1-2 stomp, stomp")
    (True, False)
    """
    found = FINISHING.match(text)
    if found is None or OF_WALL.search(text):
        return False
    return first_count(text[found.end() :]) == 1 or re.search(r"\bon (?:count )?(?:1|one)\b", text) is not None


def stated_counts(header: Iterable[str]) -> int | None:
    """Return the length that a header says, None where it says none."""
    found = STATED.search(in_digits(" ".join(header)))
    return int(found[1]) if found is not None else None
