"""The ways in which a line's phrases can fill its counts, from one moment a count to one thing that lasts."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import islice, product
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.verbs import VERB
from softshoe.wording.footwords import times_over
from softshoe.wording.laid import Laid, Row, can_last, going_on, held_throughout, middle, spread_arms, spreads, stretch
from softshoe.wording.mirrors import mirrored_slot
from softshoe.wording.parts import Atom, Hand, Slot, Want
from softshoe.wording.sharing import all_shares, merge_more, unmerge

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

MOST_WAYS = 96
MOST_OPEN = 40  # a line of more phrases is read in its likeliest way only
LONGEST_SAID = 64
Rows = list[tuple[Row, tuple[int, ...]]]


def ways_of(atoms: Sequence[Atom], shares: Sequence[bool]) -> Iterator[tuple[Row, tuple[int, ...]]]:
    """Yield the ways to choose among the atoms' readings, likeliest first, slots that share a moment put together."""
    choices = [range(len(a.choices) if len(atoms) <= MOST_OPEN else 1) for a in atoms]
    ways = sorted(islice(product(*choices), 4 * MOST_WAYS), key=sum)[:MOST_WAYS]
    for way in ways:
        yield row_of(atoms, shares, way), way


def row_of(atoms: Sequence[Atom], shares: Sequence[bool], way: tuple[int, ...]) -> Row:
    """Return the moments of one way to read the atoms."""
    slots: list[tuple[Slot, Atom]] = []
    for atom, share, k in zip(atoms, shares, way, strict=True):
        chosen = atom.choices[k]
        if share and slots and len(chosen) == 1:
            before, owner = slots[-1]
            merged = Slot((*before.wants, *chosen[0].wants), _hands_on(before.hands, chosen[0].hands), before.after)
            slots[-1] = (_turned(merged) if atom.name == "turn" else merged, owner)
        else:
            slots += [(slot, atom) for slot in chosen]
    return Row(slots)


def _hands_on(before: tuple[Hand, ...], more: tuple[Hand, ...]) -> tuple[Hand, ...]:
    """ "Raise both arms out to the sides and up above the head": one movement told to its end is one."""
    if len(before) == 1 and len(more) == 1 and before[0].gesture == more[0].gesture in RISING:
        one, two = before[0], more[0]
        if one.side == two.side and one.place in ("", two.place):
            return (two._replace(span=(one.span[0], two.span[1])),)
    return (*before, *more)


RISING = ("raise", "lower", "reach")


def _turned(slot: Slot) -> Slot:
    """A turn told behind a step of the same moment is that step's turn."""

    *steps, turn = slot.wants
    if not steps:
        return slot
    turned = steps[-1]._replace(turn_deg=turn.turn_deg, spin=turn.spin, square=turn.square)
    return Slot((*steps[:-1], turned), slot.hands, slot.after)


class Case(NamedTuple):
    """What is to be laid: atoms, which of them share a moment, the ways to read them, the counts they are for."""

    atoms: list[Atom]
    shares: list[bool]
    rows: Rows
    places: list[Fraction]
    ranged: bool
    seated: bool = False


def apiece_on(atoms: Sequence[Atom], places: Sequence[Fraction]) -> Laid | None:
    """ "Sways right, left, two counts each": every moment lasts as long as is said, if that fills the counts."""
    length = atoms[0].apiece
    for row, _ in ways_of(atoms, all_shares(atoms)):
        if len(row) * length == len(places):
            laid = Laid(moments=len(places))
            for i, pair in enumerate(row.slots):
                stretch(laid, [pair], places[i * length : (i + 1) * length])
            return laid
    return None


def one_each(row: Row, places: Sequence[Fraction]) -> Laid:
    """Lay one moment on each count."""
    laid = Laid(moments=len(row))
    laid.at = [(place, slot, atom) for place, (slot, atom) in zip(places, row.slots, strict=True)]
    return laid


def _by_half(case: Case) -> Laid | None:
    """ "1 Heel R & step R": on one count, what "&" joins comes on its half."""
    atoms, shares, places = case.atoms, case.shares, case.places
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


