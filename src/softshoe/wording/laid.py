"""What is laid on counts, and how one thing goes on, is held, or is spread over more counts than it has moments."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from softshoe.wording.armwords import lasting
from softshoe.wording.parts import Slot

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from softshoe.wording.parts import Atom


@dataclass(slots=True)
class Laid:
    """Slots at their moments. ``problem`` is "" or a sentence on why the words do not fill the counts."""

    at: list[tuple[Fraction, Slot, Atom]] = field(default_factory=list)
    problem: str = ""
    moments: int = 0
    note: str = ""
    once: bool = False  # "x2" was told of what fills its counts without
    ends: dict[int, Fraction] = field(default_factory=dict)


@dataclass(slots=True)
class Row:
    """One way to read the atoms: slots in order, each with its atom; some share a moment with the one before."""

    slots: list[tuple[Slot, Atom]]

    def __len__(self) -> int:
        return len(self.slots)


def stretch(laid: Laid, slots: list[tuple[Slot, Atom]], places: Sequence[Fraction]) -> None:
    """Lay slots on counts, the last going on if it can, else reached and held."""
    for i, place in enumerate(places):
        if i < len(slots):
            laid.at.append((place, *slots[i]))
        elif slots and place.denominator == 1:
            on = going_on(slots[-1][0])
            if on is not None:
                laid.at.append((place, on, slots[-1][1]))


def going_on(slot: Slot) -> Slot | None:
    """Return what of a slot is written again on the next count it lasts; None when it is only held."""
    wants = tuple(
        w for w in slot.wants if (w.verb in ("drag", "sweep", "lower") and w.foot != "both") or w.verb == "drag"
    )
    wants += tuple(w._replace(verb="slide on") for w in slot.wants if w.verb == "slide")
    wants += tuple(w._replace(foot=None, alternate=True) for w in slot.wants if w.goes_on)
    hands = tuple(h for h in slot.hands if lasting(h))
    return Slot(wants, hands, slot.after) if wants or hands else None


def middle(row: Row, which: int, places: list[Fraction]) -> Laid:
    """Lay a row whose one lasting slot stands among others."""
    laid = Laid(moments=len(places))
    extra = len(places) - len(row)
    for i, (slot, atom) in enumerate(row.slots):
        if i < which:
            laid.at.append((places[i], slot, atom))
        elif i == which:
            stretch(laid, [(slot, atom)], places[i : i + extra + 1])
        else:
            laid.at.append((places[i + extra], slot, atom))
    return laid


def spread_arms(row: Row, places: list[Fraction]) -> Laid | None:
    """Hands for fewer moments than counts: evenly, each going on or held."""
    each, odd = divmod(len(places), len(row))
    if odd:
        return None
    laid = Laid(moments=len(places), note="spread")
    for i, pair in enumerate(row.slots):
        stretch(laid, [pair], places[i * each : (i + 1) * each])
    return laid


def can_last(slot: Slot, atom: Atom) -> bool:
    """Return whether a slot can go on over several counts."""
    if atom.arms_only:
        return atom.lasts
    return bool(slot.wants) and (
        slot.wants[-1].goes_on or slot.wants[-1].verb in ("drag", "sweep", "hold", "lower", "slide")
    )


def walked(atoms: list[Atom]) -> list[Atom]:
    """ "March right and left for eight counts" goes on as it begins; feet told one by one are just those steps."""
    out: list[Atom] = []
    first: Atom | None = None
    told = 0
    for atom in atoms:
        if first is not None and _next_foot(atom, first):
            told += 1
            first.choices = [tuple(_going(s, on=False) for s in c) for c in first.choices]
            if (atom.counts or 0) > told:
                first.counts, first.lasts = atom.counts, True
                first.choices = [tuple(_going(s, on=True) for s in c) for c in first.choices]
                del out[out.index(first) + 1 :]
                continue
        else:
            first, told = (atom if atom.walks else None), 1
        out.append(atom)
    return out


def _next_foot(atom: Atom, first: Atom) -> bool:
    """Return whether an atom is one more foot of a walk told foot by foot."""
    if atom.arms_only or atom.name or atom.walks or len(atom.choices[0]) != 1 or len(atom.choices[0][0].wants) != 1:
        return False
    one, other = atom.choices[0][0].wants[0], first.choices[0][-1].wants
    return one.verb == "step" and one.foot in ("L", "R") and bool(other) and one.dir == other[-1].dir


def _going(slot: Slot, *, on: bool) -> Slot:
    return slot._replace(wants=tuple(w._replace(goes_on=on) for w in slot.wants))


def spreads(atom: Atom, main: Sequence[Atom]) -> bool:
    """Gestures that go on ("swing both arms") lie over all counts of the feet beside them."""
    if atom.each and atom.arms_only and len(main) == 1:
        return len(atom.choices[0]) == 1
    feet = any(not a.arms_only and not a.holds for a in main)
    return feet and atom.arms_only and (atom.lasts or atom.each) and len(atom.choices[0]) == 1


def held_throughout(atoms: Sequence[Atom]) -> Atom | None:
    """ "With your hands resting on your knees, tap …": what the hands take up before the feet, or beside them."""
    if len(atoms) < 2 or not any(not a.arms_only for a in atoms):
        return None
    first, last = atoms[0], atoms[-1]
    if first.posture:
        return first
    return last if last.posture and last.join in ("seq", "with") and not any(a.arms_only for a in atoms[:-1]) else None
