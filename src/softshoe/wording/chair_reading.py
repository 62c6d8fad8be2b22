"""Sections of a seated class read strictly, before all else: what fills its counts to the last word is danced so."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.blocks import Block
from softshoe.wording.chair_parts import MARCH, DeclinedError
from softshoe.wording.chair_section import danced
from softshoe.wording.counting import Label
from softshoe.wording.headings import heading_of
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.lengths import length_of, written
from softshoe.wording.lex import Token
from softshoe.wording.parts import Given, Hand, Item, Want
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.blocks import Outline, Paint
    from softshoe.wording.chair_parts import Beat
    from softshoe.wording.chair_section import Danced
    from softshoe.wording.lines import Line

HANDS = shape(
    r"\b(?:hands?|arms?|fists?|palms?|fingers?|wrists?|[rl]h|claps?|clapping|pats?|patting|snaps?|snapping|clicks?|clicking|"
    r"roll|rolls|rolling|punch|punches|punching|push|pushes|pull|pulls|wave|waves|waving|thighs|lap|chest|shoulders)\b",
    re.IGNORECASE,
)
COLUMNS = shape(r"\S(?: {3,}|\t)\S")  # a table without bars
CHANGED = shape(  # "same again, at shoulder height", "a clap on the last count": the other reader's
    r"\b(?:again|same|repeat)\b[^.;\n]{0,16},?\s+(?:but|only|this time|except|at (?:shoulder|chest|waist|head))\b|"
    r"\b(?:last|final) (?:count|beat)\b",
    re.IGNORECASE,
)
LONGEST = 900  # characters


def read_chairs(outline: Outline, lines: Sequence[Line], unit: int) -> None:
    """Put in the place of a section's items those of its strict reading, where it has one."""
    for block in outline.blocks:
        if block.kind != "section" or (block.heading is None and not block.items):
            continue
        own = _lines_of(outline, block, lines)
        if not own or sum(len(text) for _, _, text in own) > LONGEST:
            continue
        text = "\n".join(words for _, _, words in own)
        if not HANDS.search(text) or CHANGED.search(text):
            continue
        length, told = length_of(block), written(block, unit) or 0
        found = _read(text, (length,) if length else (unit, told, 2 * unit) if told > unit else (unit, 2 * unit))
        if found is not None:
            _put(outline, block, own, found)


def chair_blocks(outline: Outline, lines: Sequence[Line], unit: int) -> list[Block]:
    """Return the sections of a sheet without a count label, where every one of them is read strictly; else none."""
    groups: list[tuple[Line | None, list[tuple[int, int, str]]]] = []
    headed = any(heading_of(line.text) is not None for line in lines)
    last = 0
    for line in lines:
        heading = heading_of(line.text)
        if heading is not None and not line.text[heading.rest_at :].strip():
            groups.append((line, []))
        elif not groups or (not headed and line.number > last + 1):
            groups.append((None, [(line.number, line.start, line.text)]))
        else:
            groups[-1][1].append((line.number, line.start, line.text))
        last = line.number
    blocks: list[Block] = []
    paints: list[Paint] = []
    done: list[tuple[list[tuple[int, int, str]], Danced]] = []
    for head, own in groups:
        text = "\n".join(words for _, _, words in own)
        block = Block("section", own[0][0] if own else 0)
        if head is not None:
            block = Block(
                "section", head.number, head.text, heading_of(head.text), span=(head.start, head.start + len(head.text))
            )
            paints.append((head.start, head.start + len(head.text), "heading"))
        length = length_of(block)
        if not own or len(text) > LONGEST or not HANDS.search(text):
            return []
        found = _read(text, (length,) if length else (unit, 2 * unit))
        if found is None:
            return []
        block.items = _items(own, found[0], found[1].beats)
        blocks.append(block)
        done.append((own, found[1]))
    outline.paints += paints
    for own, told in done:
        _paint(outline, own, told)
    return blocks


@lru_cache(maxsize=MOST_KEPT)
def _read(text: str, lengths: tuple[int, ...]) -> tuple[int, Danced] | None:
    """Return the counts and the beats of a section's text; None where it is no such text."""
    if COLUMNS.search(text):
        return None
    for length in lengths:
        try:
            return length, danced(text, length)
        except DeclinedError:
            continue
    return None


