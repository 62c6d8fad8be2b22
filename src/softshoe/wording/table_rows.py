"""Tables in every dress made alike: bars between the cells, a facing as a clock, a row that goes on with the one above.

    Counts   Steps                Facing
    1-2      step R, pivot 1/2    6          ->   1-2     |step R, pivot 1/2    6h

Every word keeps its place in the sheet. A row is told by the words over its columns, or by a clock that ends every row.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.column_heads import role_of, with_counts, with_feet
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lines import Line

BOX = str.maketrans("│┃║", "|||")
BOXES = shape(r"[│┃║]")
HEADS = shape(r"^[\W_]*[^\W\d_]+[^|\t,;]{0,24}(?:[|\t,;]|\s{2,}|\s/\s)|^[\s|]*#", re.IGNORECASE)
GAP = shape(r"\s{2,}|\t")
COUNTED = shape(r"[\s(\[]*(?:(?:counts?|cts?|beats?)\s*)?(?:\d[\d\s&,+ae/–—.:;)\]-]*|&\s*\d?\s*)", re.IGNORECASE)
CLOCKS = shape(
    r"\W*(?:\d{1,2}(?:[:.]00)?\W+)*?(?P<last>(?:1[0-2]|[1-9])(?::00)?(?:\s*o.?\s?clock)?)(?:\.00)?\W*", re.IGNORECASE
)
CLOCKED_ROW = shape(
    r"\s*\|?\s*\d[\d\s&,+ae/–—.:;-]*\|[^|]*[^\W\d][^|]*\|\s*(?:12|3|6|9)(?:[:.]00)?[|\s]*", re.IGNORECASE
)
WALLS = shape(r"\s*(?:front|back|home|left|right|side)\s+wall\s*", re.IGNORECASE)
NOTHING = shape(r"[\W_]*|\s*(?:x|none|nothing|nil|quiet|loose|no arms|no hands|as before|n/a)\s*", re.IGNORECASE)
SLASH = " / "
BY_SLASH = shape(
    r"\b(?:feet|steps)\b[^.;]*\b(?:left|before|first)\b[^.;]*\b(?:slash|stroke)\b[^.;]*\b(?:hands|arms)\b",
    re.IGNORECASE,
)  # "feet on the left of the slash, hands on the right"
STILL = shape(r"(^[\s\d&,+ae:.–-]*)still\s/\s|()\s/\sstill\W*$", re.IGNORECASE)
NO_CELL = "¦"  # the bar behind an empty first cell
MARGIN = 2  # characters that a cell may stand before or behind its column's head


class Cell(NamedTuple):
    """Where a cell's words begin and end on the line; both are where it would stand if it is empty."""

    start: int
    end: int


class Table(NamedTuple):
    """The columns below a head: what parts them, what each is for, where each begins, if a bar stands before them."""

    sign: str
    roles: list[str]
    starts: list[int]
    barred: bool


def alike(lines: Sequence[Line]) -> list[Line]:
    """Return the lines with the rows of tables in one dress; the others as they are.

    >>> from softshoe.wording.lines import lines_of
    >>> rows = alike(lines_of("Counts | Steps | Facing\\n1-2 | Step R, pivot 1/2 | 6\\n3-4 | Walk R, L | 6"))
    >>> [row.text for row in rows]
    ['Counts | Steps | Facing', '1-2 | Step R, pivot 1/2   6h', '3-4 | Walk R, L    ']
    """
    if any("slash" in line.text or "stroke" in line.text for line in lines) and any(map(_by_slash, lines)):
        lines = [line if _by_slash(line) else line._replace(text=_unslashed(line.text)) for line in lines]
    out: list[Line] = []
    now = _headless(lines)
    for k, line in enumerate(lines):
        if BOXES.search(line.text):
            line = line._replace(text=line.text.translate(BOX))
        head = _head(line.text) if HEADS.match(line.text) else None
        if head is not None:
            now = _settled(head, lines[k + 1 :])
            out.append(line._replace(head=True, text=_barred(line.text, now)))
            continue
        cells = _cells(line.text, now) if now is not None else None
        if now is None or cells is None:
            out.append(line)
            continue
        row = line._replace(text=_dressed(line.text, now, cells, open_end=k + 1 < len(lines)))
        before = out[-1]
        if before.number == line.number - 1 and not before.head and _goes_on(now, cells, line.text):
            out[-1] = _joined(before, row, now, cells)
        else:
            out.append(row)
    return out