def _by_sharing(case: Case) -> Laid | None:
    atoms, shares, rows, places = case.atoms, case.shares, case.rows, case.places
    n = len(places)
    for row, way in rows:
        other = merge_more(atoms, shares, len(row) - n) if len(row) > n else unmerge(atoms, shares, n - len(row))
        if other is not None:
            again = row_of(atoms, other, way)
            crowded = any(len(slot.wants) > 2 for slot, _ in again.slots)  # two feet make no three steps at once
            if len(again) == n and not crowded:
                return one_each(again, places)
    return None


def _by_turning_into(case: Case) -> Laid | None:
    """ "Quarter left, right to the side, touch": a turn told before a step is that step's, where counts are for one."""
    atoms, over = case.atoms, len(case.rows[0][0]) - len(case.places)
    turns = [k for k, a in enumerate(atoms[:-1]) if a.name == "turn" and _plain_step(atoms[k + 1])]
    if not turns or len(turns) != over or any(len(atoms[k].choices[0]) != 1 for k in turns):
        return None
    rest: list[Atom] = []
    for k, atom in enumerate(atoms):
        if k - 1 in turns:
            slot, turn = atom.choices[0][0], atoms[k - 1].choices[0][0].wants[0]
            want = slot.wants[0]._replace(turn_deg=turn.turn_deg, spin=turn.spin, square=turn.square)
            atom = replace(atom, choices=[(slot._replace(wants=(want,)),)])
        rest += [] if k in turns else [atom]
    row = row_of(rest, all_shares(rest), tuple(0 for _ in rest))
    return one_each(row, case.places) if len(row) == len(case.places) else None


def _plain_step(atom: Atom) -> bool:
    wants = atom.choices[0][0].wants if len(atom.choices[0]) == 1 else ()
    one = len(wants) == 1 and wants[0].verb in ("step", "rock", "stomp")
    return one and not wants[0].turn_deg and bool(wants[0].dir)


def _by_amps(case: Case) -> Laid | None:
    """ "R heel & L heel &": an "&" without a step brings the foot home."""
    atoms, rows, places = case.atoms, case.rows, case.places
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
            return one_each(Row(slots), places)
    return None


def _by_repeats(case: Case) -> Laid | None:
    """ "Side, touch x2": the times said at the end are for the whole line."""
    atoms, rows, places = case.atoms, case.rows, case.places
    times = atoms[-1].times
    if times < 2:
        return None
    for row, way in rows:
        if len(row) * times == len(places) and not _tells_name(atoms, way) and way[-1] >= len(atoms[-1].choices) // 2:
            slots = tuple(slot for slot, _ in row.slots)
            one_foot = len({w.foot for slot in slots for w in slot.wants}) == 1
            copies = slots * times if case.seated and one_foot else _time_after_time(slots, times)
            owners = [atom for _, atom in row.slots] * times
            return one_each(Row(list(zip(copies, owners, strict=True))), places)
    return None


def _tells_name(atoms: Sequence[Atom], way: Sequence[int]) -> bool:
    """Return whether a clause that only says how ("heel lifts, right …") is danced as well."""
    return any(atom.template and atom.choices[k] for atom, k in zip(atoms, way, strict=True))


def _by_lowering(case: Case) -> Laid | None:
    """ "Right heel raises x2", "knee lifts R, L" on twice as many counts: what is lifted is set down again."""
    for row, way in case.rows:
        if _tells_name(case.atoms, way):
            continue
        lifted = all(len(s.wants) == 1 and s.wants[0].verb in SET_DOWN and not s.hands for s, _ in row.slots)
        if not lifted or 2 * len(row) != len(case.places) or len(row) < 2:
            continue
        slots: list[tuple[Slot, Atom]] = []
        for slot, atom in row.slots:
            want = slot.wants[0]
            verb, there = SET_DOWN[want.verb or ""]
            down = Want(want.foot and "same", verb, there, line=want.line, span=want.span, inferred="the foot set down")
            slots += [(slot, atom), (Slot((down,)), atom)]
        return one_each(Row(slots), case.places)
    return None


