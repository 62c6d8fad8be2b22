"""What the words leave out and footwork settles, told in one note a line.

Told is what a reader of the sheet would want to know: a movement that no word names (the recover of a rock, the step
before a pivot, the step home on an "&"), a foot that only what follows settles, a turn whose side is settled by the
feet, the foot that begins. Not told is the trade's own shorthand: the free foot, a pattern's own steps, a pivot's way.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.counts import Count
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterable
    from fractions import Fraction

MEND = "Write it out if another was meant."


def inferred_notes(worked_out: Iterable[tuple[int, Fraction, str]]) -> list[Finding]:
    """Return one note a line on what was worked out there: (line, moment from 1, what)."""
    lines: dict[int, list[tuple[Fraction, str]]] = {}
    for line, at, what in worked_out:
        lines.setdefault(line, []).append((at, what))
    return [_note(line, found) for line, found in sorted(lines.items())]


def _note(line: int, found: list[tuple[Fraction, str]]) -> Finding:
    parts = [f"{what} on {Count(at).label}" for at, what in found]
    words = ", ".join(parts[:4]) + (" and more" if len(parts) > 4 else "")
    return Finding("note", "inferred", line, str(found[0][0] - 1), f"Worked out from the footwork: {words}.", MEND)
