"""Sections called by their names where a wall is said to leave off: "restart after the Lantern Walk"."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.headings import bare_title, heading_of
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.dance.dance import Dance

LONGEST = 40  # letters of a name
LEAST = 3
LED = shape(
    r"\b(?:after|behind|between|(?:go|dance)\s+(?:up\s+)?to|done\s+with|(?:only|just)(?:\s+(?:do|dance))?)\s+"
    r"[\"“”'‘’\[]?(?:the\s+|a\s+)?[\"“”'‘’\[]?",
    re.IGNORECASE,
)
LIST = shape(r"s?\s*(?:,|&|\+|\band\b)\s*(?:the\s+)?", re.IGNORECASE)  # "only posts and rails"
NAME_ENDS = shape(r"\s*[:.;,(]\s|\s[–—-]\s|\W*$")
NAME_BEFORE_STEPS = shape(r"\s*[:|]\s|\s[–—]\s")
FIRST_WORDS = shape(r"^(?:(?:from|to|in|on|at|by|of|the|an?|our|my)\s+)+")
BEHIND = shape(
    r"s?[\"“”'‘’\]]?(?=\W*$|\s*[.,;:!)(]|\s+(?:and|then|is|on|only|restart|start|begin|go|you|stop|leave)\b)",
    re.IGNORECASE,
)


def names_of(dance: Dance, lines: Mapping[int, str]) -> dict[str, int]:
    """Return the number of each section by the name that it alone has, in small letters.

    ``lines`` are the sheet's own, by number. A name is the section's title, the line that it begins on or the one
    above; where steps stand on it, what stands before them and a colon.
    """
    danced = {action.line for action in dance.actions}
    out: dict[str, int] = {}
    twice: set[str] = set()
    for section in dance.sections:
        here, above = (lines.get(n, "") for n in (section.line, section.line - 1))
        if section.line in danced:
            here = NAME_BEFORE_STEPS.split(here, maxsplit=1)[0] if NAME_BEFORE_STEPS.search(here) else ""
        rows = (section.title, here, "" if section.line - 1 in danced else above)
        for name in {name for words in rows for name in _called(words)}:
            whole = NAME_ENDS.split(name.strip(), maxsplit=1)[0].strip(" *#\"“”'‘’.:!()[]").casefold()
            whole = FIRST_WORDS.sub("", whole)
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
    known = sorted(names.items(), key=lambda row: -len(row[0]))
    for led in LED.finditer(low):
        found, at = _name_at(low, led.end(), known)
        while found and not led[0].startswith("between") and (more := LIST.match(low, at)):
            further, end = _name_at(low, more.end(), known)
            if not further:
                break
            found, at = further, end
        if found and BEHIND.match(low, at):
            return found
    return 0


def _name_at(low: str, at: int, known: Sequence[tuple[str, int]]) -> tuple[int, int]:
    """Return the section whose name stands there, and where the name ends; (0, …) for none."""
    for name, number in known:
        if low.startswith(name, at) and (BEHIND.match(low, at + len(name)) or LIST.match(low, at + len(name))):
            return number, at + len(name)
    return 0, at
