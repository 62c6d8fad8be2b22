"""A header laid out as a table: the names of the facts in a row, what they are in the row below; or two names at once.

| Type   | Counts | Level    | Intro |
| seated | 32     | beginner | 16    |     ->   Type: seated | Counts: 32 | Level: beginner | Intro: 16
Counts/walls: 24/1                          ->   Counts: 24 | walls: 1
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.facts import NAMES
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

NAME = shape(
    rf"\W*(?:(?:no\.?|number)\s+of\s+)?(?:{NAMES}|types?|kinds?|grade|metre|time|author|by|choreographer|leader)\W*",
    re.IGNORECASE,
)
PARTS = shape(r"\s*[|\t;]\s*|\s[.·]\s|\s{2,}|,\s+")
RULE = shape(r"[\s|+=:_-]*[-=_]{2,}[\s|+=:_-]*")
PAIRED = shape(
    r"^\W*(?P<one>counts?|walls?)\s*[/&+]\s*(?P<two>counts?|walls?)\s*[:=|\t. ]+"
    r"(?P<first>\d+)\s*[/&+,]\s*(?P<second>\d+)",
    re.IGNORECASE,
)
LENGTH = shape(r"(^\W*|\()(16|24|32|36|40|48|56|64)\s?/\s?([0124])(?![\d:.]|\s?/\s?\d)")  # "32/1 seated", "(32/1)"
SPACED_DOTS = shape(r"(?:\s\.){2,}\s")  # "Intro . . . . 16"
STROKES = shape(r"(?<=[^\W\d])/(?=\w)|(?<=\w)/(?=[^\W\d])")  # "chair/improver/32c/122", but 3/4
MANY_STROKES = 3
BRACKETS = shape(r"([)\]])\s*([(\[])")
FEWEST = 2  # names in a row


def as_fields(lines: Sequence[tuple[int, str]]) -> Iterator[tuple[int, str]]:
    """Give the header lines (number, text), the rows of a table as its names with what they say.

    >>> list(as_fields([(2, "| Counts | Walls |"), (3, "|---|---|"), (4, "| 32 | 1 |")]))
    [(4, 'Counts: 32 | Walls: 1')]
    """
    held: list[tuple[int, str]] = []  # a row of names, and the rule below it
    for number, text in lines:
        cells = _cells(text)
        if held and RULE.fullmatch(text):
            held.append((number, text))
            continue
        names = _cells(held[0][1]) if held else []
        if names and len(cells) == len(names) and not all(map(NAME.fullmatch, cells)):
            told = (f"{name.strip(' :.*_')}: {cell}" for name, cell in zip(names, cells, strict=True))
            yield number, " | ".join(told)
            held = []
            continue
        yield from map(_plain, held)
        named = len(cells) >= FEWEST and all(map(NAME.fullmatch, cells))
        held = [(number, text)] if named else []
        if not named:
            yield _plain((number, text))
    yield from map(_plain, held)


def _plain(row: tuple[int, str]) -> tuple[int, str]:
    """Return a line with two names at once, and bare numbers of counts and walls, told apart."""
    number, text = row
    text = SPACED_DOTS.sub(" .... ", text)
    text = STROKES.sub(" / ", text) if text.count("/") >= MANY_STROKES else text
    paired = PAIRED.sub(r"\g<one>: \g<first> | \g<two>: \g<second>", BRACKETS.sub(r"\1 | \2", text))
    return number, LENGTH.sub(r"\1\2 counts | \3 walls | ", paired) if number > 1 else paired


def _cells(text: str) -> list[str]:
    return [cell.strip() for cell in PARTS.split(text.strip(" |\t")) if cell.strip()]
