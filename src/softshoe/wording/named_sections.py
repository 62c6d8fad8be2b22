"""Sections named by a letter and a number, "(A1)", "(A2)", "(B1)", "1.1", "1.2", "2a": they count up in two steps.

In place of each name its section's own number is written, wherever the sheet says it, so that "mirror of A1" finds it.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.begins import first_count, title_end
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.lines import Line

MARK = shape(r"^\W*(?:part\s|section\s)?(?P<name>[A-Za-z]\d|\d[a-h](?![A-Za-z]))(?=\s?[)\].:/–-]+(?:\s|$)|\s|$)")
MOST = 9
MOST_LINES = 3000
SOON = 3  # lines
NONE = frozenset("SWTQ")  # sections, walls, tags, questions
ASKS = shape(r"\W*(?:=|same\b|as\b|like\b|repeat\b|again\b|copy\b)", re.IGNORECASE)
COUNTED = shape(r"\(1(?!\d|[:/.])")  # "(1-4)", "(1)": counts, where "(12:00)" is a clock and "(1/4 L)" a part


def renamed(lines: list[Line]) -> list[Line]:
    """Return the lines with such names as "S1", "S2" …; the lines as they are where they name no sections.

    >>> from softshoe.wording.lines import lines_of
    >>> [row.text for row in renamed(lines_of("(A1) 1-8 march\\n(A2) 1-8 clap\\n(B1) 1-8 repeat A1"))]
    ['(S1) 1-8 march', '(S2) 1-8 clap', '(S3) 1-8 repeat S1']
    """
    found = {
        i: m["name"].upper() for i, line in enumerate(lines[:MOST_LINES]) if line.text and (m := MARK.match(line.text))
    }
    found = {i: name for i, name in found.items() if _begins(i, name, lines)}
    names = list(found.values())
    steps = [_step(a, b) for a, b in pairwise(names)]
    if not 2 <= len(set(names)) == len(names) <= MOST or not all(steps) or not _first(names):
        return lines
    number = {name: f"S{k}" for k, name in enumerate(names, 1)}
    every = re.compile(rf"(?<![\w.])(?:{'|'.join(names)})(?![\w])", re.IGNORECASE)
    return [line._replace(text=every.sub(lambda m: number[m[0].upper()], line.text)) for line in lines]


def _begins(i: int, name: str, lines: list[Line]) -> bool:
    """Return whether counts begin behind the name, or on one of the next lines."""
    behind = lines[i].text[lines[i].text.upper().index(name) + len(name) :].lstrip(" )].:/–-")
    at = title_end(behind)
    if (
        ASKS.match(behind)
        or first_count(behind) == 1
        or (at is not None and first_count(behind[at:]) == 1)
        or COUNTED.search(behind)
    ):
        return True
    return any(first_count(line.text) == 1 or COUNTED.search(line.text) for line in lines[i + 1 : i + SOON])


def _first(names: list[str]) -> bool:
    """Return whether the names begin with the first of their kind: A1, 1A; any letter if all have the same one."""
    letters = {name[0] for name in names}
    return names[0] in ("A1", "1A") or (names[0][1] == "1" and len(letters) == 1 and not letters & NONE)


def _step(one: str, two: str) -> bool:
    """Return whether the one name follows on the other: A1, A2, B1; 1a, 1b, 2a."""
    a, b, c, d = *one, *two
    near = ord(c) == ord(a) and ord(d) == ord(b) + 1
    return near or (ord(c) == ord(a) + 1 and d in ("1", "A")) or (ord(c) == ord(a) + 1 and d == b)
