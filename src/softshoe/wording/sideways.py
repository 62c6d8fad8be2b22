"""Tables that lie on their side: a row of counts, below it a row for the feet and one for the hands.

    Counts | 1          | 2        | 3
    Feet   | R heel fwd | together | L heel fwd
    Arms   | clap       |          | clap

Cells are parted by bars or tabs, or stand below their count.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.counting import Label, label_at
from softshoe.wording.lex import tokens_of
from softshoe.wording.looking import told
from softshoe.wording.parts import Item
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token
    from softshoe.wording.lines import Line

COUNTS = shape(
    r"^[\s|]*(?:(?:counts?|cts?|beats?|time)\b[:.]?)?(?:[\s|]+\d{1,3}(?:\s?[-&–+]\s?\d{0,3})*){3,}[\s|]*$",
    re.IGNORECASE,
)
ROW = shape(
    r"^[\s|]*(?P<name>feet|foot(?:work)?|legs?|steps?|action|what|moves?|movements?|arms?|hands?|upper body|"
    r"which foot|r/l|l/r)\b *(?:[:|\t]| {2,})",
    re.IGNORECASE,
)
WHICH = ("foot", "which foot", "r/l", "l/r")
HANDS = ("arm", "hand", "upper")
EMPTY = shape(r"\W*")


class Cell(NamedTuple):
    """Words in one column, and where they begin on their line."""

    text: str
    start: int


class Table(NamedTuple):
    """What a table holds: its items, the index of its last line, the characters of its rows' names."""

    items: list[Item]
    through: int
    heads: list[tuple[int, int]]


def table_at(lines: Sequence[Line], i: int) -> Table | None:
    """Return the table whose counts stand on line ``i``; None where there is none."""
    text = lines[i].text
    if not text[-1:].isalnum() and not text.rstrip()[-1:].isdigit() and "|" not in text:
        return None
    if not COUNTS.match(text):
        return _boxes(lines, i) if "|" in text and ROW.match(text) else None
    rows = _rows(lines, i)
    columns = [(cell, label) for cell in _cells(text) if (label := _label(cell, lines[i])) is not None]
    if not rows or len(columns) < 3:
        return None
    labels, starts = [label for _, label in columns], [cell.start for cell, _ in columns]
    cells = {name: (line, _below(line.text, at, starts)) for name, line, at in rows}
    named = [name for name in cells if name in WHICH and len([n for n in cells if not n.startswith(HANDS)]) > 1]
    items: list[Item] = []
    for name, (line, row) in sorted(cells.items(), key=lambda cell: cell[0].startswith(HANDS)):
        if name not in named:
            who = cells[named[0]] if named and not name.startswith(HANDS) else None
            items += _items(labels, line, row, who, name)
    if all(item.limb == "arms" for item in items):
        items = [item for item in items if item.tokens]
    return Table(items, i + len(rows), [(line.start, line.start + at) for _, line, at in rows])


BOXES = (4, 6, 8, 12, 16)  # so many boxes in a row are counts without their numbers


def _boxes(lines: Sequence[Line], i: int) -> Table | None:
    """Return the table of rows for feet and hands that stand without a row of counts, one box a count."""
    rows = _rows(lines, i - 1)
    wide = {line.text[at:].rstrip(" |\t").count("|") + 1 for _, line, at in rows}
    if len(rows) < 2 or rows[0][1] is not lines[i] or len(wide) != 1 or not wide <= set(BOXES):
        return None
    found = {name: (line, _below(line.text, at, [at] * max(wide))) for name, line, at in rows}
    items: list[Item] = []
    for name, (line, row) in sorted(found.items(), key=lambda cell: cell[0].startswith(HANDS)):
        starts = [line.start + cell.start for cell in row]
        labels = [Label((Fraction(k),), False, at, at, line.number) for k, at in enumerate(starts, 1)]
        items += _items(labels, line, row, None, name)
    return Table(items, i + len(rows) - 1, [(line.start, line.start + at) for _, line, at in rows])


def _rows(lines: Sequence[Line], i: int) -> list[tuple[str, Line, int]]:
    """Return the rows below the counts: name, line, where its cells begin."""
    out: list[tuple[str, Line, int]] = []
    before = lines[i].number
    for line in lines[i + 1 : i + 6]:
        row = ROW.match(line.text)
        if row is None or line.number > before + 2:
            break
        before = line.number
        out.append((row["name"].casefold(), line, row.end()))
    return out


def _cells(text: str) -> list[Cell]:
    """Return the cells of a row of counts."""
    parted = re.finditer(r"[^|\t]+", text) if "|" in text or "\t" in text.strip() else re.finditer(r"\S+", text)
    return [Cell(m.group().strip(), m.start() + len(m.group()) - len(m.group().lstrip())) for m in parted]


def _label(cell: Cell, line: Line) -> Label | None:
    read = label_at(tokens_of(cell.text, line=line.number, offset=line.start + cell.start), 0)
    return read[0] if read is not None else None


def _below(text: str, begin: int, starts: list[int]) -> list[Cell]:
    """Return the cells of a row, one a count."""
    sign = "|" if "|" in text else "\t" if "\t" in text[begin:] else ""
    sign = sign or next((s for s in ";," if text[begin:].rstrip(" .,;").count(s) + 1 == len(starts)), "")
    if sign:
        out, at = [], begin
        for piece in text[begin:].split(sign):
            out.append(Cell(piece.strip(), at + len(piece) - len(piece.lstrip())))
            at += len(piece) + 1
        return [*out, *[Cell("", begin)] * len(starts)][: len(starts)]
    words: list[list[re.Match[str]]] = [[] for _ in starts]
    for word in re.finditer(r"\S+", text[begin:]):
        words[max(0, bisect_right(starts, begin + word.start() + 1) - 1)].append(word)
    spans = [(begin + w[0].start(), begin + w[-1].end()) if w else (begin, begin) for w in words]
    return [Cell(text[a:b], a) for a, b in spans]


def _items(
    labels: Sequence[Label], line: Line, row: Sequence[Cell], who: tuple[Line, list[Cell]] | None, name: str
) -> list[Item]:
    """Return a row's items; a count without words is held."""
    out = []
    for k, (label, cell) in enumerate(zip(labels, row, strict=True)):
        words = _words(who[0], who[1][k]) if who is not None else []
        words += _words(line, cell)
        hands = name.startswith(HANDS)
        if words or not hands:
            out.append(Item(label, words, line.number, limb="arms" if hands else "feet"))
    return out


def _words(line: Line, cell: Cell) -> list[Token]:
    if EMPTY.fullmatch(cell.text):
        return []
    return told(tokens_of(cell.text, line=line.number, offset=line.start + cell.start))
