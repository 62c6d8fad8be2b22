"""The ways in which a sheet may be meant, each read; the one of which least is wrong is taken.

Layouts that it may have, headings and sections that only ask for others, paragraphs as sections, lines sorted anew.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from softshoe.errors import WorkbenchError
from softshoe.wording.head_apart import with_head
from softshoe.wording.laid_otherwise import other_layouts
from softshoe.wording.outlined import AS_SORTED, sections_of, unit_of
from softshoe.wording.paragraphs import paragraph_kinds
from softshoe.wording.read_once import by_rules, head_danced, heard_twice, read_whole
from softshoe.wording.referring import ASKING, asks_for_sections, plain_pointers, shown_pointers, told_pointers
from softshoe.wording.respelled import respelled
from softshoe.wording.retold import retelling
from softshoe.wording.sort_net import kinds_of
from softshoe.wording.sorted_anew import EXTRA, HEADING, sounder
from softshoe.wording.told_beside import with_beside
from softshoe.wording.whole_ends import with_ends
from softshoe.wording.whole_score import score
from softshoe.wording.whole_weigh import (
    agreed,
    case_of,
    is_danced,
    is_just_so,
    is_seated,
    mended,
    plausible,
    stands_alone,
    with_notes,
)
from softshoe.wording.write_book import STYLES

if TYPE_CHECKING:
    from softshoe.wording.outlined import Told
    from softshoe.wording.reading import Reading
    from softshoe.wording.tongue import Heard
    from softshoe.wording.whole_ask import Way

# what lines with such an error are; "": any
OF_KIND = {"section-number": HEADING, "tag-length": EXTRA, "place": EXTRA, "promise": ""}
HOUR = "facing"  # the network tells no hours
MOST_FAULTS = 300  # of a sheet that holds no dance


def laid_otherwise(text: str) -> tuple[Heard, ...]:
    """Return the steps to the layout that a sheet is meant to have, where it reads better so; () where it is as it is.

    Of readings without a fault the one that dances more sections has left out less.
    """
    best: tuple[Heard, ...] = ()
    now: Weighed | None = None
    for steps in other_layouts(text):
        now = now or _weighed(text)
        if now.faults or ASKING in steps[-1].english:
            found = _weighed(steps[-1].english)
            if found.sounder(now):
                best, now = steps, found
    return best


class Weighed(NamedTuple):
    """How many things are wrong with a layout, how many sections it has, how much of it moves."""

    faults: int
    sections: int
    moved: float
    numbered: bool

    def sounder(self, other: Weighed) -> bool:
        """Return whether less is wrong here, and little is left out; a number out of turn is the author's to mend."""
        less = self.faults < other.faults or (self.faults == 0 and self.sections > other.sections)
        return less and 2 * self.moved >= other.moved and not other.numbered


def _weighed(text: str) -> Weighed:
    found = by_rules(plainly(text).english)
    if found is None:
        return Weighed(MOST_FAULTS, 0, 0, numbered=False)
    actions = found.dance.actions
    moved = sum(action.verb != "hold" for action in actions) / max(1, len(actions))
    numbered = any(f.kind == "section-number" for f in found.dance.findings)
    errors = sum(f.severity == "error" for f in found.dance.findings)
    return Weighed(errors + _faults(found), len(found.dance.sections), moved, numbered)


def plainly(text: str) -> Heard:
    """Return the sheet with sections that only ask for an earlier one in plain words, unless it reads worse so."""
    ways = plain_pointers(text)
    if not ways and not asks_for_sections(text):
        return respelled(text, ())
    found = by_rules(text)
    base = _faults(found)
    shown = shown_pointers(text, _lines(found))
    ways += [shown] if shown else []
    if not ways:
        return respelled(text, ())
    told = [respelled(text, edits) for edits in ways]
    readings = [by_rules(one.english) for one in told]
    faults = [_faults(one) for one in readings]
    best = faults.index(min(faults))
    asked = sum(edit.words.startswith(ASKING) for edit in ways[best])
    taken = faults[best] <= base + asked if base else not faults[best] and _lines(readings[best]) == _lines(found)
    taken = taken and not (ways[best] is shown and _hides(found, readings[best]))
    return told[best] if taken else respelled(text, ())


def _lines(found: Reading | None) -> list[int]:
    """Return where the sections begin."""
    return [section.line for section in found.dance.sections] if found is not None else []


def _faults(found: Reading | None) -> int:
    """How many things are wrong with a reading, and left unread."""
    if found is None:
        return MOST_FAULTS
    return sum(f.severity == "error" or f.kind in ("unread", "section-length") for f in found.dance.findings)


