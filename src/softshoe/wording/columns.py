"""Rows of a table: what each column is for, by the words over it, and what a row says for section, feet and arms."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.column_heads import role_of, with_counts, with_feet
from softshoe.wording.counting import moved
from softshoe.wording.feet_listed import footed, lists_feet
from softshoe.wording.items import items_of
from softshoe.wording.lex import tokens_of
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.wording.counting import Label
    from softshoe.wording.parts import Item

BARS = shape(r"[|¦]")  # the second is behind an empty first cell
COLUMN = shape(r"\||\t|\s{2,}")
FOOT_HEAD = shape(
    r"(?:(?:which|free|moving|working|active|lead(?:ing)?)\s+)?(?:foot|feet|leg|side)(?:\s+used)?|[lr]\s*/\s*[lr]"
)
FOOT_ALONE = shape(r"\s*(?:(?:right|left|both)(?:\s+(?:foot|feet|legs?))?|[RL]F?)\s*", re.IGNORECASE)
BOTH_CELL = shape(r"\bboth(?:\s+(?:feet|legs))?\b", re.IGNORECASE)
PAIRS = shape(
    r"\b(?:heels|toes|knees|feet)\b(?!\s*\|?\s*$)|\b(?:heels|toes|knees)\b", re.IGNORECASE
)  # both without saying so
FOOT_CELL = shape(r"^[|\s]*[\d&,–-]+\s*(?P<sign>[|\t])(?P<foot>[^|\t]*)(?P=sign)")

AGAIN = shape(r"\s*\d{1,2}\s*[-–]\s*\d{1,2}\s+(?:again|once more|over again|repeated)\W*", re.IGNORECASE)
ARM_WORDS = frozenset(("hand", "gest", "dual", "thumb", "draw", "place", "again", "same", "repeat", "mirror"))
STEPPING = shape(r"(?:step|walk|march|stamp|stomp|kick|hop)")


def cells_of(text: str) -> list[tuple[int, str]]:
    """Return the cells of a table's row and where they begin."""
    out: list[tuple[int, str]] = []
    at = 1 if text.startswith("|") else 0
    marks = BARS if "|" in text else COLUMN
    for found in [*marks.finditer(text, at), None]:
        end = found.start() if found else len(text)
        out.append((at, text[at:end]))
        at = found.end() if found else end
    return out


def columns_of(text: str) -> list[str]:
    """Return what the columns of a table's head are for: "section", "count", "arms", "facing", "foot", "feet".

    >>> columns_of("| Section | Counts | Feet | Arms |")
    ['section', 'count', 'feet', 'arms', 'feet']
    >>> columns_of("Count | Foot | What it does")
    ['count', 'foot', 'feet']
    """
    names = [words.strip().casefold() for _, words in cells_of(text)]
    told = [role_of(name.strip(" :.*_")) or ("feet" if name else "") for name in names]
    told = with_feet(with_counts(told, names))
    roles = ["feet" if role in ("", "way") else role for role in told]
    numbered = roles.count("count") > 1 and names[roles.index("count")].startswith(("no", "nr", "#"))
    if numbered:
        roles[roles.index("count")] = "row"
    steps = sum(role == "feet" and bool(name) for role, name in zip(roles, names, strict=True))
    return ["foot" if steps > 1 and FOOT_HEAD.fullmatch(n) else role for role, n in zip(roles, names, strict=True)]


def cell_of(text: str, columns: list[str], role: str) -> tuple[int, str] | None:
    """Return the cell of a row that stands in a column of this role, and where it begins; None where it has none."""
    if role not in columns or "count" not in columns:
        return None
    cells = cells_of(text)
    at = columns.index(role)
    return cells[at] if at < len(cells) else None


