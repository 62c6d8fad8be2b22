"""A sheet's lines in plain dress: tables, questions, bars, beats, counts and lengths as most sheets set them out.

Each change looks at all lines together and leaves a sheet alone that does not write so; every word keeps its place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.answers import answered
from softshoe.wording.bars import barred
from softshoe.wording.beats import struck
from softshoe.wording.counts_dressed import counted
from softshoe.wording.line_lengths import lengthened
from softshoe.wording.named_sections import renamed
from softshoe.wording.table_rows import alike

if TYPE_CHECKING:
    from softshoe.wording.lines import Line


def dressed(lines: list[Line], unit: int) -> list[Line]:
    """Return the lines in plain dress; ``unit`` is how many counts a section has by custom."""
    lines = barred(renamed(answered(alike(lines))))
    return lengthened(counted(struck(lines, unit), unit), unit)
