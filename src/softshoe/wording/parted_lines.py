"""Lines that hold several sections: "WIND: 1-4 roll …, 8 hold. HEELS: 1 R heel …", "12 …, 78 …. Then 1234 …".

Each section gets a line and a heading of its own where its counts begin again.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from softshoe.wording.begins import first_count
from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

NAME = shape(
    r"(?:^|(?<=[.;!])\s+)(?P<name>(?:[A-H]|[^\W\d_][^\d:;.,|]{1,18}):|)\s*(?:(?:and\s+)?then,?\s+)?"
    r"(?P<limb>(?:feet|foot|hands?|arms?|legs)\s*[:–-]\s*|)(?=\S)",
    re.IGNORECASE,
)
LIMBS = shape(r"feet|foot|hands?|arms?|legs", re.IGNORECASE)
NUMBERS = shape(r"(?<![\w/])(\d{1,2})(?![\w/:])")
ENOUGH = (4, 6, 8, 12, 16)
MOST_LINES, LONGEST, MOST = 400, 4000, 16


class Part(NamedTuple):
    """Where the words of a section begin on their line, where its name does, and the limb that it is for."""

    at: int
    words: int
    name: str
    limb: str


def parted_lines(text: str) -> list[Edit]:
    """Return the sections inside lines, each with a heading; none where no line holds several.

    >>> [edit.words for edit in parted_lines("X\\nA: 1-4 clap, 5-8 hold. B: 1-8 march")]
    ['Section 1: ', '\\nSection 2: ']
    """
    out: list[Edit] = []
    at = number = several = 0
    for i, line in enumerate(text.split("\n")[:MOST_LINES]):
        parts = _parts(line) if i and len(line) < LONGEST else []
        several += len(parts) > 1
        for k, part in enumerate(parts):
            number += 1
            limb = f"{part.limb}: " if part.limb else ""
            out.append(Edit(at + part.at, at + part.words, f"{chr(10) if k else ''}Section {number}: {limb}"))
        at += len(line) + 1
    return out if several and number <= MOST else []


def _parts(line: str) -> list[Part]:
    """Return the sections of a line: they are named, or their counts begin again behind a whole section."""
    found: list[Part] = []
    last = 0
    for m in NAME.finditer(line):
        name = m["name"].strip(" :")
        limb = re.sub(r"\W", "", m["limb"]) or (name if LIMBS.fullmatch(name) else "")
        begins = first_count(line[m.end() :]) == 1
        if not begins and (not name or m.start() or _uncounted(line)):
            begins = bool(name) and _uncounted(line)
        told = [int(n) for n in NUMBERS.findall(line[last : m.start()])]
        if begins and (not found or name or (told and told[-1] in ENOUGH)):
            found.append(Part(m.start(), m.end(), name, limb.casefold()))
            last = m.end()
    return found if found and found[0].at == 0 else []


def _uncounted(line: str) -> bool:
    return NUMBERS.search(line) is None