SET_DOWN = {"raise": ("lower", "down"), "hitch": ("step", "in place")}


def _time_after_time(slots: tuple[Slot, ...], times: int) -> tuple[Slot, ...]:
    """A line several times: each time for the other foot where the first foot bears when the line is over."""
    wants = [w for slot in slots for w in slot.wants]
    bears = next((w.foot for w in reversed(wants) if w.verb in VERB and VERB[w.verb].takes_weight), None)
    if not wants or bears not in ("L", "R") or wants[0].foot != bears:
        return times_over(slots, times)
    other = tuple(map(mirrored_slot, slots))
    return tuple(slot for n in range(times) for slot in (other if n % 2 else slots))


def _by_posture(case: Case) -> Laid | None:
    """ "Hands on hips, tap right heel four times", "sway R, L, R, L, left hand on the hip": what the arms take up is
    theirs from the first count.
    """
    first, rest = case.atoms[0], case.atoms[1:]
    last = case.atoms[-1]
    if last.posture and last.join in ("seq", "with", "stop") and not first.arms_only:
        first, rest = last, case.atoms[:-1]
    if not first.arms_only or len(first.choices[0]) != 1 or not rest or any(a.arms_only for a in rest):
        return None
    shares = all_shares(rest)
    for row, _ in ways_of(rest, shares):
        if len(row) == len(case.places):
            laid = one_each(row, case.places)
            laid.at.append((case.places[0], first.choices[0][0], first))
            return laid
    return None


def _by_rhythm(case: Case) -> Laid | None:
    """Plain counts for several patterns ("1-4 shuffle right, shuffle left"): each by its own rhythm."""
    atoms, shares, rows, places, ranged = case.atoms, case.shares, case.rows, case.places, case.ranged
    wholes = [p for p in places if p.denominator == 1]
    if len(wholes) != len(places) or not any(a.length for a in atoms):
        return None
    if sum(1 for a in atoms if a.choices[0]) < 2 and max(len(a.choices[0]) for a in atoms) < 4:
        return None
    taken = [[_own_rhythm(a, chosen)[1] if chosen else 0 for chosen in a.choices] for a in atoms]
    for row, way in rows:
        if _length(atoms, shares, way, taken) == len(places):
            placed, _ = _natural(atoms, shares, way)
            laid = Laid(moments=len(row), note="rhythm" if ranged else "")
            laid.at = [(places[0] + after, slot, atom) for after, slot, atom in placed]
            return laid
    return None


def _length(atoms: Sequence[Atom], shares: Sequence[bool], way: tuple[int, ...], taken: list[list[int]]) -> int:
    """Return how many counts a way takes by its own rhythm; ``taken`` are those of each atom's readings."""
    now, begun = 0, False
    for atom, share, k, counts in zip(atoms, shares, way, taken, strict=True):
        chosen = atom.choices[k]
        if chosen and not (share and begun and len(chosen) == 1):
            now += counts[k]
            begun = True
    return now


def natural(atoms: Sequence[Atom]) -> tuple[list[tuple[Fraction, Slot, Atom]], Fraction]:
    """Return the atoms by their own rhythm from 0, and how many counts they take."""
    atoms = _in_rhythm(atoms)
    spread = [a for a in atoms if spreads(a, atoms)]
    rest = [a for a in atoms if a not in spread]
    held = held_throughout(rest)
    if held is not None:
        laid, length = natural([a for a in atoms if a is not held])
        return [*laid, (Fraction(0), held.choices[0][0], held)], length
    shares = all_shares(rest)
    way = tuple(_unsaid(a, rest[i + 1 :]) for i, a in enumerate(rest))
    if rest and rest[0].apiece:
        moments = len(row_of(rest, shares, way)) * rest[0].apiece
        each = apiece_on(rest, [Fraction(k) for k in range(moments)])
        return (each.at, Fraction(moments)) if each is not None else ([], Fraction(0))
    laid, length = _natural(rest, shares, way)
    return laid + [(Fraction(k), slot, a) for a in spread for k in range(int(length)) for slot in a.choices[0]], length


