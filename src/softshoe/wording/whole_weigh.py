"""The sheet told whole beside the sheet as rules and sections were read: which of the two is taken.

Sheets that neither had met decide. Where both dance the same, what was found wrong stands. Where the other reading has
an error and the one told whole has none, it depends on how much they differ: an author's slip spoils one section and
leaves the others alike, so there it is weighed as one section is; where two or more differ, the rules do not know the
hand, and what was told whole was right three times of five, the other reading never. What is less than sure is told in
a warning.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from softshoe.wording.lex import tokens_of
from softshoe.wording.outlined import sections_of
from softshoe.wording.retell_codes import SECTION, codes_of
from softshoe.wording.retell_weigh import (
    CERTAIN,
    SURE,
    Doubt,
    alike,
    events_between,
    events_in,
    gap,
    is_taken,
    misspelt,
)
from softshoe.wording.retold import OF_THE_WHOLE, amiss_in, net, read_as, retelling, said
from softshoe.wording.whole_ask import MOST_LETTERS, whole_answer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding
    from softshoe.wording.reading import Reading
    from softshoe.wording.whole_ask import Part

Events = tuple[Mapping[str, Any], ...]
LIKELY = (0.7, 0.4)  # the least likely code of the sections that differ: as a rule; where much speaks for them
UNLIKE = 2  # sections: from here on it is not one slip
ALONE, TOGETHER = 0.95, 0.7  # to be taken over a sound reading: in one section, in more
STEPS = ("verb", "pattern", "gest", "dual", "draw")
MANY = 3  # errors, where both dance the same: one slip is told once
NEVER = "facing"  # an hour on the clock is not told by the network
LEFT_OUT = frozenset((NEVER, "direction-missing"))  # nor is a way that nobody wrote


def told_whole(text: str, found: Reading | None) -> tuple[Part, ...]:
    """Return a sheet's sections as the network tells them; none where it is not heard, or makes no sense of it."""
    if not retelling() or len(text) > MOST_LETTERS:
        return ()
    seated = found.dance.seated if found is not None else sections_of(text)[1].seated
    return whole_answer(net(), text, guess_of(found), seated=bool(seated))


def guess_of(found: Reading | None) -> list[str]:
    """Return the codes of a reading, section by section."""
    if found is None:
        return []
    dance = found.dance
    return [*(c for s in dance.sections for c in (SECTION, *codes_of(events_in(dance, s))[:-1])), "end"]


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
    first, last = part.words.lines[0][2], part.words.lines[-1][2]
    found = next((section for section in dance.sections if first - 1 <= section.line <= last), None)
    return tuple(events_in(dance, found)) if found is not None else ()


def is_sounder(found: Reading | None, other: Reading, parts: Sequence[Part], rules: Reading | None = None) -> bool:
    """Return whether the reading told whole is taken over another; ``rules`` is what rules alone made of the sheet."""
    if _errors(other.dance) or not _just_so(other.dance, parts):
        return False
    if found is None:
        return sure(parts) >= SURE and all(_tells_steps(part.words.text) for part in parts)
    doubts = [_doubt(found.dance, *one) for one in unlike(found.dance, parts)]
    kinds = _errors(found.dance)
    if not doubts:
        return len(kinds) >= MANY
    if NEVER in kinds or (kinds and LEFT_OUT.issuperset(kinds)):
        return False
    if not kinds and not any(f.kind == "unread" for doubt in doubts for f in doubt.amiss):
        return _over_sound(doubts)
    if len(kinds) < MANY and _stands(found.dance, parts, doubts):
        return False
    return _over_amiss(doubts, kinds, lost=rules is not None and _at_sea(rules.dance, parts))


def _at_sea(dance: Dance, parts: Sequence[Part]) -> bool:
    """Return whether rules alone told errors of a sheet and read more than one section otherwise: no single slip."""
    return len(_errors(dance)) > 1 and len(unlike(dance, parts)) >= UNLIKE


def _over_sound(doubts: Sequence[Doubt]) -> bool:
    """Return whether what was told whole is taken where nothing is amiss: one that is very sure, or more that are."""
    least = min(doubt.answer.sure for doubt in doubts)
    if len(doubts) < UNLIKE:
        return least >= ALONE and is_taken(doubts[0]) and _told(doubts[0].answer.events) >= _told(doubts[0].rules)
    return least >= TOGETHER


def _over_amiss(doubts: Sequence[Doubt], kinds: Sequence[str], *, lost: bool) -> bool:
    """Return whether what was told whole is taken over a reading with something amiss.

    Much speaks for it where two sections are certain, where more than one error was told, where the rules were lost, or
    where the counts add up only so.
    """
    if any(map(gap, doubts)):
        return False
    strong = sum(doubt.answer.sure >= CERTAIN and not misspelt(doubt) for doubt in doubts) >= UNLIKE
    many = strong or lost or len(kinds) > 1 or list(kinds) == ["total"]
    if min(doubt.answer.sure for doubt in doubts) < LIKELY[many] or (not strong and any(map(misspelt, doubts))):
        return False
    against = [doubt for doubt in doubts if doubt.amiss or doubt.answer.sure >= CERTAIN or many]
    return lost or len(against) >= UNLIKE or all(is_taken(doubt) for doubt in doubts if doubt.amiss)


def _stands(dance: Dance, parts: Sequence[Part], doubts: Sequence[Doubt]) -> bool:
    """Return whether an error was told of a section that is told alike."""
    differ = {doubt.words.block for doubt in doubts}
    lines = {number for part in parts if part.words.block not in differ for _, _, number in part.words.lines}
    return any(f.severity == "error" and f.line in lines and f.kind not in OF_THE_WHOLE for f in dance.findings)


def _told(events: Events) -> int:
    """Return how much is told: moves, and what hands do."""
    return sum((e["action"] not in ("hold", "arms")) + len(e["arms"]) for e in events)


def _tells_steps(text: str) -> bool:
    """Return whether a word of the trade is among words."""
    return any(token.kind in STEPS for token in tokens_of(text, line=0))


def sure(parts: Sequence[Part]) -> float:
    """Return how sure the least sure of some sections is."""
    return min(part.answer.sure for part in parts)


def _doubt(dance: Dance, part: Part, rules: Events) -> Doubt:
    """Return a section that is to be weighed: what its author has to mend is not mended for her."""
    amiss = amiss_in(dance, part.words, part.words.lines[0][2])
    return Doubt(part.words, part.answer, amiss, net().words, rules)


def _just_so(dance: Dance, parts: Sequence[Part]) -> bool:
    """Return whether all that was told is danced just so."""
    sections = dance.sections
    return len(sections) == len(parts) and all(
        alike(events_in(dance, section), part.answer.events) for section, part in zip(sections, parts, strict=True)
    )


def _errors(dance: Dance) -> list[str]:
    return [f.kind for f in dance.findings if f.severity == "error"]


def with_notes(other: Reading, found: Reading | None, parts: Sequence[Part]) -> Reading:
    """Return the reading told whole, with a note for each section that the other has otherwise; a warning if unsure."""
    differs = unlike(found.dance, parts) if found is not None else [(part, ()) for part in parts]
    notes = tuple(_note(part) for part, _ in differs)
    return replace(other, dance=replace(other.dance, findings=(*other.dance.findings, *notes)))


def _note(part: Part) -> Finding:
    note = read_as(part.words, part.answer)
    if part.answer.sure >= SURE:
        return note
    message = f"These words were hard to read; the likeliest was taken: {said(part.answer)}."
    return replace(note, severity="warning", kind="ambiguous", message=message)
