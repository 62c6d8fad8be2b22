"""Clauses for the feet become atoms: patterns, steps, runs of feet, headings that lend a way or a foot."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.ellipsis import STEP_HOME, filled, full_turn
from softshoe.wording.footwords import TURN_ONLY, foot_atom
from softshoe.wording.patternwords import pattern_atom
from softshoe.wording.phrase import Phrase

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Slot, Want


# Patterns whose steps are often listed behind the name, foot by foot.
LISTED = frozenset(
    ("shuffle", "chasse", "triple in place", "cross shuffle", "coaster step", "sailor step", "lock step")
)


TOLD_IN_TURN = frozenset(("stomp", "stomp-up", "step", "touch", "kick"))


class FootPhrases(Phrase):
    """What a clause asks of the feet."""

    def _feet(self, draft: Draft, ahead: Draft | None) -> None:
        told = self._under_heading(filled(_one_by_one(draft, ahead), self.before))
        draft = full_turn(told)
        if self._only_says_how(draft, ahead):
            return
        self._asked(draft, ahead)
        if draft is not told and _steps_out(told) and (step := foot_atom(told)) is not None:
            self.atoms[-1].choices = [*filter(None, self.atoms[-1].choices), step.choices[0]]

    def _only_says_how(self, draft: Draft, ahead: Draft | None) -> bool:
        """ "Walk forward: right, left, right": the words before the list are no step of their own."""
        if not draft.heading or draft.value in ("hold", "pivot") or not self._is_template(draft, ahead):
            return False
        self.carried = self.before = draft
        self.last, self.run = "feet", len(self.atoms)
        return True

    def _asked(self, draft: Draft, ahead: Draft | None) -> None:
        atom = pattern_atom(draft) if draft.doing == "pattern" else _drawn_first(foot_atom(draft), draft)
        if atom is None:
            return
        if draft.doing == "pattern":
            self.absorb = self._feet_told(atom, draft)
            self.under = list(atom.choices[_longest(atom)]) if draft.heading else []
            self.under *= 4 if draft.value.endswith("strut") else 1  # "toe struts: R toe, heel, L toe, heel"
        elif self.under:
            self._lent(atom, draft, self.under.pop(0))
        if atom.name == "pivot" and self.atoms and self.before is not None and self.before.value == "step":
            atom.choices = [c for c in atom.choices if len(c) == 1] or atom.choices  # its step stands before it
        if draft.doing == "pattern" and not any(t.kind == "pattern" for t in draft.tokens):
            atom.choices = [*atom.choices, ()]  # "heel switches R, L": the counts say whether it is danced again
        if draft.heading or self._is_template(draft, ahead):
            atom.choices = [*atom.choices, ()]
            atom.heading, atom.template = draft.heading, not draft.heading
            if draft.heading:
                self.carried = draft
        if (
            (draft.doing == "draw" or draft.value == "circle")
            and ahead is not None
            and ahead.dirs
            and not ahead.doing
            and not ahead.feet
            and not ahead.hands
        ):
            atom.choices = [
                tuple(s._replace(wants=tuple(w._replace(dir=ahead.dirs[-1]) for w in s.wants)) for s in c)
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

    def _lent(self, atom: Atom, draft: Draft, slot: Slot) -> None:
        """ "Rocking chair: forward, recover, back, recover": a bare place under a pattern's name takes its verb."""
        slots = atom.choices[0]
        if len(slots) != 1 or len(slots[0].wants) != 1 or len(slot.wants) != 1:
            self.under = []
            return
        told, meant = slots[0].wants[0], slot.wants[0]
        if (told.verb, meant.verb, meant.dir) == ("recover", "step", "in place") and not draft.feet:
            atom.choices = [(slots[0]._replace(wants=(meant,)),), *atom.choices[1:]]  # "twinkle: cross, side, replace"
            return
        if draft.doing:
            return
        if meant.verb == told.verb:
            vaguer = bool(told.dir) and meant.dir.startswith(told.dir + " ")  # "K-step: …, L back"
            told = told._replace(dir=meant.dir if vaguer else told.dir or meant.dir)
        elif meant.verb == "drop" and draft.part in ("heel", "toe"):
            told = told._replace(verb="drop", dir="in place")
        elif told.verb == TURN_ONLY and meant.turn_deg:
            told = meant
        elif told.verb == "step" and (told.dir in ("", meant.dir) or meant.verb == "rock"):
            told = told._replace(verb=meant.verb, dir=told.dir or meant.dir, inferred="")
        atom.choices = [(slots[0]._replace(wants=(told,)),), *atom.choices[1:]]

    def _way_of_all(self, draft: Draft) -> None:
        """ "Walk right, left, right, left on the spot": a place behind the last foot is for the whole run."""
        before = self.before
        if before is None or draft.doing or draft.part or draft.dirs not in (["in place"], ["back"], ["forward"]):
            return
        if len(draft.feet) != 1 or before.doing != "verb" or before.value != "step" or before.dirs:
            return
        if before.dir not in ("", "forward", "in place"):
            return  # "L closes, R back"

        def there(want: Want) -> Want:
            return want._replace(dir=draft.dirs[0])

        for atom in self.atoms[self.run :]:
            atom.choices = [tuple(s._replace(wants=tuple(map(there, s.wants))) for s in c) for c in atom.choices]

    def _under_heading(self, draft: Draft) -> Draft:
        """ "Both feet travel to the right: heels, toes": the heading lends its way; "left rocking chair: rock …" its
        foot.
        """
        head = self.carried
        if head is None:
            return draft
        if draft.part and not draft.dirs and head.dirs and not head.doing:
            return replace(draft, dirs=list(head.dirs))
        bare = not (draft.doing or draft.part)
        if head.part and not head.doing and bare and draft.dirs and not draft.feet and draft.dirs[-1] not in STEP_HOME:
            return replace(draft, part=head.part, feet=list(head.feet))
        if (head.part or head.doing in ("verb", "")) and not head.feet and bare and draft.feet and not draft.dirs:
            return replace(draft, doing=head.doing, value=head.value, part=head.part, dirs=list(head.dirs))
        if not draft.feet and head.feet and head.feet[0] in ("L", "R"):
            self.carried = head if draft.part and not head.doing else None  # "left leg: lift the heel, lower it, …"
            return replace(draft, feet=head.feet[:1])
        if head.doing:
            self.carried = None
        return draft

    def _is_template(self, draft: Draft, ahead: Draft | None) -> bool:
        """ "Stamp four times, right, left, right, left"."""
        often = (
            draft.part in ("heel", "toe", "knee") and not draft.doing and draft.times > 1
        )  # "four heel digs, right, …"
        if draft.feet or ahead is None or not (draft.doing in ("verb", "draw") or often or _names_lift(draft)):
            return False
        return len(ahead.feet) == 1 and not ahead.doing and not ahead.dirs and not ahead.part and not ahead.hands

    def _feet_left(self) -> None:
        """ "Shuffle forward right, left": the list behind a pattern must name each of its steps."""
        atom, left = self.atoms[-1], len(self.absorb)
        if atom.name in LISTED and atom.times == 1:
            steps = len(atom.choices[0])
            atom.miscounted = (steps - left, steps) if left else None

    def _feet_told(self, atom: Atom, draft: Draft) -> list[str]:
        """Return the feet that a pattern uses behind those named already."""
        feet = [w.foot for s in atom.choices[0] for w in s.wants]
        named = len(draft.feet)
        if atom.name in LISTED and named > 1 and named != len(feet):
            atom.miscounted = (named, len(feet))
        if named == 1 and len(feet) > 1:
            return [f or "" for f in feet[1:]]
        if not named and len(feet) > 1:
            return [f or "" for f in feet]
        return []


