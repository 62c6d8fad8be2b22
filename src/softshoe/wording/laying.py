"""A line's phrases laid on its counts: one moment each, by the pattern's own rhythm, or lasting; what does not fit is told.

The rules, in order: as many moments as counts; sharing undone or done where words allow it ("and clap"); lengths said
("for two counts"); the patterns' own rhythm; one thing that goes on; one thing reached and held.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from itertools import islice, product
from typing import TYPE_CHECKING

from softshoe.wording.armwords import lasting
from softshoe.wording.parts import Atom, Slot, Want

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

MOST_WAYS = 96


@dataclass(slots=True)
class Laid:
    """Slots at their moments. ``problem`` is "" or a sentence on why the words do not fill the counts."""

    at: list[tuple[Fraction, Slot, Atom]] = field(default_factory=list)
    problem: str = ""
    moments: int = 0
    note: str = ""
    ends: dict[int, Fraction] = field(default_factory=dict)


@dataclass(slots=True)
class Row:
    """One way to read the atoms: slots in order, each with its atom; some share a moment with the one before."""

    slots: list[tuple[Slot, Atom]]

    def __len__(self) -> int:
        return len(self.slots)


def _all_shares(atoms: Sequence[Atom]) -> list[bool]:
    """Return for each atom whether it shares the moment before; a pattern's close ("vine with a touch") does not."""
    out: list[bool] = []
    for i, atom in enumerate(atoms):
        close = i > 0 and bool(atoms[i - 1].length) and not atom.arms_only and atom.name != "turn"
        out.append(not close and _shares(atom, first=i == 0))
    return out


def _shares(atom: Atom, *, first: bool) -> bool:
    """Return whether the atom shares the moment of what stands before it, as the words stand."""
    if first:
        return False
    if atom.join == "with":
        return True
    return atom.arms_only and atom.join in ("and", "amp") and not atom.each


def _rows(atoms: Sequence[Atom], shares: Sequence[bool]) -> Iterator[tuple[Row, tuple[int, ...]]]:
    """Yield the ways to choose among the atoms' readings, likeliest first, slots that share a moment put together."""
    choices = [range(len(a.choices)) for a in atoms]
    ways = sorted(islice(product(*choices), 4 * MOST_WAYS), key=sum)[:MOST_WAYS]
    for way in ways:
        yield _row(atoms, shares, way), way


def _row(atoms: Sequence[Atom], shares: Sequence[bool], way: tuple[int, ...]) -> Row:
    slots: list[tuple[Slot, Atom]] = []
    for atom, share, k in zip(atoms, shares, way, strict=True):
        chosen = atom.choices[k]
        if share and slots and len(chosen) == 1:
            before, owner = slots[-1]
            merged = Slot((*before.wants, *chosen[0].wants), (*before.hands, *chosen[0].hands), before.after)
            slots[-1] = (_turned(merged) if atom.name == "turn" else merged, owner)
        else:
            slots += [(slot, atom) for slot in chosen]
    return Row(slots)


def _turned(slot: Slot) -> Slot:
    """A turn told behind a step of the same moment is that step's turn."""
    from dataclasses import replace

    *steps, turn = slot.wants
    if not steps:
        return slot
    return Slot((*steps[:-1], replace(steps[-1], turn_deg=turn.turn_deg, spin=turn.spin)), slot.hands, slot.after)


def _merge_more(atoms: Sequence[Atom], shares: list[bool], over: int) -> list[bool] | None:
    """Share moments until ``over`` fewer are left: hands first, then turns, then feet joined by "and"; None if it can't be."""
    out = list(shares)
    ranks = (
        lambda a: a.arms_only,
        lambda a: a.name == "turn",
        lambda a: a.join in ("and", "amp") and not a.name,
    )
    for wanted in ranks:
        for i in range(1, len(atoms)):
            if over and not out[i] and wanted(atoms[i]) and len(atoms[i].choices[0]) == 1:
                out[i] = True
                over -= 1
    return out if over == 0 else None