def _in_rhythm(atoms: Sequence[Atom]) -> Sequence[Atom]:
    """ "Sailor step right: behind, side, side": steps told behind a quick pattern's name are danced in its rhythm."""
    for k, name in enumerate(atoms):
        steps = name.choices[0]
        told = atoms[k + 1 : k + 1 + len(steps)] if name.heading and name.name and name.length else ()
        quick = any(slot.after.denominator != 1 for slot in steps)
        if not (told and quick and len(told) == len(steps)) or any(len(a.choices[0]) != 1 for a in told):
            continue
        if any(a.join in ("stop", "with") or a.at or a.name for a in told):
            continue
        slots = tuple(a.choices[0][0]._replace(after=s.after) for a, s in zip(told, steps, strict=True))
        one = replace(name, choices=[slots], heading=False)
        return [*atoms[:k], one, *_in_rhythm(atoms[k + 1 + len(steps) :])]
    return atoms


def _unsaid(atom: Atom, behind: Sequence[Atom]) -> int:
    """Return which reading is danced without counts; of a name whose steps are told behind it, only those steps."""
    if atom.template:
        return len(atom.choices) - 1
    told = 0
    for one in behind if atom.heading and atom.name and not atom.choices[-1] else ():
        if one.join == "stop":
            break
        told += len(one.choices[0])
    return len(atom.choices) - 1 if told and told >= len(atom.choices[0]) else 0


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
        elif chosen:
            placed, taken = _own_rhythm(atom, chosen)
            out += [(now + after, slot, atom) for after, slot in placed]
            now += taken
    return out, now


def _own_rhythm(atom: Atom, chosen: tuple[Slot, ...]) -> tuple[list[tuple[Fraction, Slot]], int]:
    """Return an atom's slots from 0 and how many counts it takes: a pattern's, as many as said, or one each."""
    rhythmic = bool(atom.length)
    placed = [(slot.after if rhythmic else Fraction(i), slot) for i, slot in enumerate(chosen)]
    taken = int(chosen[-1].after.__floor__() + 1) if rhythmic else len(chosen)
    longer = min(atom.counts or 0, LONGEST_SAID)
    on = going_on(chosen[-1]) if longer > taken else None
    if on is not None:
        placed += [(Fraction(k), on) for k in range(taken, longer)]
    return placed, max(taken, longer)


def said_lengths(atoms: list[Atom], places: list[Fraction]) -> Laid | None:
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
        stretch(laid, [(s, atom) for s in atom.choices[0]], places[now : now + length])
        now += length
    return laid


def _by_lasting(case: Case) -> Laid | None:
    """Fewer moments than counts: the one thing that lasts takes the rest; one thing alone is reached and held."""
    rows, places = case.rows, case.places
    row = rows[0][0]
    n = len(places)
    if not 0 < len(row) < n:
        return None
    lasting_ones = [i for i, (slot, atom) in enumerate(row.slots) if can_last(slot, atom)]
    if len(row) == 1 or (len(lasting_ones) == 1 and lasting_ones[0] == len(row) - 1):
        laid = Laid(moments=n)
        for i in range(len(row) - 1):
            laid.at.append((places[i], *row.slots[i]))
        stretch(laid, [row.slots[-1]], places[len(row) - 1 :])
        return laid
    if len(lasting_ones) == 1:
        return middle(row, lasting_ones[0], places)
    if all(atom.arms_only for _, atom in row.slots):
        return spread_arms(row, places)
    if len(lasting_ones) == len(row) and n % len(row) == 0:
        return spread_arms(row, places)
    return None


def misfit(row: Row, places: list[Fraction]) -> Laid:
    """Lay what can be laid, with the sentence that says why it does not fill its counts."""
    laid = Laid(moments=len(row))
    laid.at = [(place, slot, atom) for place, (slot, atom) in zip(places, row.slots, strict=False)]
    laid.problem = f"{len(row)} movements are written for {len(places)} counts" if len(row) else ""
    return laid


ATTEMPTS = (
    _by_half, _by_posture, _by_turning_into, _by_sharing, _by_amps, _by_lowering, _by_repeats, _by_rhythm, _by_lasting,
)  # fmt: skip
