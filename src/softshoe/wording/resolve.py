"""Footwork settles what the words leave open: which foot, which way, which turn; and tells what it can't settle.

One ``Dancer`` goes through the sheet once and stands as the steps leave her. Whether the weight works out is checked
afterwards,
on the finished dance (dance/checks.py).
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.arms import PLACES, ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import borne, weight_after
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.wording.footwords import TURN_ONLY
from softshoe.wording.which_foot import FEET, first_foot, first_want
from softshoe.wording.which_way import KNOWN_WAYS, WhichWay

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from softshoe.wording.parts import Hand, Slot, Want


HOME = ("centre", "together", "in place")


class Dancer(WhichWay):
    """What bears her, where each foot is, what she did last; and the findings on the way."""

    def do(self, slot: Slot, at: Fraction, ahead: Sequence[Slot]) -> list[Action]:
        """Return the actions of one moment and stand as they leave her."""
        self.now = at
        hands = tuple(self.arm(h) for h in slot.hands)
        out: list[Action] = []
        for want in slot.wants:
            action = self._action(self._led(want), at, ahead)
            out.append(action)
            self._stand(action)
        if not hands:
            return out
        if not out:
            return [Action(Count(at), None, "arms", None, arms=hands, line=slot.hands[0].line, span=slot.hands[0].span)]
        if out[0].verb == "hold" and out[0].foot is None:
            return [replace(out[0], verb="arms", arms=hands), *out[1:]]
        return [replace(out[0], arms=hands), *out[1:]]

    def copy(self, action: Action) -> Action:
        """Dance an action that is settled already (a copy) and return it."""
        self._stand(action)
        return action

    def arm(self, hand: Hand) -> ArmMove:
        """Return the hand's part as a value of the dance."""
        toward = Direction(hand.toward) if hand.toward in KNOWN_WAYS else None
        place = next((p for p in PLACES if p == hand.place), None)
        side = FEET.get(hand.side, Foot.BOTH)
        before = self.did.get((side, hand.gesture)) if hand.again and not (place or toward) else None
        if before is not None:
            place, toward = before.place, before.toward
        move = self.did[side, hand.gesture] = ArmMove(side, hand.gesture, place, toward, hand.span)
        return move

    def _led(self, want: Want) -> Want:
        """A pattern's step whose lead is open takes the foot that is free."""
        if want.under_left is None:
            return want
        if want.lead:
            self.lead = self._free_letter()
        return want.under_left if self.lead == "L" else want._replace(under_left=None)

    def _stand(self, action: Action) -> None:
        self.weight = weight_after(action, self.weight)
        self.turns_deg += action.turn_deg
        if action.foot is None:
            return
        self.last = action
        if action.foot is not Foot.RIGHT:
            self.last_left = action
        if action.foot is not Foot.LEFT:
            self.last_right = action
        if VERB[action.verb].takes_weight and action.dir is not Direction.IN_PLACE:
            self.apart = action.dir is not Direction.TOGETHER
        self.started = True

    # one action

    def _action(self, want: Want, at: Fraction, ahead: Sequence[Slot]) -> Action:
        if want.verb == TURN_ONLY:
            want = self._turn_alone(want, at)
        if want.returns and self._rocked(want.returns):
            want = want._replace(verb="recover", foot=want.returns, dir="")
        if want.inferred.startswith("the "):
            self.inferred.append((want.line, at, want.inferred))
        verb = want.verb or "step"
        if verb == "slide":  # away from the other foot it travels and takes the weight
            verb = "drag" if self.seated else "step"
        if verb == "slide on":  # seated it is drawn on; standing it has arrived
            verb = "drag" if self.seated else "hold"
        if verb == "step" and want.dir == "down" and want.foot in (None, "same") and self._last_did("raise"):
            want = want._replace(foot="same")  # "up on your toes; down again"
            verb = "lower"
        if verb == "lower?":
            verb = "lower" if self._last_did("raise") else "drop" if self._last_did("touch", "heel") else "step"
        if verb == "step" and want.weight == "no" and want.dir in HOME and not self.seated:
            verb, want = "touch", want._replace(dir="together")
        if verb == "cannot":
            if self.seated:
                self.tell("error", "seated", want.line, at,
                          "Standing up or walking round the chair can't be danced on a chair.",
                          "Give these counts something for feet or hands that is done seated.")  # fmt: skip
            verb = "hold"
        if verb == "hold":
            said = self._said(want, None, verb)
            return Action(Count(at), None, "hold", None, weight_said=said, line=want.line, span=want.span)
        foot = self._foot(want, verb, at, ahead)
        self._begin(foot, verb)
        verb = self._stomp(want, verb, foot, ahead)
        way = self._way(want, verb, foot, at, ahead)
        verb, way = self._dropped(verb, way, foot, want)
        turn = self._turn(want, verb, foot, at)
        said = self._said(want, foot, verb, ahead)
        return Action(Count(at), foot, verb, way, turn, weight_said=said, line=want.line, span=want.span)

    def _rocked(self, foot: str) -> bool:
        """Return whether the other foot has just rocked, so that the weight comes back onto this one."""
        last = self.last
        return last is not None and last.verb == "rock" and last.foot is FEET[foot].other

    def _begin(self, foot: Foot | None, verb: str) -> None:
        """The first foot that moves tells which one bore her, where the sheet does not."""
        open_yet = self.weight is Weight.BOTH and not self.started and not self.stated
        if open_yet and foot in (Foot.LEFT, Foot.RIGHT) and verb not in ("sway", "bump", "swivel", "fan"):
            self.weight = Weight(foot.other.value) if foot else self.weight

    def _turn_alone(self, want: Want, at: Fraction) -> Want:
        """A turn without a doing word: after a step forward a pivot; else a step of the free foot with that turn."""
        last = self.last
        if not want.turn_deg and want.square < 0:
            self.choose(want.line, at, "“Turn” can be a quarter or a half here; a quarter was taken.",
                        "Say how far: a quarter, a half.")  # fmt: skip
            want = want._replace(turn_deg=90)
        if last is not None and last.dir is Direction.FORWARD and last.verb in ("step", "touch", "rock"):
            return want._replace(verb="pivot")
        return want._replace(verb="step", dir="forward")

    def _stomp(self, want: Want, verb: str, foot: Foot | None, ahead: Sequence[Slot]) -> str:
        """A stomp before the same foot moves again can't have kept the weight."""
        if verb != "stomp" or self.seated or want.weight == "take" or foot is Foot.BOTH:
            return verb
        if want.weight in ("L", "R") and foot is not None and want.weight != foot.value:
            return "stomp-up"
        follows = first_want(ahead)
        if (
            follows is not None
            and follows.foot in FEET
            and FEET[follows.foot] is foot
            and follows.verb in ("stomp", "stomp-up")
        ):
            return "stomp-up"
        return verb

    def _dropped(self, verb: str, way: Direction | None, foot: Foot | None, want: Want) -> tuple[str, Direction | None]:
        """A heel lowered after the toe touched is the second half of a strut."""
        before = self.last_of(foot) if verb in ("lower", "drop") else None
        if (
            verb == "lower"
            and want.weight != "no"
            and before is not None
            and before.verb in ("touch", "heel", "point")
            and self.last is before
        ):
            return "drop", Direction.IN_PLACE
        bears = foot is not None and want.weight == foot.value
        if verb == "drop" and not bears and (before is None or before.verb == "raise"):
            return "lower", Direction.DOWN
        return verb, way

    def _said(self, want: Want, foot: Foot | None, verb: str, ahead: Sequence[Slot] = ()) -> Weight | None:
        """Return the weight where words make it another than the verb's."""
        if self.weight is Weight.SEAT:
            return None
        plain = borne(foot, verb, self.weight) if verb != "hold" else self.weight
        after = self._weight_wanted(want, foot, verb, ahead)
        return None if after is None or after is plain else after

    def _weight_wanted(self, want: Want, foot: Foot | None, verb: str, ahead: Sequence[Slot]) -> Weight | None:
        said = {"L": Weight.LEFT, "R": Weight.RIGHT, "both": Weight.BOTH}.get(want.weight)
        if said is not None:
            return said
        if want.weight == "take" and foot in (Foot.LEFT, Foot.RIGHT):
            return Weight(foot.value)
        if want.weight == "no" and foot in (Foot.LEFT, Foot.RIGHT) and VERB[verb].takes_weight:
            return Weight(foot.other.value)
        if verb == "drag" and want.weight != "no" and foot in (Foot.LEFT, Foot.RIGHT):
            follows_want = first_want(ahead)
            needed = follows_want is not None and follows_want.foot == foot.other.value and follows_want.verb == "step"
            bears = self.weight is Weight(foot.other.value)
            return Weight(foot.value) if needed and bears else None  # drawn in, it must bear before the other steps
        if verb == "unwind":
            follows = first_foot(ahead)
            return Weight(follows.other.value) if follows else Weight.BOTH
        return None