def _unmerge(atoms: Sequence[Atom], shares: list[bool], under: int) -> list[bool] | None:
    """Give moments of their own to what shares one, ``under`` of them."""
    out = list(shares)
    for i in range(1, len(atoms)):
        if under and out[i]:
            out[i] = False
            under -= 1
    return out if under == 0 else None


def lay(atoms: Sequence[Atom], places: Sequence[Fraction], *, ranged: bool) -> Laid:
    """Lay the atoms of one label on its moments."""
    timed = [a for a in atoms if a.at]
    main = [a for a in atoms if not a.at]
    spread = [a for a in main if _spreads(a, main)]
    rest = [a for a in main if a not in spread]
    laid = _lay_main(rest, list(places), ranged=ranged) if rest else _nothing(places)
    if laid.problem and spread:
        whole = _lay_main(main, list(places), ranged=ranged)
        if not whole.problem:
            laid, spread = whole, []
    for atom in spread:
        laid.at += [(p, slot, atom) for p in places if p.denominator == 1 for slot in atom.choices[0]]
    for atom in timed:
        _lay_timed(laid, atom, places)
    return laid


def _nothing(places: Sequence[Fraction]) -> Laid:
    return Laid(moments=len(places))


def _spreads(atom: Atom, main: Sequence[Atom]) -> bool:
    """Gestures that go on ("swing both arms") lie over all counts of the feet beside them."""
    feet = any(not a.arms_only for a in main)
    return feet and atom.arms_only and (atom.lasts or atom.each) and len(atom.choices[0]) == 1


def _lay_timed(laid: Laid, atom: Atom, places: Sequence[Fraction]) -> None:
    """Lay what says its own counts ("clap on 4", "on 6 and 8")."""
    slots = atom.choices[0] or (atom.choices[-1] if atom.choices else ())
    if not slots:
        return
    outside = [p for p in atom.at if places and not places[0].__floor__() <= p <= places[-1] + 1]
    at = (
        [places[0] + p - 1 for p in atom.at]
        if outside and places[-1].__floor__() - places[0].__floor__() + 1 >= atom.at[-1]
        else atom.at
    )
    for i, place in enumerate(at):
        laid.at.append((place, slots[i % len(slots)], atom))


def _lay_main(atoms: list[Atom], places: list[Fraction], *, ranged: bool) -> Laid:
    n = len(places)
    shares = _all_shares(atoms)
    rows = list(_rows(atoms, shares))
    lengths = _said_lengths(atoms, places)
    if lengths is not None:
        return lengths
    for row, _ in rows:
        if len(row) == n:
            return _one_each(row, places)
    for attempt in (_by_half, _by_sharing, _by_amps, _by_repeats, _by_rhythm, _by_lasting):
        laid = attempt(atoms, shares, rows, places, ranged)
        if laid is not None:
            return laid
    return _misfit(rows[0][0], atoms, places)


def _one_each(row: Row, places: Sequence[Fraction]) -> Laid:
    laid = Laid(moments=len(row))
    laid.at = [(place, slot, atom) for place, (slot, atom) in zip(places, row.slots, strict=True)]
    return laid


Rows = list[tuple[Row, tuple[int, ...]]]


def _by_half(atoms: list[Atom], shares: list[bool], rows: Rows, places: list[Fraction], _ranged: bool) -> Laid | None:
    """ "1 Heel R & step R": on one count, what "&" joins comes on its half."""
    del rows
    feet = [a for a in atoms if not a.arms_only]
    if len(places) != 1 or len(feet) != 2 or len(feet) != len(atoms) or feet[1].join != "amp":
        return None
    if any(len(a.choices[0]) != 1 for a in feet) or shares[1]:
        return None
    laid = Laid(moments=2)
    laid.at = [
        (places[0], feet[0].choices[0][0], feet[0]),
        (places[0] + Fraction(1, 2), feet[1].choices[0][0], feet[1]),
    ]
    return laid


