"""A sheet's lines sorted as the sorting network takes them: it says what each line is, the rules read what it says.

Headings begin sections whatever their words, steps belong to the section above them, remarks are notes. What walls add
or leave out (tags, restarts, endings) the rules sort as ever.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.ahead import plain
from softshoe.wording.begins import first_count
from softshoe.wording.blocks import Block
from softshoe.wording.columns import columns_of
from softshoe.wording.dressed import dressed
from softshoe.wording.extras_apart import tells_extra
from softshoe.wording.headings import Heading, bare_title, heading_of
from softshoe.wording.lex import tokens_of
from softshoe.wording.limbs import limb_of
from softshoe.wording.lines import lines_of
from softshoe.wording.outline import Sorter
from softshoe.wording.remark import only_remarks
from softshoe.wording.section_heads import head_at
from softshoe.wording.shape import shape
from softshoe.wording.strange import is_filler

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.dance.dance import Dance
    from softshoe.wording.blocks import Outline
    from softshoe.wording.counting import Label
    from softshoe.wording.lines import Line
    from softshoe.wording.parts import Item

TITLE, FACT, HEADING, BEGINS, STEPS, ASKED, COLUMNS, EXTRA, NOTE = "T", "H", "S", "B", "C", "R", "K", "G", "N"
RANGE = shape(r"(\d{1,3})\s*(?:-|–|—|to)\s*(\d{1,3})")
LED = shape(r"\W*([^\W\d][^:.;,|]{0,38}?)\s*(?::|\s[-–—]|\.)\s+(?=\S)")  # "FIRST EIGHT: both heels up"


class AsTold(Sorter):
    """Sorts lines of which it is told what they are."""

    def __init__(self, lines: list[Line], unit: int, kinds: Mapping[int, str]) -> None:
        super().__init__(lines, unit)
        counted = {line.number for line in lines if _counts(line)}
        plainer = {n: STEPS for n, kind in kinds.items() if kind == NOTE and n in counted}
        above = NOTE
        for n, kind in sorted(kinds.items()):
            if kind == ASKED:  # a section of its own, but below a heading
                plainer[n] = STEPS if above == HEADING else BEGINS
            above = above if kind == NOTE else kind
        self.kinds = {**kinds, **plainer}
        self.number = 0
        for i, line in enumerate(self.lines):  # where a sentence that is broken over lines ends at the latest
            if self.kinds.get(line.number, EXTRA) not in (STEPS, EXTRA):
                self.heads.setdefault(i, Heading(None, None, len(line.text), line.text.strip()))

    def _header(self, i: int, line: Line) -> None:
        kind = self.kinds.get(line.number, NOTE)
        if kind in (HEADING, BEGINS, STEPS, COLUMNS):
            self._body(i, line)
            return
        self._paint(line, "title" if kind == TITLE and not self.out.title else "header")
        if kind == TITLE or i == 0:
            self.out.title = self.out.title or line.text
        self.out.header.append((line.number, line.text))

    def _body(self, i: int, line: Line) -> None:
        kind = self.kinds.get(line.number, EXTRA)
        text = plain(line.text)
        if kind == HEADING:
            self._open(i, line, text, self._heading_told(text))
        elif kind != EXTRA and self.block is not None and tells_extra(text, danced=kind in (BEGINS, STEPS)):
            super()._body(i, line)
        elif kind in (BEGINS, STEPS):
            self._danced(i, line, begins=kind == BEGINS or self.block is None)
        elif kind in (NOTE, FACT, TITLE) and _means_nothing(text):
            self._keep(line)
        elif kind == NOTE:
            self._note(line)
        elif kind in (FACT, TITLE):
            self._paint(line, "header")
            self.out.header.append((line.number, line.text))
        elif kind == COLUMNS:
            self.columns = columns_of(line.text)
            self._note(line)
        else:
            super()._body(i, line)

    def _heading_told(self, text: str) -> Heading:
        self.number += 1
        known, found = heading_of(text), RANGE.search(text)
        counts = known.counts if known is not None else None
        if counts is None and found is not None and int(found[1]) < int(found[2]):
            counts = (int(found[1]), int(found[2]))
        head = head_at(0, text) if known is None else None
        number = known.number if known is not None else head.number if head is not None else None
        return Heading(number or None, counts, len(text), bare_title(text))

    def _danced(self, i: int, line: Line, *, begins: bool) -> None:
        text = plain(line.text)
        led = LED.match(text) if begins else None
        if begins and (known := heading_of(text)) is not None:
            self.number += 1
            self._open(i, line, text, known)
            return
        if led is not None and first_count(text) is None and not limb_of(text)[0] and not _steps_itself(led[0]):
            self.number += 1
            self._open(i, line, text, Heading(None, None, led.end(), led[1].strip()))
            return
        if begins:
            self.number += 1
            self.block = Block("section", line.number)
            self.out.blocks.append(self.block)
        self.at, line = self._whole(i, line)
        text = plain(line.text)
        if not (self._table(self.at) or self._asked_again(line, text)):
            self._steps(self.at, line, text, len(line.text) - len(text))

    def _next_block(self, label: Label) -> bool:
        return not self.number and super()._next_block(label)

    def _unlabelled(self, i: int, line: Line, text: str, items: list[Item]) -> None:
        if self.kinds.get(line.number) not in (BEGINS, STEPS) or self.block is None:
            super()._unlabelled(i, line, text, items)
        elif not (self._says_where(self.block, line, text) or (limb_of(text)[0] and self._under_counts(items))):
            self.block.items += items


def _steps_itself(name: str) -> bool:
    """ "Step left and touch. Turn …": a first sentence that moves a foot named is no section's name."""
    words = tokens_of(name, line=0) if name.rstrip().endswith(".") else ()
    return any(t.kind in ("verb", "pattern") for t in words) and any(t.kind in ("side", "foot") for t in words)


def _means_nothing(text: str) -> bool:
    """Return whether half the words of a line are unknown: it is kept as it is, and told, whatever it is taken for."""
    words = [t for t in tokens_of(text, line=0) if t.kind != "mark"]
    strange = [t for t in words if t.kind == "word" and not is_filler(t.text)]
    return 2 * len(strange) >= max(1, len(words)) and not only_remarks(text)


def kept_lines(lines: Sequence[Line], kinds: Mapping[int, str]) -> list[Line]:
    """Return the lines without those that tell no step."""
    return [
        line
        for line in lines
        if kinds.get(line.number) not in (NOTE, FACT) or (kinds[line.number] == NOTE and _counts(line))
    ]


def _counts(line: Line) -> bool:
    """Return whether a line begins with its count: it tells steps, whatever it is taken for."""
    return first_count(plain(line.text)) is not None


def sorted_as(text: str, kinds: Mapping[int, str], *, unit: int) -> Outline:
    """Return the outline of a sheet whose lines, by their numbers, are of these kinds."""
    return AsTold(dressed(lines_of(text), unit), unit, kinds).sort()


def sounder(one: Dance, other: Dance) -> bool:
    """Return whether fewer errors, or as few and fewer warnings, were told of one dance than of the other."""
    return _told(one) < _told(other)


def _told(dance: Dance) -> tuple[int, int, int]:
    errors = sum(f.severity == "error" for f in dance.findings)
    unread = sum(f.kind == "unread" for f in dance.findings)
    return errors, sum(f.severity == "warning" and f.kind != "unread" for f in dance.findings), unread
