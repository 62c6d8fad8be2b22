"""Rows that are whole sections, each behind its number or its name: "2 | R heel, home, …", "ii. big step L, …".

    | 1a | march R L R L          ->   Section 1: march R L R L; R heel, home, …
    | 1b | R heel, home, …
    Ribbon   1-3 sway R, 4-6 sway L    ->   Section 1: 1-3 sway R, 4-6 sway L

A row without a number of its own goes on with the one above; one that only asks for another is told so.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import NamedTuple

from softshoe.wording.begins import first_count
from softshoe.wording.counts_dressed import KNOWN
from softshoe.wording.numbers import in_digits, ordinals_in_digits, place_number
from softshoe.wording.respelled import Edit
from softshoe.wording.rows_asked import asked_row
from softshoe.wording.shape import shape

NTH = "first|second|third|fourth|fifth|sixth|seventh|eighth|last"
ROW = shape(
    r"^(?P<lead>[\s|*>•+-]*)(?:\(?(?P<n>\d{1,2}(?=[a-d]?\b)|[ivxIVX]{1,4}\b|[A-Z](?=[\s.)|:]))(?P<part>[a-d]?)"
    rf"(?P<mark>\s*[|):;]|\.+|\s*~+|\t|\s(?=\s))|(?P<nth>{NTH})\s(?P<noun>\w+)(?P<dots>\s*(?:\.{{2,}}|:|[-–=]+)))[\s|]*",
    re.IGNORECASE,
)
NAMED = shape(
    r"^(?P<lead>[\s|*>•+-]*)(?P<name>[^\W\d_][^\d|:;,.()\t]{0,26}?)(?P<aside>\s*\([^()]{1,12}\))?"
    r"(?P<mark>\s*[|:]|\.(?=\s)|\s*~+|\t|\s(?=\s)|(?<=\))\s|\s(?=\d))[\s|]*(?=\S)"
)
GOES_ON = shape(r"^\s*\|\s*\|[\s|]*(?=[^\W_])|^\s{4,}(?=[^\W_])")
RULED = shape(r"^[\s|+=_–—-]*$")
LIMB = shape(r"(?P<limb>feet|foot|hands?|arms?|legs)\s*\|\s*", re.IGNORECASE)
STATED = shape(r"\b(\d{2})[\s-]*(?:counts?|cts?|c|beats?)\b|\bcounts?\W+(\d{2})\b|\btotal\W+(\d{2})\b", re.IGNORECASE)
NUMBER, WORD = shape(r"\d+"), shape(r"[^\W\d_]{2}")
NO_NAME = KNOWN - {"a", "b", "feet", "foot", "hands", "arms", "walk", "march", "clap", "tap", "stamp", "body", "hips"}
MANY, MOST = 2, 16
MOST_LINES = 400
OTHER = (4, 6, 12, 16)  # counts of sections that are not of eight


class Row(NamedTuple):
    """A row of a section: its line, where its words begin, its number, its name and what kind of mark tells it."""

    at: int
    words: int
    number: int
    name: str
    kind: str
    part: str = ""


def section_rows(text: str) -> list[Edit]:
    """Return the numbers of rows as headings; none where they do not count up.

    >>> [edit.words for edit in section_rows("X\\n1 | walk R L R, touch L\\n2 | R heel, home, L heel, home")]
    ['Section 1: ', 'Section 2: ']
    """
    lines = text.split("\n")[:MOST_LINES]
    found = [row for i, line in enumerate(lines) if i and line for row in _row(i, line)]
    for kind in dict.fromkeys(row.kind for row in found):
        rows = _in_turn([row for row in found if row.kind == kind])
        if MANY <= len({row.number for row in rows}) <= MOST:
            return _edits(lines, rows, _length(text, rows[-1].number))
    return []


def named_rows(text: str) -> list[Edit]:
    """Return names before counts that begin at 1 as headings: "Ribbon   1-3 sway R", "Brim   4-6 …", "Ribbon again".

    >>> [edit.words for edit in named_rows("X\\nHay   1-3 sway R, 4-6 sway L\\nOats  1-6 clap\\nHay   again")]
    ['Section 1: ', 'Section 2: ', 'Section 3: ', 'Repeat section 1']
    """
    lines = text.split("\n")[:MOST_LINES]
    rows: list[Row] = []
    for i, line in enumerate(lines):
        found = NAMED.match(line) if i and line else None
        if found is None:
            continue
        name = found["name"].strip().casefold()
        words = line[found.end() :]
        danced = first_count(words) == 1 and len(NUMBER.findall(words)) > 1 and WORD.search(words) is not None
        after = len({row.name for row in rows}) + 1
        known = NO_NAME & set(name.split()) or (place_number(name.split()[-1].upper()) or after) != after
        if (danced and not known) or asked_row(words, name, [row.name for row in rows]):
            rows.append(Row(i, found.end(), len(rows) + 1, name, "name"))
    return _edits(lines, rows, 0) if MANY <= len(rows) <= MOST else []


def _row(i: int, line: str) -> list[Row]:
    """Return what a line's mark may be; "V." is a letter and a Roman number."""
    found = ROW.match(line)
    if found is None:
        return []
    end, dress = found.end(), (found["mark"] or "").strip()[:1]
    if found["nth"]:
        number = -1 if found["nth"].casefold() == "last" else place_number(ordinals_in_digits(found["nth"])) or 0
        return [Row(i, end, number, found["nth"].casefold(), f"nth {found['noun'].casefold()}")]
    mark = found["n"]
    if mark.isdigit():
        return [Row(i, end, int(mark), mark, f"digit {dress}", found["part"])]
    roman = (
        []
        if mark.upper().strip("IVX")
        else [Row(i, end, place_number(mark.upper()) or 0, mark.casefold(), f"roman {dress}")]
    )
    letter = [Row(i, end, ord(mark.upper()) - 64, mark.casefold(), f"letter {dress}")] if len(mark) == 1 else []
    return [*roman, *letter]


