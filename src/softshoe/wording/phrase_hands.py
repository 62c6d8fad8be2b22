"""Clauses for the hands become atoms: gestures, their places, hands named behind them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.armwords import KEEPS_HEIGHT, arms_atom, gesture_of
from softshoe.wording.phrase import Phrase

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Hand

STILL = ("clap", "snap", "pat", "rest")  # gestures that no place alone goes on with


class HandPhrases(Phrase):
    """What a clause asks of the hands."""

    def _arms_go_on(self, draft: Draft) -> bool:
        """Only a place or a side behind a clause for the hands goes on with the hands."""
        last = self.atoms[-1] if self.atoms else None
        if last is None or not last.arms_only or draft.part or draft.amount:
            return False
        if last.choices[0] and last.choices[0][-1].hands and last.choices[0][-1].hands[-1].gesture in STILL:
            return False
        if draft.feet and draft.dirs:
            return False
        if draft.doing == "dual" and draft.feet in ([], ["same"]):
            return True
        if draft.doing == "verb" and draft.value in ("drag", "step") and "same" in (draft.feet or draft.hands):
            return True
        if draft.doing:
            return False
        return (bool(draft.dirs) or draft.feet in (["R"], ["L"])) and not any(f == "both" for f in draft.feet)

    def _arms(self, draft: Draft, ahead: Draft | None) -> None:
        gesture = gesture_of(draft)
        if self._joins_hands(draft, gesture):
            return
        if self._only_place(draft):
            return
        if (
            gesture == "pat"
            and not draft.place
            and "same" in draft.feet
            and self.before is not None
            and self.before.part == "knee"
        ):
            draft = replace(draft, place="knee")
        before = self.hand_before
        if not gesture and before is None:
            self.hand_side = next((h for h in draft.hands if h in ("R", "L", "both")), self.hand_side)
            return
        atom = arms_atom(draft, before, self.hand_side)
        last_hand = atom.choices[0][-1].hands[-1] if atom.choices[0] and atom.choices[0][-1].hands else None
        self._template(draft, ahead, atom)
        if draft.handword.startswith("palm") and before is not None and not draft.doing:
            atom.choices = [(), *atom.choices]
        if draft.heading:
            atom.choices.append(())
            atom.heading = True
        self._facing(draft, atom)
        self.atoms.append(atom)
        self.last = "hands"
        self.hand_before = last_hand
        if gesture and last_hand is not None and not last_hand.place and before is not None:
            self._height(atom, before)

    def _only_place(self, draft: Draft) -> bool:
        """ "…, level with the shoulders": a place alone belongs to the gesture before."""
        last = self.atoms[-1] if self.atoms else None
        if (
            last is None
            or not last.arms_only
            or draft.hands
            or draft.dirs
            or draft.doing
            or draft.feet
            or not draft.place
        ):
            return False

        def placed(hand: Hand) -> Hand:
            return hand if hand.place else replace(hand, place=draft.place)

        last.choices = [tuple(replace(s, hands=tuple(map(placed, s.hands))) for s in c) for c in last.choices]
        return True

    def _height(self, atom: Atom, before: Hand) -> None:
        """A height said earlier in the sentence holds for the rest of it."""

        def high(hand: Hand) -> Hand:
            return replace(hand, place=before.place) if hand.gesture in KEEPS_HEIGHT and not hand.place else hand

        if before.place not in ("lap", "thigh", "hip", "knee", "foot"):
            atom.choices = [tuple(replace(s, hands=tuple(map(high, s.hands))) for s in c) for c in atom.choices]
            self.hand_before = atom.choices[0][-1].hands[-1] if atom.choices[0] else before

    def _joins_hands(self, draft: Draft, gesture: str) -> bool:
        """ "Pat it with both hands": hands named behind "with" are those of the gesture before."""
        last = self.atoms[-1] if self.atoms else None
        if (
            last is None
            or not last.arms_only
            or draft.join != "with"
            or draft.doing
            or draft.dirs
            or gesture not in ("", "rest")
        ):
            return False
        self._only_place(replace(draft, hands=[], doing="", feet=[]))
        side = next((h for h in draft.hands if h in ("R", "L", "both")), "")
        if side:
            last.choices = [
                tuple(replace(s, hands=tuple(replace(h, side=side) for h in s.hands)) for s in c) for c in last.choices
            ]
        return True

    def _template(self, draft: Draft, ahead: Draft | None, atom: Atom) -> None:
        """ "Punch forward, right, left, right, left": the first clause may only say how, the others when."""
        listed = ahead is not None and bool(ahead.hands or ahead.feet) and not (ahead.doing or ahead.part or ahead.dirs)
        if listed and not draft.hands and not draft.feet and draft.doing == "gest":
            atom.choices.append(())
