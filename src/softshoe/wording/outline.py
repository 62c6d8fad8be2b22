"""The sheet's lines sorted: title, header, sections with their items, tags, restarts, endings, notes.

Nothing is dropped: a line is part of a block, of the header, or kept as it is written.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.added_steps import inline_steps, moves
from softshoe.wording.ahead import STEP_WORDS, begun, plain, unlettered
from softshoe.wording.asides import FOR_OTHERS
from softshoe.wording.beside import REPEATING, Beside, idles, only_says
from softshoe.wording.blocks import Block, Outline, Role
from softshoe.wording.chatter import only_talks, remarks, remarks_often
from softshoe.wording.columns import cell_of, columns_of, row_items
from softshoe.wording.dressed import dressed
from softshoe.wording.extras import LAST_WALL, walls_in
from softshoe.wording.facts import fact_alone, fact_row, says_facts
from softshoe.wording.headings import Heading, bare_title, kind_of
from softshoe.wording.items import items_of
from softshoe.wording.lex import tokens_of
from softshoe.wording.limbs import limb_of
from softshoe.wording.lines import lines_of
from softshoe.wording.looking import told
from softshoe.wording.numbers import place_number
from softshoe.wording.remark import is_furniture, may_be_danced, only_remarks
from softshoe.wording.shape import shape
from softshoe.wording.sideways import table_at

if TYPE_CHECKING:
    from softshoe.wording.counting import Label
    from softshoe.wording.lines import Line
    from softshoe.wording.parts import Item

COUNTS_ALONE = shape(
    r"^\W*(?:counts?|cts?|beats?)\b\W*\d{1,3}\s*(?:(?:-|–|to\s|&|and\s|,|)\s*\d{1,3}\s*)*\W*$", re.IGNORECASE
)
JOINT = shape(r"^\W*(?:(?:and|then|now|so|next|after that)\W*)+$", re.IGNORECASE)  # it heads nothing
PROMISED = shape(r"\W*\d+\s+(?:[\w-]+\s+)?(?:restarts?|tags?|bridges?)\b", re.IGNORECASE)


STEPS_TOLD = shape(r"\(\d\)|[,;]\s*[LR]\b|\b(?:left|right)\b")
POINTS = shape(r"\b(?:tag|bridge)\b", re.IGNORECASE, needs="tag|bridge")
BESIDE: tuple[tuple[str, Role], ...] = (("row", "heading"), ("note", "note"))  # cells of a row that are no steps


class Sorter(Beside):
    """Goes through the lines once, in order."""

    def sort(self) -> Outline:
        """Return the outline."""
        for i, line in enumerate(self.lines):
            if i <= self.through:
                continue
            if self.block is None:
                self._header(i, line)
            else:
                self._body(i, line)
        self._extras_of_header()
        self._pointed()
        for line in self.printed:
            self._note(line)
        for block in self.out.blocks:
            _finish(block)
        for line in self.cut:
            begin = line.start + len(line.text)
            self.out.paints.append((begin, begin + len(line.more), "kept"))
            self.out.loose.append((line.number, line.more))
        self.out.beyond = self.rest[0].start if self.rest else None
        for line in self.lines:
            if line.aside:
                begin = line.start + len(line.text) - len(line.aside)
                self.out.paints.append((begin, begin + len(line.aside), "note"))
                self.out.notes.append((line.number, line.aside))
        self.out.blocks = [b for b in self.out.blocks if b.items or b.kind != "section" or b.heading]
        return self.out

    # header

    def _header(self, i: int, line: Line) -> None:
        if line.head or kind_of(plain(line.text)) == "row head":
            self.columns = columns_of(line.text)
            self._note(line)
            return
        if self._opens(i, line):
            self._body(i, line)
            return
        self._paint(line, "header" if i else "title")
        if i and kind_of(text := plain(line.text)) in ("ending", "tag") and inline_steps(text) is not None:
            self.early.append((line, text))
        if not self.out.title and i == 0:
            self.out.title = line.text
        self.out.header.append((line.number, line.text))

    def _opens(self, i: int, line: Line) -> bool:
        """Return whether the dance's own lines begin here."""
        text = plain(line.text)
        if table_at(self.lines, i) is not None:
            self.block = Block("section", self.lines[i + 1].number)
            return True
        if kind_of(text) in ("note", "legend", "tag", "ending", "restart", "end") or PROMISED.match(text):
            return False
        if fact_row(text):
            return False
        heading = self._heading(i, text) or (self._numbered_head(i, line, text) if i > 0 else None)
        if heading is not None and heading.title and self._facts_below(i):
            return False  # "A. Treadgold" over "1 wall"
        if heading is not None and (i > 0 or not heading.named) and self._leads_to_steps(i, heading):
            self.block = Block("section", line.number)
            return True
        label = self._first_label(line) or self._label_of_whole(i, line)
        if label is not None and label.floats and self._danced_above(i):
            return False
        if label is not None and label.first <= 1 and (i > 0 or len(self.lines) > 1):
            self._open_first(i, line)
            return True
        return False

    def _facts_below(self, i: int) -> bool:
        """Return whether lines of the header stand straight below, before any count."""
        for k, line in enumerate(self.lines[i + 1 : i + 4], i + 1):
            label = self._first_label(line)
            if k in self.heads or kind_of(plain(line.text)) in ("tag", "ending"):
                return False
            if label is not None and not label.floats and not (fact_alone(line.text) or fact_row(line.text)):
                return False
            if fact_alone(line.text) or fact_row(line.text):
                return True
        return False

    def _open_first(self, i: int, line: Line) -> None:
        """Open the first section; words straight above its steps may be its heading."""
        self.block = Block("section", line.number)
        if not self._headed(i) or self.out.header[-1][1] != self.lines[i - 1].text:
            return
        above = self.lines[i - 1]
        self.out.header.pop()
        words = above.text.strip()
        heading = Heading(None, None, len(above.text), words)
        self.block = Block(
            "section", above.number, above.text, heading, title=words, span=self._paint(above, "heading")
        )
        self.out.blocks.append(self.block)
        self.named = True

    def _note(self, line: Line) -> None:
        self._paint(line, "note")
        self.out.notes.append((line.number, line.text))

    # body

    def _body(self, i: int, line: Line) -> None:
        first = i
        self.at, line = self._whole(i, line)
        i = self.at
        text = plain(line.text)
        shift = len(line.text) - len(text)
        if self.block is not None and self.block.items and says_facts(text) and not COUNTS_ALONE.match(text):
            self._paint(line, "header")
            self.out.header.append((line.number, line.text))
            return
        if self._table(i) or self._asked_again(line, text):
            return
        kind = self._kind(first, line, text)
        if not kind and POINTS.search(text) and walls_in(text) and not self._counts_below(i):
            self._paint(line, "place")
            self.pointers.append((line.number, text))
            return
        if kind in ("", "restart") and self._closes(first, text):
            self.over = True
            self._note(line)
            return
        if kind and self._special(kind, line, text):
            return
        if self._amid_counts(i) and remarks(text, tokens_of(text, line=line.number)):
            self._remarked(line)
            return
        heading = self._heading(first, text)
        if heading is None and self._range_heads(i, line):
            label = self._first_label(line)
            if label is not None:
                counts = (int(label.first), int(label.last))
                heading = Heading(None, counts, len(text), text, named=False)
        heading = self._part_of_eight(i, heading, text) or self._numbered_head(i, line, text) or self._over_one(i, text)
        if heading is not None and self._is_section(heading):
            self._open(i, line, text, heading)
            return
        if heading is not None and heading.counts and self._only_titles(i, heading, text[heading.rest_at :]):
            self._paint(line, "heading")  # "[1-4] Sways" over a tag's counts
            return
        self._steps(i, line, text, shift)

    def _special(self, kind: str, line: Line, text: str) -> bool:
        """Take a line that is no step; False where it is steps after all."""
        if kind in ("tag", "ending"):
            self._open_extra(kind, line, text)
        elif kind == "restart":
            self._paint(line, "place")
            index = len(self.out.blocks) - 1
            self.out.restarts.append((line.number, text, index, len(self.out.blocks[index].items) if index >= 0 else 0))
        elif kind == "end":
            self.over = True
            self._paint(line, "note")
        elif kind in ("note", "legend", "row head"):
            if kind == "row head":
                self.columns = columns_of(line.text)
            self._note(line)
        self.noting = kind == "note"
        return True

    def _is_section(self, heading: Heading) -> bool:
        if self.block is None or self.block.kind == "section":
            return True
        return (
            heading.named and heading.number is not None and heading.counts is None and not heading.title[:1].isdigit()
        )

    def _open(self, i: int, line: Line, text: str, heading: Heading) -> None:
        self.named = self.named or heading.named or heading.counts is not None
        self.noting, self.limb = False, ""
        span = self._paint(line, "heading")
        self.block = Block("section", line.number, text, heading, title=heading.title, span=span)
        self.out.blocks.append(self.block)
        rest = text[heading.rest_at :]
        if not rest.strip() or self._only_titles(i, heading, rest):
            return
        if REPEATING.match(rest) and self._was_before(heading):
            heading, rest = replace(heading, rest_at=0), text  # "Part A again": that part, not the one above
        offset = line.start + len(line.text) - len(text) + heading.rest_at
        items = self._titled_items(rest, line.number, offset) or items_of(rest, line=line.number, offset=offset)
        counts = heading.counts
        told = [i.label for i in items if i.label is not None]
        if counts and len(told) == 1 and told[0].first == counts[0] and told[0].last == counts[1]:
            self.block.rest = (text[heading.rest_at : heading.rest_at + len(rest)], line.number, offset)
        elif items and all(i.label is not None and not i.tokens for i in items):
            return  # "Part A (8)"
        elif (
            (told and (items[0].label is not None or len(items) > 1))
            or REPEATING.match(rest)
            or self._sentence_goes_on(i, rest)
        ):
            self.block.items += items
        else:
            self.block.rest = (rest, line.number, offset)

    def _was_before(self, heading: Heading) -> bool:
        """Return whether a section above has the same number."""
        numbers = [block.heading.number for block in self.out.blocks[:-1] if block.heading is not None]
        return heading.number is not None and heading.number in numbers

    def _steps(self, i: int, line: Line, text: str, shift: int) -> None:
        text = unlettered(text).lstrip()
        shift = len(line.text) - len(text)
        alone = limb_of(text.strip().rstrip(":") + ":")
        if alone[0] and not text[alone[1] :].strip():
            self.limb = alone[0]
            self.out.notes.append((line.number, line.text))
            self._paint(line, "heading")
            return
        text = self._going_on(text, line.start + shift)
        text, offset = self._restart_inside(line, text, line.start + shift)
        if self.block is None or (self.block.kind == "section" and not self.out.blocks):
            self.block = Block("section", line.number)
            self.out.blocks.append(self.block)
        items = self._row(line) or self._named_items(text, line.number, offset)
        items = items or self._read_ahead(line, text, offset, self.block.last)
        if not items:
            return
        label = begun(items)
        if label is None:
            self._unlabelled(i, line, text, items)
            return
        self.noting = False
        for item in items:
            item.limb = item.limb or self.limb
        if self.limb != "arms" and items[0].limb != "arms" and self._next_block(label):
            self.block = Block("section", line.number)
            self.out.blocks.append(self.block)
        self.block.items += items

    def _row(self, line: Line) -> list[Item]:
        """The items of a table's row; a section's column that names another section begins it."""
        cell = cell_of(line.text, self.columns, "section")
        name = cell[1].strip() if cell is not None else ""
        if name and name != self.row_section:
            self.named, self.row_section = True, name
            heading = Heading(place_number(name), None, len(line.text), "")
            self.block = Block(
                "section", line.number, line.text, heading, span=(line.start, line.start + len(line.text))
            )
            self.out.blocks.append(self.block)
        beside = [(cell_of(line.text, self.columns, r), p) for r, p in BESIDE] if self.columns else []
        for one, role in ((cell, "heading"), *beside):
            if one is not None:
                self.out.paints.append((line.start + one[0], line.start + one[0] + len(one[1]), role))
        last = self.block.last if self.block else None
        return row_items(line.text, self.columns, line=line.number, offset=line.start, last=last)

    def _between_counts(self, i: int) -> bool:
        """Return whether the counts go on or begin anew straight below, so that the line has no room for steps."""
        last = self.block.last if self.block is not None else None
        if last is None or self.block is None or not self.block.items or self.block.items[-1].label is None:
            return False
        if i + 1 >= len(self.lines):
            return last % self.unit == 0
        below = self._first_label(self.lines[i + 1])
        if below is None:
            return last % self.unit == 0 and self._heading(i + 1, plain(self.lines[i + 1].text)) is not None
        stops = self.lines[i].text.rstrip()[-1:] in tuple('.!?)”"')  # without, it may head the counts below
        return below.first == last + 1 or (below.first == 1 and stops)

    def _unlabelled(self, i: int, line: Line, text: str, items: list[Item]) -> None:
        block = self.block
        assert block is not None
        steps = any(t.kind in STEP_WORDS or t.kind == "num" for item in items for t in item.tokens)
        if block.rest is not None and not block.items and not steps and not limb_of(text)[0]:
            self._note(line)  # "See you Thursday!"
            return
        if block.kind != "section" and not block.items and _says_which(text):
            block.text += f". {text}"  # "TAG" over "(4 counts, end of wall 2)"
            self._paint(line, "heading")
            return
        if self._says_where(block, line, text):
            return
        words = [t for item in items for t in (*item.heads, *item.tokens)]
        idle = block.kind != "section" and block.items and idles(items)
        idle = idle or JOINT.match(text) is not None or only_remarks(text) or is_furniture(text)
        if idle or (block.items and (FOR_OTHERS.match(text) or only_talks(text, words))):
            self._note(line)
            return
        if self._between_counts(i) and remarks(text, words):
            self._remarked(line)
            return
        if limb_of(text)[0] and self._under_counts(items):
            return
        if limb_of(text)[0] or (block.heading is not None and not block.items and not self.over):
            block.items += items
            return
        ahead = self._first_label(self.lines[i + 1]) if i + 1 < len(self.lines) else None
        uncounted = block.heading is not None and bool(block.items) and all(o.label is None for o in block.items)
        full = (block.last is None and not uncounted) or (block.last is not None and block.last % self.unit == 0)
        if block.kind == "section" and full and not self.over and (_starts(ahead) or self._titles(i, ahead, items)):
            heading, span = Heading(None, None, len(text), text.strip()), self._paint(line, "heading")
            self.block = Block("section", line.number, text, heading, title=bare_title(text), span=span)
            self.out.blocks.append(self.block)
            self.named = True
            return
        if (block.kind == "section" and (self.over or (full and self._ends(i, items)))) or self.noting:
            (self._keep if steps or may_be_danced(words) else self._note)(line)
            return
        block.items += items

    def _says_where(self, block: Block, line: Line, text: str) -> bool:
        """ "(now facing 6:00)", "End on the left": a line that belongs to the last step above it."""
        said = only_says(tokens_of(text, line=line.number, offset=line.start + len(line.text) - len(text)))
        if not block.items or not said:
            return False
        block.items[-1].tokens = told([*block.items[-1].tokens, *said])
        return True

    def _remarked(self, line: Line) -> None:
        """A remark is a note where its words say so or the sheet has more of them; another stray one is told."""
        talk = only_remarks(line.text) or remarks_often(one.text for one in self.lines)
        (self._note if talk else self._keep)(line)


def _starts(label: Label | None) -> bool:
    return label is not None and label.first <= 1


def _says_which(text: str) -> bool:
    """Return whether a line below a tag's name says of which wall it is, and holds no steps itself."""
    named = bool(walls_in(text)) or LAST_WALL.search(text) is not None
    return named and not (STEPS_TOLD.search(text) and moves(text))


def _finish(block: Block) -> None:
    """A section with nothing under its heading has its steps in the heading."""
    if not block.items and block.rest is not None:
        words, line, start = block.rest
        block.items += items_of(words, line=line, offset=start)


def sorted_lines(text: str, *, unit: int) -> Outline:
    """Return the outline of a sheet; ``unit`` is how many counts a section has by custom (8, waltz 6)."""
    return Sorter(dressed(lines_of(text), unit), unit).sort()
