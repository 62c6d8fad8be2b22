"""The sheet told whole beside the sheet as rules and sections were read: which of the two is taken.

Sheets and slips that neither had met decide (whole_case, whole_score): what is less than sure is told in a warning.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from softshoe.wording.asks_told import copied_anew, with_plans
from softshoe.wording.lex import tokens_of
from softshoe.wording.outlined import sections_of
from softshoe.wording.retell_codes import SECTION, codes_of
from softshoe.wording.retell_pieces import SHEET
from softshoe.wording.retell_weigh import OPEN, SURE, Doubt, alike, events_between, events_in
from softshoe.wording.retold import amiss_in, net, read_as, retelling, said
from softshoe.wording.whole_ask import MOST_LETTERS, Way, whole_answer
from softshoe.wording.whole_case import Case
from softshoe.wording.whole_copies import own_from
from softshoe.wording.whole_ends import codes_of_ends

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.dance import Dance, Section
    from softshoe.errors import Finding
    from softshoe.wording.reading import Reading
    from softshoe.wording.whole_ask import Part

UNREAD = "unread"
FEWEST = 2  # words of the trade in a section
Events = tuple[Mapping[str, Any], ...]
STEPS = ("verb", "pattern", "gest", "dual", "draw")


def told_whole(text: str, found: Reading | None) -> Way:
    """Return a sheet as the network tells it; no parts where it is not heard, or makes no sense of it."""
    if not retelling() or len(text) > MOST_LETTERS:
        return Way()
    seated = is_seated(text, found)
    return with_plans(text, whole_answer(net(), text, guess_of(found), seated=seated), seated=seated)


def is_seated(text: str, found: Reading | None) -> bool:
    """Return whether a sheet is danced on a chair, as it was read or as its head says."""
    return bool(found.dance.seated if found is not None else sections_of(text)[1].seated)


def guess_of(found: Reading | None) -> list[str]:
    """Return the codes of a reading, section by section."""
    if found is None:
        return []
    dance = found.dance
    sections = [(SECTION, *codes_of(events_in(dance, s))[:-1]) for s in dance.sections]
    return [*(code for codes in sections for code in codes), *codes_of_ends(dance), "end"]


def agreed(found: Reading | None, parts: Sequence[Part]) -> bool:
    """Return whether a reading without error or warning dances what was told whole."""
    if found is None or not parts or any(f.severity != "note" for f in found.dance.findings):
        return False
    return not unlike(found.dance, parts)


def unlike(dance: Dance, parts: Sequence[Part]) -> list[tuple[Part, Events]]:
    """Return the sections told whole that a dance has otherwise, or not at all, with what it has instead.

    It may have them on the same counts, or on the same lines.
    """
    out: list[tuple[Part, Events]] = []
    at = Fraction(1)
    for part in parts:
        there = events_between(dance, at, at + part.answer.counts)
        at += part.answer.counts
        if not alike(there, part.answer.events):
            here = _here(dance, part)
            if not alike(here, part.answer.events):
                out.append((part, here or tuple(there)))
    return out


def _here(dance: Dance, part: Part) -> Events:
    """Return what is danced in the section that begins on one of the lines of what was told, or on the line above."""
    found = _section_on(dance, part)
    return tuple(events_in(dance, found)) if found is not None else ()


def _section_on(dance: Dance, part: Part) -> Section | None:
    first, last = part.words.lines[0][2], part.words.lines[-1][2]
    own = (section for section in dance.sections if first <= section.line <= last)
    return next(own, next((section for section in dance.sections if section.line == first - 1), None))


def case_of(found: Reading, way: Way, other: Reading, likely: Sequence[float]) -> Case:
    """Return what is to be weighed: a sheet as it was read beside one way to tell it, as that is danced.

    ``likely`` is how likely the network thinks each code of what was read.
    """
    return Case(way, doubts_of(found, way), _errors(found.dance), _errors(other.dance), tuple(likely))


def mended(found: Reading, way: Way) -> Way | None:
    """Return a way with the sections in which nothing was amiss as they were read; None where that is no other way."""
    rows = {part.begin: rules for part, rules in unlike(found.dance, way.parts)}
    parts: list[Part] = []
    for part in way.parts:
        rules = rows.get(part.begin, ())
        as_read = rules and not amiss_in(found.dance, part.words, part.words.lines[0][2])
        as_read = as_read and _keeps_to_itself(found.dance, part)
        answer = part.answer._replace(events=tuple(map(dict, rules))) if as_read else part.answer
        kept = as_read and answer.counts == part.answer.counts
        parts.append(part._replace(answer=answer, copied=()) if kept else copied_anew(part, parts))
    one = way._replace(parts=tuple(parts))
    return one if one != way and unlike(found.dance, one.parts) else None


def _keeps_to_itself(dance: Dance, part: Part) -> bool:
    """Return whether what was read on the lines of what was told takes in no other lines."""
    own = {number for _, _, number in part.words.lines}
    section = _section_on(dance, part)
    if section is None:
        return True
    end = section.start.at + section.length.n
    return {action.line for action in dance.actions if section.start.at <= action.at.at < end} <= own


def doubts_of(found: Reading, way: Way) -> tuple[Doubt, ...]:
    """Return the sections that were read otherwise than they are told."""
    return tuple(_doubt(found.dance, *one) for one in unlike(found.dance, way.parts))


def is_danced(dance: Dance, parts: Sequence[Part]) -> bool:
    """Return whether a dance is what was told, section by section."""
    return len(dance.sections) == len(parts) and not unlike(dance, parts)


def plausible(text: str, found: Reading, way: Way, *, seated: bool) -> list[float]:
    """Return how likely the network thinks each code of the sections that were read.

    One that is danced as another, and is told so (``way``), is told so here.
    """
    codes: list[str] = []
    for k, section in enumerate(found.dance.sections):
        own = events_in(found.dance, section)
        part = way.parts[k] if k < len(way.parts) else None
        if part is not None and part.copied and alike(own, part.answer.events):
            codes += [SECTION, *part.copied]
        else:
            codes += [SECTION, *codes_of(own)[:-1]]
    return net().likely(net().numbers(SHEET + text, seated=seated), codes)


def stands_alone(other: Reading, way: Way) -> bool:
    """Return whether a sheet that could not be read is taken as the network tells it: without error, and of steps."""
    steps = all(_asks_alone(part) or _tells_steps(part.words.text) for part in way.parts)
    return not _errors(other.dance) and steps and sure(way.parts) >= OPEN


def _asks_alone(part: Part) -> bool:
    """Return whether a section is danced as others, with nothing other in it."""
    return bool(part.copied) and own_from(part.copied) == len(part.copied)


def _tells_steps(text: str) -> bool:
    """Return whether some words of the trade are among words; one alone may be a name ("Lower Fenwick")."""
    return sum(token.kind in STEPS for token in tokens_of(text, line=0)) >= FEWEST


def sure(parts: Sequence[Part]) -> float:
    """Return how sure the least sure of some sections is."""
    return min(part.answer.sure for part in parts)


def _doubt(dance: Dance, part: Part, rules: Events) -> Doubt:
    """Return a section that is to be weighed: what its author has to mend is not mended for her."""
    amiss = amiss_in(dance, part.words, part.words.lines[0][2])
    return Doubt(part.words, part.answer, amiss, net().words, rules)


def is_just_so(dance: Dance, parts: Sequence[Part]) -> bool:
    """Return whether all that was told is danced just so."""
    sections = dance.sections
    return len(sections) == len(parts) and all(
        alike(events_in(dance, section), part.answer.events) for section, part in zip(sections, parts, strict=True)
    )


def _errors(dance: Dance) -> tuple[str, ...]:
    return tuple(f.kind for f in dance.findings if f.severity == "error")


def with_notes(other: Reading, found: Reading | None, parts: Sequence[Part]) -> Reading:
    """Return the reading told whole, with a note for each section that the other has otherwise; a warning if unsure.

    Words that no table has stay told, as a warning: it is known now what they mean.
    """
    differs = unlike(found.dance, parts) if found is not None else [(part, ()) for part in parts]
    notes = tuple(_note(part) for part, _ in differs)
    told = (*other.dance.findings, *_words_unknown(found, other), *_still_unread(found, other, parts), *notes)
    return replace(other, dance=replace(other.dance, findings=told))


def _words_unknown(found: Reading | None, other: Reading) -> list[Finding]:
    known = {f.line for f in other.dance.findings if f.kind == "word"}
    words = (f for f in (found.dance.findings if found is not None else ()) if f.kind == "word")
    return [replace(f, severity="warning") for f in words if f.line not in known]


def _still_unread(found: Reading | None, other: Reading, parts: Sequence[Part]) -> list[Finding]:
    """Return what is told of lines amid the sections that were left unread, and that the network tells nothing of."""
    known = {f.line for f in other.dance.findings if f.kind == UNREAD}
    known |= {place.line for part in parts for place in part.answer.places.values()}
    amid = {number for part in parts for _, _, number in part.words.lines} - known
    return [f for f in (found.dance.findings if found is not None else ()) if f.kind == UNREAD and f.line in amid]


def _note(part: Part) -> Finding:
    note = read_as(part.words, part.answer)
    if part.answer.sure >= SURE:
        return note
    message = f"These words were hard to read; the likeliest was taken: {said(part.answer)}."
    return replace(note, severity="warning", kind="ambiguous", message=message)
