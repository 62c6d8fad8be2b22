"""The pieces that teach the sections of a dance, each by itself and together with those before it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.counts import Counts
from softshoe.dance.footwork import mirrored
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.teach.stretches import Says, Stretch
from softshoe.teach.taught import SLOW, TOGETHER, Taught
from softshoe.teach.words import number_word

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Section
    from softshoe.teach.lesson import View
    from softshoe.teach.pieces import Piece

FEW_SECTIONS = 4  # longer dances show each section without arms once seated
TRAVEL_STEPS = 2
CROSSING = (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)
ALONG = {Direction.FORWARD: 1, Direction.BACK: -1}
TITLES = {
    "counts": "Section {}, seated, slowly",
    "words": "Section {}, seated",
    "arms": "Section {}, the arms alone",
    "both": "Section {}, seated, with arms",
    "recall": "Section {}, seated",
}


def section_pieces(plan: Taught) -> Iterator[Piece]:
    """Each section by itself, then two together, then all so far."""
    for index, section in enumerate(plan.sections):
        yield from _section(plan, section, plan.sections[:index])
        if index % 2 and len(plan.sections) > 2:
            yield _together(plan, "join", plan.sections[index - 1 : index + 1])
        if index % 2 and 1 < index < len(plan.sections) - 1:
            yield _together(plan, "known", plan.sections[: index + 1])


def _section(plan: Taught, section: Section, before: Sequence[Section]) -> Iterator[Piece]:
    """Standing with counts, seated with counts, words and arms; a section known already is only recalled."""
    seated = plan.parts[f"{plan.seat}:dance"]
    known = _known(seated.actions, section, before)
    feet = any(action.foot is not None for action in _inside(seated.actions, section))
    arms = any(action.arms for action in _inside(seated.actions, section))
    if known:
        yield _seated(plan, section, "recall", "dance", "arms" if arms else "words", remark=known)
        return
    if feet and "standing" in plan.versions and plan.seat != "standing":
        yield _standing(plan, section)
    if feet:
        yield _seated(plan, section, "counts", "feet", "counts")
        yield _seated(plan, section, "words", "feet", "words")
    if feet and arms:
        yield _seated(plan, section, "arms", "arms", "arms")
    if arms:
        yield _seated(plan, section, "both", "dance", "arms")
    elif feet and len(plan.sections) <= FEW_SECTIONS:
        yield _seated(plan, section, "both", "dance", "counts")


def _seated(plan: Taught, section: Section, kind: str, what: str, says: Says, *, remark: str = "") -> Piece:
    title = TITLES[kind].format(section.number)
    if says == "counts" and kind == "both":
        title = f"Section {section.number}, seated, with counts"
    if kind == "recall" and says == "arms":
        title = TITLES["both"].format(section.number)
    stretch = _stretch(plan, f"{plan.seat}:{what}", section, says)
    piece = stretch.piece(kind, title)
    name = f"Section {number_word(section.number)}"
    return replace(piece, remarks=(f"{name}: {remark}.",)) if remark else piece


def _standing(plan: Taught, section: Section) -> Piece:
    stretch = _stretch(plan, "standing:feet", section, "counts")
    view: View = "behind" if _travels(_inside(stretch.part.actions, section)) else "mirror"
    title = f"Section {section.number}, standing{', from behind' if view == 'behind' else ''}"
    return stretch.piece("show", title, view=view)


def _stretch(plan: Taught, key: str, section: Section, says: Says) -> Stretch:
    first, counts = section.start.whole, int(section.length.n)
    per = plan.dance.counts_per_section
    return Stretch(key, plan.parts[key], first, counts, plan.step_s(SLOW), says, per, section.number)


def _together(plan: Taught, kind: str, known: Sequence[Section]) -> Piece:
    first, last, key = known[0], known[-1], f"{plan.seat}:dance"
    counts = sum(int(section.length.n) for section in known)
    stretch = Stretch(key, plan.parts[key], first.start.whole, counts, plan.step_s(TOGETHER), "calls",
                      plan.dance.counts_per_section)  # fmt: skip
    numbers = f"{number_word(first.number)} and {number_word(last.number)}"
    if kind == "known":
        title, lead = f"Sections 1 to {last.number}", ("From the top, all that we know so far.",)
    else:
        title = f"Sections {first.number} and {last.number} together"
        lead = (f"Sections {numbers} together, a little faster.",)
    return replace(stretch.piece(kind, title), remarks=lead)


def _inside(actions: Sequence[Action], section: Section) -> list[Action]:
    end = (section.start + section.length).at
    return [action for action in actions if section.start.at <= action.at.at < end]


def _known(actions: Sequence[Action], section: Section, before: Sequence[Section]) -> str:
    """ "the same again" or "the same, other side" where an earlier section teaches this one; else ""."""
    here = _from_one(_inside(actions, section), section)
    for earlier in before:
        there = _from_one(_inside(actions, earlier), earlier)
        if here == there:
            return f"the same as section {number_word(earlier.number)}"
        if here == mirrored(there):
            return f"section {number_word(earlier.number)}, other side"
    return ""


def _from_one(actions: Sequence[Action], section: Section) -> tuple[Action, ...]:
    back = Counts(Fraction(1) - section.start.at)
    return tuple(action.later(back) for action in actions)


def _travels(actions: Sequence[Action]) -> bool:
    """True where a section turns, crosses or moves along: it is seen best from behind."""
    along = sum(ALONG.get(a.dir, 0) for a in actions if a.dir and VERB[a.verb].takes_weight and a.verb != "rock")
    return abs(along) >= TRAVEL_STEPS or any(a.turn_deg or a.dir in CROSSING for a in actions)
