"""Where counts stand apart from their words: tables on their side, counts on a line of their own over a line a limb."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.ahead import MOST_OF_HEADING, Ahead, plain
from softshoe.wording.blocks import Block
from softshoe.wording.chatter import chats
from softshoe.wording.lengths import length_told
from softshoe.wording.sideways import table_at

if TYPE_CHECKING:
    from softshoe.wording.blocks import Role
    from softshoe.wording.counting import Label
    from softshoe.wording.lines import Line
    from softshoe.wording.parts import Item

FEW_WORDS = 7
ASKING = ("repeat", "same", "again", "mirror", "gest", "hand", "dual", "thumb", "times")


class Stanzas(Ahead):
    """Takes several lines together."""

    def _paint(self, line: Line, role: Role) -> tuple[int, int]:
        """Note what a whole line is; return its characters."""
        span = (line.start, line.start + len(line.text))
        self.out.paints.append((*span, role))
        return span

    def _keep(self, line: Line) -> None:
        self._paint(line, "kept")
        self.out.loose.append((line.number, line.text))

    def _table(self, i: int) -> bool:
        """Take a table that lies on its side, if one begins on this line."""
        found = table_at(self.lines, i)
        if found is None:
            return False
        if self.block is None or (self.block.kind == "section" and not self.out.blocks):
            self.block = Block("section", found.items[0].line)
            self.out.blocks.append(self.block)
        first = next((item.label for item in found.items if item.label is not None), None)
        if first is not None and self._next_block(first):
            self.block = Block("section", found.items[0].line)
            self.out.blocks.append(self.block)
        self._paint(self.lines[i], "count")
        self.out.paints += [(start, end, "heading") for start, end in found.heads]
        self.block.items += found.items
        self.through = found.through
        return True

    def _under_counts(self, items: list[Item]) -> bool:
        """ "Counts: 1-4" on a line of its own, "Feet: …" and "Hands: …" below: both are for those counts."""
        assert self.block is not None
        above = self.block.items[-1] if self.block.items else None
        if above is None or above.label is None or len(items) != 1:
            return False
        stanza = above.label is self.stanza
        empty = all(t.kind in ("count", "mark") for t in above.tokens)
        if not empty and not (stanza and above.limb and above.limb != items[0].limb):
            return False
        if empty:
            self.block.items.pop()
            items[0].heads = [*above.heads, *above.tokens, *items[0].heads]
        self.stanza = items[0].label = above.label
        before = len(self.block.items) - (stanza and items[0].limb == "feet")  # the hands' line may stand first
        self.block.items[before:before] = items
        return True

    def _titles(self, i: int, below: Label | None, items: list[Item]) -> bool:
        """Return whether words in capitals, like the title of the section before, or few below a blank line stand over
        counts that run on.
        """
        text = plain(self.lines[i].text)
        block = self.block
        if block is None or block.last is None or below is None or below.first != block.last + 1:
            return False
        asks = any(t.kind in ASKING for item in items for t in item.tokens)
        titled = block.heading is not None and block.heading.number is None and bool(block.title)
        apart = self.lines[i].number > self.lines[i - 1].number + 1 and len(text.split()) < FEW_WORDS
        apart = apart and text[-1:] not in ".!?,;" and block.last % self.unit == 0
        return text.isupper() or ((titled or apart) and not asks and len(text.split()) <= MOST_OF_HEADING)

    def _ends(self, i: int, items: list[Item]) -> bool:
        """Return whether a line below a full section stands before a heading or behind all counts, and asks for no copy
        and no hands.
        """
        tokens = [t for item in items for t in item.tokens]
        asks = any(t.kind in ASKING for t in tokens) and (self._danced_below(i) or not chats(tokens))
        alone = bool(self.block and self.block.items and not self.block.items[-1].tokens)  # its words come below
        if asks or alone or i + 1 in self.heads:
            return not (asks or alone)
        return self.last_counted <= i

    def _amid_counts(self, i: int) -> bool:
        """Return whether a line has no count and the counts of the section go on straight below it."""
        last = self.block.last if self.block is not None else None
        if last is None or i + 1 >= len(self.lines) or self._first_label(self.lines[i]) is not None:
            return False
        below = self._first_label(self.lines[i + 1])
        return below is not None and below.first == last + 1

    def _sentence_goes_on(self, i: int, rest: str) -> bool:
        """ "In the second eight, rock forward …, recover." over a line straight below that goes on without counts."""
        below = self.lines[i + 1] if i + 1 < len(self.lines) else None
        words = rest.split()
        if below is None or below.number != self.lines[i].number + 1 or rest.rstrip()[-1:] != "." or len(words) < 8:
            return False
        return words[0][:1].islower() and self._first_label(below) is None

    def _next_block(self, label: Label) -> bool:
        """Without headings, each eight is a section; counts that begin at 1 again begin one."""
        block = self.block
        if block is None or block.kind != "section" or block.last is None or not block.items:
            return False
        last = block.last.__floor__()
        if last < (length_told(block.text) or 0):
            return False  # "Part 1 (12 counts)" of a waltz
        first = label.first if label.first.denominator == 1 else label.first + Fraction(1, 2)
        if first == 1 and last >= self.unit and last % self.unit == 0:
            return not (
                self.named and block.heading is not None and block.heading.counts and block.heading.counts[1] > last
            )
        whole = len(label.places) >= self.unit and (first - 1) % self.unit == 0 and first > last
        return (whole or (not self.named and first == last + 1)) and last % self.unit == 0