def _lines_of(outline: Outline, block: Block, lines: Sequence[Line]) -> list[tuple[int, int, str]]:
    """Return the number, the first character and the words of each line of a section."""
    first = block.line
    after = [b.line for b in outline.blocks if b.line > first]
    until = min(after, default=10**9)
    last = max((item.line for item in block.items), default=until)
    out: list[tuple[int, int, str]] = []
    for line in lines:
        if not first <= line.number < until:
            continue
        words, start = line.text, line.start
        if line.number == first and block.heading is not None:
            shift = len(words) - len(words.lstrip())
            cut = shift + block.heading.rest_at
            words, start = words[cut:], start + cut
        if not words.strip():
            if out and (line.number > last or not block.items):
                break
            continue
        out.append((line.number, start, words))
    return out


def _put(outline: Outline, block: Block, own: list[tuple[int, int, str]], found: tuple[int, Danced]) -> None:
    block.items = _items(own, found[0], found[1].beats)
    numbers = {number for number, _, _ in own}
    for rows in (outline.notes, outline.loose, outline.kept):
        rows[:] = [row for row in rows if row[0] not in numbers]
    _paint(outline, own, found[1])
    block.rest = None


def _paint(outline: Outline, own: list[tuple[int, int, str]], told: Danced) -> None:
    """Note what the words are that nothing is danced of: they join, or they are talk."""
    outline.paints += [(start, start + len(words), "filler") for _, start, words in own]
    for start, end in told.talk:
        one, last = _token(own, start, end), _token(own, max(start, end - 1), end)
        outline.paints.append((one.start, last.end, "note"))
        outline.notes.append((one.line, one.text))


def _items(own: list[tuple[int, int, str]], length: int, beats: Sequence[Beat]) -> list[Item]:
    """Return an item for every moment, lasting until the next."""
    starts: dict[int, list[Beat]] = {}
    for beat in beats:
        starts.setdefault(beat.at[0], []).append(beat)
    moments = sorted(starts)
    begins = [1, *(n for n in moments if n > 1)] if moments else []
    out: list[Item] = []
    for k, n in enumerate(begins):
        until = begins[k + 1] if k + 1 < len(begins) else length + 1
        here = starts.get(n, [])
        out.append(_item(own, tuple(Fraction(i) for i in range(n, until)), here))
    return out


def _item(own: list[tuple[int, int, str]], places: tuple[Fraction, ...], beats: Sequence[Beat]) -> Item:
    words = sorted({span for beat in beats for span in beat.words})
    first = own[0][2].split()[0]
    opens = own[0][2].index(first)
    tokens = [_token(own, start, end) for start, end in words or [(opens, opens + len(first))]]
    line = tokens[0].line if tokens else own[0][0]
    at = tokens[0].start if tokens else own[0][1]
    wants: list[Want] = []
    hands: list[Hand] = []
    for beat in beats:
        there = [_token(own, start, end) for start, end in sorted(beat.words)]
        span = (min(t.start for t in there), max(t.end for t in there)) if there else (at, at)
        number = there[0].line if there else line
        wants += [
            Want(
                f.foot or None,
                "step" if f.verb == MARCH else f.verb,
                f.way,
                line=number,
                span=span,
                alternate=not f.foot,
            )
            for f in beat.feet
        ]
        hands += [Hand(h.side, h.gest, h.place, h.way, number, span) for h in beat.hands]
    label = Label(places, True, at, at, line)
    return Item(label, tokens, line, given=Given(tuple(wants), tuple(hands)))


def _token(own: list[tuple[int, int, str]], start: int, end: int) -> Token:
    """Return a stretch of the section's text as a word of the sheet."""
    for number, begin, words in own:
        if start <= len(words):
            text = words[start:end]
            return Token("fill", "", "", text, begin + start, begin + start + len(text), number, low=text.casefold())
        start, end = start - len(words) - 1, end - len(words) - 1
    raise ValueError(start)
