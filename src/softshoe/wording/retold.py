"""The second reading: sections that rules read amiss, or otherwise than the retelling network does, are weighed again.

Rules read every sheet first. The network then retells each section in plain words. Where both tell the same, nothing is
changed. Where they differ, the one taken is the one that was right more often in sections kept apart, by how sure the
network is; what it tells must be danced without an error, and must not mend what the author has to mend (a count that no
line has, a word that nobody knows). What was taken is told in a note.
"""

from __future__ import annotations

import threading
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any, NamedTuple

from softshoe.errors import Finding
from softshoe.wording.retell_ask import Answer, Words, answers, words_of_sections
from softshoe.wording.retell_net import net
from softshoe.wording.retell_plain import plain_items
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from softshoe.dance.dance import Dance, Section
    from softshoe.wording.blocks import Outline
    from softshoe.wording.parts import Item
    from softshoe.wording.reading import Reading

    Json = Mapping[str, Any]

SURE = 0.8  # over rules that found nothing amiss
LIKELY = 0.5  # over rules that did
OF_THE_WHOLE = ("free-foot", "walls", "total", "level", "facing", "promise", "place", "section-number", "not-stated")
HOME = ("together", "centre", "in place")


_heard = threading.local()


def retelling() -> bool:
    """Return whether the network is to be heard here."""
    return not getattr(_heard, "off", False)


@contextmanager
def by_rules_alone() -> Iterator[None]:
    """Read by rules alone in this block: where plain words are read back, or many sheets in a hurry."""
    before = getattr(_heard, "off", False)
    _heard.off = True
    try:
        yield
    finally:
        _heard.off = before


class Doubt(NamedTuple):
    """A section that both read otherwise, and how the rules fared with it."""

    words: Words
    answer: Answer
    amiss: tuple[Finding, ...]


def shade(event: Json) -> tuple[object, ...]:
    """Return what two tellings of one event must share: a foot that comes home is home in whatever word."""
    way = event["dir"]
    if event["action"] in ("step", "touch", "stomp") and way in HOME:
        way = "home"
    verb = "touch" if event["action"] == "point" else event["action"]
    hands = tuple(sorted((arm["side"], arm["gesture"]) for arm in event["arms"]))
    return str(event["t"]), event["foot"], verb, way, event["turn"], hands


class Retold(NamedTuple):
    """What stands for a section's own words: items, the characters and the lines they were told on."""

    items: tuple[Item, ...]
    span: tuple[int, int]
    lines: frozenset[int]


class Second(NamedTuple):
    """How a sheet is read again: ``outlined`` sorts its lines, ``danced`` reads it with the items of some sections."""

    outlined: Callable[[], tuple[Outline, bool, int]]  # lines sorted, whether seated, counts of a section by custom
    danced: Callable[[Mapping[int, Retold]], Reading | None]


def seconded(text: str, found: Reading, way: Second) -> Reading:
    """Return the sheet as it is read when rules and network have both been heard."""
    outline, seated, unit = way.outlined()
    sections = words_of_sections(text, outline, unit)
    if not sections:
        return found
    lines = {words.block: outline.blocks[words.block].line for words in sections}
    told = answers(net(), sections, seated=seated)
    doubts = [
        doubt
        for words, answer in zip(sections, told, strict=True)
        if answer is not None and (doubt := _doubt(found.dance, words, answer, lines[words.block], unit)) is not None
    ]
    taken = [doubt for doubt in doubts if _is_taken(doubt)]
    best, kept = found, [doubt for doubt in doubts if doubt not in taken]
    while taken:
        other = way.danced({d.words.block: one for d in taken if (one := _retold(d)) is not None})
        fails = taken if other is None else [d for d in taken if not _holds(other.dance, d, lines[d.words.block])]
        if other is not None and not fails:
            best = _told(other, taken) if _errors(other.dance) <= _errors(found.dance) else found
            break
        kept += fails
        taken = [d for d in taken if d not in fails]
    return _warned(best, [d for d in kept if not d.amiss], found)


def _retold(doubt: Doubt) -> Retold | None:
    words, answer = doubt.words, doubt.answer
    try:
        items = plain_items(answer.events, answer.counts, answer.places)
    except (ValueError, KeyError):
        return None
    return Retold(tuple(items), words.span, frozenset(number for _, _, number in words.lines)) if items else None


def _section(dance: Dance, line: int) -> Section | None:
    return next((s for s in dance.sections if s.line == line), None)


def events_in(dance: Dance, section: Section) -> list[Json]:
    """Return the events of a section from its own first count, as far as two readings of it are compared."""
    start, end = section.start.at, section.start.at + section.length.n
    return [
        {
            "t": a.at.at - start,
            "foot": a.foot.value if a.foot else None,
            "action": a.verb,
            "dir": a.dir.value if a.dir else None,
            "turn": a.turn_deg,
            "arms": [{"side": m.side.value, "gesture": m.gesture} for m in a.arms],
        }
        for a in dance.actions
        if start <= a.at.at < end
    ]


