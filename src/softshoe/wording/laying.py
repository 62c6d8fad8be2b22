"""A line's phrases laid on its counts: one moment each, by the pattern's own rhythm, or lasting; what does not fit is
told.

The rules, in order: as many moments as counts; sharing undone or done where words allow it ("and clap"); lengths said
("for two counts"); the patterns' own rhythm; one thing that goes on; one thing reached and held.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.each_home import AWAY, HOME, comes
from softshoe.wording.laid import Laid, spreads
from softshoe.wording.laying_ways import ATTEMPTS, Case, Rows, apiece_on, misfit, one_each, said_lengths, ways_of
from softshoe.wording.name_told import by_name_told
from softshoe.wording.sharing import all_shares
from softshoe.wording.told_again import lay_once

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.parts import Atom


STRUCK = ("clap", "snap", "pat", "drum", "punch")


def lay(atoms: Sequence[Atom], places: Sequence[Fraction], *, ranged: bool, seated: bool = False) -> Laid:
    """Lay the atoms of one label on its moments; ``seated``: no foot bears the dancer."""
    posture = _posture(atoms, places)
    if posture is not None:
        laid = lay([a for a in atoms if a is not posture], places, ranged=ranged, seated=seated)
        if not laid.problem:
            laid.at.append((places[0], posture.choices[0][0], posture))
            return laid
    timed = [a for a in atoms if a.at]
    main = [a for a in atoms if not (a.at or a.on_verb)]
    counts = sum(p.denominator == 1 for p in places)
    many = counts > 1
    spread = [a for a in main if many and (spreads(a, main) or (_struck(a, main, counts, ranged=ranged)))]
    spread += [a for a in main if a not in spread and len(a.choices[0]) == counts > 2 and _beside_feet(a, main)]
    rest = [a for a in main if a not in spread]
    laid = _lay_main(rest, _left_to(rest, timed, places), ranged=ranged, seated=seated) if rest else _nothing(places)
    if laid.problem and spread:
        whole = _lay_main(main, list(places), ranged=ranged)
        if not whole.problem:
            laid, spread = whole, []
    if laid.problem and timed and rest:  # "three walks forward, kick left on 4"
        free = [p for p in places if not any(p in a.at for a in timed)]
        again = _lay_main(rest, free, ranged=ranged) if free and len(free) < len(places) else laid
        laid = laid if again.problem else again
    laid = _hands_over_feet(rest, places, laid)
    for atom in sorted(spread, key=lambda a: a.arms_only):  # feet first: the hands go with them
        laid.at += [(p, slot, atom) for p in places if p.denominator == 1 for slot in atom.choices[0][:1]]
    for atom in timed:
        _lay_timed(laid, atom, places)
    for atom in (a for a in atoms if a.on_verb and not a.on_verb.startswith("@")):
        moments = [at for at, slot, _ in laid.at if comes(slot, atom.on_verb)]
        wholes = [p for p in places if p.denominator == 1] if all(a.arms_only for a in atoms) else []
        wholes = [] if atom.on_verb in (HOME, AWAY) else wholes
        if atom.on_verb == "hold":  # "hold (clap on the hold)": the hands are all that moves
            laid.at = [row for row in laid.at if row[0] not in moments]
        laid.at += [(at + atom.late, atom.choices[0][0], atom) for at in moments or wholes]
    return laid


def _posture(atoms: Sequence[Atom], places: Sequence[Fraction]) -> Atom | None:
    """ "Sway R, L, R, L with the left hand on the hip": hands told behind feet that do one thing over and over, or tell
    their own counts, are there from the first count.
    """
    last = atoms[-1] if len(places) > 1 and len(atoms) > 1 else None
    if last is None or not last.posture or any(a.arms_only for a in atoms[:-1]):
        return None
    wants = [w for a in atoms[:-1] for s in a.choices[0] for w in s.wants]
    alike = len({w.verb for w in wants} - {"hold"}) == 1 and (
        sum(len(a.choices[0]) for a in atoms[:-1]) > 1 or all(w.goes_on for w in wants)
    )
    return last if alike or any(a.at for a in atoms[:-1]) else None


def _left_to(rest: Sequence[Atom], timed: Sequence[Atom], places: Sequence[Fraction]) -> list[Fraction]:
    """ "A floor circle for three counts, home on 4": the counts that no other step has, where they are enough."""
    taken = {p for a in timed if not (a.arms_only or a.holds) for p in a.at}
    free = [p for p in places if p not in taken]
    return free if sum(len(a.choices[0]) for a in rest) <= len(free) else list(places)


def _hands_over_feet(rest: Sequence[Atom], places: Sequence[Fraction], laid: Laid) -> Laid:
    """ "Side rock, recover (arms out, then in)": hands told behind the feet, one by one, lie over the same counts."""
    first = next((i for i, a in enumerate(rest) if a.arms_only), 0)
    feet, hands = list(rest[:first]), list(rest[first:])
    if not feet or len(hands) < 2 or not all(a.arms_only for a in hands):
        return laid
    at = [at for at, slot, _ in laid.at for hand in slot.hands if hand.side in ("", "both")]
    heard = any(h.gesture in STRUCK for a in hands for s in a.choices[0] for h in s.hands)
    if heard or not (laid.problem or len(set(at)) < len(at)):
        return laid
    below, above = (_lay_main(part, list(places), ranged=True) for part in (feet, hands))
    if below.problem or above.problem or len(above.at) != len(places):
        return laid
    below.at += above.at
    return below


def otherwise(atoms: Sequence[Atom], places: tuple[Fraction, ...], laid: Laid) -> tuple[tuple[Fraction, ...], Laid]:
    """ "1+2", "counts 5 and 6": two counts or three moments, as the steps need; return places and what lies on them."""
    wholes = tuple(p for p in places if p.denominator == 1)
    halves = tuple(sorted({*wholes, *(p + Fraction(1, 2) for p in wholes[:-1])}))
    told = laid.moments if laid.problem else sum(len(a.choices[0]) for a in atoms if not a.at)
    for other in (wholes, halves):
        if other != places and len(other) == told and (laid.problem or other is wholes):
            again = lay(atoms, other, ranged=False)
            if not again.problem:
                return other, again
    return places, laid


def _nothing(places: Sequence[Fraction]) -> Laid:
    return Laid(moments=len(places))


def _beside_feet(atom: Atom, main: Sequence[Atom]) -> bool:
    """ "March right, left, right, left and clap four times": once a count beside the feet."""
    feet = sum(len(a.choices[0]) for a in main if not a.arms_only and not a.holds)
    struck = all(slot.hands and slot.hands == atom.choices[0][0].hands for slot in atom.choices[0])
    return atom.arms_only and struck and feet == len(atom.choices[0]) and atom.join in ("and", "with")


def _struck(atom: Atom, main: Sequence[Atom], counts: int, *, ranged: bool) -> bool:
    """ "Clap on 5, 6, 7", "5-6 Claps": what is struck is struck on every count that is told one by one, or in the
    plural.
    """
    if len(atom.choices[0]) != 1 or (ranged and not atom.many and counts < 3):
        return False
    if atom.many and len(main) == 1:
        return True
    if ranged:
        return atom.arms_only and len(main) == 1 and all(h.gesture in STRUCK for h in atom.choices[0][0].hands)
    wants = atom.choices[0][0].wants
    if len(wants) == 1 and wants[0].verb == "touch" and not atom.lasts:  # "tap the right toe, 5, 6, 7, 8"
        return counts > 2 and all(a is atom or a.arms_only for a in main)
    hands = atom.choices[0][0].hands if len(main) == 1 and atom.arms_only else ()
    return bool(hands) and all(h.gesture in STRUCK for h in hands)


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
        lay_once(laid, place, slots[i % len(slots)], atom)


def _lay_main(atoms: list[Atom], places: list[Fraction], *, ranged: bool, seated: bool = False) -> Laid:
    each = apiece_on(atoms, places) if atoms[0].apiece else None
    if each is not None:
        return each
    n = len(places)
    shares = all_shares(atoms)
    lengths = said_lengths(atoms, places)
    if lengths is not None:
        return lengths
    rows: Rows = []
    for row, way in ways_of(atoms, shares):
        rows.append((row, way))
        if len(row) == n:
            each = one_each(row, places)
            each.once = _told_once(atoms, way)
            return each
    case = Case(atoms, shares, rows, places, ranged, seated)
    for attempt in (*ATTEMPTS, by_name_told):
        laid = attempt(case)
        if laid is not None:
            return laid
    return misfit(rows[0][0], places)


def _told_once(atoms: Sequence[Atom], way: tuple[int, ...]) -> bool:
    """ "Heel, together, heel, together x2" on four counts: the counts leave no room for the second time."""
    last = atoms[-1]
    return len(atoms) > 1 and last.times > 1 and bool(last.choices[way[-1]]) and way[-1] >= len(last.choices) // 2
