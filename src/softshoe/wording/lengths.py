"""How long each section is: as its heading says, as it is written, by custom; and what does not agree."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.come_back import comes_back
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.blocks import Block, Outline
    from softshoe.wording.header import Head
    from softshoe.wording.parts import Item
    from softshoe.wording.stage import Stage


def base_of(block: Block, unit: int) -> int:
    """Return what is taken from the block's own count labels: 8 where it counts 9 to 16."""
    first = next((i.label.places[0] for i in block.items if i.label is not None), None)
    if first is None:
        return 0
    whole = first.__ceil__()
    counts = block.heading.counts if block.heading else None
    if counts and whole >= counts[0]:
        return counts[0] - 1
    return (whole - 1) // unit * unit if whole > unit else 0


def written(block: Block, unit: int) -> int | None:
    """Return how many counts the block's labels come to; None where an item has none."""
    last = block.last
    if last is None:
        return None
    return max(i.label.last.__floor__() for i in block.items if i.label is not None) - base_of(block, unit)


LENGTH = shape(r"(?:^|[\s(\[,])(\d{1,2})\s*(?:counts?|cts?|beats?)\s*[)\]]?\W*$", re.IGNORECASE)


def length_told(title: str) -> int | None:
    """ "Set 1 (4 counts)", "The mangle, 8 counts": the length that a section's heading tells."""
    found = LENGTH.search(title)
    return int(found[1]) if found else None


def is_uncounted(items: Sequence[Item]) -> bool:
    """Return whether no item has counts of its own, but for how long it lasts."""
    return bool(items) and all(i.label is None or i.label.floats for i in items)


def length_of(block: Block) -> int | None:
    """Return the length that a section's heading tells, as a range or in counts."""
    counts = block.heading.counts if block.heading else None
    return counts[1] - counts[0] + 1 if counts else length_told(block.text) or length_told(block.title)


class Lengths:
    """Goes along the sections and says where each begins and how long it is."""

    def __init__(self, outline: Outline, head: Head) -> None:
        self.unit = 6 if (head.metre or "") in ("3/4", "6/8") else 8
        self.stated = head.counts
        self.start = 0
        self.numbers: list[int] = []
        self.danced: dict[int, tuple[int, int]] = {}  # by their numbers: counts before each section, counts it fills
        self.unnumbered = 0  # sections without a number behind the last that has one
        sections = [b for b in outline.blocks if b.kind == "section" and b.items]
        found = [written(b, self.unit) for b in sections]
        self.sums = None not in found and self.stated is not None and sum(n or 0 for n in found) == self.stated
        self.last = sections[-1] if sections else None
        self.alone = len(sections) == 1
        ranges = [b.heading.counts for b in sections if b.heading and b.heading.counts]
        self.running = any(counts[0] > 1 for counts in ranges)  # the headings' counts go on from section to section

    def base(self, block: Block) -> int:
        """Return what to take from the block's count labels."""
        return base_of(block, self.unit)

    def close(self, block: Block, filled: int, stage: Stage) -> int:
        """Tell what is wrong with the section's length or number; return its length and go on behind it."""
        self._numbered(block, filled, stage)
        length = self._length(block, filled, stage)
        self.start += length
        return length

    def _length(self, block: Block, filled: int, stage: Stage) -> int:
        counts = block.heading.counts if block.heading else None
        if counts:
            wanted = counts[1] - counts[0] + 1
            if filled != wanted:
                self._tell(block, filled, wanted, stage)
            return wanted
        whole = filled % self.unit == 0 and is_uncounted(block.items)
        if whole or filled == self.unit or self.sums or filled in (0, length_told(block.title)):
            return filled
        if self._odd(block, filled):
            self._tell(block, filled, self.unit, stage)
            return self.unit if filled < 2 * self.unit else filled
        return filled

    def _odd(self, block: Block, filled: int) -> bool:
        """Return whether a length other than custom's must be a slip."""
        if self.stated is not None:
            return not (self.alone and filled % self.unit == 0) and self.start + filled != self.stated
        return (block is not self.last and filled % self.unit != 0) or filled % 2 == 1

    def _tell(self, block: Block, filled: int, wanted: int, stage: Stage) -> None:
        last = block.items[-1].line if block.items else block.line
        short = filled < wanted
        stage.tell("error", "section-length", last if short else block.line, None,
                   f"This section {'stops after' if short else 'runs to'} {filled} counts; it should have {wanted}.",
                   "Write the counts that are missing." if short else "Move what is too much to the next section."
        )  # fmt: skip

    def _comes_back(self, named: int, filled: int, stage: Stage) -> bool:
        """Return whether an earlier section, not the last, comes back under its number."""
        first = self.danced.get(named)
        there = first is not None and named != self.numbers[-1]
        return there and first is not None and comes_back(stage, first, (self.start, filled))

    def _numbered(self, block: Block, filled: int, stage: Stage) -> None:
        """Section numbers come in turn; counts given in a heading go on where the section before ended."""
        named = block.heading.number if block.heading else None
        counts = block.heading.counts if block.heading else None
        wanted = self.numbers[-1] + 1 if self.numbers else None
        told = False
        if named is not None and self._comes_back(named, filled, stage):
            named = None
        if named is not None:
            if wanted is not None and not wanted <= named <= wanted + self.unnumbered:
                again = "comes twice" if named in self.numbers else "is out of turn"
                stage.tell("error", "section-number", block.line, None,
                f"Section {named} {again}; {wanted} would be next.",
                           f"Number it {wanted}, or put it in its place.")  # fmt: skip
                named, told = wanted, True
            self.numbers.append(named)
            self.danced[named] = self.start, filled
            self.unnumbered = 0
        if counts and not told and counts[0] != self.start + 1 and (self.running or counts[0] != 1):
            stage.tell("error", "section-number", block.line, None,
                       f"This section is headed {counts[0]} to {counts[1]}; count {self.start + 1} would be next.",
                       "Let the counts in the heading go on from the section before.")  # fmt: skip
        self.unnumbered += named is None and bool(self.numbers)
