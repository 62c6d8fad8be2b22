"""A heading told from steps by the lines that follow it."""

from __future__ import annotations

import re
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.asked import asking
from softshoe.wording.beats import MARKS
from softshoe.wording.begins import first_count, title_end
from softshoe.wording.blocks import Block, Outline
from softshoe.wording.columns import without
from softshoe.wording.counting import fills
from softshoe.wording.facts import part_lengths, tells_header
from softshoe.wording.headings import BULLET, Heading, heading_of, kind_of
from softshoe.wording.items import items_of
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.lex import tokens_of
from softshoe.wording.limbs import limb_of
from softshoe.wording.lines import LONGEST_LINE, Line, runs_on
from softshoe.wording.numbers import place_number
from softshoe.wording.parts import Item
from softshoe.wording.remark import is_furniture
from softshoe.wording.series import headings_in, song_parts
from softshoe.wording.shape import shape
from softshoe.wording.titled import DOING, dances, name_end, names_alone, over_uncounted, titled_paragraphs

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.wording.counting import Label

MOST_LINES = 3000
WRITTEN = shape(r"[^\W_]")  # a line without it only rules the page: "======", "|---|---|"
MOST_LINES_OF_PART = 10  # of a section without counts
MOST_OF_HEADING, LONGEST_TITLE, MOST_OF_SECTION = 12, 20, 60  # words; words; lines looked at
SIZED = shape(
    r"^(?!\d+\s*(?:[-–—&+,.:)/]|to\b))(.{3,60}?)\s*(?:[(\[]|[,:;]|\s[-–—])\s*([1-9]\d?)\s*(?:counts?|cts?|c|beats?)?\s*[)\]]?\W*$",
    re.IGNORECASE,
)
TITLED_NOT = shape(
    r"^\W*(?:the\s+)?(?:left|right|both|arms?|hands?|feet|foot|legs?|upper|lower|other|again|same|repeat|mirror|then|and|"
    r"now|counts?|beats?|music|start|intro)\b",
    re.IGNORECASE,
)
STEP_WORDS = ("verb", "pattern", "side", "gest", "footpart", "again", "same", "repeat", "mirror", "draw", "dual")
NUMBERED = shape(
    r"(?:(?:no|nr|number)\b\.?\s*)?(\d{1,2}(?=[).])|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)"
    r"(?:[).:]\W*$|(?:[).:]|\s[–—-])\s+(?!(?:for|on)?\s*counts?\b)(?=[^\W\d]))",
    re.IGNORECASE,
)
NUMBERS_ONLY = shape(r"^[\W\d]*\d\s*(?:[-–—&+,.:)/]|[ae]\b|to\b)", re.IGNORECASE)  # "2-4 …", "3. …": a count label
BARE_NUMBER = shape(r"^[\W_]*(?:no\.?\s*)?(\d{1,2})[\W_]*$", re.IGNORECASE)


