"""Drafts become atoms: what each clause asks of feet and hands, with what a clause leaves out taken from the one
before.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.bare_steps import told_by_the_next
from softshoe.wording.chatter import HELD
from softshoe.wording.ellipsis import filled, hips, travelling, with_turns
from softshoe.wording.footwords import BARE_PART, WALKS, foot_atom, with_draft
from softshoe.wording.hand_clauses import both_of_the_hands, nothing_but, on_the_knees
from softshoe.wording.headed import headed
from softshoe.wording.home_between import home_between
from softshoe.wording.in_turn import in_turn
from softshoe.wording.lead import led, led_by_hands
from softshoe.wording.listing import how_often, in_the_round, out_and_together, sides_and_touches, under_a_name
from softshoe.wording.opposite_hands import give_opposite, opposed_steps
from softshoe.wording.out_and_home import out_and_home
from softshoe.wording.phrase_feet import FootPhrases, brought
from softshoe.wording.phrase_hands import HandPhrases
from softshoe.wording.returning import returned
from softshoe.wording.still import counted_rests, looks, paused, side_only, stays
from softshoe.wording.subjects import of_one_foot
from softshoe.wording.tails import of_all
from softshoe.wording.turn_and_step import turn_and_step

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Hand

AT_HOME = frozenset(("centre", "in place", "together", "back", "down"))
GESTURES_OF_FEET = {"rest": "touch", "push": "touch", "pull": "drag", "reach": "touch"}
UP_AND_DOWN = ("raise", "lower", "drop")
ON_THE = ("on the", "with the", "on each", "with each", "on every")
IDLE = ("move", "moving", "go", "take", "taking", "return", "set", "put")


class Builder(HandPhrases, FootPhrases):
    """Builds the atoms of one item, clause by clause; remembers what later clauses lean on."""

    def build(self, drafts: list[Draft]) -> list[Atom]:
        """Return the atoms of the drafts."""
        how_often(drafts, of_arms=self.of_arms)
        drafts = nothing_but(drafts) if self.of_arms else drafts
        drafts = of_one_foot(drafts if self.of_arms else home_between(drafts))
        drafts = headed(of_all(told_by_the_next(sides_and_touches(out_and_together(drafts)))))
        drafts = out_and_home(led(travelling(in_the_round(under_a_name(in_turn(drafts))))))
        drafts = led_by_hands(with_turns(drafts))
        drafts = counted_rests(drafts)
        self.struck = any(d.doing == "gest" and d.value in ("clap", "snap", "pat") for d in drafts)
        for i, draft in enumerate(drafts):
            self.told = drafts[i - 1] if i else None
            ahead = drafts[i + 1] if i + 1 < len(drafts) else None
            if draft.bare and draft.at and ahead is not None and not ahead.at and not ahead.bare:
                ahead.at = draft.at  # "on 6 and on 8, clap"
                continue
            if turn_and_step(draft, ahead) or brought(draft, ahead):
                continue
            self._one(draft, ahead)
        for one, two in zip(self.atoms, self.atoms[1:], strict=False):
            if two.at and not one.at and one.arms_only and two.join in ("and", "with"):
                one.at = two.at  # "clap and click on 4"
        return self.atoms

    def _one(self, draft: Draft, ahead: Draft | None) -> None:
        draft = self._of_the_hands(on_the_knees(draft))
        if self._moves_the_body(draft, ahead):
            return
        told = (draft.quiet and not draft.arms and not draft.doing) or self._on_each(draft) or self._as_told(draft)
        if told or stays(draft, self.before):
            return
        if looks(draft):
            draft = replace(draft, dirs=[])  # "back to twelve o'clock"
        draft = self._knees(hips(self._meant(paused(self._held(self._its_toes(self._of_a_foot(draft)))))))
        if draft.alternate and draft.feet == ["both"] and draft.part:
            draft = replace(draft, feet=[])  # "knees lift alternately"
        if (
            draft.each
            and self.atoms
            and draft.doing in ("dual", "gest", "draw")
            and (self.atoms[-1].arms_only or draft.doing != "gest")
            and not (draft.hands or draft.feet or draft.dirs)
        ):
            self.atoms[-1].each = True  # "one circle a count"
        elif self._told_again(draft):
            self._remark(replace(draft, times=1, doing=""))
        elif draft.bare or self._idle(draft):
            self._remark(draft)
        elif draft.heading and self._context(draft):
            self.carried, self.before = draft, None if draft.part else self.before
        elif steps := opposed_steps(self.atoms[self.run :], draft):
            self._arms(replace(draft, hands=["R"], each=False), None)
            give_opposite(steps, self.atoms.pop())
        elif self._absorbed(draft) or self._recovered(draft) or self._arrives(draft) or self._elaborates(draft):
            return
        elif (
            draft.arms
            or self._arms_go_on(draft)
            or self._crosses_arms(draft)
            or (self.of_arms and draft.value != "hold" and draft.doing != "pattern")
        ):
            self._arms(draft, ahead)
        else:
            self._feet(draft, ahead)

    def _moves_the_body(self, draft: Draft, ahead: Draft | None) -> bool:
        named = draft.doing or draft.part or draft.hands or draft.amount or draft.place or draft.weight
        there = (draft.dirs or side_only(draft)) and not (named or (draft.feet and draft.dirs))
        if not (draft.value == "hold" and draft.dir == "body") and not (there and self.last == "body"):
            return False
        self._of_the_body(draft, ahead)
        return True

    def _of_the_body(self, draft: Draft, ahead: Draft | None) -> None:
        """ "Look right", "lean forward": head and trunk fill a count where nothing else does."""
        beside = self.atoms and (
            draft.join in ("and", "with", "plus") or draft.grouped or draft.tokens[0].low.endswith("ing")
        )
        if beside:
            with_draft(self.atoms[-1], draft)
            return
        held = replace(draft, doing="verb", value="hold", dir="", dirs=[], feet=[], hands=[], place="", part="")
        self._feet(held, ahead)
        self.atoms[-1].choices.append(())
        self.last = "body"  # "turn the head to the right, to the left"

    def _knees(self, draft: Draft) -> Draft:
        """ "Pat the shoulders, then the knees": knees behind a pat are where the hands go."""
        last = self.atoms[-1] if self.atoms else None
        alone = draft.part == "knee" and draft.feet == ["both"] and not (draft.doing or draft.dirs or draft.hands)
        before = (self.hand_before,) if self.hand_before is not None and self.last == "hands" else ()
        if not alone or (last is not None and not (last.arms_only and last.choices[0])):
            return draft
        hands = last.choices[0][-1].hands if last is not None else before
        pats = bool(hands) and all(h.gesture in ("pat", "drum", "rest") for h in hands)
        what = hands[-1].gesture if pats else ""
        return replace(draft, doing="gest", value=what, part="", feet=[], place="knee") if pats else draft

    def _on_each(self, draft: Draft) -> bool:
        """ "Clap with each heel", "… on every step": the noun behind "each" says when."""
        last = self.atoms[-1] if self.atoms else None
        if last is None or not last.arms_only or draft.join != "and" or draft.hands or draft.dirs:
            return False
        if not (last.each or (self.told is not None and self.told.tokens[-1].low in ON_THE)):
            return False
        noun = draft.value if draft.doing == "verb" else BARE_PART.get(draft.part, "")
        if draft.feet or not noun:
            return False
        last.on_verb, last.each, last.whole = noun, False, last.each
        return True

    def _as_told(self, draft: Draft) -> bool:
        """ "Swing your arms as you march": what the feet do is told already."""
        if draft.value == "hold" and self.atoms and {t.low.split()[-1] for t in draft.tokens if t.low} & HELD:
            return True  # "march, holding the seat"
        before = self.before
        if self.of_arms and draft.join == "with" and draft.doing == "verb" and draft.tokens_say("walk", "march", "run"):
            return True  # "arms: swing as in walking"
        plain = draft.doing == "verb" and not (draft.feet or draft.dirs or draft.part or draft.hands or draft.amount)
        if before is None or not plain or draft.join != "with":
            return False
        told = bool(self.atoms) and draft.tokens_say("you", "we", "they") and self.atoms[-1].arms_only
        if told and draft.tokens_say(*WALKS):
            self.atoms[-1].each = True  # "clap as you march"
        return told

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
        if (
            draft.value == "hold"
            and draft.join != "seq"
            and draft.tokens_say("breath")
            and self.atoms
            and self.atoms[-1].choices[0]
        ):
            return any(w.verb == "hold" for w in self.atoms[-1].choices[0][-1].wants)  # "hold. Breathe."
        return (
            draft.doing == "verb"
            and draft.value == "step"
            and not named
            and draft.tokens_say(*IDLE)
            and bool(self.atoms)
            and (self.before is None or returned(draft, self.before) is None)
        )

    def _of_a_foot(self, draft: Draft) -> Draft:
        """ "The right heel rests on the floor in front", "push the heel forward": a hand's word said of a foot."""
        if draft.doing == "gest" and draft.value == "reach" and not (draft.hands or draft.place or draft.part):
            leg = draft.feet in (["L"], ["R"]) and any(t.kind == "foot" for t in draft.tokens)
            return replace(draft, doing="verb", value="kick", dirs=draft.dirs or ["forward"]) if leg else draft
        verb = GESTURES_OF_FEET.get(draft.value, "") if draft.doing == "gest" else ""
        if not verb or draft.part not in ("heel", "toe") or draft.hands or draft.place or draft.feet == ["both"]:
            return draft
        return replace(draft, doing="verb", value=verb)

    def _its_toes(self, draft: Draft) -> Draft:
        """ "Place the right heel forward, lower the toes": the toes of that foot."""
        before = self.before
        other = {"heel": "toe", "toe": "heel"}.get(before.part, "") if before is not None else ""
        one = before is not None and before.feet in (["L"], ["R"]) and draft.part == other and draft.feet == ["both"]
        lowers = draft.value in ("lower", "drop") and not any(t.low.startswith("both") for t in draft.tokens)
        return replace(draft, feet=list(before.feet)) if one and lowers and before is not None else draft

    def _held(self, draft: Draft) -> Draft:
        """ "Hold them there", "keep your arms up": hands that stay move no more."""
        them = draft.hands in (["same"], ["both"], [""]) and not (draft.feet or draft.part or draft.place)
        last = self.atoms[-1] if self.atoms else None
        if not them or draft.amount or not set(draft.dirs) <= {"up", "out", "down"} or not self._of_hands(last):
            return draft
        stays = draft.doing == "verb" and draft.value == "hold"
        kept = (
            draft.doing == ""
            and draft.tokens_say("keep", "leave", "stay")
            and (draft.hands == ["same"] or draft.tokens_say("there", "still"))
        )
        if not (stays or kept):
            return draft
        return replace(draft, doing="verb", value="hold", hands=[], dirs=[], unknown=[])

    def _of_hands(self, last: Atom | None) -> bool:
        return self.hand_before is not None if last is None else bool(last.choices[0] and last.choices[0][-1].hands)

    def _meant(self, draft: Draft) -> Draft:
        """ "Lift both heels, lower them": "them" and "it" are what moved last, feet or hands."""
        alone = not (draft.feet or draft.hands or draft.part or draft.dirs or draft.place)
        heels = self.before is not None and self.before.part in ("heel", "toe") and self.before.value in UP_AND_DOWN
        if alone and draft.value in UP_AND_DOWN and heels and self.last == "feet" and self.before is not None:
            return replace(draft, feet=list(self.before.feet), part=self.before.part)  # "lift heels, drop them, lift"
        carried = draft.doing == "dual" or (draft.doing == "verb" and draft.value in ("step", "drag") and not draft.dir)
        carried = carried and not (draft.tokens_say("step") or self._struck_last())
        it = draft.feet == ["same"] and not any(t.low.endswith("foot") for t in draft.tokens)
        if it and not draft.hands and not draft.part and self.last == "hands" and carried:
            return replace(draft, hands=["same"], feet=[])
        if self.last == "hands" and (draft.doing == "dual" or carried) and both_of_the_hands(draft):
            return replace(draft, hands=["both"], feet=[])
        if draft.hands != ["same"] or self.last != "feet" or self.before is None or draft.doing not in ("dual", "verb"):
            return draft
        if self.hand_before is not None and self.before.feet in (["L"], ["R"]):
            return draft
        home = draft.value == "step" and draft.dirs == ["centre"]  # "tap the toes, bring them home"
        part = draft.part or ("" if home else self.before.part)
        return replace(draft, hands=[], feet=list(self.before.feet) or ["same"], part=part)

    def _struck_last(self) -> bool:
        """ "Tap your heel forward and clap, bring it home": what was struck is not "it"."""
        return self.hand_before is not None and self.hand_before.gesture in ("clap", "snap")

    def _context(self, draft: Draft) -> bool:
        """A clause before a colon without a doing word says of whom the rest speaks ("R arm only:", "both feet
        travel:").
        """
        if draft.doing:
            return False
        if draft.arms and not draft.dirs and not draft.place:
            self.hand_side = next((h for h in draft.hands if h in ("R", "L", "both")), self.hand_side)
        return True

    def _absorbed(self, draft: Draft) -> bool:
        """ "Shuffle forward right, left, right": the feet that follow a pattern are its own, told once more."""
        told = len(draft.feet) > 1 and draft.feet == [*self.before.feet[:1], *self.absorb] if self.before else False
        told = told or (len(draft.feet) > 1 and draft.feet == self.absorb)
        if told and not (draft.doing or draft.dirs or draft.part or draft.hands or draft.amount):
            self.absorb = []  # "triple step to the right, right-left-right"
            with_draft(self.atoms[-1], draft)
            return True
        only_side = len(draft.feet) == 1 and not (draft.doing or draft.part or draft.hands or draft.amount)
        only_side = only_side and draft.dirs in ([], ["in place"])
        if not only_side or not self.absorb:
            self.absorb = []
            return False
        if draft.feet[0] != self.absorb[0]:
            self.absorb = []
            return False
        self.absorb = self.absorb[1:]
        if self.before is not None:
            self.before.listed = True
        with_draft(self.atoms[-1], draft)
        self._feet_left()
        return True

    def _recovered(self, draft: Draft) -> bool:
        """ "Back rock left, recover right", "R toe fan, centre": the pattern has its recover, its way home, already."""
        last = self.atoms[-1] if self.atoms else None
        home = draft.dirs == ["centre"] and not (draft.doing or draft.feet or draft.part or draft.hands)
        if last is None or not last.name or draft.amount or not last.choices[0][-1].wants:
            return False
        ends = last.choices[0][-1].wants[-1]
        if not (ends.verb == draft.value == "recover" or (home and ends.verb == "fan" and ends.dir == "centre")):
            return False
        if ends.verb == "recover":
            last.choices = [c for c in last.choices if c and any(w.verb == "recover" for w in c[-1].wants)]
        with_draft(last, draft)
        return True

    def _arrives(self, draft: Draft) -> bool:
        """ "The right uncrosses and comes home", "lifts off and goes back to its place": one step, told to its end."""
        before = self.before
        ways = set(draft.dirs) | {draft.dir} - {""}
        if before is None or not self.atoms or draft.join != "and" or not ways or not ways <= AT_HOME:
            return False
        same = draft.feet in ([], ["same"], before.feet) and not (draft.hands or draft.part or draft.amount)
        if not same or draft.value not in ("", "step") or self.last != "feet":
            return False
        if before.value == "raise" and not before.part and before.tokens_say("off"):
            self.atoms.pop()  # lifted only to be set down
            self._feet(replace(draft, feet=list(before.feet), join=before.join), None)
            return True
        uncrosses = before.dir == "centre" and before.tokens_say("uncross", "unfold")
        if uncrosses:
            with_draft(self.atoms[-1], draft)
        return uncrosses

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


