"""A sheet's lines sorted, its header read, its sections found: by rules, or as a network says what lines are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import TYPE_CHECKING

from softshoe.wording.blocks import Outline
from softshoe.wording.chair_reading import chair_blocks, read_chairs
from softshoe.wording.extras_apart import extras_apart
from softshoe.wording.header import Head, completed, head_of, sits
from softshoe.wording.lengths import is_uncounted
from softshoe.wording.lines import lines_of
from softshoe.wording.outline import sorted_lines
from softshoe.wording.retold import retelling
from softshoe.wording.sorted_anew import kept_lines, sorted_as
from softshoe.wording.spoken import spoken_blocks
from softshoe.wording.told_facts import with_facts
from softshoe.wording.uncounted import last_danced
from softshoe.wording.unread import LONGEST_SHEET

if TYPE_CHECKING:
    from collections.abc import Container

    from softshoe.dance.dance import Metre
    from softshoe.wording.blocks import Block
    from softshoe.wording.extras_apart import Apart
    from softshoe.wording.lines import Line

METRES: tuple[Metre, ...] = ("2/4", "3/4", "4/4", "6/8")
FACTS_OF_HEADER = 3  # a line that tells so many is no walkthrough
MOST_HEADER_LINES = 60
Told = Mapping[int, str]  # the kind of each line, by its number; none: as the rules sort them
AS_SORTED: Told = {}


def metre_of(head: Head) -> Metre:
    """Return the metre that the header tells, else 4/4."""
    return next((m for m in METRES if m == head.metre), "4/4")


def _lined(text: str, told: Told, unit: int) -> Outline:
    return sorted_as(text, told, unit=unit) if told else sorted_lines(text, unit=unit)


def lines_sorted(text: str, told: Told = AS_SORTED) -> tuple[Outline, Head]:
    """Return the lines sorted, and what the header tells."""
    outline = _lined(text[:LONGEST_SHEET], told, 8)
    closing = _closing(outline, text)
    head, used = _headed(outline, closing, text)
    if unit_of(head) == 6:
        outline = _lined(text[:LONGEST_SHEET], told, 6)
    if head.seated:
        read_chairs(outline, kept_lines(lines_of(text[:LONGEST_SHEET]), told), unit_of(head))
    _keep(outline, [row for row in closing if row[0] in used])
    return outline, head


def _headed(outline: Outline, closing: list[tuple[int, str]], text: str) -> tuple[Head, Container[int]]:
    """Return what the header and the lines below the last step tell, and which of these tell something."""
    head = head_of(outline.header[:MOST_HEADER_LINES], outline.title)
    used = completed(head, closing)
    if retelling():
        head = with_facts(head, _titled(outline)[:MOST_HEADER_LINES], closing)
    told = head.seated is not None or "start_weight" in head.lines
    if not told and sits(text[:LONGEST_SHEET], walls=head.walls):
        head.seated = True
    return head, used


def _titled(outline: Outline) -> list[tuple[int, str]]:
    """Return the lines of the header, the title's among them."""
    there = any(outline.title.strip() in text for _, text in outline.header)
    return outline.header if there or not outline.title else [(0, outline.title), *outline.header]


def unit_of(head: Head) -> int:
    """Return how many counts a section has by custom."""
    return 6 if metre_of(head) in ("3/4", "6/8") else 8


def outlined(text: str, told: Told = AS_SORTED) -> tuple[Outline, bool, int]:
    """Return the lines sorted, whether the dance is seated, and how many counts a section has by custom."""
    outline, head, _ = sections_of(text, told)
    return outline, bool(head.seated), unit_of(head)


def sections_of(text: str, told: Told = AS_SORTED) -> tuple[Outline, Head, bool]:
    """Return the outline with its sections, what the header tells, and whether they are told without counts."""
    outline, head = lines_sorted(text, told)
    if _only_lists(outline):
        written = [line for line in lines_of(text) if line.text.strip()]
        outline = Outline(outline.title, [(line.number, line.text) for line in written])
        outline.paints.append((written[0].start, written[0].start + len(written[0].text), "title"))
        head = head_of(outline.header[:MOST_HEADER_LINES], outline.title)
    spoken = not any(b.items for b in outline.blocks)
    if spoken:
        outline.blocks = _spoken(text, unit_of(head), outline, head)
        extras = {b.line for b in outline.blocks if b.kind != "section"} | {row[0] for row in outline.restarts}
        if not extras.isdisjoint(head.lines.values()):  # "walls 3 and 5" of a restart
            outline.header = [row for row in outline.header if row[0] not in extras]
            closing = [row for row in _closing(outline, text) if row[0] not in extras]
            head, _ = _headed(outline, closing, text)
    return outline, head, spoken


def _only_lists(outline: Outline) -> bool:
    """Return whether lines without headings and counts follow on each other, and some found no place in a section."""
    sections = all(b.kind == "section" and b.heading is None for b in outline.blocks)
    return sections and bool(outline.loose) and is_uncounted([i for b in outline.blocks for i in b.items])


def _closing(outline: Outline, text: str) -> list[tuple[int, str]]:
    """The few lines below the last step."""
    last = max((last_danced(block) for block in outline.blocks), default=0)
    if not last:
        return []
    below = text[:LONGEST_SHEET].split("\n")[last : last + 20]
    return [(n, line) for n, line in enumerate(below, last + 1) if line.strip()]


def _keep(outline: Outline, rows: list[tuple[int, str]]) -> None:
    """Lines below the steps that tell what a header tells are no steps."""
    lines = {number for number, _ in rows}
    for block in outline.blocks if lines else ():
        block.items = [i for i in block.items if i.label is not None or i.line not in lines]
    outline.notes += [row for row in rows if row not in outline.notes]


def _spoken(text: str, unit: int, outline: Outline, head: Head) -> list[Block]:
    """A text without count labels may be a walkthrough: its runs come behind the title."""
    lines = [line for line in lines_of(text[:LONGEST_SHEET]) if line.text.strip()]
    said = set(head.lines.values())
    outline.paints += [
        (line.start, line.start + len(line.text), "header" if line.number in said else "note") for line in lines[1:]
    ]
    told = Counter(head.lines.values())
    spoken = [line for line in lines[1:] if told[line.number] < FACTS_OF_HEADER] if len(lines) > 1 else lines
    apart = extras_apart(spoken)
    taken = _walk(text, apart.left, unit, outline, head)
    if taken:
        _beside(apart, outline, head)
    return sorted([*taken, *(apart.blocks if taken else ())], key=lambda block: block.line)


def _beside(apart: Apart, outline: Outline, head: Head) -> None:
    """Restarts among the steps; the header promises nothing that stands below."""
    outline.restarts += [row for row in apart.restarts if row not in outline.restarts]
    there = {row[0] for row in outline.restarts} | {block.line for block in apart.blocks}
    head.promises = [row for row in head.promises if row[0] not in there]


def _walk(text: str, spoken: list[Line], unit: int, outline: Outline, head: Head) -> list[Block]:
    chairs = chair_blocks(outline, spoken, unit) if head.seated else []
    if chairs:
        return chairs
    found = spoken_blocks(spoken, unit=unit, stated=head.counts)
    if found.blocks:
        outline.paints += [(start, end, "kept") for _, start, end in found.left]
        outline.loose += [(line, text[start:end]) for line, start, end in found.left]
    return found.blocks
