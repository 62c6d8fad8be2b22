"""Sections called by their names where a wall is said to leave off: "restart after the Lantern Walk"."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.headings import bare_title, heading_of
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.dance.dance import Section

LONGEST = 40  # letters of a name
LEAST = 3
LED = shape(
    r"\b(?:after|behind|between|(?:go|dance)\s+(?:up\s+)?to|done\s+with)\s+(?:the\s+|a\s+)?[\"“”'‘’]?", re.IGNORECASE
)
NAME_ENDS = shape(r"\s*[:.;,(]\s|\s[–—-]\s|\W*$")
BEHIND = shape(
    r"[\"“”'‘’]?(?=\W*$|\s*[.,;:!)(]|\s+(?:and|then|is|on|only|restart|start|begin|go|you|stop|leave)\b)", re.IGNORECASE
)


def names_of(sections: Sequence[Section], header: Sequence[tuple[int, str]]) -> dict[str, int]:
    """Return the number of each section by the name that it alone has, in small letters.

    Where a heading was taken for a line of the header, the name stands there.
    """
    above = dict(header)
    out: dict[str, int] = {}
    twice: set[str] = set()
    for section in sections:
        rows = (section.title, above.get(section.line, ""), above.get(section.line - 1, ""))
        for name in {name for words in rows for name in _called(words)}:
            whole = NAME_ENDS.split(name.strip(), maxsplit=1)[0].strip(" *#\"“”'‘’.:!").casefold()
            if LEAST <= len(whole) <= LONGEST and not whole.isdigit():
                twice |= {whole} if out.get(whole, section.number) != section.number else set()
                out[whole] = section.number
    return {name: number for name, number in out.items() if name not in twice}


def _called(words: str) -> tuple[str, ...]:
    """Return what a heading may be called: with its number or without."""
    known = heading_of(words)
    return words, words[known.rest_at :] if known is not None else "", bare_title(words)


def section_named(words: str, names: Mapping[str, int]) -> int:
    """Return the section that words name as the last that is danced; 0 where they name none.

    >>> section_named("Restart on wall 3 after the lantern walk", {"lantern walk": 2})
    2
    """
    low = words.casefold()
    for led in LED.finditer(low):
        for name, number in sorted(names.items(), key=lambda row: -len(row[0])):
            plain = re.sub(r"^the\s+", "", name)
            if low.startswith(plain, led.end()) and BEHIND.match(low, led.end() + len(plain)):
                return number
    return 0