def _in_turn(rows: list[Row]) -> list[Row]:
    """Return the rows if they count up from their first; rows of one number follow on each other."""
    if rows and rows[-1].number < 0:
        rows[-1] = rows[-1]._replace(number=rows[-2].number + 1 if len(rows) > 1 else 0)
    first = rows[0].number if rows else 0
    up = all(b.number - a.number == (not b.part or b.part in "aA") for a, b in pairwise(rows))
    letters = bool(rows) and rows[0].kind.startswith("letter")
    return [r._replace(number=r.number - first + 1) for r in rows] if up and (first == 1 or letters) else []


def _length(text: str, many: int) -> int:
    """Return how many counts each section has by those stated; 0 where that is the custom or unknown."""
    plain = in_digits(text)
    found = STATED.search(plain)
    total = int(next((n for n in found.groups() if n), 0)) if found is not None else 0
    each = total // many if not total % many else 0
    return each if each in OTHER else 0


def _edits(lines: list[str], rows: list[Row], length: int) -> list[Edit]:
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line) + 1)
    out: list[Edit] = []
    names: dict[str, int] = {}
    last = 0
    for row, below in zip(rows, [*[r.at for r in rows[1:]], len(lines)], strict=True):
        at, line = starts[row.at], lines[row.at]
        asked = asked_row(line[row.words :], row.name, list(names)) if row.number != last else None
        if row.number == last:
            out += _joined(lines, starts, row.at, row.words)
        else:
            told = f"1-{length} " if length and not asked and NUMBER.search(line, row.words) is None else ""
            out.append(Edit(at, at + row.words, f"Section {row.number}: {told}"))
        if asked is not None:
            words = f"Repeat section {names[asked.name]}{asked.side}"
            out.append(Edit(at + row.words, at + len(line), words))
            last = row.number
            continue
        out += _barred(line, at, row.words)
        names.setdefault(row.name, row.number)
        last = row.number
        for i in range(row.at + 1, below):
            more = GOES_ON.match(lines[i])
            if more is None and not RULED.match(lines[i]):
                break
            if more is not None and first_count(lines[i][more.end() :]) is not None:
                out.append(Edit(starts[i], starts[i] + len(lines[i]), lines[i].replace("|", " ").strip()))
            elif more is not None:
                out += [*_joined(lines, starts, i, more.end()), *_barred(lines[i], starts[i], more.end())]
    return out


def _joined(lines: list[str], starts: list[int], i: int, words: int) -> list[Edit]:
    """A row goes on with the one above: the end of its line comes behind it, so that the lines below keep theirs."""
    end = starts[i] + len(lines[i])
    before = lines[i - 1].rstrip(" |")
    k = i - 1
    while RULED.match(lines[k]):
        k -= 1
        before = lines[k].rstrip(" |")
    sign = " " if before[-1:] in ",;" else "; "
    return [Edit(starts[k] + len(lines[k]), starts[i] + words, sign), Edit(end, end, "\n" * (i - k))]


def _barred(line: str, at: int, begin: int) -> list[Edit]:
    """ "1-4 march | 5-8 clap |", "Feet | 1-4 …": bars between the cells part clauses, a limb heads its cell."""
    out: list[Edit] = []
    limb = LIMB.match(line, begin)
    if limb is not None:
        out.append(Edit(at + begin, at + limb.end(), ""))
        begin = limb.end()
    end = max(begin, len(line.rstrip(" |")))
    bars = re.compile(r"\s*\|\s*").finditer(line, begin, end)
    out += [Edit(at + m.start(), at + m.end(), "; ") for m in bars]
    return [*out, Edit(at + end, at + len(line), "")] if end < len(line) else out