def _by_slash(line: Line) -> bool:
    """Return whether a remark says that a slash parts feet and hands."""
    return BY_SLASH.search(line.text) is not None


def _unslashed(text: str) -> str:
    """Return a row with a bar for its slash; a limb that keeps still is left out, and the bar with it."""
    bare = STILL.sub(lambda m: (m[1] or "") + " " * (len(m[0]) - len(m[1] or "")), text)
    return bare.replace(SLASH, " | ")


def _head(text: str) -> Table | None:
    """Return the columns that a line of names heads; None where it is no such line."""
    for sign in ("|", "\t", ";", ",", SLASH, "  "):
        if sign not in text:
            continue
        cells = _split(text, sign, barred=True)
        if sign == SLASH and len(cells) < 3:
            continue  # two names may be alternatives
        if sign == "|" and cells and not text[cells[-1].start : cells[-1].end].strip():
            cells.pop()
        names = [text[c.start : c.end].strip(" :.*_").casefold() for c in cells]
        roles = with_counts([role_of(name, exactly=sign not in "|\t") for name in names], names)
        if len(roles) > 1 and all(roles) and roles.count("count") == 1 and ({*roles} - {"count", "section"}):
            barred = text.lstrip()[:1] == "|"
            return Table(sign, with_feet(roles), [c.start for c in cells], barred)
        if sign == "|":
            return None
    return None


def _barred(text: str, head: Table) -> str:
    """Return the names of the columns with bars between them."""
    out = list(text)
    for start, role in zip(head.starts[1:], head.roles[1:], strict=True):
        at = text.rfind(head.sign.strip(" "), 0, start) if head.sign != "  " else start - 1
        out[at] = " " if role == "whither" else "|"
    return "".join(out)


def _headless(lines: Sequence[Line]) -> Table | None:
    """Return the columns of rows without a head whose last cells are clocks: "1-2 | walk R, L | 12"."""
    rows = [line.text for line in lines if line.text.count("|") > 1]
    found = [text for text in rows if CLOCKED_ROW.fullmatch(text)]
    if len(found) < 2 or any(_head(text) is not None for text in rows):
        return None
    return Table("|", ["count", "feet", "facing"], [], found[0].lstrip()[:1] == "|")


def _settled(table: Table, below: Sequence[Line]) -> Table:
    """A column of ways is one of facings where a clock stands in each of its cells."""
    roles = list(table.roles)
    for k, role in enumerate(roles):
        if role == "way":
            rows = [(line.text, cells) for line in below[:12] if (cells := _cells(line.text, table)) is not None]
            told = [text[c[k].start : c[k].end] for text, c in rows if k < len(c)]
            told = [cell for cell in told if not NOTHING.fullmatch(cell)]
            clocks = told and all(CLOCKS.fullmatch(cell) or WALLS.fullmatch(cell) for cell in told)
            roles[k] = "facing" if clocks else "whither" if k and roles[k - 1] == "feet" else "feet"
    return table._replace(roles=roles)


def _split(text: str, sign: str, *, barred: bool) -> list[Cell]:
    """Return the cells of a line; quoted ones may hold the sign. ``barred``: a bar at its head parts nothing."""
    if sign in ("  ", "\t"):
        marks = [(m.start(), m.end()) for m in GAP.finditer(text) if m.start()]
    else:
        quoted = [m.span() for m in re.finditer(r'"[^"]*"', text)] if '"' in text else []
        marks = [
            (m.start(), m.end())
            for m in re.finditer(re.escape(sign), text)
            if not any(a < m.start() < b for a, b in quoted)
        ]
        if barred and sign == "|" and marks and not text[: marks[0][0]].strip():
            return _between(text, marks[0][1], marks[1:])
    return _between(text, 0, marks)


def _between(text: str, at: int, marks: list[tuple[int, int]]) -> list[Cell]:
    out = []
    for begin, end in [*marks, (len(text), len(text))]:
        out.append(Cell(at, begin))
        at = end
    return [Cell(c.start + len(words) - len(words.lstrip()), c.start + len(words.rstrip())) if words.strip() else c
            for c in out for words in (text[c.start : c.end],)]  # fmt: skip


