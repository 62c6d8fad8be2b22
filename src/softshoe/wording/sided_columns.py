"""Tables with a column for each foot or each hand: what such a column holds is its foot's or its hand's.

ct | R foot      | L foot            ct | feet
1  | toe forward |            ->     1  | right toe forward
2  | hold        | hold              2  | hold
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.column_heads import role_of
from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Iterator

HEAD = shape(
    r"\b(?:right|left|[rl])\.?\s*(?:foot|leg|hand|arm)\b\s*[|\t]\s*(?:right|left|[rl])\.?\s*(?:foot|leg|hand|arm)\b",
    re.IGNORECASE,
)
SIDED = shape(r"\W*(?P<side>right|left|[rl])\.?\s*(?P<limb>foot|leg|hand|arm)\W*", re.IGNORECASE)
RESTS = shape(
    r"\W*(?:still|stays?|stands?|rests?|resting|hold|holds|waits?|nothing|none|as is|"
    r"free|bears?|carries|supports?|(?:bears|carries|holds|has)\s+(?:the\s+)?weight)?\W*",
    re.IGNORECASE,
)
OWN = shape(r"(?:right|left|both|[RL])\b")
PART = shape(r"(?:toes?|heels?|knees?|ankle|thigh|ball|elbow|wrist|fist|palm|fingers?|thumb|shoulder)\b", re.IGNORECASE)
COUNTED = shape(r"[\s(\[]*\d[\d\s&,+ae/–—.:;)\]-]*")
MOST_LINES = 600


class Cell(NamedTuple):
    """A cell's words and where they begin in the sheet."""

    start: int
    words: str

    @property
    def end(self) -> int:
        """Where the words end in the sheet."""
        return self.start + len(self.words)


def sided(text: str) -> list[Edit]:
    """Return the edits that give each cell of such a table its foot or its hand.

    >>> [edit.words for edit in sided("X\\nct | R foot | L foot\\n1 | toe forward |\\n2 | | home")]
    ['feet', ' ', '', ' ', 'right ', '', ' ', '', 'left foot ']
    """
    if not HEAD.search(text):
        return []
    out: list[Edit] = []
    sides: list[tuple[str, str]] = []
    first = at = 0
    for row in text.split("\n")[:MOST_LINES]:
        cells = _cells(row, at)
        found = _sides([cell.words for cell in cells]) if cells else None
        if found is not None:
            first, sides = found
            own = cells[first : first + len(sides)]
            out += [Edit(own[0].start, own[0].end, _name(sides[0][1])), *_bars(own, [True] + [False] * (len(own) - 1))]
            out += [Edit(cell.start, cell.end, "") for cell in own[1:]]
        elif len(cells) > 1 and role_of(cells[0].words) == "count":
            sides = []  # the head of another table
        elif sides and COUNTED.fullmatch(cells[0].words):
            out += _told(cells[first : first + len(sides)], sides)
        at += len(row) + 1
    return out


def _cells(row: str, at: int) -> list[Cell]:
    """Return the cells of a row, in the sheet's characters; a bar at its head parts nothing, and no tab beside bars."""
    sign = "|" if "|" in row else "\t"
    begin = row.find("|") + 1 if row.lstrip()[:1] == "|" else 0
    out: list[Cell] = []
    while begin <= len(row):
        end = row.find(sign, begin) if sign in row[begin:] else len(row)
        words = row[begin:end]
        out.append(Cell(at + begin + len(words) - len(words.lstrip()) if words.strip() else at + begin, words.strip()))
        begin = end + 1
    return out


def _sides(names: list[str]) -> tuple[int, list[tuple[str, str]]] | None:
    """Return where the columns of one limb's two sides begin, and the side and limb of each."""
    told = [SIDED.fullmatch(name) for name in names]
    if role_of(names[0]) != "count":
        return None
    for i, (one, two) in enumerate(pairwise(told)):
        if one and two and one["limb"].casefold() == two["limb"].casefold():
            pair = [("right" if m["side"][0] in "rR" else "left", m["limb"].casefold()) for m in (one, two)]
            return (i, pair) if pair[0][0] != pair[1][0] else None
    return None


def _name(limb: str) -> str:
    return "feet" if limb in ("foot", "leg") else "hands"


def _bars(cells: list[Cell], moving: list[bool]) -> Iterator[Edit]:
    """Give the bars between the cells as what joins them."""
    for k, (one, two) in enumerate(pairwise(cells)):
        yield Edit(one.end, two.start, " and " if moving[k] and moving[k + 1] else " ")


def _told(cells: list[Cell], sides: list[tuple[str, str]]) -> list[Edit]:
    """Return the edits of one row."""
    moving = [RESTS.fullmatch(cell.words) is None for cell in cells]
    alike = len(cells) > 1 and all(moving) and len({cell.words.casefold() for cell in cells}) == 1
    if not any(moving) or alike:
        last = [Edit(cell.start, cell.end, "") for cell in cells[1:]]
        both = [Edit(cells[0].start, cells[0].start, f"both {_name(sides[0][1])} ")] if alike else []
        rest = [] if alike else [Edit(cells[0].start, cells[0].end, "hold")]
        return [*both, *rest, *_bars(cells, [True, False]), *last]
    out = list(_bars(cells, moving))
    for cell, moves, (side, limb) in zip(cells, moving, sides, strict=False):
        if not moves:
            out.append(Edit(cell.start, cell.end, ""))
        elif not OWN.match(cell.words):
            part = PART.match(cell.words) is not None
            out.append(Edit(cell.start, cell.start, f"{side} " if part else f"{side} {limb} "))
    return out
