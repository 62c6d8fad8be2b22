"""Rows of a table: what each column is for, by the words over it, and what a row says for section, feet and arms."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.items import items_of

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.wording.parts import Item

COLUMN = re.compile(r"\||\t|\s{2,}")
ROLES = (
    ("arms", ("arm", "hand", "upper")),
    ("section", ("section", "sec", "part", "set", "block")),
    ("count", ("count", "beat", "cts", "no")),
    ("facing", ("facing", "wall", "clock")),
)


def cells_of(text: str) -> list[tuple[int, str]]:
    """Return the cells of a table's row and where they begin."""
    out: list[tuple[int, str]] = []
    at = 1 if text.startswith("|") else 0
    marks = re.compile(r"\|") if "|" in text else COLUMN
    for found in [*marks.finditer(text, at), None]:
        end = found.start() if found else len(text)
        out.append((at, text[at:end]))
        at = found.end() if found else end
    return out


def columns_of(text: str) -> list[str]:
    """Return what the columns of a table's head are for: "section", "count", "arms", "facing", "feet".

    >>> columns_of("| Section | Counts | Feet | Arms |")
    ['section', 'count', 'feet', 'arms', 'feet']
    """
    names = [words.strip().casefold() for _, words in cells_of(text)]
    roles = [next((role for role, starts in ROLES if name.startswith(starts)), "feet") for name in names]
    numbered = roles.count("count") > 1 and names[roles.index("count")].startswith(("no", "nr", "#"))
    return ["row" if numbered and i == roles.index("count") else role for i, role in enumerate(roles)]


def cell_of(text: str, columns: list[str], role: str) -> tuple[int, str] | None:
    """Return the cell of a row that stands in a column of this role, and where it begins; None where it has none."""
    if role not in columns or "count" not in columns:
        return None
    cells = cells_of(text)
    at = columns.index(role)
    return cells[at] if at < len(cells) else None


def without(text: str, columns: list[str], *roles: str) -> str:
    """Return the row with the cells of these columns blank, and their bars where they lead the row."""
    for role in roles:
        cell = cell_of(text, columns, role)
        if cell is not None:
            start, words = cell
            text = text[:start] + " " * len(words) + text[start + len(words) :]
    lead = re.match(r"[|\s]+", text) if columns else None
    return " " * lead.end() + text[lead.end() :] if lead and {"section", "row"} & set(columns) else text


def row_items(text: str, columns: list[str], *, line: int, offset: int, last: Fraction | None) -> list[Item]:
    """Return the items of a row whose table has a column for the arms or for sections; [] where it has neither."""
    arms = cell_of(text, columns, "arms")
    if arms is None and cell_of(text, columns, "section") is None and "row" not in columns:
        return []
    rest = without(text, columns, "section", "row", "arms")
    lead = len(rest) - len(rest.lstrip())
    items = items_of(rest[lead:], line=line, offset=offset + lead, last=last)
    if arms is None or not items or items[0].label is None:
        return items
    for item in items:
        item.limb = item.limb or "feet"
    if arms[1].strip():
        hands = items_of(arms[1], line=line, offset=offset + arms[0])
        items += [replace(item, limb="arms", label=item.label or items[0].label) for item in hands]
    return items