class Ahead:
    """The written lines, the count label each begins with, and what that says of a heading above it."""

    def __init__(self, lines: list[Line], unit: int) -> None:
        written, self.printed = _printed([line for line in lines if WRITTEN.search(line.text)])
        self.lines, self.rest = written[:MOST_LINES], written[MOST_LINES:]
        self.cut = [line for line in self.lines if line.more]
        self.rules = {line.number for line in lines if line.text.strip() and not WRITTEN.search(line.text)}
        texts = [plain(line.text) for line in self.lines]
        self.song = song_parts(texts)
        self.heads = (headings_in(texts) | self.song) or titled_paragraphs(self.lines, texts)
        self.unit = unit
        self.out = Outline()
        self.block: Block | None = None
        self.named = False
        self.over = False
        self.noting = False
        self.columns: list[str] = []
        self.limb = ""  # "FEET" or "ARMS" on a line of its own, for the lines below it
        self.row_section = ""
        self.early: list[tuple[Line, str]] = []  # tags and endings that the header tells with their steps
        self.stanza: Label | None = None  # counts on a line of their own, for the limbs' lines below them
        self.pointers: list[tuple[int, str]] = []  # lines among the steps that say where a tag belongs
        self.at = -1  # the line that is sorted now
        self.through = -1  # the last line that was taken with the one before
        self.labels: dict[int, Label | None] = {}
        self.items: dict[int, list[Item]] = {}

    @cached_property
    def last_counted(self) -> int:
        """The index of the last line that begins with a count."""
        found = (k for k in range(len(self.lines) - 1, -1, -1) if first_count(plain(self.lines[k].text)) is not None)
        return next(found, -1)

    @cached_property
    def sized_over_uncounted(self) -> frozenset[int]:
        """The lines "Toes (8 counts)" over lines that dance without counts, where the sheet has more than one."""
        return over_uncounted([plain(line.text) for line in self.lines], SIZED)

    def _danced_below(self, i: int) -> bool:
        """Return whether a line below names counts or heads a section."""
        return (
            self.last_counted > i
            or any(k > i for k in self.heads)
            or any(heading_of(plain(line.text)) is not None for line in self.lines[i + 1 :])
        )

    def _whole(self, i: int, line: Line) -> tuple[int, Line]:
        """Return the line with those that only go on with its sentence, and the index of the last of them."""
        whole = line
        while i + 1 < len(self.lines) and len(whole.text) < LONGEST_LINE:
            after = self.lines[i + 1]
            apart = after.number != self.lines[i].number + 1 or MARKS.search(after.text) is not None
            if apart or not runs_on(self.lines[i].text, after.text):
                break
            text = plain(after.text)
            if i + 1 in self.heads or heading_of(text) is not None or kind_of(text):
                break
            gap = after.start - whole.start - len(whole.text) - 1
            whole = Line(line.number, line.start, whole.text + " " * gap + "\n" + after.text)
            i = self.through = i + 1
        if whole is not line:
            self.labels.pop(line.number, None)
            self.items.pop(line.number, None)
        return i, whole

    def _label_of_whole(self, i: int, line: Line) -> Label | None:
        """Return the first count of a sentence that goes on over the lines below, told behind its words."""
        through = self.through
        _, whole = self._whole(i, line)
        self.through = through
        if whole is line or i == 0:
            return None
        found = labels_behind(whole.text)
        return found if found is not None and found.first <= 1 else None

    def _asked_again(self, line: Line, text: str) -> bool:
        """Take a line that only says "again", "x2" where the section's counts still leave room for a copy."""
        block = self.block if self.block is not None and self.block.kind == "section" else None
        if block is None or block.last is None or fills(block.last, self.unit):
            return False
        words = asking(tokens_of(text, line=line.number, offset=line.start + len(line.text) - len(text)))
        block.items += [Item(None, words, line.number)] if words else []
        return bool(words)

    def _danced_above(self, i: int) -> bool:
        """Return whether lines above hold steps without counts: a line that only tells its length begins no dance."""
        above = (tokens_of(line.text, line=0) for line in self.lines[max(1, i - 6) : i])
        return any(sum(t.kind in DOING for t in tokens) > 1 for tokens in above)

    def _leads_to_steps(self, i: int, heading: Heading) -> bool:
        """A heading stands before steps, not inside a header ("Part 1 of 2")."""
        if heading.counts or heading.title:
            return heading.counts is None or heading.counts[0] == 1 or heading.number is not None
        below = self.lines[i + 1 : i + 4]
        if any(self._first_label(line) is not None or self._titled_items(plain(line.text), 0, 0) for line in below):
            return True
        return i in self.heads or self._over_uncounted(i, heading)

    def _over_uncounted(self, i: int, heading: Heading) -> bool:
        """ "Set 1" over a line that only dances, "Set 2" some lines below: sections whose lines have no counts."""
        below = self.lines[i + 1] if i + 1 < len(self.lines) else None
        if below is None or heading.number != 1 or heading_of(plain(below.text)):
            return False
        later = (heading_of(plain(line.text)) for line in self.lines[i + 2 : i + 2 + MOST_LINES_OF_PART])
        return dances(below.text) and any(one is not None and one.number == 2 for one in later)

    def _first_label(self, line: Line) -> Label | None:
        if line.number not in self.labels:
            text = plain(without(line.text, self.columns, "section", "row", "note"))
            text = unlettered(text).lstrip()
            offset = line.start + len(line.text) - len(text)
            items = items_of(text.rstrip(), line=line.number, offset=offset) if text else []
            self.labels[line.number] = begun(items)
            label = items[0].label if items and not self.columns else None
            own = (
                label is not None
                and label.start == offset
                and not label.floats
                and not (items[0].tokens and label.end > items[0].tokens[0].start)
            )
            if own:
                self.items[line.number] = items
        return self.labels[line.number]

    def _read_ahead(self, line: Line, text: str, offset: int, last: Fraction | None) -> list[Item]:
        """Return a line's items; those that begin with their count were read already, whatever count came before."""
        found = self.items.pop(line.number, None)
        known = found is not None and line.start + len(line.text) - len(text) == offset and text in line.text
        return found if found is not None and known else items_of(text, line=line.number, offset=offset, last=last)

    def _heading(self, i: int, text: str) -> Heading | None:
        """Return the heading a line is or begins with: by its place in a series, its words, or as a title."""
        if part_lengths(text):
            return None
        named, series = heading_of(text), self.heads.get(i)
        if series is not None and (named is None or named.number != series.number):
            return series
        return named or self._titled(text) or self._sized(i, text)

    def _sized(self, i: int, text: str) -> Heading | None:
        """ "Heels and homes (8)", "Rock and roll - 8 counts" over a line that begins at 1: a title and a length."""
        found = SIZED.match(text)
        if not found or i == 0 or i + 1 >= len(self.lines) or TITLED_NOT.match(text) or kind_of(text):
            return None
        if self.block is None and tells_header(found[1]):
            return None
        full = self.block is None or self.block.last is None or fills(self.block.last, self.unit)
        begins = first_count(plain(self.lines[i + 1].text)) == 1
        over = begins or (full and i in self.sized_over_uncounted)
        if not over or not int(found[2]) or int(found[2]) % self.unit:
            return None
        return Heading(None, None, len(text), found[1].strip(" .:;-–—"))

    def _titled(self, text: str) -> Heading | None:
        """ "Heels and homes: 1-4 …", where a section may begin."""
        full = self.block is None or self.block.last is None or fills(self.block.last, self.unit)
        full = full and not (self.block is not None and self.block.heading is not None and self.block.last is None)
        if full and not kind_of(text) and (named := name_end(text)) is not None:
            return Heading(None, None, named, text[:named].strip(" .:"), named=False)
        at = title_end(text) if full else None
        if at is None or first_count(text[at:]) != 1 or TITLED_NOT.match(text) or kind_of(text):
            return None
        if not self._titled_items(text, 0, 0):
            return None
        return Heading(None, None, at, text[:at].strip(" .:;()[]–—-"), named=False)

    def _titled_items(self, text: str, line: int, offset: int) -> list[Item]:
        """Return the items behind a title on the line; none where it holds the doing word ("Walk: 1 right")."""
        at = title_end(text)
        if at is None or (first_count(text[at:]) or 0) % self.unit != 1:
            return []
        items = items_of(text[at:], line=line, offset=offset + at)
        named = bool(items) and items[0].label is not None and any(t.kind in DOING for t in items[0].tokens)
        return items if named else []

    def _headed(self, i: int) -> bool:
        """Return whether the line above line i is the first section's heading and not the last of the header.

        Where later sections have words of their own above their first count, so has the first; where they have none, it
        has none. Else a few words below a blank line are a heading.
        """
        if i < 2:
            return False
        above, before = self.lines[i - 1], self.lines[i - 2]
        straight = all(n in self.rules for n in range(above.number + 1, self.lines[i].number))
        words = above.text.strip()
        sized = SIZED.match(plain(words))
        if sized is not None and self._sum_of_counts(plain(words), plain(self.lines[i].text)):
            words = sized[1]
        if not straight or len(words.split()) > MOST_OF_HEADING or kind_of(plain(words)) or tells_header(words):
            return False
        later = self._later_headed(i)
        apart = before.number < above.number - 1
        short = len(words.split()) < 7 and words[-1:] != "." and not re.search(r"\d", words)
        return later if later is not None else apart and short

    def _later_headed(self, i: int) -> bool | None:
        """Return whether the next section that begins has words of its own above it; None where none begins."""
        for k in range(i + 1, min(i + MOST_OF_SECTION, len(self.lines))):
            label = self._first_label(self.lines[k])
            if label is not None and label.first % self.unit == 1:
                above = self.lines[k - 1]
                text = plain(above.text)
                words = self._first_label(above) is None or self._sum_of_counts(text, plain(self.lines[k].text))
                return k - 1 > i and words and not kind_of(text)
        return None

    def _sum_of_counts(self, text: str, below: str) -> bool:
        """Return whether words end with the length of a section whose counts begin below: "Out and in (8 counts)"."""
        found = SIZED.match(text) if first_count(below) == 1 and first_count(text) is None else None
        return found is not None and int(found[2]) > 0 and not int(found[2]) % self.unit

    def _numbered_head(self, i: int, line: Line, text: str) -> Heading | None:
        """ "2) Left side", "[2]", "=== 2 ===" over lines that begin at 1 again: a section's heading, not count 2."""
        told = NUMBERED.match(text)
        found = told or BARE_NUMBER.match(text)
        if not found or i + 1 >= len(self.lines):
            return None
        below = self._first_label(self.lines[i + 1])
        number = place_number(found[1]) or 0
        after = self.lines[i + 1]
        if below is None or line.number == after.number or limb_of(plain(after.text))[0] == "arms":
            return None  # "1  rock right forward" over "1  arms: …"
        if below.first > 1 and not (told is None and below.first == self.unit * (number - 1) + 1):
            return None
        if self.block is not None and self.block.last is not None and number == self.block.last + 1:
            return None  # "8. Touch …" over the next "1. …" goes on counting
        return Heading(number, None, found.end(), text[found.end() :].strip()) if number < self.unit + 1 else None

    def _only_titles(self, i: int, heading: Heading, rest: str) -> bool:
        """Return whether the line below begins the section's counts, so that a heading's words only sum it up."""
        below = self._below(i)
        first = heading.counts[0] if heading.counts else self.unit * ((heading.number or 1) - 1) + 1
        if below is None or below.first not in (1, first) or len(rest.split()) > LONGEST_TITLE:
            return False
        if first_count(rest) not in (1, first):
            at = title_end(rest)
            return at is None or first_count(rest[at:]) not in (1, first)
        rest = SIZED.sub(r"\1", rest)
        own = [item.label for item in items_of(rest, line=0, offset=0) if item.label is not None]
        whole = bool(own) and len(own[0].places) >= self.unit > len(below.places)
        return len(own) == 1 and (whole or len(own[0].places) == 1 < len(below.places))

    def _over_one(self, i: int, text: str) -> Heading | None:
        """ "2 toe struts, rocking chair" over counts that begin at 1: a number that is no count heads a section."""
        own, below = first_count(text), self._below(i)
        last = self.block.last if self.block is not None else None
        if own is None or own == 1 or below is None or below.first != 1 or last is None or own == last + 1:
            return None
        if kind_of(text) or NUMBERS_ONLY.match(text):
            return None
        return Heading(None, None, len(text), text.strip(" .:;-–—"))

    def _below(self, i: int) -> Label | None:
        """The count that the line below line i begins with; None where it has none, heads, or is for the arms alone."""
        below = self.lines[i + 1] if i + 1 < len(self.lines) else None
        text = plain(below.text) if below is not None else ""
        if below is None or limb_of(text)[0] == "arms":
            return None
        heading = self.heads.get(i + 1) or heading_of(text)
        return None if heading is not None and heading.counts is None else self._first_label(below)

    def _part_of_eight(self, i: int, heading: Heading | None, text: str) -> Heading | None:
        """ "[1-4] Step …", "[5-8] Walk …": half an eight in brackets is a count label, not a section's heading."""
        counts = heading.counts if heading is not None else None
        if heading is not None and not heading.named and counts is not None and self._under_a_heading(i, counts):
            return None
        if (
            heading is None
            or counts is None
            or heading.number is not None
            or counts[1] - counts[0] + 1 >= self.unit - 1
        ):
            return heading
        if not heading.title:  # "5-8" alone over a line without counts is that line's label
            below = self._first_label(self.lines[i + 1]) if i + 1 < len(self.lines) else None
            return heading if below is not None else None
        items = items_of(text[heading.rest_at :], line=0, offset=0)
        if not any(t.kind in STEP_WORDS for i in items for t in i.tokens):
            return heading
        return None

    def _under_a_heading(self, i: int, counts: tuple[int, int]) -> bool:
        """ "Counts 1-8: March …" straight below "2. Along the path (8 counts)": the line's counts, no heading."""
        block, below = self.block, self._below(i)
        if block is None or block.heading is None or block.items or block.rest is not None:
            return False
        own = block.heading.counts in (None, counts) and block.heading.named and counts[0] % self.unit == 1
        return own and (below is None or below.first > counts[1])

    def _range_heads(self, i: int, line: Line) -> bool:
        """ "1-8 Vine right, vine left" over lines that begin at 1 again is a heading."""
        label = self._first_label(line)
        if label is None or not label.ranged or len(label.places) < self.unit or i + 1 >= len(self.lines):
            return False
        told = line.text[label.start - line.start :][:3].casefold() == "on "  # "march on 1 to 8, …"
        if label.floats or told or limb_of(plain(line.text))[0]:
            return False  # "legs: 1-8 keep still" over a line for the arms
        below = self._first_label(self.lines[i + 1])
        if below is None or below.first not in (label.first, 1):
            return False
        same = below.places == label.places and names_alone(plain(line.text))
        return same or (below.places != label.places and len(below.places) < len(label.places))