def _by_sharing(
    atoms: list[Atom], shares: list[bool], rows: Rows, places: list[Fraction], _ranged: bool
) -> Laid | None:
    n = len(places)
    for row, way in rows:
        other = _merge_more(atoms, shares, len(row) - n) if len(row) > n else _unmerge(atoms, shares, n - len(row))
        if other is not None:
            again = _row(atoms, other, way)
            if len(again) == n:
                return _one_each(again, places)
    return None


def _by_amps(atoms: list[Atom], shares: list[bool], rows: Rows, places: list[Fraction], _ranged: bool) -> Laid | None:
    """ "R heel & L heel &": an "&" without a step brings the foot home."""
    for row, _ in rows:
        missing = len(places) - len(row)
        if not 0 < missing <= sum(a.amps for a in atoms) or any(p.denominator != 1 for p in places) is False:
            continue
        slots: list[tuple[Slot, Atom]] = []
        for slot, atom in row.slots:
            slots.append((slot, atom))
            if atom.amps and missing and slot.wants:
                home = Want(
                    "same", "step", "together", line=atom.line, span=atom.span, inferred="the step home on the “&”"
                )
                slots.append((Slot((home,)), atom))
                missing -= 1
        if not missing:
            return _one_each(Row(slots), places)
    return None


def _by_repeats(
    atoms: list[Atom], shares: list[bool], rows: Rows, places: list[Fraction], _ranged: bool
) -> Laid | None:
    """ "Side, touch x2": the times said at the end are for the whole line."""
    times = atoms[-1].times
    if times < 2:
        return None
    from softshoe.wording.footwords import _times as again

    for row, _ in rows:
        if len(row) * times == len(places):
            copies = again(tuple(slot for slot, _ in row.slots), times)
            owners = [atom for _, atom in row.slots] * times
            return _one_each(Row(list(zip(copies, owners, strict=True))), places)
    return None


def _by_rhythm(atoms: list[Atom], shares: list[bool], rows: Rows, places: list[Fraction], ranged: bool) -> Laid | None:
    """Plain counts for several patterns ("1-4 shuffle right, shuffle left"): each by its own rhythm."""
    wholes = [p for p in places if p.denominator == 1]
    if len(wholes) != len(places) or not any(a.length for a in atoms):
        return None
    if sum(1 for a in atoms if a.choices[0]) < 2 and max(len(a.choices[0]) for a in atoms) < 4:
        return None
    for row, way in rows:
        placed, length = _natural(atoms, shares, way)
        if length == len(places):
            laid = Laid(moments=len(row), note="rhythm" if ranged else "")
            laid.at = [(places[0] + after, slot, atom) for after, slot, atom in placed]
            return laid
    return None


def natural(atoms: Sequence[Atom]) -> tuple[list[tuple[Fraction, Slot, Atom]], Fraction]:
    """Return the atoms by their own rhythm from 0, and how many counts they take."""
    shares = _all_shares(atoms)
    return _natural(atoms, shares, tuple(0 for _ in atoms))


def _natural(
    atoms: Sequence[Atom], shares: Sequence[bool], way: tuple[int, ...]
) -> tuple[list[tuple[Fraction, Slot, Atom]], Fraction]:
    out: list[tuple[Fraction, Slot, Atom]] = []
    now = Fraction(0)
    for atom, share, k in zip(atoms, shares, way, strict=True):
        chosen = atom.choices[k]
        if share and out and len(chosen) == 1:
            at, before, owner = out[-1]
            out[-1] = (at, Slot((*before.wants, *chosen[0].wants), (*before.hands, *chosen[0].hands)), owner)
            continue
        rhythmic = bool(atom.length)
        for i, slot in enumerate(chosen):
            out.append((now + (slot.after if rhythmic else i), slot, atom))
        if chosen:
            taken = int(chosen[-1].after.__floor__() + 1 if rhythmic else len(chosen))
            on = going_on(chosen[-1]) if atom.counts and atom.counts > taken else None
            for k in range(taken, min(atom.counts or 0, 64)):
                if on is not None:
                    out.append((now + k, on, atom))
            now += max(taken, min(atom.counts or 0, 64))
    return out, now


