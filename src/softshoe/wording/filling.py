"""Counts filled: what lies on them danced, hands laid over them; what does not fit is told."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.places import Direction
from softshoe.wording.copies import Copier, unlaid
from softshoe.wording.each_home import AWAY, HOME, done
from softshoe.wording.laying import lay

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action, Span
    from softshoe.wording.laid import Laid
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Atom, Slot
    from softshoe.wording.stage import Ready

ONCE = "The times said at the end can be for the last step or for the whole line; the counts leave room for once."


class Filler(Copier):
    """Fills the counts of an item with what its words have laid on them."""

    def _is_overlay(self, one: Ready) -> bool:
        if one.item.label is None:
            return self.feet is not None and not one.follows
        if not one.places or one.places[-1] > self.cursor:
            return False
        return one.item.limb == "arms" or not self._armed(one.places)

    def _armed(self, places: Sequence[Fraction]) -> bool:
        """Return whether these counts are filled by hands alone already."""
        there = [a for a in self.stage.danced(min(places), max(places) + 1) if a.at.at in places]
        return bool(there) and all(a.foot is None and a.arms for a in there)

    def _dance(self, one: Ready, places: list[Fraction], ahead: list[Slot]) -> None:
        laid = one.laid
        if laid is None:
            for p in places:
                if p.denominator == 1:
                    self._hold(p, one.item.line, one.span)
            if any(t.kind not in ("mark", "quiet", "fill") for t in one.item.tokens):
                self._unfilled(one, places)
            return
        if laid.problem:
            self._misfit(one, laid, places)
        else:
            self._miscounted(one, places)
        if laid.once:
            self.stage.dancer.choose(
                one.item.line, places[0], ONCE, "Give it the counts of both times, or take it out."
            )
        entries = sorted(
            (e for e in laid.at if e[0] in places or not one.item.label or e[0] > places[0] - 1), key=lambda e: e[0]
        )
        slots = [slot for _, slot, _ in entries]
        one.lost = _lost(one, laid, slots)
        for k, (at, slot, atom) in enumerate(entries):
            if k and at == entries[k - 1][0] and not slot.wants:
                self._over(at, slot)
                self._facings(atom, entries, k, at)
                continue
            self._slot(at, slot, atom, [*slots[k + 1 : k + 4], *ahead])
            self._facings(atom, entries, k, at)
        self._on_each_above(one, laid, places)
        self._upon(one, places)
        if any(atom.same_arms for atom in one.atoms):
            self._same_arms(one, places)
        filled = {at.numerator for at, _, _ in entries if at.denominator == 1}
        for p in places:
            if p.denominator == 1 and p.numerator not in filled:
                self._hold(p, self._line_at(entries, p, one.item.line), one.counted)

    def _on_each_above(self, one: Ready, laid: Laid, places: list[Fraction]) -> None:
        """ "(clap on each touch)" behind a line that has but one: on those of the section's lines above as well."""
        for atom in one.atoms:
            if not (atom.on_verb and atom.whole) or sum(entry[2] is atom for entry in laid.at) != 1:
                continue
            below = [a for a in self.stage.actions if self.start < a.at.at < places[0]]
            above = [a for a in below if atom.on_verb not in (HOME, AWAY) and done(a.verb, "", atom.on_verb)]
            for action in above:
                if not action.arms and action.at.at not in self.stage.hands:
                    self._over(action.at.at, atom.choices[0][0])

    def _upon(self, one: Ready, places: Sequence[Fraction], *, verbs: bool = False) -> None:
        """ "Clap on every right", "hands: push on every heel": hands on those of the steps that are danced there.

        ``verbs``: also those that name what is done; else only those that name a foot, or the way home.
        """
        for atom in one.atoms:
            if not atom.on_verb or not (verbs or atom.on_verb.startswith("@")) or not places:
                continue
            danced = [a for a in self.stage.actions if places[0] <= a.at.at < places[-1] + 1]
            there = {a.at.at for a in danced if _is(a, atom.on_verb, a.at.at - self.start)}
            there = {places[-1]} if atom.on_verb == "@last" else there
            for at in sorted(there):
                self._over(at, atom.choices[0][0])
            if not there:
                one.lost.append(atom.span)

    def _line_at(self, entries: list[tuple[Fraction, Slot, Atom]], at: Fraction, usual: int) -> int:
        before = [atom.line for when, _, atom in entries if when < at]
        return before[-1] if before else usual

    def _slot(self, at: Fraction, slot: Slot, atom: Atom, ahead: list[Slot]) -> None:
        del atom
        self.stage.actions += self.stage.dancer.do(slot, at, ahead)

    def _misfit(self, one: Ready, laid: Laid, places: list[Fraction]) -> None:
        kind = "steps-per-count"
        more = laid.moments > len(places)
        mend = (
            "Give the quick steps an “&”, or take a movement out."
            if more
            else "Say what fills the other counts, or “hold”."
        )
        self.stage.tell("error", kind, one.item.line, places[0], f"{laid.problem[0].upper()}{laid.problem[1:]}.", mend)

    def _miscounted(self, one: Ready, places: list[Fraction]) -> None:
        """A pattern's own list of feet that is too short or too long for it."""
        for listed, steps in filter(None, (atom.miscounted for atom in one.atoms)):
            self.stage.tell("error", "steps-per-count", one.item.line, places[0],
                            f"The pattern has {steps} steps; {listed} feet are listed for it.",
                            f"List {steps} feet, or none.")  # fmt: skip

    def _unfilled(self, one: Ready, places: list[Fraction]) -> None:
        if one.item.unknown or not one.atoms:
            self.stage.unread.append((one.item.line, as_written(one.item.tokens)))

    def _overlay(self, one: Ready) -> None:
        under = self.feet
        places = list(one.places) or (list(under.places) if under is not None else [])
        said = [p for a in one.atoms for p in a.at]
        if (
            not one.places
            and said
            and all(a.at for a in one.atoms)
            and self.start < min(said) <= max(said) <= self.cursor
        ):
            places = [Fraction(n) for n in range(self.start + 1, int(self.cursor) + 1)]  # counts of the section
        if not one.places and self._through(one, len(places)):
            places = [Fraction(n) for n in range(self.start + 1, int(self.cursor) + 1)]
        wholes = [p for p in places if p.denominator == 1] or places
        if wholes and one.repeat is not None and one.repeat.at and not one.places:
            self._copy_hands(one, one.repeat, [p + self.shift for p in one.repeat.at])  # "repeat on 5 to 8"
        elif wholes and one.repeat is not None:
            self._copy_hands(one, one.repeat, wholes)
        if not wholes or not one.atoms:
            return
        waiting = [a for a in one.atoms if a.on_verb in (HOME, AWAY)]
        told = [a for a in waiting if self._over_those(a, self._so_far_danced(one, wholes))]
        upon = [a for a in one.atoms if a.on_verb and a not in waiting and not one.item.label]
        if upon:
            self._upon(one, [Fraction(self.start + 1), self.cursor], verbs=True)
        atoms = [a for a in one.atoms if a not in told and a not in upon]
        if not atoms:
            return
        laid = lay(atoms, wholes, ranged=True)
        if laid.problem and len(places) != len(wholes):
            laid = lay(atoms, places, ranged=True)
        one.lost += unlaid(atoms, [slot for _, slot, _ in laid.at])
        for at, slot, _ in laid.at:
            self._over(at, slot)

    def _so_far_danced(self, one: Ready, places: list[Fraction]) -> list[Fraction]:
        """Return the counts that hands without a count of their own are told of: all of the line they stand on."""
        if one.places:
            return places
        return [Fraction(n) for n in range(self.start + 1, int(self.cursor) + 1)]

    def _through(self, one: Ready, length: int) -> bool:
        """Return whether hands without a count are for the whole section ("throughout", "as in section 2")."""
        if one.repeat is not None and (one.repeat.sections or one.repeat.whole_section):
            return True
        filled = int(self.cursor) - self.start
        return any(a.whole or (length < (a.counts or 0) == filled) for a in one.atoms)


def _lost(one: Ready, laid: Laid, slots: list[Slot]) -> list[Span]:
    """Return the clauses that found no count."""
    if laid.problem or one.item.given is not None:
        return []
    return unlaid([a for a in one.atoms if not a.on_verb.startswith("@")], slots)


HOMES = (Direction.CENTRE, Direction.TOGETHER, Direction.IN_PLACE)


def _is(action: Action, on: str, count: Fraction) -> bool:
    """Return whether a step, on a count of its section, is one of those that hands are told to move on."""
    if on in ("@odd", "@even"):
        return count.denominator == 1 and count.numerator % 2 == (on == "@odd")
    if on == "@home":
        return action.verb == "step" and action.dir in HOMES
    if on.startswith("@"):
        return action.foot is not None and action.foot.value == on[1:]
    return action.verb == on or (on == "touch" and action.verb == "point")


def as_written(tokens: Sequence[Token]) -> str:
    """Return the words of one line as they stand there."""
    out, end = "", tokens[0].start if tokens else 0
    for token in tokens:
        out += " " * min(token.start - end, 1) + token.text
        end = token.end
    return out