def _printed(lines: list[Line]) -> tuple[list[Line], list[Line]]:
    """Return the lines without those that only dress the page below where the counts begin, and those."""
    counts = (k for k, line in enumerate(lines) if first_count(plain(line.text)) == 1 and not tells_header(line.text))
    there = {k for k in range(next(counts, len(lines)) + 1, len(lines)) if is_furniture(plain(lines[k].text))}
    return [line for k, line in enumerate(lines) if k not in there], [lines[k] for k in sorted(there)]


LETTER_MARK = shape(r"^(\W*)([(\[]?[a-z][)\].])(?=\s+\d)")  # "(b)  5 6 7 8 …": it names the line, no section


@lru_cache(maxsize=MOST_KEPT)
def unlettered(text: str) -> str:
    """Return a line whose counts stand behind a letter, with the letter blank."""
    return LETTER_MARK.sub(lambda m: m[1] + " " * len(m[2]), text)


def labels_behind(text: str) -> Label | None:
    """Return the first count in brackets behind words of steps; None where there is none."""
    items = items_of(text, line=0, offset=0)
    first = next((item for item in items if item.label is not None), None)
    steps = first is not None and any(t.kind in STEP_WORDS for t in first.tokens)
    return first.label if first is not None and steps and len(items) > 1 else None


def begun(items: list[Item]) -> Label | None:
    """Return the label that a line begins with; a sentence of its own may stand before it."""
    for item in items:
        if not item.remark:
            return item.label
    return None


@lru_cache(maxsize=MOST_KEPT)
def plain(text: str) -> str:
    """Return the line without bullets and leading blanks."""
    found = BULLET.match(text)
    return text[found.end() :] if found else text
