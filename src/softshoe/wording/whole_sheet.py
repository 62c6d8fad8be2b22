"""A sheet read as the retelling network tells it whole: its sections instead of those that rules found.

Title, header, tags and restarts stay the rules'; what the network tells must be danced just so, without an error of its
own. What was read so is told in a note a section.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.blocks import Block
from softshoe.wording.retell_plain import plain_items

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.blocks import Outline
    from softshoe.wording.whole_ask import Part


def laid_whole(outline: Outline, parts: Sequence[Part]) -> None:
    """Let an outline have the sections told instead of its own. Raises ValueError or KeyError where words fail."""
    sections = [block for block in outline.blocks if block.kind == "section"]
    others = [block for block in outline.blocks if block.kind != "section"]
    begins = [part.words.lines[0][2] for part in parts]
    new: list[Block] = []
    above = 0
    for k, part in enumerate(parts):
        items = plain_items(part.answer.events, part.answer.counts, part.answer.places)
        first, last = begins[k], part.words.lines[-1][2]
        shared = begins.count(first) > 1 or (k > 0 and first == parts[k - 1].words.lines[-1][2])
        found = None if shared else _headed(sections, above, first)
        block = found if found is not None else Block("section", first)
        new.append(replace(block, items=list(items), rest=None))
        above = last
    taken = {number for b in others for number in (b.line, *(item.line for item in b.items))}
    told = {place.line for part in parts for place in part.answer.places.values()}
    if told & taken:
        raise ValueError(told & taken)  # a tag was told as a section
    outline.blocks = sorted([*new, *others], key=lambda block: block.line)
    outline.paints += [(*part.words.span, "event") for part in parts]
    outline.loose = [row for row in outline.loose if row[0] not in told]
    outline.notes = [row for row in outline.notes if row[0] not in told]


def _headed(sections: Sequence[Block], above: int, first: int) -> Block | None:
    """Return the rules' section whose heading stands where a section told begins, or right above it."""
    there = [b for b in sections if above < b.line <= first and b.heading is not None]
    return there[-1] if there else None
