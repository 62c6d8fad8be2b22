"""Rows of hands: what is told behind the last of them, and is said of all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.hand_clauses import is_posture
from softshoe.wording.phrase import Phrase
from softshoe.wording.plurals import several

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Hand

ONE_WAY = ("forward", "up", "back", "down", "across front")
OTHER = {"R": "L", "L": "R"}


class HandRows(Phrase):
    """What a clause says of the hands told before it."""

    def _when(self, draft: Draft, atom: Atom) -> None:
        """Tell through what the hands go on: the section, a posture, each of some steps."""
        atom.whole, atom.many = draft.whole, several(draft)
        atom.posture = is_posture(draft, atom)
        if draft.on:
            atom.on_verb, atom.whole = draft.on, True
        self._over_again(draft, atom)
        if draft.upon:
            atom.on_verb, atom.each = draft.upon, False

    def _over_again(self, draft: Draft, atom: Atom) -> None:
        """ "Drum R, L x2": the times behind the last of a row may be for all of it."""
        if (
            draft.times > 1
            and draft.hands in (["R"], ["L"])
            and self.atoms
            and self.atoms[-1].arms_only
            and len(atom.choices) == 1
        ):
            once = len(atom.choices[0]) // draft.times
            atom.choices, atom.times = [atom.choices[0], atom.choices[0][:once]], draft.times  # "R, L x2": or all of it

    def _like_the_last(self, place: str, side: str = "") -> None:
        """ "Pat, pat, pat with both hands on the thighs": what stands behind the last of a row is for all of it."""
        *row, last = self.atoms
        what = [h.gesture for s in last.choices[0] for h in s.hands]
        for atom in reversed(row):
            hands = [h for s in atom.choices[0] for h in s.hands]
            if not atom.arms_only or [h.gesture for h in hands] != what or any(h.place for h in hands):
                return
            alike = tuple(h._replace(place=place, side=side or h.side) for h in hands)
            atom.choices = [tuple(s._replace(hands=alike) for s in c) for c in atom.choices]

    def _all_that_way(self, draft: Draft) -> bool:
        """ "Punch right, left, right, left, all forward": a way alone behind a row of single hands."""
        named = draft.doing or draft.feet or draft.hands or draft.place or draft.part or len(draft.dirs) != 1
        hands = [h for s in self.atoms[-1].choices[0] for h in s.hands] if self.atoms and not named else []
        if len(hands) != 1 or hands[0].side not in OTHER or hands[0].toward or draft.dirs[0] not in ONE_WAY:
            return False
        return draft.join == "seq" and self._that_way(hands[0]._replace(toward=draft.dirs[0]))

    def _that_way(self, last: Hand) -> bool:
        """ "Punch R, L, R, L forward": the way behind the last of a row of hands is that of all; whether it was."""
        row: list[Atom] = []
        for atom in reversed(self.atoms):
            hands = [h for s in atom.choices[0] for h in s.hands]
            if not atom.arms_only or not hands or any(h.gesture != last.gesture for h in hands):
                break
            if any(h.toward for h in hands) and atom is not self.atoms[-1]:
                break
            row.append(atom)
        for atom in row if last.toward in ONE_WAY else ():
            atom.choices = [
                tuple(s._replace(hands=tuple(h._replace(toward=last.toward) for h in s.hands)) for s in c)
                for c in atom.choices
            ]
        return len(row) > 1
