"""Lines that are numbered one by one: "1. Side, together, forward, hold", "2. …". Their numbers are no counts.

A sheet is read so only where its numbers, taken for counts, hold too many steps.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.blocks import Paint
    from softshoe.wording.reading import Reading

NUMBER = shape(r"^[ \t]*(\d{1,2}[.)])(?=[ \t]+[^\W\d])")
MANY = 3  # lines


def crowded(found: Reading) -> bool:
    """Return whether many lines hold more steps than counts."""
    return sum(f.kind == "steps-per-count" for f in found.dance.findings) >= MANY


def unnumbered(text: str) -> tuple[str, list[Paint]]:
    """Return a text with the numbers of its lines blank, and where they stand; "" where they are too few."""
    lines: list[str] = []
    marks: list[Paint] = []
    at = last = 0
    for line in text.split("\n"):
        found = NUMBER.match(line)
        number = int(found[1][:-1]) if found else 0
        if found and number in (1, last + 1):
            start, end = found.span(1)
            line = line[:start] + " " * (end - start) + line[end:]
            marks.append((at + start, at + end, "heading"))
            last = number
        lines.append(line)
        at += len(line) + 1
    return ("\n".join(lines), marks) if len(marks) >= MANY else ("", [])


def better(other: Reading | None, found: Reading) -> bool:
    """Return whether the other reading has no line with too many steps, and fewer errors."""
    if other is None or any(f.kind == "steps-per-count" for f in other.dance.findings):
        return False
    return _errors(other) < _errors(found)


def _errors(found: Reading) -> int:
    return sum(f.severity == "error" for f in found.dance.findings)
