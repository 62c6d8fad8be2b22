"""Tables with a column for the foot: "3 & 4 | L R L | behind, side, across" is "3&4 L behind, R side, L across".

count | foot  | what                ->   1& R heel forward, R together
1 &   | R     | heel forward, together
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

FOOT = shape(r"(?:[RL](?:[\s,/&+]+[RL])*|[-–—]|)", re.IGNORECASE)
COUNT = shape(r"\d{1,2}(?:\s*(?:[&,+–-]|\band\b|\s)\s*\d{0,2})*", re.IGNORECASE)
NAMES = shape(r"[^\d|]*\|[^\d|]*\|[^\d]*")
STILL = shape(r"hold|clap|snap|pat\b|pause|rest|wait|[RL]\b|right|left|both", re.IGNORECASE)
TURNED = shape(
    r"(?P<turn>(?:1/4|1/2|¼|½|quarter|half)(?:\s+turn)?\s+(?:to\s+the\s+)?(?:left|right|[LR]))(?:\s+turn)?"
    r"(?:,?\s+(?:onto|weight\s+(?:on|to|onto))\s+(?:left|right|[LR]))?",
    re.IGNORECASE,
)
FEWEST, MOST_LINES = 4, 400


class Row(NamedTuple):
    """The cells of a row: its count, its feet, what they do, and the others."""

    at: int
    counts: str
    feet: list[str]
    words: str
    more: list[str]


def feet_beside(text: str) -> list[Edit]:
    """Return the rows of such a table as lines, each movement with its foot; none where no column is for the foot.

    >>> rows = "X\\nct | foot | what\\n1 | R | side\\n2 | L | touch\\n3 4 | L R | side, touch\\n5 & 6 | L R L | shuffle"
    >>> [edit.words for edit in feet_beside(rows)]
    ['', '1 R side', '2 L touch', '3-4 L side, R touch', '5&6 shuffle L R L']
    """
    lines = text.split("\n")[:MOST_LINES]
    cells = {i: [c.strip() for c in line.strip(" |").split("|")] for i, line in enumerate(lines) if "|" in line}
    counted = {i: row for i, row in cells.items() if len(row) > 2 and any(COUNT.fullmatch(c) for c in row)}
    wide = max((len(row) for row in counted.values()), default=0)
    columns = range(wide)
    of_count = next((k for k in columns if _all(counted, k, COUNT)), -1)
    of_foot = next((k for k in columns if k != of_count and _all(counted, k, FOOT) and _some(counted, k)), -1)
    if len(counted) < FEWEST or of_count < 0 or of_foot < 0:
        return []
    at = [0]
    for line in lines:
        at.append(at[-1] + len(line) + 1)
    first = min(counted)
    heads = [i for i in range(1, first) if i in cells and NAMES.fullmatch(lines[i])]
    out = [Edit(at[i], at[i] + len(lines[i]), "") for i in heads]
    for i, row in counted.items():
        rest = [cell for k, cell in enumerate(row) if k not in (of_count, of_foot)]
        feet = re.findall(r"[RL]", row[of_foot].upper()) if of_foot < len(row) else []
        out.append(Edit(at[i], at[i] + len(lines[i]), _told(Row(i, row[of_count], feet, rest[0], rest[1:]))))
    return out


def _all(rows: dict[int, list[str]], k: int, what: re.Pattern[str]) -> bool:
    return all(k < len(row) and what.fullmatch(row[k]) for row in rows.values())


def _some(rows: dict[int, list[str]], k: int) -> bool:
    """Return whether most cells of a column name a foot."""
    return 2 * sum(row[k][:1].upper() in ("R", "L") for row in rows.values()) > len(rows)


def _told(row: Row) -> str:
    numbers = re.findall(r"\d+", row.counts)
    halves = "&" in row.counts or "and" in row.counts.casefold()
    count = re.sub(r"\s+", "", row.counts.replace("and", "&")) if halves else "-".join((numbers[0], numbers[-1]))
    count = numbers[0] if len(numbers) == 1 and not halves else count
    more = "".join(f" and {cell}" for cell in row.more if re.search(r"\w", cell))
    return f"{count} {_footed(row.words, row.feet, single=count.isdigit())}{more}"


def _footed(words: str, feet: Sequence[str], *, single: bool) -> str:
    """Return each movement with its foot; behind all of them where they are as many as no list has."""
    if not feet or not words:
        return words
    listed = words.partition(":")[2] or words
    parts = [part.strip() for part in listed.split(",")]
    if len(feet) == 1:
        parts = [" ".join(parts)] if single else parts
        feet = [feet[0]] * len(parts)
    if len(parts) != len(feet):
        return f"{words} {' '.join(feet)}"
    return ", ".join(_one(foot, part) for foot, part in zip(feet, parts, strict=True))


def _one(foot: str, part: str) -> str:
    """Return one movement with its foot; a turn alone is a pivot."""
    turned = TURNED.fullmatch(part)
    if turned is not None:
        return f"pivot {turned['turn']}"
    return part if STILL.match(part) else f"{foot} {part}"
