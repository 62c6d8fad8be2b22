"""Clauses for the hands become atoms: gestures, their places, hands named behind them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.armwords import BODY, KEEPS_HEIGHT, arms_atom, gesture_of
from softshoe.wording.hand_clauses import as_the_other, closes, comes_to_a_place, goes_up, only_side, tells_where
from softshoe.wording.hand_rows import HandRows
from softshoe.wording.parts import Slot

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Hand

REPEATED = ("pat", "clap", "snap", "drum")
OTHER = {"R": "L", "L": "R"}
STRIKES = ("clap", "snap", "pat", "drum")
UNPLACED = ("clap", "snap")
BACK_FROM = {
    "close": ("open", "raise", "reach", "sweep"),
    "open": ("close", "cross"),
    "lower": ("raise", "reach", "open", "push", "lower"),
    "raise": ("lower", "rest", "raise"),
}  # what takes a gesture back -> the gestures
GOING_ROUND = ("circle", "roll")
HAND_WAYS = frozenset(("forward", "up", "back", "down", "out", "in", "side", "right", "left", "across front"))
TO_AND_FRO = ("sweep", "swing", "wave", "reach", "push", "circle")  # both arms go to a side together
CARRIED = (*TO_AND_FRO, "pull", "rest", "lower")  # both hands have moved there: a side is where they go next
STILL = ("clap", "snap", "pat", "rest")  # gestures that no place alone goes on with


SAID_BARE = frozenset(
    ("place", "times", "num", "again", "mark", "fill")
)  # "thighs x2": no hand is laid "on the thighs"
PARTED = ("open", "raise")
LEFT_HOME = ("reach", "push", "punch", "raise", "open", "point", "wave", "sweep", "circle")


class HandPhrases(HandRows):
    """What a clause asks of the hands."""

    def _arms_go_on(self, draft: Draft) -> bool:
        """Only a place or a side behind a clause for the hands goes on with the hands."""
        last = self.atoms[-1] if self.atoms else None
        if last is None:
            return self._next_place(draft)
        if not last.arms_only or draft.part or draft.amount or self._foot_comes_home(draft, last):
            return False
        if (
            draft.feet
            and set(draft.feet) <= {"R", "L", "both"}
            and not (draft.doing or draft.dirs)
            and self._one_by_one()
        ):
            return True
        if last.choices[0] and last.choices[0][-1].hands and last.choices[0][-1].hands[-1].gesture in STILL:
            return False
        if draft.feet and draft.dirs:
            return self._hand_by_hand(draft)
        if draft.doing == "dual" and draft.feet in ([], ["same"]):
            return True
        if draft.doing == "verb" and draft.value in ("drag", "step") and "same" in (draft.feet or draft.hands):
            return True
        if draft.doing:
            return False
        return (bool(draft.dirs) or draft.feet in (["R"], ["L"])) and not any(f == "both" for f in draft.feet)

    def _foot_comes_home(self, draft: Draft, last: Atom) -> bool:
        """ "Step right to the side and push both hands forward, home and pull back": the foot comes home."""
        there = draft.dirs == ["centre"] and not (draft.hands or draft.doing or draft.feet)
        beside = last.join in ("and", "with", "plus") and len(self.atoms) > 1 and not self.atoms[-2].arms_only
        return there and beside and self.before is not None and self.before.dirs[-1:] != ["centre"]

    def _hand_by_hand(self, draft: Draft) -> bool:
        """ "Punch right, left forward", "push right forward, left forward, both up": the next side is the next hand."""
        hands = self.atoms[-1].choices[0][-1].hands if self.atoms[-1].choices[0] else ()
        plain = not draft.doing and len(draft.feet) == 1 and set(draft.dirs) <= HAND_WAYS
        return plain and any(h.side in OTHER for h in hands) and all(t.kind != "foot" for t in draft.tokens)

    def _of_the_hands(self, draft: Draft) -> Draft:
        """ "Arms open wide. Close, …", "hug, hold, open": said of no foot, it is of what the hands did."""
        moved = self.hand_before if self.last == "hands" else self.across if not self.atoms else None
        if moved is not None and comes_to_a_place(draft):
            dirs = draft.dirs or ["back"]
            return replace(draft, doing="", value="", hands=[moved.side or "both"], handword="hands", dirs=dirs)
        named = draft.hands or draft.part or draft.amount or draft.refs or any(t.kind == "foot" for t in draft.tokens)
        if moved is None or named or len(draft.feet) > 1 or draft.feet == ["both"]:
            return draft
        does = draft.value if draft.doing in ("dual", "gest") else "close" if closes(draft) else ""
        toward = not draft.doing and not draft.feet and draft.tokens_say("towards you", "toward you", "away from you")
        if draft.dir == "across front" and not draft.feet and moved.side == "both" and moved.gesture in PARTED:
            return replace(draft, hands=["same"])  # "open both arms, cross them; open and cross once more"
        if (does in BACK_FROM and moved.gesture in BACK_FROM[does]) or (toward and moved.gesture in GOING_ROUND):
            return replace(draft, hands=list(draft.feet) or [moved.side], feet=[], doing=draft.doing or "dual",
                           value=draft.value or moved.gesture)  # fmt: skip
        return draft

    def _next_place(self, draft: Draft) -> bool:
        """ "Reach both arms up (1), out to the sides (2)": behind a count only where the arms go next."""
        before = self.hand_before
        if before is not None and self.last == "hands" and before.side in OTHER and only_side(draft):
            return before.gesture in (*STRIKES, "punch", "push", "reach", "raise", "wave")  # "3 R, 4 L" behind pats
        if before is None or self.last != "hands" or draft.amount or draft.feet not in ([], ["both"], ["same"]):
            return False
        if draft.doing == "verb" and draft.value in ("point", "touch", "drop") and not draft.part:
            return draft.tokens_say("it", "them") and bool(draft.dirs or draft.place)  # "…, point it to the floor"
        if draft.dir == "centre" and draft.tokens_say("uncross", "unfold"):
            return before.gesture == "cross"
        return bool(draft.dirs) and before.gesture not in STILL and not (draft.doing or draft.feet or draft.part)

    def _crosses_arms(self, draft: Draft) -> bool:
        """ "Arms open wide, cross on the chest": arms go on before the chest where no foot is named."""
        there = draft.doing == "verb" and draft.dir == "across front" and draft.place in ("chest", "shoulder")
        return there and self.last == "hands" and not (draft.feet or draft.part)

    def _one_by_one(self) -> bool:
        """Return whether the gesture before may go on hand by hand ("click right, left, both")."""
        last = self.atoms[-1].choices[0]
        return bool(last) and all(h.gesture not in ("clap", "rest", "roll", "cross") for h in last[-1].hands)

    def _arms(self, draft: Draft, ahead: Draft | None) -> None:
        draft, before, told = as_the_other(draft, self.hand_before), self.hand_before, draft
        gesture = gesture_of(draft) if draft.doing or draft.hands or draft.dirs or not self._more_places(draft) else ""
        if self._joins_hands(draft, gesture) or self._only_place(draft) or self._all_that_way(draft):
            return
        if gesture == "rest" and (self._rests_already(draft) or self._closes_on(draft)):
            return
        draft, gesture = self._struck(draft, gesture)
        draft = self._patted_where(self._that_hand(self._swept(draft)), gesture)
        if not gesture and before is None:
            self.hand_side = next((h for h in draft.hands if h in ("R", "L", "both")), self.hand_side)
            return
        atom = arms_atom(draft, before, self.hand_side, None if self.atoms else self.across)
        if draft.repeat == "again" and gesture and not (draft.place or draft.dirs or draft.heading):
            atom.choices = [tuple(_once_again(s) for s in c) for c in atom.choices]
        self._by_turns(draft, atom)
        last_hand = atom.choices[0][-1].hands[-1] if atom.choices[0] and atom.choices[0][-1].hands else None
        self._template(draft, ahead, atom)
        if draft.handword.startswith("palm") and before is not None and not draft.doing:
            atom.choices = [(), *atom.choices]
        if draft.heading:
            atom.choices.append(())
            atom.heading = True
        self._facing(draft, atom)
        self._when(draft, atom)
        self._afterwards(draft, atom)
        beside = draft.join == "with" and self.last == "feet" and bool(self.atoms) and not self.atoms[-1].arms_only
        self.atoms.append(atom)
        self.last = "feet" if beside else "hands"  # "kick right as the arms reach, and set it down"
        self.hand_before = last_hand
        if last_hand is not None and last_hand.side in ("R", "L"):
            self.alone = last_hand.side
        if last_hand is not None and last_hand.toward and draft.feet and not draft.doing:
            self._that_way(last_hand)
        if last_hand is not None and last_hand.place and (last_hand.gesture in REPEATED or _to_a_side(told, last_hand)):
            self._like_the_last(last_hand.place)
        if gesture and last_hand is not None and not last_hand.place and before is not None:
            self._height(atom, before)
        if last_hand is not None and draft.place:
            self.came_to = last_hand.gesture in ("pull", "close") and not draft.tokens_say("chest h", "chest l", "at ")

    def _struck(self, draft: Draft, gesture: str) -> tuple[Draft, str]:
        """ "Thighs, thighs, clap, clap": among claps a bare place is patted."""
        bare = not (draft.hands or draft.doing or draft.dirs) and draft.join != "with" and draft.place in BODY
        hands = [h for a in self.atoms for s in a.choices[0] for h in s.hands]
        own = draft.hands in (["R"], ["L"]) and draft.place == "thigh" and not (draft.doing or draft.dirs)
        if own and gesture == "rest" and sum(t.kind in ("side", "hand") for t in draft.tokens) > 1:
            return replace(draft, doing="gest", value="pat"), "pat"  # "R hand on R thigh"
        struck = self.struck or (draft.place == "thigh" and all(t.kind in SAID_BARE for t in draft.tokens))
        if not (struck and bare and gesture in ("rest", "") and all(h.gesture in STRIKES for h in hands)):
            return draft, gesture
        return replace(draft, doing="gest", value="pat"), "pat"

    def _swept(self, draft: Draft) -> Draft:
        """ "Sweep both arms right for two counts, left for two": a side alone is where the arms go next."""
        before, side = self.hand_before, draft.feet[0] if len(draft.feet) == 1 else ""
        both = draft.hands == ["both"] and draft.doing and gesture_of(draft) in TO_AND_FRO
        goes = before is not None and before.side == "both" and before.gesture in TO_AND_FRO and bool(before.toward)
        goes = goes and not (draft.doing or draft.hands)
        told = draft.doing == "gest" and draft.value in TO_AND_FRO and not (draft.hands or draft.place)
        goes = goes or (told and before is not None and before.side == "both" and before.gesture in CARRIED)
        if not (goes or both) or side not in OTHER or draft.dirs:
            return draft
        return replace(draft, feet=[], dirs=[{"R": "right", "L": "left"}[side]])

    def _patted_where(self, draft: Draft, gesture: str) -> Draft:
        """ "Lift the right knee, pat it", "pat the thighs, clap, pat, clap": a pat is where was patted before."""
        if gesture not in ("pat", "drum"):
            return draft
        lifted = self.before is not None and (self.before.part == "knee" or self.before.value == "hitch")
        if not draft.place and lifted and any(t.low == "it" for t in draft.tokens):
            draft = replace(draft, place="knee")
        draft = draft if draft.place or draft.dirs else replace(draft, place=self.patted)
        self.patted = draft.place
        return draft

    def _by_turns(self, draft: Draft, atom: Atom) -> None:
        """ "Drum on the thighs, right first": the hands take turns, and this one leads."""
        hands = [h for slot in atom.choices[0] for h in slot.hands]
        if [h.gesture for h in hands] != ["drum"] or hands[0].side not in OTHER:
            return
        if not draft.tokens_say("first", "start", "begin", "lead"):
            return
        last = self.atoms[-1] if self.atoms else None
        if last is not None and not draft.doing and last.choices[0][-1].hands and last.arms_only:
            self.atoms.pop()  # what leads is told behind the drumming
        sides = (hands[0].side, OTHER[hands[0].side])
        turns = [Slot(hands=(hands[0]._replace(side=sides[i % 2]),)) for i in range(8)]
        atom.choices = [tuple(turns[:n]) for n in (4, 8, 2, 3, 6, 1, 5, 7)]

    def _rests_already(self, draft: Draft) -> bool:
        """ "Both hands come back to the lap, and rest"."""
        last = self.atoms[-1] if self.atoms else None
        if last is None or draft.join != "and" or draft.place or draft.hands or draft.dirs or not last.arms_only:
            return False
        return all(h.gesture in ("rest", "lower") for s in last.choices[0] for h in s.hands)

    def _closes_on(self, draft: Draft) -> bool:
        """ "Close, hands to the heart": where they close is told behind it."""
        last = self.atoms[-1].choices[0] if self.atoms else ()
        hands = last[-1].hands if last else ()
        plain = draft.join == "seq" and not draft.doing and draft.hands in (["both"], [""])
        if not plain or len(hands) != 1 or hands[0].gesture != "close" or hands[0].place or len(last) > 1:
            return False
        rested = hands[0]._replace(gesture="rest", place=draft.place)
        self.atoms[-1].choices = [(last[0]._replace(hands=(rested,)),)]
        self.atoms[-1].lasts = False
        self.hand_before = rested
        return True

    def _that_hand(self, draft: Draft) -> Draft:
        """ "The same hand", "the other arm": of the last hand that moved alone, or of the foot just told."""
        if draft.hands == [""] and self.hand_before is None and self.alone and not draft.handword.endswith("s"):
            return replace(draft, hands=[self.alone])  # "home, hand to the lap"
        moved = self.hand_before or self.across
        goes_back = draft.place and not (draft.hands or draft.feet or draft.doing) and "back" in draft.dirs
        if goes_back and moved is not None and moved.side in OTHER and moved.gesture in LEFT_HOME:
            return replace(draft, hands=[moved.side])  # "3-4 Back to the lap" below "1-2 Reach the right hand out"
        if draft.hands not in (["same"], ["other"]) or draft.handword in ("them", "they"):
            return draft
        foot = next((f for f in reversed(self.before.feet) if f in ("R", "L")), "") if self.before is not None else ""
        goes = self.last == "feet" and draft.join in ("and", "with", "plus") and gesture_of(draft) in LEFT_HOME
        if draft.hands == ["same"] and goes and foot:
            return replace(draft, hands=[foot])  # "left toe forward and the same arm reaches up"
        if self.hand_before is not None and self.hand_before.side in ("R", "L"):
            return draft
        side = self.alone or foot
        if draft.hands == ["other"]:
            side = {"R": "L", "L": "R"}.get(side, "")
        return replace(draft, hands=[side]) if side else draft

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

        if draft.join in ("seq", "and") and not draft.grouped and self._goes_to(draft):
            return False

        def placed(hand: Hand) -> Hand:
            return hand if hand.place or hand.gesture in UNPLACED else hand._replace(place=draft.place)

        last.choices = [tuple(s._replace(hands=tuple(map(placed, s.hands))) for s in c) for c in last.choices]
        self._like_the_last(draft.place)
        if draft.grouped or draft.tokens_say("each", "all"):
            self._all_at(draft.place)
        return True

    def _more_places(self, draft: Draft) -> bool:
        return bool(self.atoms) and self.atoms[-1].arms_only and bool(draft.place) and self._goes_to(draft)

    def _goes_to(self, draft: Draft) -> bool:
        """ "Pat the shoulders, then the thighs": a second place of the body is a second pat."""
        hands = [h for s in self.atoms[-1].choices[0] for h in s.hands]
        rests = all(h.place and h.gesture in ("pat", "drum", "rest") for h in hands)
        back = draft.tokens_say("to", "into", "back") and all(h.gesture in ("reach", "raise", "punch") for h in hands)
        if back and draft.join == "seq" and not draft.grouped:
            return draft.place in BODY and bool(hands)  # "right arm reaches out, then to the lap"
        return draft.place in BODY and bool(hands) and rests

    def _all_at(self, place: str) -> None:
        """ "Push forward, pull back (chest height)": a height in brackets is for all of the line."""

        def high(hand: Hand) -> Hand:
            fits = hand.gesture in (("pat", "drum", "rest") if place in BODY else KEEPS_HEIGHT)
            return hand._replace(place=place) if fits and not hand.place else hand

        for atom in self.atoms:
            atom.choices = [tuple(s._replace(hands=tuple(map(high, s.hands))) for s in c) for c in atom.choices]

    def _height(self, atom: Atom, before: Hand) -> None:
        """A height said earlier in the sentence holds for the rest of it."""

        def high(hand: Hand) -> Hand:
            keeps = hand.gesture in KEEPS_HEIGHT and not hand.place
            return hand._replace(place=before.place) if keeps and not goes_up(hand, before) else hand

        if self.came_to:
            return  # "pull back to the chest, push forward": where they came to is no height
        if before.place not in ("lap", "thigh", "hip", "knee", "foot"):
            atom.choices = [tuple(s._replace(hands=tuple(map(high, s.hands))) for s in c) for c in atom.choices]
            self.hand_before = atom.choices[0][-1].hands[-1] if atom.choices[0] else before

    def _joins_hands(self, draft: Draft, gesture: str) -> bool:
        """ "Pat it with both hands": hands named behind "with" are those of the gesture before."""
        last = self.atoms[-1] if self.atoms else None
        if last is not None and tells_where(last, draft, gesture):
            return True
        if (
            last is None
            or not last.arms_only
            or draft.join != "with"
            or draft.doing
            or draft.part
            or (draft.dirs and draft.dirs not in (["up"], ["down"], ["forward"]))
            or (gesture not in ("", "rest", "raise") and not draft.dirs)
        ):
            return False
        self._only_place(replace(draft, hands=[], doing="", feet=[], dirs=[], join="with"))
        last.at = last.at or draft.at  # "reach up with the right hand on 1"
        side = next((h for h in (*draft.hands, *draft.feet) if h in ("R", "L", "both")), "")
        if draft.dirs:
            last.choices = [
                tuple(s._replace(hands=tuple(h._replace(toward=draft.dirs[0]) for h in s.hands)) for s in c)
                for c in last.choices
            ]
        if side:
            own = {"R": "right", "L": "left"}.get(side, "")

            def its(hand: Hand) -> Hand:
                return hand._replace(side=side, toward=own if own and hand.toward == "apart" else hand.toward)

            last.choices = [tuple(s._replace(hands=tuple(map(its, s.hands))) for s in c) for c in last.choices]
            self.hand_before = self.hand_before and its(self.hand_before)
            self.alone = side if side in OTHER else self.alone
        self._like_the_last(draft.place, side)
        return True

    def _afterwards(self, draft: Draft, atom: Atom) -> None:
        """ "Push forward on the dig, back to the lap after": a count behind each of those."""
        last = self.atoms[-1] if self.atoms else None
        if last is not None and last.on_verb and draft.tokens_say("after"):
            atom.on_verb, atom.late = last.on_verb, 1

    def _template(self, draft: Draft, ahead: Draft | None, atom: Atom) -> None:
        """ "Punch forward, right, left, right, left": the first clause may only say how, the others when."""
        listed = ahead is not None and bool(ahead.hands or ahead.feet) and not (ahead.doing or ahead.part or ahead.dirs)
        if (
            listed
            and ahead is not None
            and (ahead.join != "with" or ahead.heading)
            and not draft.hands
            and not draft.feet
            and draft.doing == "gest"
        ):
            atom.choices.append(())


def _once_again(slot: Slot) -> Slot:
    return slot._replace(hands=tuple(h._replace(again=True) for h in slot.hands))


def _to_a_side(draft: Draft, hand: Hand) -> bool:
    """ "Sweep both arms right, left, right at waist height": only a side is told of the last, and the height of all."""
    return bool(draft.feet) and not draft.doing and hand.toward in ("left", "right")
