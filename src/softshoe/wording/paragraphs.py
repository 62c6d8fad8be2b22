"""A paragraph a section: sheets without headings and without counts before their lines, told in sentences.

Where the paragraphs that dance are just as many as the length that the header states asks for, each is a section,
however its sentences count. A short line above one of them is its heading; where there are headings, each
begins a section.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from softshoe.wording.begins import first_count
from softshoe.wording.facts import says_facts
from softshoe.wording.header import head_of
from softshoe.wording.headings import heading_of
from softshoe.wording.lex import tokens_of
from softshoe.wording.lines import lines_of
from softshoe.wording.remark import only_remarks
from softshoe.wording.sorted_anew import BEGINS, FACT, HEADING, NOTE, STEPS, TITLE
from softshoe.wording.wall_end import closes_wall

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.wording.header import Head
    from softshoe.wording.lines import Line

MOVING = frozenset(("verb", "pattern", "gest", "dual", "draw", "footpart"))
LIMBS = frozenset(("side", "foot", "hand", "dir", "place"))
ASKING = frozenset(("again", "same", "repeat", "mirror"))
FEWEST, MOST = 1, 40  # sections
SHORT = 6  # words of a heading
SHORTEST = 12  # words of a line that tells one fact and dances


def paragraph_kinds(text: str, head: Head, unit: int) -> Mapping[int, str]:
    """Return what each line is, by its number, where a paragraph is a section; {} for any other sheet."""
    lines = [line for line in lines_of(text) if line.text.strip()]
    if not lines or len(lines) > 3 * MOST:
        return {}
    told = Counter(head.lines.values())
    facts = {
        n for n, text in ((line.number, line.text) for line in lines) if told[n] > 2 or (told[n] and _only_tells(text))
    }
    counts = head_of([(line.number, line.text) for line in lines if line.number in facts], lines[0].text).counts
    if not counts or counts % unit or not FEWEST <= counts // unit <= MOST:
        return {}
    danced = [n for n, line in enumerate(lines) if n and line.number not in facts and _dances(line.text)]
    if 2 * sum(first_count(lines[n].text) is not None for n in danced) >= len(danced):
        return {}
    for moving in (danced, [n for n in danced if not _asks(lines[n].text)]):
        above = [n for n in range(1, len(lines)) if n not in moving and n + 1 in moving]
        named = [n for n in above if lines[n].number not in facts and _heads(lines[n].text)]
        for heads in (named, []):
            if len(heads or moving) == counts // unit and (not heads or heads[0] < moving[0]):
                return _kinds(lines, moving, heads)
    return {}


def _kinds(lines: Sequence[Line], moving: Sequence[int], heads: Sequence[int]) -> Mapping[int, str]:
    kinds = {line.number: FACT if says_facts(line.text) else NOTE for line in lines}
    kinds[lines[0].number] = TITLE
    kinds.update({line.number: FACT for line in lines[1 : min(moving)]})
    kinds.update({lines[n].number: STEPS if heads else BEGINS for n in moving})
    kinds.update({lines[n].number: HEADING for n in heads})
    return kinds


def _dances(text: str) -> bool:
    """Return whether a paragraph tells steps, or asks for them."""
    if says_facts(text) or only_remarks(text) or closes_wall(text) or heading_of(text) is not None:
        return False
    words = tokens_of(text, line=0)
    moves = sum(t.kind in MOVING for t in words)
    limbs = sum(t.kind in LIMBS for t in words)
    return (moves > 1 and limbs > 1) or moves > 3 or limbs > 3 or _asks(text)


def _only_tells(text: str) -> bool:
    """Return whether a line that told a fact of the header does nothing else."""
    return len(text.split()) <= SHORTEST or says_facts(text) or not _dances(text)


def _asks(text: str) -> bool:
    words = tokens_of(text, line=0)
    asks = any(t.kind in ASKING for t in words)
    return asks and sum(t.kind in MOVING for t in words) < 2


def _heads(text: str) -> bool:
    """Return whether a line is short, and no sentence: the name of what stands below it."""
    words = [t for t in tokens_of(text, line=0) if t.kind != "mark"]
    return len(words) <= SHORT and not says_facts(text) and not text.rstrip().endswith((",", ";"))
