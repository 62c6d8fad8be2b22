"""The second reading: sections that rules read amiss, or otherwise than the retelling network does, are weighed again.

Rules read every sheet first. The network then retells each section in plain words. Where both tell the same, nothing is
changed; where they differ, retell_weigh says which is taken. What the network tells must be danced just so, without an
error. What was taken is told in a note, what stands open in a warning.
"""

from __future__ import annotations

import os
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

from softshoe.errors import Finding
from softshoe.wording.retell_ask import Answer, Words, answers, words_of_sections
from softshoe.wording.retell_codes import codes_of
from softshoe.wording.retell_plain import actions_of, plain_items, plain_lines
from softshoe.wording.retell_weigh import Doubt, alike, events_in, is_taken, stands_open

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from softshoe.dance.dance import Dance, Section
    from softshoe.wording.blocks import Outline
    from softshoe.wording.parts import Item
    from softshoe.wording.reading import Reading
    from softshoe.wording.retell_net import Net

    Json = Mapping[str, Any]

OF_THE_WHOLE = ("free-foot", "walls", "total", "level", "facing", "promise", "place", "section-number", "not-stated")


ROUNDS = 2  # what one section is retold as may show what is amiss in the next
BY_RULES = "SOFTSHOE_BY_RULES"  # set to 1: no sheet is read a second time
_by_rules: ContextVar[bool] = ContextVar("by_rules", default=False)


def retelling() -> bool:
    """Return whether the network is to be heard here."""
    return not (_by_rules.get() or os.environ.get(BY_RULES) == "1")


@contextmanager
def by_rules_alone() -> Iterator[None]:
    """Read by rules alone in this block: where plain words are read back, or many sheets in a hurry."""
    before = _by_rules.set(True)
    try:
        yield
    finally:
        _by_rules.reset(before)


def net() -> Net:
    """Return the network; numpy is fetched only when it is asked."""
    from softshoe.wording import retell_net

    return retell_net.net()


class Retold(NamedTuple):
    """What stands for a section's own words: items, and the characters of each line on which they were told."""

    items: tuple[Item, ...]
    spans: Mapping[int, tuple[int, int]]


class Second(NamedTuple):
    """How a sheet is read again: ``outlined`` sorts its lines, ``danced`` reads it with the items of some sections."""

    outlined: Callable[[], tuple[Outline, bool, int]]  # lines sorted, whether seated, counts of a section by custom
    danced: Callable[[Mapping[int, Retold]], Reading | None]


def seconded(text: str, found: Reading, way: Second) -> Reading:
    """Return the sheet as it is read when rules and network have both been heard."""
    outline, seated, unit = way.outlined()
    lines = {k: block.line for k, block in enumerate(outline.blocks)}
    sections = words_of_sections(text, outline, unit)
    taken: dict[int, Doubt] = {}
    kept: list[Doubt] = []
    for _ in range(ROUNDS):
        whole = Sheet(found.dance, lines, seated, unit)
        doubts = _doubts(whole, [words for words in sections if words.block not in taken])
        new = {doubt.words.block: doubt for doubt in doubts if is_taken(doubt)}
        other, held = _danced(way, whole, taken, new)
        kept = [doubt for doubt in doubts if doubt.words.block not in held]
        if other is None or _errors(other.dance) > _errors(found.dance):
            break
        found, taken = other, taken | held
        if not _errors(found.dance):
            break
    return _warned(_told(found, list(taken.values())), [doubt for doubt in kept if stands_open(doubt)])


def _danced(
    way: Second, whole: Sheet, taken: Mapping[int, Doubt], new: Mapping[int, Doubt]
) -> tuple[Reading | None, dict[int, Doubt]]:
    """Return the sheet as it is danced with what was taken, and what of it is danced just so."""
    held = dict(new)
    while held:
        other = way.danced({k: one for k, d in {**taken, **held}.items() if (one := _retold(d)) is not None})
        fails = [k for k, d in held.items() if other is None or not _holds(other.dance, d, whole.line(d.words))]
        if other is not None and not fails:
            return other, held
        held = {k: d for k, d in held.items() if k not in fails}
    return None, {}