def _alike(one: Sequence[Json], other: Sequence[Json]) -> bool:
    return sorted(map(str, map(shade, one))) == sorted(map(str, map(shade, other)))


def _doubt(dance: Dance, words: Words, answer: Answer, line: int, unit: int) -> Doubt | None:
    """Return a section that is to be weighed; None where both read the same and nothing is amiss."""
    section = _section(dance, line)
    own = {number for _, _, number in words.lines} | {line}
    amiss = tuple(
        f for f in dance.findings if f.severity != "note" and f.line in own and f.kind not in OF_THE_WHOLE
    )
    if section is None:
        return Doubt(words, answer, amiss) if answer.counts == unit else None
    length = int(section.length.n)
    if answer.counts != length and not (amiss and answer.counts == unit):
        return None
    if not amiss and _alike(events_in(dance, section), answer.events):
        return None
    return Doubt(words, answer, amiss)


def _is_taken(doubt: Doubt) -> bool:
    if doubt.answer.sure < (LIKELY if doubt.amiss else SURE):
        return False
    return not any(slip(doubt) for slip in SLIPS)


def _holds(dance: Dance, doubt: Doubt, line: int) -> bool:
    """Return whether what was told is danced just so, without an error."""
    section = _section(dance, line)
    if section is None or not _alike(events_in(dance, section), doubt.answer.events):
        return False
    own = {number for _, _, number in doubt.words.lines} | {line}
    return not any(f.severity == "error" and f.line in own and f.kind not in OF_THE_WHOLE for f in dance.findings)


def _errors(dance: Dance) -> int:
    return sum(f.severity == "error" for f in dance.findings)


def _told(found: Reading, taken: Sequence[Doubt]) -> Reading:
    notes = [
        Finding("note", "inferred", d.words.lines[0][2], None, f"These words were read as: {_said(d.answer)}.",
                "Write one movement a count, if something else was meant.")
        for d in taken
    ]  # fmt: skip
    return replace(found, dance=replace(found.dance, findings=(*found.dance.findings, *notes)))


def _said(answer: Answer) -> str:
    from softshoe.wording.retell_plain import actions_of, plain_lines

    return ", ".join(words for _, words in plain_lines(actions_of(answer.events), answer.counts))


def _warned(best: Reading, kept: Sequence[Doubt], found: Reading) -> Reading:
    """Tell where two readings stand open and the likelier was taken."""
    del found
    told = [
        Finding("warning", "ambiguous", d.words.lines[0][2], None,
                f"These words can be read in another way: {_said(d.answer)}.",
                "Write one movement a count, with its count before it.")
        for d in kept
        if d.answer.sure >= OPEN and not any(slip(d) for slip in SLIPS)
    ]  # fmt: skip
    return replace(best, dance=replace(best.dance, findings=(*best.dance.findings, *told))) if told else best


OPEN = 0.4
THE_AUTHORS = ("foot-missing", "direction-missing", "side", "arms", "seated", "word")
QUOTED = shape(r"“([^”]*)”")
WORD = shape(r"[^\W\d_]{3,}")
LABELLED = shape(r"^\W*(?:counts? )?(\d+)(?:\s*[-–]\s*(\d+))?")
HALVES = shape(r"[&+½]|\b(?:and|a|e|quick|quickly)\b|\d[ae]\b")


def _strange(doubt: Doubt) -> bool:
    """Rules met a word that the network was never taught."""
    known = net().words
    told = [f for f in doubt.amiss if f.kind in ("word", "unread")]
    said = [w.casefold() for f in told for part in QUOTED.findall(f.message) for w in WORD.findall(part)]
    return bool(known) and any(word not in known for word in said)


def _gap(doubt: Doubt) -> bool:
    """The counts before the lines leave one out, or have one twice; or a line stands there twice."""
    lines = doubt.words.text.split("\n")
    if any(f.kind == "count-twice" for f in doubt.amiss) and any(map(str.__eq__, lines, lines[1:])):
        return True
    if not any(f.kind in ("count-missing", "count-twice", "section-length") for f in doubt.amiss):
        return False
    found = [LABELLED.match(line) for line in lines]
    rows = [(int(m[1]), int(m[2] or m[1])) for m in found if m]
    if len(rows) < 2:
        return False
    gaps = any(two[0] != one[1] + 1 for one, two in zip(rows, rows[1:], strict=False))
    return gaps or (len(rows) == len(found) and rows[-1][1] != doubt.answer.counts)


def _unsigned(doubt: Doubt) -> bool:
    """Half counts that no sign tells."""
    halves = any(Fraction(e["t"]).denominator > 1 for e in doubt.answer.events)
    return halves and not HALVES.search(doubt.words.text)


def _filled_in(doubt: Doubt) -> bool:
    """All words were understood, and what is missing or can't be is the author's to mend."""
    return bool(doubt.amiss) and all(f.kind in THE_AUTHORS for f in doubt.amiss)


def _crossed(doubt: Doubt) -> bool:
    """A word names the other foot: it may be the author's slip."""
    return doubt.answer.crossed


SLIPS = (_strange, _gap, _unsigned, _filled_in, _crossed)
