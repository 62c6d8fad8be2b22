"""How far a wall is danced, however that is put: "sections 1 and 2", "S1-S2", "counts 1-16", "to the end of part 2".

All of it is rewritten to one way, "after section 2" and "after 16 counts", which ``extras`` reads.
"""

from __future__ import annotations

import re

from softshoe.wording.numbers import place_number
from softshoe.wording.shape import shape

NAME = r"(?:sections?|sect?s?\.?|s|parts?|pts?\.?|eights?|sets?|blocks?|phrases?|verses?)"
NUMBER = r"(?:\d{1,2}|[IVX]{1,4}|[A-H])(?!\w|:\d)"
JOINT = r"\s*(?:,|&|and|\+|-|–|to|through|thru|until)\s*"
FIRST = r"(?:1|I|A)(?!\w|:\d)"
LEAD = (
    r"(?:\b(?:after|end of|through|up to|until|till|to|with|do|does|dances?|danced)\s+|(?<=[(:,;–—-])\s*|\bonly\s+|"
    r"\b(?:dance|do|after)\s+(?:only|just|all of)\s+)*(?:the\s+)?"
)
ROW = shape(
    rf"{LEAD}\b{NAME}\s*#?\s*{FIRST}(?:(?:{JOINT})+(?:{NAME}\s*#?\s*)?{NUMBER})+",
    re.IGNORECASE,
)
LAST = shape(
    rf"\b(?:(?:to|until|till|through|at|after|by|as far as|including|completing)\s+)*(?:the\s+)?"
    rf"(?:end of|through|as far as|up to|until|completing|finishing|finish)\s+(?:the\s+)?{NAME}\s*#?\s*({NUMBER})",
    re.IGNORECASE,
)
COUNTS = shape(
    r"\b(?:(?:dance|do|after|only|counts?|cts?|beats?|just)\s+)+1\s*(?:-|–|to|through)\s*(\d{1,2})\b|"
    r"(?<=[:(;,])\s*1\s*(?:-|–|to|through)\s*(\d{1,2})(?=\s*(?:only|then|and|[),;:]|$))",
    re.IGNORECASE,
)
UP_TO = shape(
    r"\b(?:as far as|up as far as|down to|through|till|up until|until)\s+(?:and including\s+)?count\s+(\d{1,2})\b|"
    r"@?\s*\b(?<!after )(?<!to )(?<!on )(?<!at )(?<!including )(?:ct|cts|count)\s+(\d{1,2})\b(?=\W*$)|"
    r"\b(?:after|at)\s+(\d{1,2})\s?c\b|\b(\d{1,2})\s*counts?\s*(?:\+|plus)\s*(?=\d)",
    re.IGNORECASE,
)
SUMMED = shape(  # "dance up to and including bar 6 (18 counts, now at 12:00), then"
    r"\b(?:up to|as far as|to the end of|until the end of|through|including)\s+(?:and including\s+)?(?:the\s+)?"
    r"(?:bars?|measures?|lines?|rows?)\s+\w+\s*\(\s*(?:that is\s+|that's\s+)?(\d{1,2})\s*counts?\b",
    re.IGNORECASE,
)
ONLY = shape(
    rf"\b(?:dance|do|after|finish|complete)\s+(?:(?:only|just|all of|the)\s+)*{NAME}\s*#?\s*({NUMBER})"
    rf"(?=\s*(?:[,;:.)]|of\b|and\b|then\b|only\b|$))",
    re.IGNORECASE,
)
OUT = shape(
    rf"\b(?:leav(?:e|ing)\s+(?:out|off)|skip|drop|without|miss(?:\s+out)?|omit|cut)(?:\s+out)?\s+(?:the\s+)?{NAME}\s+({NUMBER})",
    re.IGNORECASE,
)


def plainly(words: str) -> str:
    """Return the words with every stretch that is danced put in one way.

    >>> plainly("dance Sec 1 and Sec 2, then"), plainly("wall 3 (counts 1-16)")
    ('after section 2, then', 'wall 3 (after 16 counts)')
    """
    words = SUMMED.sub(r"after \1 counts (", words)
    words = ROW.sub(lambda m: _section(re.split(r"[\s,&+–-]+", m.group().strip())[-1], m.group()), words)
    words = LAST.sub(lambda m: _section(m[1], m.group()), words)
    words = ONLY.sub(lambda m: _section(m[1], m.group()), words)
    words = OUT.sub(lambda m: _section(str((place_number(m[1].upper()) or 1) - 1), m.group()), words)
    words = COUNTS.sub(lambda m: f" after {m[1] or m[2]} counts" if m.group()[0] == " " else _counts(m), words)
    return UP_TO.sub(lambda m: f"after {next(filter(None, m.groups()))} counts ", words)


def _counts(found: re.Match[str]) -> str:
    return f"after {found[1] or found[2]} counts"


def _section(mark: str, words: str) -> str:
    """Return "after section 2" for the last section named."""
    number = place_number(re.sub(r"^\D+(?=\d)", "", mark).upper())
    lead = " " if words[:1].isspace() else ""
    return f"{lead}after section {number}" if number else words
