"""What the words of sections told whole say beside their steps: an hour that nobody faces there, a word misspelt,
a number out of turn.

The network tells neither; rules that read a section word by word see both on the way.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.dance.footwork import wall_events
from softshoe.errors import Finding
from softshoe.wording.lex import clock_deg, tokens_of
from softshoe.wording.retell_weigh import alike
from softshoe.wording.shape import shape
from softshoe.wording.strange import misspelt_word

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.dance import Dance, Section
    from softshoe.wording.lex import Token
    from softshoe.wording.reading import Reading
    from softshoe.wording.whole_ask import Part


LABEL = shape(  # a letter may come back (A, B, A); a number alone may be a count
    r"\W*(?:(?:section|part|set|card|no)\.?\s*(\d{1,2})\b|(\d{1,2})\s*[).])(?!\s*\d)", re.IGNORECASE
)
FEWEST = 3  # numbered sections: two may be numbered by anything


def with_beside(found: Reading, parts: Sequence[Part]) -> Reading:
    """Return a reading that dances what was told whole, with what is told amiss beside its steps."""
    known = {(f.kind, f.line) for f in found.dance.findings}
    more = [f for f in beside_steps(found.dance, parts) if (f.kind, f.line) not in known]
    return replace(found, dance=replace(found.dance, findings=(*found.dance.findings, *more))) if more else found


def beside_steps(dance: Dance, parts: Sequence[Part]) -> tuple[Finding, ...]:
    """Return what is told amiss of the words of sections; () where they are not danced one by one as told."""
    if len(dance.sections) != len(parts):
        return ()
    pairs = zip(dance.sections, parts, strict=True)
    told = [finding for section, part in pairs for finding in _of_section(_faced(dance, section), part)]
    return (*told, *_out_of_turn(parts))


def _out_of_turn(parts: Sequence[Part]) -> Iterator[Finding]:
    """Sections that all begin with a number count from one on: one that does not is a slip; several count otherwise.

    One that comes back under its number is none.
    """
    found = [LABEL.match(part.words.text) for part in parts]
    numbers = [int(label[1] or label[2]) for label in found if label is not None]
    wrong = [k for k, number in enumerate(numbers, 1) if number != k]
    if len(numbers) < len(parts) or len(parts) < FEWEST or len(wrong) != 1:
        return
    wanted = wrong[0]
    part, number = parts[wanted - 1], numbers[wanted - 1]
    first = parts[number - 1] if 0 < number < wanted else None
    if part.copied or (first is not None and alike(first.answer.events, part.answer.events)):
        return
    again = "is out of turn" if first is None else "comes twice"
    message, mend = f"Section {number} {again}; {wanted} would be next.", f"Number it {wanted}, or put it in its place."
    yield Finding("error", "section-number", part.words.lines[0][2], None, message, mend)


def _of_section(faced: Sequence[int], part: Part) -> Iterator[Finding]:
    steps = {place.line for place in part.answer.places.values()}
    lines = [number for _, _, number in part.words.lines]
    for number, words in zip(lines, part.words.text.split("\n"), strict=True):
        if number not in steps:
            continue  # a tag, or an ending
        tokens = tokens_of(words, line=number)
        yield from (misspelt_word(token) for token in tokens if token.meant)
        never = [token for token in tokens if token.kind == "clock" and clock_deg(token.text) not in faced]
        yield from (_hour(token, faced[-1]) for token in never[:1])


def _faced(dance: Dance, section: Section) -> list[int]:
    """Return the ways that are faced in a section, the first from before it."""
    start, end = section.start.at, section.start.at + section.length.n
    events = wall_events(dance)
    before = [event.facing_deg for event in events if event.action.at.at < start]
    return [*(before[-1:] or [0]), *(e.facing_deg for e in events if start <= e.action.at.at < end)]


def _hour(token: Token, here: int) -> Finding:
    message = f"The turns of this section never lead to {clock(clock_deg(token.text) or 0)}; they end at {clock(here)}."
    return Finding("error", "facing", token.line, None, message, f"Write {clock(here)}, or change the turn.")
