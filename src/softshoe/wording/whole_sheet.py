"""A sheet read as the retelling network tells it whole: its sections instead of those that rules found.

Title, header, tags and restarts stay the rules'; what the network tells must be danced just so, without an error of its
own. What was read so is told in a note a section.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.blocks import Block
from softshoe.wording.extras_apart import extras_apart
from softshoe.wording.lines import lines_of
from softshoe.wording.retell_plain import plain_items
from softshoe.wording.sorted_anew import BEGINS, FACT, STEPS, TITLE

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.wording.blocks import Outline
    from softshoe.wording.header import Head
    from softshoe.wording.lines import Line
    from softshoe.wording.whole_ask import End, Part

OF_HEAD = ("counts", "walls", "level", "tempo", "intro")
FEW_FACTS = 2  # a line with so many tells the head, whatever else it tells


def laid_whole(text: str, outline: Outline, parts: Sequence[Part]) -> None:
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
    _beside(outline, [line for line in lines_of(text) if begins[0] < line.number and line.number not in told | taken])
    outline.loose = [row for row in outline.loose if row[0] not in told]
    outline.notes = [row for row in outline.notes if row[0] not in told]


def laid_ends(text: str, outline: Outline, ends: Sequence[End]) -> None:
    """Let an outline have the tags, restarts and endings told instead of its own. Raises as ``laid_whole`` does."""
    others = [block for block in outline.blocks if block.kind != "section"]
    freed = {number for b in others for number in (b.line, *(item.line for item in b.items))} | {
        row[0] for row in outline.restarts
    }
    outline.blocks = [block for block in outline.blocks if block.kind == "section"]
    outline.restarts = []
    told: set[int] = set()
    for end in ends:
        line = end.words.lines[0][2]
        told |= {number for _, _, number in end.words.lines}
        outline.paints.append((*end.words.span, "event"))
        if end.steps is None:
            outline.restarts.append((line, _plain_restart(end), -1, -1))
        else:
            items = plain_items(end.steps.events, end.steps.counts, end.steps.places)
            outline.blocks.append(
                Block(end.kind, line, end.words.text, items=list(items), span=end.words.span, told=end)
            )
    lines = {row.number: row.text for row in lines_of(text)}
    outline.notes += [(number, lines[number]) for number in sorted(freed - told) if number in lines]
    outline.loose = [row for row in outline.loose if row[0] not in told]
    outline.notes = [row for row in outline.notes if row[0] not in told]


def _plain_restart(end: End) -> str:
    return f"Restart on {'walls' if len(end.walls) > 1 else 'wall'} {', '.join(end.walls)} after {end.after} counts"


def _beside(outline: Outline, left: Sequence[Line]) -> None:
    """Lines below the first section that are none of them may tell of what a wall adds or leaves out."""
    known = {row[0] for row in outline.restarts}
    apart = extras_apart([line for line in left if line.text.strip()], begun=True)
    outline.blocks = sorted([*outline.blocks, *apart.blocks], key=lambda block: block.line)
    outline.restarts += [row for row in apart.restarts if row[0] not in known]
    there = known | {row[0] for row in apart.restarts} | {block.line for block in apart.blocks}
    there |= {item.line for block in apart.blocks for item in block.items}
    outline.loose = [row for row in outline.loose if row[0] not in there]


def kinds_told(text: str, outline: Outline, head: Head, parts: Sequence[Part]) -> Mapping[int, str]:
    """Return what each line is, by its number, where the rules took lines that are danced for the head; else {}.

    What stands above the first section is the head; what stands between and below, the rules sort as ever. Where one
    line tells facts and steps, none of this holds.
    """
    lines = {line.number: line.text for line in lines_of(text) if line.text.strip()}
    title = min(lines)
    rows = [[n for _, _, n in part.words.lines if n != title or len(part.words.lines) == 1] for part in parts]
    danced = {number for numbers in rows for number in numbers}
    facts = Counter(head.lines[name] for name in OF_HEAD if name in head.lines)
    if danced.isdisjoint(number for number, _ in outline.header) or any(facts[n] >= FEW_FACTS for n in danced):
        return {}
    above = [number for number in lines if number < min(danced)]
    kinds = {**dict.fromkeys(above, FACT), **dict.fromkeys(danced, STEPS)}
    kinds.update((numbers[0], BEGINS) for numbers in rows)
    return {**kinds, **dict.fromkeys(above[:1], TITLE)}


def _headed(sections: Sequence[Block], above: int, first: int) -> Block | None:
    """Return the rules' section whose heading stands where a section told begins, or right above it."""
    there = [b for b in sections if above < b.line <= first and b.heading is not None]
    return there[-1] if there else None
