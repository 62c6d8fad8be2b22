"""On which side a section is danced that asks for another: "other foot", "mirrored", "to the left"."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.asks_moves import MOVES, stem
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

TO = r"(?:\b(?:(?:on|to|with|from|starting|beginning|leading|using|for)\s+)+|(?:^|[,;:(–—-]|\s{2})\s*)"
OTHER = shape(
    rf"{TO}(?:the\s+|your\s+)?(?:other|opposite)\s+(?:foot|side|leg|way(?:\s+(?:round|about))?)\b|"
    r"\b(?:with\s+)?(?:left and right|right and left|lefts and rights|sides)\s+"
    r"(?:changed(?: over)?|swapped(?: over)?|exchanged|the other way round)\b|"
    r"\bmirror(?:ed|\s+image|wise)?(?:\s+of)?\b|\bopposite feet\b",
    re.IGNORECASE,
)
LED = shape(
    r"\b(?:(?:on|to|with|from|starting|beginning|starts?|begins?|leading|led|using|for|now|by)\s+)+(?:with\s+)?"
    r"(?:the\s+|your\s+)?(?P<side>left|right|[LR])(?:\s*(?:foot|leg|hand|side|f))?\b(?:\s+(?:first|leading))?|"
    r",\s*(?P<alone>left|right)\s+(?:foot|leg)\b|\b(?P<first>left|right|[LR])\s+(?:foot\s+)?(?:first|leads?)\b",
    re.IGNORECASE,
)
CLAUSE = shape(r"[,;:.]|\bbut\b|\bexcept\b", re.IGNORECASE)
NOT_ALL = shape(r"\d|\b(?:not|never|no|don['’]t)\b", re.IGNORECASE)
WORD = shape(r"[^\W\d_]+")
MOST_CLAUSES = 2
SIDED = {"foot:L": "L", "foot:R": "R", "arm:L": "L", "arm:R": "R"}


def names_side(words: str) -> bool:
    """Return whether words name a side that all is danced on."""
    return OTHER.search(words) is not None or LED.search(words) is not None


def other_side(words: str, codes: Sequence[str]) -> tuple[bool, str]:
    """Return whether words ask for the other side of what is danced as ``codes``, and the words left.

    >>> other_side("on the other foot, no clap", ["foot:R", "step"])
    (True, ', no clap')
    """
    found = OTHER.search(words)
    if found and _is_of_all(words, found):
        rest = OTHER.sub(" ", words)
        return True, (LED.sub(" ", rest, count=1) if _is_of_all(words, found) else rest).strip()
    led = LED.search(words)
    lead = next((SIDED[code] for code in codes if code in SIDED), "")
    if not led or not lead or not (led["first"] or _is_of_all(words, led)):
        return False, words
    rest = blanked(words, led)
    more = LED.search(rest)  # "to the left with the left foot"
    side = (led["side"] or led["alone"] or led["first"])[0].upper()
    return side != lead, blanked(rest, more) if more and _is_of_all(rest, more) else rest


def _is_of_all(words: str, found: re.Match[str]) -> bool:
    """Return whether a side is told in the first clause or two, with no step, no count and no "not" beside it."""
    before, behind = CLAUSE.split(words[: found.start()]), CLAUSE.split(words[found.end() :])
    beside = f"{before[-1]} {behind[0]}"
    steps = any(stem(word) in MOVES - {"rest"} for word in WORD.findall(beside))
    return len(before) <= MOST_CLAUSES and not steps and not NOT_ALL.search(beside)


def blanked(words: str, found: re.Match[str]) -> str:
    """Return words with what was found in them left blank; all else keeps its place."""
    return words[: found.start()] + " " * (found.end() - found.start()) + words[found.end() :]
