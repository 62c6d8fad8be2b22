"""Rows that only ask for another of the sheet: "again", "as 2", "as i.", "W again", "number 1 on the other foot"."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

ASKING = shape(
    r"\b(?:again|over|as|like|same|repeat\w*|rpt|just|exactly|danced?|before|above|once|more|the|for|all|of|is|number|no|"
    r"row|line|section|part)\b\.?",
    re.IGNORECASE,
)
OTHER = shape(
    r"\b(?:(?:on|with|to|starting|beginning|leading|but|from)\s+)*(?:the\s+)?"
    r"(?:(?P<other>other|opposite)|(?P<left>left|L)|(?P<right>right|R)|(?P<mirror>mirror\w*|reversed))\b"
    r"(?:\s+(?:foot|feet|leg|side|way|hand|first|leads?|leading))*",
    re.IGNORECASE,
)
LONGEST = 48


class Asked(NamedTuple):
    """The name of the row that is asked for, and the words for the other side."""

    name: str
    side: str


def asked_row(words: str, own: str, names: Sequence[str]) -> Asked | None:
    """Return which of the rows named so far a row asks for; None where it does anything else.

    >>> asked_row("As i.", "iv", ["i", "ii"]), asked_row("clap", "iv", ["i"])
    (Asked(name='i', side=''), None)
    """
    if len(words) > LONGEST:
        return None
    text = words.casefold().strip(" |.!")
    side, bare = "", text
    found = OTHER.search(text)
    if found is not None:
        bare = f"{text[: found.start()]} {text[found.end() :]}"
        way = next(k for k, v in found.groupdict().items() if v)
        side = f" with the {way} foot" if way in ("left", "right") else " with the other foot"
    asks = ASKING.search(bare) is not None
    left = ASKING.sub(" ", bare)
    name = re.sub(r"[\s\"“”'.,;:()!–-]+", " ", left).strip()
    cells = [cell.strip() for cell in name.split("|")]
    name = cells[0] if len(set(cells)) == 1 else name
    if name in names and (asks or side or own not in names):
        return Asked(name, side)
    return Asked(own, side) if not name and asks and own in names else None