def _names_lift(draft: Draft) -> bool:
    """Tell "heel lifts", that the feet behind it do: "heel lifts, right twice, left twice"."""
    return draft.doing == "dual" and draft.value == "raise" and draft.part in ("heel", "toe", "knee") and not draft.dirs


def _one_by_one(draft: Draft, ahead: Draft | None) -> Draft:
    """ "Stamp your feet, right, left, right, left": the feet that are named together are told one by one."""
    both = draft.feet[:1] == ["both"] and draft.doing == "verb" and draft.value in TOLD_IN_TURN and not draft.part
    if both and len(draft.feet) > 1:
        return replace(draft, feet=draft.feet[1:])
    listed = ahead is not None and ahead.feet in (["L"], ["R"])
    if both and listed and ahead is not None and not (ahead.doing or ahead.dirs or ahead.part or ahead.hands):
        return replace(draft, feet=[])
    return draft


def _steps_out(draft: Draft) -> bool:
    """ "Right foot forward, full turn to the right": two travelling halves, or one step where there is one count."""
    foot_first = draft.tokens[0].kind in ("foot", "side") and len(draft.feet) == 1
    return foot_first and draft.doing in ("", "verb") and bool(draft.dirs)


def _longest(atom: Atom) -> int:
    """Return which of the readings has the most moments."""
    lengths = [len(choice) for choice in atom.choices]
    return lengths.index(max(lengths))


def _drawn_first(atom: Atom | None, draft: Draft) -> Atom | None:
    """ "Drag the right in and touch": one move, or two where the counts are two."""
    if atom is None or not draft.drawn:
        return atom
    slot = atom.choices[0][0]
    drag = slot._replace(wants=tuple(w._replace(verb="drag") for w in slot.wants))
    atom.choices = [atom.choices[0], (drag, slot._replace(after=Fraction(1)))]
    return atom


BRINGING = ("bring", "put", "take", "took", "mov", "come", "coming", "draw", "drag", "slid", "pull", "place", "set")
TAPS = ("touch", "point", "heel")


def brought(draft: Draft, ahead: Draft | None) -> bool:
    """ "Bring the left foot in beside it and touch": how the foot comes, and what it does there, is one move."""
    if ahead is None or ahead.join != "and" or ahead.doing != "verb" or ahead.value not in TAPS:
        return False
    if ahead.feet or ahead.dirs or ahead.part or ahead.hands or ahead.at or ahead.times > 1 or ahead.amount:
        return False
    if draft.feet not in (["L"], ["R"]) or draft.hands or draft.part or draft.amount or draft.at or draft.arms:
        return False
    near = bool(draft.dirs) and set(draft.dirs) <= {"in", "together", "centre"}
    carried = draft.doing == "verb" and draft.value in ("step", "drag") and draft.tokens_say(*BRINGING)
    if not (carried or (near and not draft.doing)) or draft.tokens_say("step"):
        return False
    ways = [way for way in draft.dirs if way not in ("in", "centre")] or (["together"] if near else [])
    ahead.feet, ahead.dirs, ahead.join = list(draft.feet), ways, draft.join
    ahead.tokens, ahead.drawn = [*draft.tokens, *ahead.tokens], draft.value == "drag"
    return True