def by_paragraphs(text: str, plain: Heard, found: Reading | None) -> tuple[Heard, Reading | None]:
    """Return the sheet as it is read with a section a paragraph, where that is sounder, and its words."""
    words = plainly(text)
    _, head, _ = sections_of(words.english)
    kinds = paragraph_kinds(words.english, head, unit_of(head))
    other = by_rules(words.english, kinds) if kinds else None
    if other is not None and retelling():
        other = heard_twice(words.english, other, kinds)
    taken = other is not None and (found is None or (sounder(other.dance, found.dance) and not _poorer(other, found)))
    return (words, other) if taken else (plain, found)


def _poorer(one: Reading, other: Reading) -> bool:
    """Return whether less than half is danced in one reading of what is danced in another."""
    moves = [sum(action.verb != "hold" for action in reading.dance.actions) for reading in (one, other)]
    return 2 * moves[0] < moves[1]


def by_kinds(text: str, plain: Heard, found: Reading | None) -> tuple[Heard, Reading | None]:
    """Return the sheet as it is read with its lines sorted by the network, where that is sounder, and its words."""
    kinds = kinds_of(text)
    edits = told_pointers(text, kinds)
    for way in ((), edits) if edits else ((),) if kinds else ():
        words = respelled(text, way)
        other = by_rules(words.english, kinds)
        if other is None or _hides(found, other, kinds):
            continue
        other = heard_twice(words.english, other, kinds)
        if found is None or sounder(other.dance, found.dance):
            plain, found = words, other
    return plain, found


def by_whole(text: str, found: Reading | None, first: Way, rules: Reading | None) -> Reading | None:
    """Return a sheet as the network tells it whole, where that is to be taken over another reading, and the rules'."""
    parts = first.parts
    if not parts:
        return found
    if found is not None and agreed(found, parts) and not head_danced(text, parts):
        return with_ends(text, with_beside(found, parts), first)
    seated = is_seated(text, rules)
    partly = mended(found, first) if found is not None else None
    danced = [(way, read_whole(text, way.parts)) for way in (first, partly) if way is not None]
    told = [(way, other) for way, other in danced if other is not None and _is_fair(way, other, found)]
    if found is not None and not any(f.severity == "error" for f in found.dance.findings):
        told = [(way, other) for way, other in told if not is_danced(found.dance, way.parts)]
    if found is None:
        alone = next(((way, other) for way, other in told if stands_alone(other, way)), None)
        return with_ends(text, with_notes(alone[1], None, alone[0].parts), alone[0]) if alone is not None else None
    likely = plausible(text, found, first, seated=seated) if told else []
    weighed = [(score(case_of(found, way, other, likely)), k) for k, (way, other) in enumerate(told)]
    best, k = max(weighed, default=(0.0, 0), key=lambda row: row[0])
    if best > 0 and not _is_our_own(text, found):
        way, other = told[k]
        return with_ends(text, with_notes(other, found, way.parts), way)
    plain = danced[0][1]
    found = with_head(text, found, plain, parts) if plain is not None else found
    return with_ends(text, with_beside(found, parts) if is_danced(found.dance, parts) else found, first)


def _is_our_own(text: str, found: Reading) -> bool:
    """Return whether a sheet in which nothing is amiss is what Softshoe itself writes of it."""
    from softshoe.wording.write import write  # it reads back what it writes

    if any(f.severity != "note" for f in found.dance.findings):
        return False
    own = text.split()
    try:
        return any(write(found.dance, style=style).split() == own for style in STYLES)
    except WorkbenchError:
        return False


def _is_fair(way: Way, other: Reading, found: Reading | None) -> bool:
    """Return whether a sheet is danced just as it is told, and hides nothing that is the author's to mend."""
    if not is_just_so(other.dance, way.parts) or _hides(found, other):
        return False
    hours = [any(f.kind == HOUR for f in one.dance.findings) for one in (found, other) if one is not None]
    return hours != [True, False]


def _hides(found: Reading | None, other: Reading | None, kinds: Told = AS_SORTED) -> bool:
    """Return whether a reading hides what is the author's to mend in a line that both take for the same.

    A number out of turn below a section that was not found before is no such thing: there was a gap for it.
    """
    new = set(_lines(other)) - set(_lines(found))
    hidden = {row for row in for_the_author(found) - for_the_author(other) if not (new and min(new) < row[1])}
    return any(not kinds or not OF_KIND[kind] or kinds.get(line) == OF_KIND[kind] for kind, line in hidden)


def for_the_author(found: Reading | None) -> set[tuple[str, int]]:
    """Return the kinds and lines of errors that another way to sort the lines can only hide."""
    return {(f.kind, f.line or 0) for f in found.dance.findings if f.kind in OF_KIND} if found is not None else set()
