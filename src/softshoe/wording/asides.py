"""What stands beside the steps: margin notes behind an arrow, brackets that only talk; no foot moves for them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark
from softshoe.wording.shape import shape
from softshoe.wording.strange import meant_by

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

ARROW = shape(r"(?<=\s)(?:<{1,2}[-–—=]*|←|⇐|◄|//)\s*(?=[^\W\d]).*$")
QUOTED = shape(r"(?<=[\w)\]½¼¾.!])(?:\s{2,}|\t|\s*\|\s*)[\"“”‘][^\"“”’]*[\"“”’][\s|.]*$")  # a cue beside the step
PLACE = shape(r"\b(?:walls?|w\s?\d|restart|tag)\b", re.IGNORECASE)  # no talk: a wall leaves off here
CHAIRS = frozenset(
    ("seated", "sitting", "chair", "chairs", "wheelchair", "wheelchairs", "seat", "sitters", "seats", "on the chair",
     "on a chair", "in your seat", "easier", "easy", "harder", "standing option")
)  # fmt: skip
# "Seated: keep the steps small" under the steps: another form of them, for some.
FOR_OTHERS = shape(
    r"\W*(?:(?:if|when|for|those|dancers|people|anyone|everyone|who|on|in|behind|with|without|the|a|your|you|are|is|"
    r"they)\s+)*"
    r"(?:seated|sitting|sit|standing|stand|chairs?(?:[- ]users)?|wheelchairs?(?:[- ]users)?|sitters|walking frame|"
    r"walker|stick)(?:\s+(?:down|up|version|form|dancers|people|only|users))*\s*(?::|\s[–—-]\s)(?!\W*\d)",
    re.IGNORECASE,
)
TRADE = (
    "verb", "pattern", "gest", "dual", "draw", "footpart", "foot", "hand", "side", "dir", "amount", "spin", "weight",
    "noweight", "takeweight", "clock", "times", "repeat", "same", "mirror", "again",
)  # fmt: skip


def parted(line: str) -> tuple[str, str]:
    """Return a step line with the note behind an arrow as blanks, and that note.

    >>> parted("1-2 Stomp, stomp   <- gently")
    ('1-2 Stomp, stomp            ', '<- gently')
    """
    found = ARROW.search(line) if any(mark in line for mark in "<←⇐◄/") else None
    if found is None and any(mark in line for mark in '"”’'):
        found = QUOTED.search(line)
    if (
        found is None
        or PLACE.search(found.group())
        or (found.group().startswith("//") and (not re.match(r"\W*\d", line) or line.count("//") > 1))
    ):
        return line, ""
    return line[: found.start()] + " " * (found.end() - found.start()), found.group()


def talks(inside: Sequence[Token]) -> bool:
    """Return whether words in brackets only talk: words that no table has, with few of the trade among them."""
    if any(t.kind == "quiet" for t in inside):
        return True
    strange = [t for t in inside if t.kind == "word"]
    trade = sum(t.kind in TRADE for t in inside)
    if not strange or 2 * len(strange) < trade:
        return False
    chat = len(strange) > 1 and len(strange) >= trade
    return chat or not trade or not any(len(t.low) > 3 and meant_by(t.low) for t in strange)


def for_chairs(words: Sequence[Token]) -> bool:
    """Return whether words begin with whom another form is for: "seated: tap the left", "on the chair: …"."""
    for k, token in enumerate(words[:4]):
        if is_mark(token, ":"):
            return any(t.low in CHAIRS for t in words[:k])
        if (
            token.kind not in ("word", "fill", "prep", "on", "quiet", "place", "note", "look")
            and token.low not in CHAIRS
        ):
            return False
    return False