class Left(NamedTuple):
    """Which words left a context, and where they begin; ``stopped`` where a full stop stands behind them."""

    number: int
    start: int
    line: int
    stopped: bool = False


class Context(NamedTuple):
    """What the words before have left: clauses for feet and hands, which of them was last, where was patted, the last
    hand that moved alone.
    """

    feet: Draft | None = None
    hand: Hand | None = None
    last: str = ""
    patted: str = ""
    alone: str = ""
    across: Hand | None = None  # what the hands did last on the line before, where they moved last
    left: Left | None = None


NOTHING = Context()


def atoms_of(
    drafts: list[Draft], *, hand: str = "", context: Context = NOTHING, of_arms: bool = False
) -> tuple[list[Atom], Context]:
    """Return the atoms of a line's drafts and what the next words of the line may lean on.

    ``of_arms``: the line is for the arms. ``hand`` is the hand meant where none is named; ``context`` what the
    words before, on the same line, have left.
    """
    builder = Builder(
        hand=hand, before=context.feet, hand_before=context.hand, last=context.last, patted=context.patted,
        alone=context.alone, of_arms=of_arms, across=context.across,
    )  # fmt: skip
    atoms = builder.build(drafts)
    hand_left = builder.hand_before
    if hand_left is not None and builder.came_to:
        hand_left = hand_left._replace(place="")
    return atoms, Context(builder.before, hand_left, builder.last, builder.patted, builder.alone)


def after_stop(context: Context) -> Context:
    """Return what is left of the context behind a full stop: who moved, but no height."""
    hand = context.hand._replace(place="") if context.hand is not None else None
    return context._replace(hand=hand, left=context.left and context.left._replace(stopped=True))


def on_a_new_line(context: Context) -> Context:
    """Return what a new line may still lean on: the hand that moved alone ("the other arm …")."""
    across = context.hand if context.last == "hands" else None
    return Context(alone=context.alone, across=across)