def _said_lengths(atoms: list[Atom], places: list[Fraction]) -> Laid | None:
    """Lengths said in words ("hold for two counts", "drag over three counts") when they fill the counts."""
    if not any(a.counts for a in atoms):
        return None
    wholes = [p for p in places if p.denominator == 1]
    taken = [a.counts or len(a.choices[0]) for a in atoms]
    if sum(taken) != len(wholes) or len(wholes) != len(places):
        return None
    laid = Laid(moments=len(places))
    now = 0
    for atom, length in zip(atoms, taken, strict=True):
        _stretch(laid, atom, [(s, atom) for s in atom.choices[0]], places[now : now + length])
        now += length
    return laid


def _stretch(laid: Laid, atom: Atom, slots: list[tuple[Slot, Atom]], places: Sequence[Fraction]) -> None:
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
    hands = tuple(h for h in slot.hands if lasting(h))
    return Slot(wants, hands, slot.after) if wants or hands else None


def _by_lasting(
    atoms: list[Atom], shares: list[bool], rows: Rows, places: list[Fraction], _ranged: bool
) -> Laid | None:
    """Fewer moments than counts: the one thing that lasts takes the rest; one thing alone is reached and held."""
    row = rows[0][0]
    n = len(places)
    if not 0 < len(row) < n:
        return None
    lasting_ones = [i for i, (slot, atom) in enumerate(row.slots) if _can_last(slot, atom)]
    if len(row) == 1 or (len(lasting_ones) == 1 and lasting_ones[0] == len(row) - 1):
        laid = Laid(moments=n)
        for i in range(len(row) - 1):
            laid.at.append((places[i], *row.slots[i]))
        _stretch(laid, row.slots[-1][1], [row.slots[-1]], places[len(row) - 1 :])
        return laid
    if len(lasting_ones) == 1:
        return _middle(row, lasting_ones[0], places)
    if all(atom.arms_only for _, atom in row.slots):
        return _spread_arms(row, places)
    if len(lasting_ones) == len(row) and n % len(row) == 0:
        return _spread_arms(row, places)
    return None


def _middle(row: Row, which: int, places: list[Fraction]) -> Laid:
    laid = Laid(moments=len(places))
    extra = len(places) - len(row)
    for i, (slot, atom) in enumerate(row.slots):
        if i < which:
            laid.at.append((places[i], slot, atom))
        elif i == which:
            _stretch(laid, atom, [(slot, atom)], places[i : i + extra + 1])
        else:
            laid.at.append((places[i + extra], slot, atom))
    return laid


def _spread_arms(row: Row, places: list[Fraction]) -> Laid | None:
    """Hands for fewer moments than counts: evenly, each going on or held."""
    each, odd = divmod(len(places), len(row))
    if odd:
        return None
    laid = Laid(moments=len(places), note="spread")
    for i, pair in enumerate(row.slots):
        _stretch(laid, pair[1], [pair], places[i * each : (i + 1) * each])
    return laid


def _can_last(slot: Slot, atom: Atom) -> bool:
    if atom.arms_only:
        return atom.lasts
    return bool(slot.wants) and slot.wants[-1].verb in ("drag", "sweep", "hold", "lower")


def _misfit(row: Row, atoms: list[Atom], places: list[Fraction]) -> Laid:
    laid = Laid(moments=len(row))
    laid.at = [(place, slot, atom) for place, (slot, atom) in zip(places, row.slots, strict=False)]
    laid.problem = f"{len(row)} movements are written for {len(places)} counts" if len(row) else ""
    return laid
