"""Layouts that may be meant otherwise than they stand: each a way to put the sheet, tried where it reads amiss.

A way may go on from another: counts run together inside rows that are sections.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counts_over import counts_over
from softshoe.wording.feet_beside import feet_beside
from softshoe.wording.joined_counts import joined_counts
from softshoe.wording.parted_lines import parted_lines
from softshoe.wording.respelled import respelled
from softshoe.wording.section_rows import named_rows, section_rows

if TYPE_CHECKING:
    from softshoe.wording.tongue import Heard

WAYS = (feet_beside, joined_counts, counts_over, section_rows, named_rows, parted_lines)


def other_layouts(text: str) -> list[tuple[Heard, ...]]:
    """Return the ways in which a sheet may be laid out otherwise, each as the steps that lead there."""
    ways: list[tuple[Heard, ...]] = [()]
    for way in WAYS:
        for steps in list(ways):
            now = steps[-1].english if steps else text
            edits = way(now)
            if edits:
                ways.append((*steps, respelled(now, edits)))
    return ways[1:]
