"""Sections that lean on earlier ones in words of their own: "Heels again, and clap when the foot comes home".

The retelling network reads a section of which the rules made nothing sound with all that stands above it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.lengths import base_of
from softshoe.wording.lines import lines_of
from softshoe.wording.retell_ask import MOST_COUNTS, MOST_LETTERS, Words, joined

if TYPE_CHECKING:
    from softshoe.wording.blocks import Outline
    from softshoe.wording.lines import Line

MOST_ABOVE = 1500  # letters; of what stands above, the nearest whole sections


def looking_back(text: str, outline: Outline, unit: int) -> list[Words]:
    """Return the words of each section but the first, from its heading on, with those of the sections above it."""
    sections = [(k, block) for k, block in enumerate(outline.blocks) if block.kind == "section"]
    lines = {line.number: line for line in lines_of(text)}
    left = {number for number, *_ in outline.restarts} | {number for number, _ in outline.header}
    ends = [*sorted(block.line for block in outline.blocks), max(lines, default=0) + 1]
    notes = {number for number, _ in outline.notes}
    out: list[Words] = []
    above: list[str] = []
    for k, block in sections:
        end = next((line for line in ends if line > block.line), block.line)
        rows = [lines[n] for n in range(block.line, end) if n in lines and n not in left and lines[n].text.strip()]
        own = [line for line in rows if line.number not in notes] or rows
        said = _said(own)
        if above and said and len(said) <= MOST_LETTERS and len(own) < MOST_COUNTS:
            out.append(joined(k, [(0, line) for line in own], base_of(block, unit), above=_nearest(above)))
        above.append("\n".join(line.text.strip() for line in rows))
    return out


def _said(rows: list[Line]) -> str:
    return "\n".join(line.text for line in rows)


def _nearest(above: list[str]) -> str:
    """Return as many of the sections above as there is room for, the nearest last."""
    kept: list[str] = []
    for part in reversed(above):
        if kept and sum(map(len, kept)) + len(part) > MOST_ABOVE:
            break
        kept.insert(0, part[-MOST_ABOVE:])
    return "\n".join(kept)