def _cells(text: str, table: Table) -> list[Cell] | None:
    """Return a row's cells, one a column; None where the line is no row of the table."""
    if (table.sign if table.sign != "  " else " ") not in text:
        return None
    cells = _split(text, table.sign, barred=table.barred)
    many, at = len(table.roles), table.roles.index("count")
    if table.sign in ",;" and at == 0:
        while len(cells) > many and COUNTED.fullmatch(text[cells[1].start : cells[1].end]):
            cells[:2] = [Cell(cells[0].start, cells[1].end)]
    if len(cells) > many and "feet" in table.roles and table.sign != "|":
        k, more = table.roles.index("feet"), len(cells) - many
        cells[k : k + more + 1] = [Cell(cells[k].start, cells[k + more].end)]
    if table.sign == "  ":
        cells = _placed(cells, table.starts, len(text))
    if len(cells) < 2 or len(cells) <= at:
        return None
    count = text[cells[at].start : cells[at].end]
    if not COUNTED.fullmatch(count) and (count.strip() or table.sign not in ("|", "  ")):
        return None
    return cells


def _placed(cells: list[Cell], starts: list[int], end: int) -> list[Cell]:
    """Words that stand straight below their column's head are that column's, even where one before is empty."""
    at = [bisect_right(starts, cell.start + MARGIN) - 1 for cell in cells]
    straight = all(k >= 0 and abs(starts[k] - cell.start) <= MARGIN for k, cell in zip(at, cells, strict=True))
    if not straight or len(set(at)) < len(at) or at == list(range(len(at))):
        return cells
    there = dict(zip(at, cells, strict=True))
    return [there.get(k, Cell(min(starts[k], end), min(starts[k], end))) for k in range(max(at) + 1)]


def _dressed(text: str, table: Table, cells: list[Cell], *, open_end: bool) -> str:
    """Return the row with bars between its cells; a clock at its end, empty cells empty."""
    out = list(re.sub(r'[|"]' if table.sign in ",;" else r"\|", " ", text))
    for k, (cell, role) in enumerate(zip(cells, table.roles, strict=False)):
        words = text[cell.start : cell.end]
        clock = CLOCKS.fullmatch(words) if role == "facing" else None
        if role == "facing" or NOTHING.fullmatch(words):
            out[cell.start : cell.end] = " " * (cell.end - cell.start)
        if clock is not None and "feet" in table.roles[:k]:
            start, end = clock.span("last")
            _clocked(out, text, (cell.start + start, cell.start + end), open_end=open_end)
        if k and not (role == "facing" and k + 1 >= len(cells)):
            bar = _bar_before(text, cells, k, table.sign)
            out[bar] = " " if role == "whither" else "|" if bar else NO_CELL
    return "".join(out)


def _bar_before(text: str, cells: list[Cell], k: int, sign: str) -> int:
    """Return where the bar before a cell stands: at the sign that parts it, else straight before its words."""
    found = text.rfind(sign.strip(), cells[k - 1].end, cells[k].start) if sign.strip() else -1
    return found if found >= 0 else max(cells[k].start - 1, 0)


def _clocked(out: list[str], text: str, clock: tuple[int, int], *, open_end: bool) -> None:
    """Write a clock as one is written among words, "6h" for "6": the sign takes the place of what stands behind."""
    start, end = clock
    behind = text[end : end + 1]
    if ":" in text[start:end] or "c" in text[start:end].casefold():
        out[start:end] = text[start:end]
    elif not behind.isalnum() and (behind or open_end):
        out[start : end + 1] = f"{text[start:end]}h"


def _goes_on(table: Table, cells: list[Cell], text: str) -> bool:
    """Return whether a row has steps but no count, and nothing for the arms: it goes on with the one above."""
    held = {role for cell, role in zip(cells, table.roles, strict=False)
            if not NOTHING.fullmatch(text[cell.start : cell.end])}  # fmt: skip
    return "feet" in held and not held & {"count", "arms", "section"}


def _joined(before: Line, row: Line, table: Table, cells: list[Cell]) -> Line:
    text = row.text.replace("|", " ")
    ends = before.text.rstrip(" |")[-1:]
    if ends not in (",", ";", "") and cells[table.roles.index("feet")].start > 0:
        at = cells[table.roles.index("feet")].start - 1
        text = text[:at] + "," + text[at + 1 :]
    gap = row.start - before.start - len(before.text) - 1
    return before._replace(text=before.text + " " * gap + "\n" + text)