class Sheet(NamedTuple):
    """What the rules made of a sheet: the dance, the line each block begins on, seated or not, counts a section."""

    dance: Dance
    lines: Mapping[int, int]
    seated: bool
    unit: int

    def line(self, words: Words) -> int:
        """Return the line that a section begins on."""
        return self.lines[words.block]

    def section(self, words: Words) -> Section | None:
        """Return the section as it was danced."""
        return _section(self.dance, self.line(words))


def _doubts(whole: Sheet, sections: Sequence[Words]) -> list[Doubt]:
    """Return the sections that the network tells otherwise than the rules."""
    if not sections:
        return []
    read = [whole.section(words) for words in sections]
    guesses = [codes_of(events_in(whole.dance, one)) if one is not None else [] for one in read]
    told = answers(net(), sections, guesses, seated=whole.seated)
    return [
        doubt
        for words, answer in zip(sections, told, strict=True)
        if answer is not None
        and (doubt := _doubt(whole.dance, words, answer, whole.line(words), whole.unit)) is not None
    ]


def _retold(doubt: Doubt) -> Retold | None:
    words, answer = doubt.words, doubt.answer
    try:
        items = plain_items(answer.events, answer.counts, answer.places)
    except (ValueError, KeyError):
        return None
    told = {place.line for place in answer.places.values()}
    rows = zip(words.lines, words.text.split("\n"), strict=True)
    spans = {number: (start, start + len(text)) for (_, start, number), text in rows if number in told}
    return Retold(tuple(items), spans) if items else None


def _section(dance: Dance, line: int) -> Section | None:
    return next((s for s in dance.sections if s.line == line), None)


def _doubt(dance: Dance, words: Words, answer: Answer, line: int, unit: int) -> Doubt | None:
    """Return a section that is to be weighed; None where both read the same and no error was told."""
    section, known = _section(dance, line), net().words
    amiss = amiss_in(dance, words, line)
    if section is None:
        return Doubt(words, answer, amiss, known) if answer.counts == unit else None
    length = int(section.length.n)
    if answer.counts != length and not (amiss and answer.counts == unit):
        return None
    rules = tuple(events_in(dance, section))
    if alike(rules, answer.events) and all(f.severity != "error" for f in amiss):
        return None
    return Doubt(words, answer, amiss, known, rules)


def amiss_in(dance: Dance, words: Words, line: int) -> tuple[Finding, ...]:
    """Return what the rules told of a section's lines, but for what only the whole dance can mend."""
    own = {number for _, _, number in words.lines} | {line}
    return tuple(f for f in dance.findings if f.severity != "note" and f.line in own and f.kind not in OF_THE_WHOLE)


def _holds(dance: Dance, doubt: Doubt, line: int) -> bool:
    """Return whether what was told is danced just so, without an error."""
    section = _section(dance, line)
    if section is None or not alike(events_in(dance, section), doubt.answer.events):
        return False
    return not any(f.severity == "error" for f in amiss_in(dance, doubt.words, line))


def _errors(dance: Dance) -> int:
    return sum(f.severity == "error" for f in dance.findings)


def _told(found: Reading, taken: Sequence[Doubt]) -> Reading:
    if not taken:
        return found
    notes = [read_as(d.words, d.answer) for d in taken]
    return replace(found, dance=replace(found.dance, findings=(*found.dance.findings, *notes)))


def read_as(words: Words, answer: Answer) -> Finding:
    """Return the note that says what the network made of words."""
    message, mend = (
        f"These words were read as: {said(answer)}.",
        "Write one movement a count, if something else was meant.",
    )
    return Finding("note", "inferred", words.lines[0][2], None, message, mend)


def said(answer: Answer) -> str:
    """Return what the network told, in plain words."""
    return ", ".join(words for _, words in plain_lines(actions_of(answer.events), answer.counts))


def _warned(best: Reading, kept: Sequence[Doubt]) -> Reading:
    """Tell where two readings stand open and the likelier was taken."""
    told = [
        Finding("warning", "ambiguous", d.words.lines[0][2], None,
                f"These words can be read in another way: {said(d.answer)}.",
                "Write one movement a count, with its count before it.")
        for d in kept
    ]  # fmt: skip
    return replace(best, dance=replace(best.dance, findings=(*best.dance.findings, *told))) if told else best
