"""Drafts become atoms: what each clause asks of feet and hands, with what a clause leaves out taken from the one
before.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.armwords import arms_atom, gesture_of
from softshoe.wording.ellipsis import filled, full_turn, hips, with_turns
from softshoe.wording.footwords import foot_atom, with_draft
from softshoe.wording.patternwords import pattern_atom

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Hand, Want

STILL = ("clap", "snap", "pat", "rest")  # gestures that no place alone goes on with
IDLE = ("move", "moving", "go", "take", "taking", "return", "set", "put")


class Builder:
    """Builds the atoms of one item, clause by clause; remembers what later clauses lean on."""

    def __init__(
        self, *, hand: str = "", before: Draft | None = None, hand_before: Hand | None = None, last: str = ""
    ) -> None:
        self.atoms: list[Atom] = []
        self.before = before  # the last clause for the feet
        self.hand_before = hand_before
        self.hand_side = hand
        self.carried: Draft | None = None  # a heading clause, for what stands under it
        self.last = last
        self.run = 0  # the atom that the present run of feet began with
        self.absorb: list[str] = []  # feet that a pattern still names

    def build(self, drafts: list[Draft]) -> list[Atom]:
        """Return the atoms of the drafts."""
        drafts = with_turns(drafts)
        for i, draft in enumerate(drafts):
            ahead = drafts[i + 1] if i + 1 < len(drafts) else None
            if draft.bare and draft.at and ahead is not None and not ahead.at and not ahead.bare:
                ahead.at = draft.at  # "on 6 and on 8, clap"
                continue
            if self._turn_and_step(draft, ahead):
                continue
            self._one(draft, ahead)
        for one, two in zip(self.atoms, self.atoms[1:], strict=False):
            if two.at and not one.at and one.arms_only and two.join in ("and", "with"):
                one.at = two.at  # "clap and click on 4"
        return self.atoms

    def _turn_and_step(self, draft: Draft, ahead: Draft | None) -> bool:
        """ "Turn a quarter right and step right to the side" is one step with its turn."""
        if ahead is None or not draft.amount or draft.doing or draft.feet or draft.dirs or draft.weight:
            return False
        if (
            ahead.join not in ("and", "with")
            or ahead.amount
            or ahead.doing != "verb"
            or ahead.value not in ("step", "rock", "stomp", "ball")
        ):
            return False
        ahead.amount, ahead.spin, ahead.join = draft.amount, draft.spin, draft.join
        return True

    def _one(self, draft: Draft, ahead: Draft | None) -> None:
        if draft.quiet and not draft.arms and not draft.doing:
            return
        draft = hips(self._meant(draft))
        if draft.alternate and draft.feet == ["both"] and draft.part:
            draft = replace(draft, feet=[])  # "knees lift alternately"
        if (
            draft.each
            and self.atoms
            and draft.doing in ("dual", "gest", "draw")
            and not (draft.hands or draft.feet or draft.dirs)
        ):
            self.atoms[-1].each = True  # "one circle a count"
        elif self._told_again(draft):
            self._remark(replace(draft, times=1, doing=""))
        elif draft.bare or self._idle(draft):
            self._remark(draft)
        elif draft.heading and self._context(draft):
            self.carried = draft
        elif self._absorbed(draft) or self._recovered(draft) or self._elaborates(draft):
            return
        elif draft.arms or self._arms_go_on(draft):
            self._arms(draft, ahead)
        else:
            self._feet(draft, ahead)

    def _told_again(self, draft: Draft) -> bool:
        """ "Draws a circle at chest height, one slow circle": the noun tells the movement before once more."""
        named = draft.feet or draft.dirs or draft.part or draft.hands or draft.place or draft.amount
        last = self.atoms[-1] if self.atoms else None
        if last is None or named or draft.value != "circle" or draft.tokens[0].kind not in ("num", "fill"):
            return False
        moved = last.choices[0][-1] if last.choices[0] else None
        return moved is not None and (
            any(h.gesture == "circle" for h in moved.hands) or any(w.verb == "sweep" for w in moved.wants)
        )

    def _idle(self, draft: Draft) -> bool:
        """ "One smooth move", "take your time": a general word without foot or place asks for nothing."""
        named = draft.feet or draft.dirs or draft.part or draft.amount or draft.hands or draft.dir or draft.place
        return (
            draft.doing == "verb"
            and draft.value == "step"
            and not named
            and draft.tokens_say(*IDLE)
            and bool(self.atoms)
        )

    def _meant(self, draft: Draft) -> Draft:
        """ "Lift both heels, lower them": "them" and "it" are what moved last, feet or hands."""
        carried = draft.doing == "dual" or (draft.doing == "verb" and draft.value in ("step", "drag") and not draft.dir)
        it = draft.feet == ["same"] and not any(t.text.casefold().endswith("foot") for t in draft.tokens)
        if it and not draft.hands and not draft.part and self.last == "hands" and carried:
            return replace(draft, hands=["same"], feet=[])
        if draft.hands != ["same"] or self.last != "feet" or self.before is None or draft.doing not in ("dual", "verb"):
            return draft
        return replace(draft, hands=[], feet=list(self.before.feet) or ["same"], part=draft.part or self.before.part)

    def _context(self, draft: Draft) -> bool:
        """A clause before a colon without a doing word says of whom the rest speaks ("R arm only:", "both feet
        travel:").
        """
        if draft.doing:
            return False
        if draft.arms and not draft.dirs and not draft.place:
            self.hand_side = next((h for h in draft.hands if h in ("R", "L", "both")), self.hand_side)
        return True

    def _remark(self, draft: Draft) -> None:
        """Weight, facing, counts, times said behind a comma or in brackets belong to what stands before."""
        if not self.atoms:
            return
        with_draft(self.atoms[-1], draft)

    def _absorbed(self, draft: Draft) -> bool:
        """ "Shuffle forward right, left, right": the feet that follow a pattern are its own, told once more."""
        only_side = len(draft.feet) == 1 and not (draft.doing or draft.part or draft.hands or draft.amount)
        only_side = only_side and draft.dirs in ([], ["in place"])
        if not only_side or not self.absorb:
            self.absorb = []
            return False
        if draft.feet[0] != self.absorb[0]:
            self.absorb = []
            return False
        self.absorb = self.absorb[1:]
        with_draft(self.atoms[-1], draft)
        return True

    def _recovered(self, draft: Draft) -> bool:
        """ "Back rock left, recover right": the pattern has its recover already."""
        last = self.atoms[-1] if self.atoms else None
        if last is None or not last.name or draft.value != "recover" or draft.amount or not last.choices[0][-1].wants:
            return False
        if last.choices[0][-1].wants[-1].verb != "recover":
            return False
        with_draft(last, draft)
        return True

    def _elaborates(self, draft: Draft) -> bool:
        """Steps in brackets behind a pattern tell it once more; they only stand in where the pattern can't."""
        if not draft.grouped or not self.atoms or not self.atoms[-1].name or draft.arms:
            return False
        atom = self.atoms[-1]
        told = foot_atom(filled(draft, self.before))
        if told is None or not told.choices[0]:
            return False
        atom.choices[0:0] = []
        atom.told = (*atom.told, *told.choices[0])
        if draft.facing is not None:
            atom.facings.append((draft.facing, draft.facing_at))
        self.before = draft
        return True

    # hands

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
        from softshoe.wording.armwords import KEEPS_HEIGHT

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

    def _facing(self, draft: Draft, atom: Atom) -> None:
        if draft.facing is not None:
            atom.facings.append((draft.facing, draft.facing_at))

    # feet

    def _feet(self, draft: Draft, ahead: Draft | None) -> None:
        draft = full_turn(self._under_heading(filled(draft, self.before)))
        atom = pattern_atom(draft) if draft.doing == "pattern" else foot_atom(draft)
        if atom is None:
            return
        if draft.doing == "pattern":
            self.absorb = self._feet_told(atom, draft)
        if draft.heading or self._is_template(draft, ahead):
            atom.choices = [*atom.choices, ()]
            atom.heading = draft.heading
            if draft.heading:
                self.carried = draft
        if (
            draft.doing == "draw"
            and ahead is not None
            and ahead.dirs
            and not ahead.doing
            and not ahead.feet
            and not ahead.hands
        ):
            atom.choices = [
                tuple(replace(s, wants=tuple(replace(w, dir=ahead.dirs[-1]) for w in s.wants)) for s in c)
                for c in atom.choices
            ]
            ahead.dirs.clear()
        self._facing(draft, atom)
        self._way_of_all(draft)
        if draft.tokens and draft.doing == "verb" and any(t.kind == "verb" for t in draft.tokens):
            self.run = len(self.atoms)
        self.atoms.append(atom)
        if draft.value != "hold":
            self.last = "feet"
            self.before = draft

    def _way_of_all(self, draft: Draft) -> None:
        """ "Walk right, left, right, left on the spot": a place behind the last foot is for the whole run."""
        before = self.before
        if before is None or draft.doing or draft.part or draft.dirs not in (["in place"], ["back"], ["forward"]):
            return
        if len(draft.feet) != 1 or before.doing != "verb" or before.value != "step" or before.dirs:
            return

        def there(want: Want) -> Want:
            return replace(want, dir=draft.dirs[0])

        for atom in self.atoms[self.run :]:
            atom.choices = [tuple(replace(s, wants=tuple(map(there, s.wants))) for s in c) for c in atom.choices]

    def _under_heading(self, draft: Draft) -> Draft:
        """ "Both feet travel to the right: heels, toes": the heading lends its way; "left rocking chair: rock …" its
        foot.
        """
        head = self.carried
        if head is None:
            return draft
        if draft.part and not draft.dirs and head.dirs and not head.doing:
            return replace(draft, dirs=list(head.dirs))
        if head.part and not head.doing and draft.dirs and not (draft.doing or draft.feet or draft.part):
            return replace(draft, part=head.part, feet=list(head.feet))
        if not draft.feet and head.feet and head.feet[0] in ("L", "R"):
            self.carried = None
            return replace(draft, feet=head.feet[:1])
        if head.doing:
            self.carried = None
        return draft

    def _is_template(self, draft: Draft, ahead: Draft | None) -> bool:
        """ "Stamp four times, right, left, right, left"."""
        if draft.feet or ahead is None or draft.doing != "verb":
            return False
        return len(ahead.feet) == 1 and not ahead.doing and not ahead.dirs and not ahead.part and not ahead.hands

    def _feet_told(self, atom: Atom, draft: Draft) -> list[str]:
        """Return the feet that a pattern uses behind those named already."""
        feet = [w.foot for s in atom.choices[0] for w in s.wants]
        named = len(draft.feet)
        if named == 1 and len(feet) > 1:
            return [f or "" for f in feet[1:]]
        if not named and len(feet) > 1:
            return [f or "" for f in feet]
        return []


Context = tuple["Draft | None", "Hand | None", str]
NOTHING: Context = (None, None, "")


def atoms_of(drafts: list[Draft], *, hand: str = "", context: Context = NOTHING) -> tuple[list[Atom], Context]:
    """Return the atoms of a line's drafts and what the next words of the line may lean on.

    ``hand`` is the hand meant where none is named; ``context`` what the words before, on the same line, have left.
    """
    builder = Builder(hand=hand, before=context[0], hand_before=context[1], last=context[2])
    return builder.build(drafts), (builder.before, builder.hand_before, builder.last)


def after_stop(context: Context) -> Context:
    """Return what is left of the context behind a full stop: who moved, but no height."""
    before, hand, last = context
    return before, (replace(hand, place="") if hand is not None else None), last