def without(text: str, columns: list[str], *roles: str) -> str:
    """Return the row with the cells of these columns blank, and their bars where they lead the row."""
    if not columns:
        return text
    for role in roles:
        cell = cell_of(text, columns, role)
        if cell is not None:
            start, words = cell
            text = text[:start] + " " * len(words) + text[start + len(words) :]
    lead = re.match(r"[|¦\s]+", text)
    return " " * lead.end() + text[lead.end() :] if lead and {"section", "row"} & set(columns) else text


def foot_bar(text: str, columns: list[str]) -> int | None:
    """Return where the bar stands between a foot's own cell and its step; None where the row has no such cell.

    >>> foot_bar("1 | Left | touch beside", ["count", "foot", "feet"])
    9
    """
    if not columns:
        found = FOOT_CELL.match(text)
        return found.end() - 1 if found and FOOT_ALONE.fullmatch(found["foot"]) else None
    cell = cell_of(text, columns, "foot")
    if cell is None or not FOOT_ALONE.fullmatch(cell[1]):
        return None
    bar = cell[0] + len(cell[1]) if columns.index("foot") < columns.index("feet") else cell[0] - 1
    return bar if text[bar : bar + 1] in ("|", "\t") else None


def of_feet(item: Item) -> bool:
    """Return whether the words of an arms' cell are for the feet: "step left together", "heel taps"."""
    words = [t for t in item.tokens if t.kind not in ("mark", "fill", "join", "prep")]
    if not words or any(t.kind in ARM_WORDS for t in words):
        return False
    stepped = any(t.kind == "pattern" or (t.kind == "verb" and STEPPING.match(t.low)) for t in words)
    named = any(t.kind == "foot" and t.value != "same" for t in words)
    return stepped or named or (words[0].kind == "footpart" and not words[0].value.endswith("knee"))


def _counted(item: Item, row: Label) -> Label:
    """Return the counts of words in a cell: those they name, or so many of the row's as they say ("…, 3 counts")."""
    if item.label is None:
        return row
    if not item.label.floats:
        return item.label
    return item.label._replace(places=moved(item.label.places, row.first - 1), floats=False)


def row_items(text: str, columns: list[str], *, line: int, offset: int, last: Fraction | None) -> list[Item]:
    """Return the items of a row whose table has a column for arms, sections or the foot; [] where it has none."""
    bar = foot_bar(text, columns)
    if bar is None and not columns:
        return []
    arms = cell_of(text, columns, "arms")
    if arms is None and bar is None and not {"section", "row", "foot", "note"} & set(columns):
        return []
    cell = cell_of(text, columns, "foot")
    feet = cell if cell is not None and lists_feet(cell[1]) else None
    rest = without(text, columns, "section", "row", "arms", "note", *(("foot",) if feet else ()))
    rest = rest if bar is None else f"{rest[:bar]} {rest[bar + 1 :]}"
    both = BOTH_CELL.search(rest) if bar is not None and PAIRS.search(rest) else None
    rest = rest if both is None else rest[: both.start()] + " " * (both.end() - both.start()) + rest[both.end() :]
    lead = len(rest) - len(rest.lstrip())
    items = items_of(rest[lead:], line=line, offset=offset + lead, last=last)
    if feet is not None and items and items[0].tokens:
        footed(items[0], feet[1], offset + feet[0], line)
    if both is not None and items:
        items[0].heads += tokens_of(both.group(), line=line, offset=offset + both.start())
    if arms is None or not items or items[0].label is None:
        return items
    for item in items:
        item.limb = item.limb or "feet"
    if arms[1].strip():
        label = items[0].label
        own = f"{label.first}-{label.last} " if AGAIN.fullmatch(arms[1]) else ""  # "5-8 | 1-4 again | 1-4 again"
        hands = items_of(f"{own}{arms[1]}", line=line, offset=offset + arms[0] - len(own))
        hands = [replace(item, label=label) for item in hands] if own else hands
        if len(items) == 1 and not items[0].tokens and any(map(of_feet, hands)):
            items = []  # the row's feet stand in the arms' cell
        items += [replace(i, limb="feet" if of_feet(i) else "arms", label=_counted(i, label)) for i in hands]
    return items
