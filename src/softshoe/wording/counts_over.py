"""Tables whose counts stand over their columns and whose rows are sections.

    part | 1-4              | 5-8                     ->  Section 1: 1-4 walk R L R, kick L; 5-8 back …
    A    | walk R L R, kick | back L R L, touch

Cells are parted by bars, tabs or wide gaps; a dash or an empty cell is a hold.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.numbers import in_digits
from softshoe.wording.respelled import Edit
from softshoe.wording.rows_asked import asked_row
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

CELL = shape(r"[^|\t]+")
GAPPED = shape(r"\S+(?:\s\S+)*")
COUNT = shape(r"(?:(?:counts?|cts?|beats?)\s*)?(\d{1,2})(?:\s*(?:-|–|to|&|,|\s)\s*(\d{1,2}))?", re.IGNORECASE)
JOINED = shape(r"\d{2,8}")
NOTHING = shape(r"[\W_]*")
RULED = shape(r"^[\s|+=_–—-]*$")
LIMB = shape(r"\W*(?:feet|foot\w*|legs?|steps?|arms?|hands?)\W*", re.IGNORECASE)
MOST_LINES, MOST_ROWS = 400, 32


class Cell(NamedTuple):
    """The words of a cell and where they stand on their line."""

    words: str
    start: int
    end: int


def counts_over(text: str) -> list[Edit]:
    """Return the rows below a row of counts as sections with their counts before each cell; none where there are none.

    >>> [edit.words for edit in counts_over("X\\n | 1-2 | 3-4\\nA | walk R, L | -\\nB | clap | clap")]
    ['', 'Section 1: 1-2 ', '; 3-4 ', 'hold', 'Section 2: 1-2 ', '; 3-4 ']
    """
    lines = text.split("\n")[:MOST_LINES]
    for i, line in enumerate(lines):
        heads = [cell for cell in _cells(line) if not NOTHING.fullmatch(cell.words)]
        counts = _counts(heads) or _counts(heads[1:])
        if counts and i:
            edits = _below(lines, i, counts)
            if edits:
                return edits
    return []


def _cells(line: str) -> list[Cell]:
    rule = CELL if "|" in line or "\t" in line else GAPPED
    if rule is GAPPED and "  " not in line.strip():
        return []
    return [_bare(m[0], m.start()) for m in rule.finditer(line)]


def _bare(words: str, start: int) -> Cell:
    begin = start + len(words) - len(words.lstrip())
    return Cell(words.strip(), begin, max(begin, start + len(words.rstrip())))


def _counts(cells: Sequence[Cell]) -> list[str]:
    """Return the counts that stand in cells, each as it is written before words; [] where they do not count on."""
    out: list[str] = []
    last = 0
    for cell in cells:
        digits = in_digits(cell.words)
        found = COUNT.fullmatch(digits)
        first, end = (int(found[1]), int(found[2] or found[1])) if found is not None else (0, 0)
        if JOINED.fullmatch(digits) and first != last + 1:
            first, end = int(digits[0]), int(digits[-1])
        if first != last + 1 or end < first:
            return []
        out.append(f"{first}-{end}" if end > first else f"{first}")
        last = end
    return out if len(out) > 1 and last in (3, 4, 6, 8, 12, 16) else []


def _below(lines: Sequence[str], head: int, counts: Sequence[str]) -> list[Edit]:
    at = sum(len(line) + 1 for line in lines[: head + 1])
    out = [Edit(at - len(lines[head]) - 1, at - 1, "")]
    names: dict[str, int] = {}
    number = 0
    for line in lines[head + 1 : head + 1 + MOST_ROWS]:
        cells = _cells(line)
        if len(cells) > 1 and not cells[0].words and "|" in line[: cells[0].start + 1]:
            cells = cells[1:]
        while len(cells) > len(counts) + 1 and not cells[-1].words:
            cells.pop()
        if len(cells) == len(counts) + 1 and not LIMB.fullmatch(cells[0].words):
            number += 1
            name = cells[0].words.casefold().strip(" .:")
            asked = asked_row(" | ".join(c.words for c in cells[1:]), name, list(names))
            if asked is not None:
                words = f"Section {number}: Repeat section {names[asked.name]}{asked.side}"
                out.append(Edit(at, at + len(line), words))
            else:
                out += _row(line, at, f"Section {number}: ", cells, counts)
            names.setdefault(name, number)
        elif not RULED.match(line):
            break
        at += len(line) + 1
    return out if number > 1 else []


def _row(line: str, at: int, title: str, cells: Sequence[Cell], counts: Sequence[str]) -> list[Edit]:
    out: list[Edit] = []
    before = 0
    for k, (cell, count) in enumerate(zip(cells[1:], counts, strict=True)):
        out.append(Edit(at + before, at + cell.start, f"{'; ' if k else title}{count} "))
        if NOTHING.fullmatch(cell.words):
            out.append(Edit(at + cell.start, at + cell.end, "hold"))
        before = cell.end
    return [*out, Edit(at + before, at + len(line), "")] if before < len(line) else out
