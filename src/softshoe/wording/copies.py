"""Copies danced: "again", "repeat 1-4", "same to the left" over what is danced already."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.arms import PLACES
from softshoe.dance.counts import Count
from softshoe.dance.facing import clock, turned
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.wording.counting import HALF
from softshoe.wording.each_home import done
from softshoe.wording.laying import lay
from softshoe.wording.parts import Repeat
from softshoe.wording.turn_changes import turned_otherwise, turning_step

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.action import Span
    from softshoe.dance.arms import ArmMove, Place
    from softshoe.wording.parts import Atom, Slot, Want
    from softshoe.wording.stage import Ready, Stage
    from softshoe.wording.turn_changes import TurnChange

SIDES = ("left", "right")
MOST_COPIES = 1024


class Copier:
    """Dances copies; the player of a block is one."""

    stage: Stage
    start: int
    shift: Fraction
    cursor: Fraction
    feet: Ready | None

    def _hold(self, at: Fraction, line: int, span: Span) -> None:
        self.stage.actions.append(Action(Count(at), None, "hold", line=line, span=span))

    def _face(self, deg: int, line: int, at: Fraction) -> None:
        """Compare a clock facing with the turns so far; a difference is told once."""
        stage = self.stage
        stage.faced.append((deg, line, at, stage.dancer.turned_deg))
        if not stage.facing_known:
            return
        here = turned(stage.facing_deg, stage.dancer.turned_deg)
        if deg in (here, (here + stage.facing_off) % 360):
            return
        stage.facing_off = (deg - here) % 360
        stage.tell("error", "facing", line, at, f"The turns lead to {clock(here)} here; the sheet says {clock(deg)}.",
                   f"Write {clock(here)}, or change the turn.")  # fmt: skip

    def _facings(self, atom: Atom, entries: list[tuple[Fraction, Slot, Atom]], k: int, at: Fraction) -> None:
        if not atom.facings:
            return
        if k + 1 < len(entries) and entries[k + 1][2] is atom:
            return
        last = not any(entry[2] is atom for entry in entries[k + 1 :])
        here = turned(self.stage.facing_deg, self.stage.dancer.turned_deg)
        for deg, line in list(atom.facings):
            if deg == here and not last:
                atom.facings.remove((deg, line))  # told of the first of several times
            elif last:
                self._face(deg, line, at)

    def _over(self, at: Fraction, slot: Slot) -> None:
        """Lay hands over what the feet do at a moment."""
        moves = [self.stage.dancer.arm(h) for h in slot.hands]
        self.stage.hands.setdefault(at, []).extend(moves)
        if slot.hands:
            self.stage.hand_at.setdefault(at, (slot.hands[0].line, slot.hands[0].span))

    def _over_those(self, atom: Atom, places: list[Fraction]) -> bool:
        """ "The same again, clapping as each foot comes home": hands over what they wait for."""
        found = [a for a in self.stage.actions if a.at.at in places and done(a.verb, _way(a), atom.on_verb)]
        for at in sorted({a.at.at for a in found}):
            self._over(at, atom.choices[0][0])
        return bool(found)

    def _source(self, repeat: Repeat, first: Fraction, length: int) -> tuple[Fraction, Fraction] | None:
        """Return the first and last count to copy."""
        stage = self.stage
        if repeat.sections:
            starts = stage.places()
            found = [starts[n] for n in repeat.sections if n in starts]
            return (Fraction(found[0][0] + 1), Fraction(found[-1][1])) if found else None
        if repeat.whole_section:
            stage.looked_back = True
            return (Fraction(self.start - length + 1), Fraction(self.start)) if self.start >= length else None
        if repeat.counts:
            low, high = repeat.counts[0] + self.shift, Fraction(repeat.counts[1].__floor__()) + self.shift
            if low < first and low > self.start:
                return low, high
            stage.looked_back = True
            return repeat.counts[0], Fraction(repeat.counts[1].__floor__())
        n = repeat.last or length
        stage.looked_back = stage.looked_back or first - n <= self.start
        return first - n, first - 1

    def _so_far(self, one: Ready, repeat: Repeat) -> int:
        """How many counts "repeat" without counts is for: the section so far, or its last line where only that fits."""
        whole = int(self.cursor) - self.start
        line = len([p for p in self.feet.places if p.denominator == 1]) if self.feet is not None else whole
        if repeat.counts or repeat.sections or repeat.last or repeat.whole_section or line in (0, whole):
            return whole
        fits = [n for n in (whole, line) if (whole + n * repeat.times) % 4 == 0]
        if len(fits) != 1:
            taken = (fits or [whole])[0]
            said = f"This can repeat the {whole} counts so far or the {line} of the last line; {taken} were taken."
            self.stage.dancer.choose(one.item.line, self.cursor + 1, said, "Name the counts: “repeat 1-4”.")
        return (fits or [whole])[0]

    def _source_length(self, one: Ready, repeat: Repeat) -> int:
        usual = self._so_far(one, repeat)
        if not usual:
            before = max(self.stage.places().values(), default=(0, 8))
            usual = before[1] - before[0]
        found = self._source(repeat, self.cursor + 1, usual)
        if found is None:
            return usual
        n = int(found[1]) - found[0].__floor__() + 1
        return max(1, min(MOST_COPIES, n * repeat.times))

    def _repeat(self, one: Ready, repeat: Repeat, places: list[Fraction]) -> None:
        wholes = [p for p in places if p.denominator == 1]
        first, length = places[0].__ceil__(), len(wholes)  # "&5-8 repeat": the half belongs to the 5
        source = self._source(repeat, Fraction(first), length if repeat.times < 2 else max(1, length // repeat.times))
        if source is None or source[0] < 1 or source[1] >= first or source[1] < source[0]:
            self.stage.tell("error", "steps-per-count", one.item.line, places[0],
            "There is nothing above that could be danced again here.",
                            "Name the counts or the section that is meant, or write the steps out.")  # fmt: skip
            for p in wholes:
                self._hold(p, one.item.line, one.span)
            return
        self._copy(one, repeat, source, Fraction(first), length)
        for deg, line in repeat.facings:
            self._face(deg, line, places[-1])
        if one.atoms:
            waiting = [a for a in one.atoms if a.arms_only and a.on_verb and not a.at]
            for atom in waiting:
                self._over_those(atom, wholes)
            laid = lay([a for a in one.atoms if (a.at or a.arms_only) and a not in waiting], wholes, ranged=True)
            over = [(at, slot) for at, slot, _ in laid.at if not slot.wants and not self._hands_again(one, wholes)]
            laid_on = [*(slot for _, slot in over), *(a.choices[0][0] for a in waiting)]
            one.lost = [] if _tells_again(one, wholes) else unlaid(one.atoms, laid_on)
            for at, slot in over:
                self._over(at, slot)

    def _hands_again(self, one: Ready, places: list[Fraction]) -> bool:
        """ "Again: clap, pat, clap, pat": where only hands are copied, as many moments tell the copy once more."""
        told = sum(len(a.choices[0]) for a in one.atoms)
        copied = self.stage.danced(places[0], places[-1] + 1)
        return told == len(places) and len(one.atoms) > 1 and all(a.foot is None for a in copied)

    def _copy(
        self, one: Ready, repeat: Repeat, source: tuple[Fraction, Fraction], first: Fraction, length: int
    ) -> None:
        """Copy the source until the counts are full; a copy of another length than its place is told."""
        span = int(source[1]) - source[0].__floor__() + 1
        early, behind = source[0] - HALF, source[1] + 1
        taken = self.stage.danced(early, behind)
        begins = {a.line for a in taken if source[0] <= a.at.at < source[0] + 1}
        taken = [a for a in taken if a.at.at >= source[0] or (a.at.at.denominator != 1 and a.line in begins)]
        hands = self.stage.handed(source[0], behind)
        if one.item.limb == "feet":  # a column of its own for the arms says what they do
            taken, hands = [_feet_of(a) for a in taken], {}
        if length % span:
            self.stage.tell("error", "steps-per-count", one.item.line, first,
            f"{span} counts are to be danced again in {length}.",
                            "Give the copy as many counts as it has, or name fewer.")  # fmt: skip
        mirror = repeat.mirror or self._other_lead(repeat, taken)
        there = self._changed_at(repeat, taken, source, first, length)
        turning = self._turning(one, repeat, taken, first, source[0])
        end = first + max(length, 1)
        for k in range(max(1, length // span)):
            shift = first - source[0].__floor__() + k * span
            for n, action in enumerate(taken):
                at = action.at.at + shift
                if at < end:
                    moved = action.mirrored if mirror else action
                    turns = turning is not None and action is turning[0]
                    moved = turned_otherwise(moved, turning[1], taken[n - 1 : n]) if turns and turning else moved
                    arms = _copied(moved.arms, repeat)
                    moved = replace(moved, at=Count(at), arms=arms, line=one.item.line, span=repeat.span)
                    self._again(moved, repeat, there)
            for at, moves in hands.items():
                own = _copied([m.mirrored if mirror else m for m in moves], repeat)
                own = repeat.change.of_hands(own) if repeat.change is not None else own
                self.stage.hands.setdefault(at + shift, []).extend(own)
                self.stage.hand_at.setdefault(at + shift, (one.item.line, repeat.span))

    def _turning(
        self, one: Ready, repeat: Repeat, taken: list[Action], first: Fraction, begin: Fraction
    ) -> tuple[Action, TurnChange] | None:
        """Return the step that turns otherwise in the copy; where none can be told apart, that is an error."""
        change = repeat.change.turn if repeat.change is not None else None
        if change is None:
            return None
        there = first - begin.__floor__()  # the copy's counts in the dance, in its section, and its own from 1
        step = turning_step(taken, change, (there, there - self.shift, Fraction(1 - begin.__floor__())))
        if step is None:
            self.stage.tell("error", "facing", one.item.line, first, "It is not plain which step of the copy turns.",
                            "Name the count of the turn: “repeat with a quarter turn left on 7”.")  # fmt: skip
            return None
        return step, change

    def _changed_at(
        self, repeat: Repeat, taken: list[Action], source: tuple[Fraction, Fraction], first: Fraction, length: int
    ) -> Fraction | None:
        """Return the moment at which the copy has another step, None where it has none."""
        change = repeat.change
        if change is None or change.slot is None:
            return None
        last, shift = first + max(length, 1) - 1, first - source[0].__floor__()
        if change.at is not None:
            for at in (
                change.at + self.shift,
                change.at - source[0].__floor__() + self.shift + first,
                change.at + first - 1,
            ):
                if first <= at <= last:
                    return at
        done = [a.at.at + shift for a in taken if change.of and change.of.startswith(a.verb)]
        return done[-1] if done else last

    def _again(self, action: Action, repeat: Repeat, there: Fraction | None) -> None:
        """Dance a copied action, or what is danced in its stead."""
        change = repeat.change
        if change is not None and change.slot is not None and action.at.at == there:
            if self.stage.actions and self.stage.actions[-1].at.at == there:
                return  # the other foot's part
            slot = change.slot._replace(wants=tuple(_in_stead(w, action) for w in change.slot.wants))
            self.stage.actions += [replace(a, span=repeat.span) for a in self.stage.dancer.do(slot, there, [])]
            return
        action = change.of_feet(action) if change is not None else action
        self.stage.actions.append(self.stage.dancer.copy(action))

    def _copy_hands(self, one: Ready, repeat: Repeat, places: list[Fraction]) -> None:
        """A copy in the arms' own column or line: the hands of the counts named, over these counts."""
        first, length = Fraction(places[0].__floor__()), len(places)
        source = self._source(repeat, first, length)
        if source is None:
            return
        taken = self.stage.danced(source[0], source[1] + 1)
        moves = {a.at.at: [*a.arms] for a in taken if a.arms}
        for at, more in self.stage.handed(source[0], source[1] + 1).items():
            moves.setdefault(at, []).extend(more)
        span = int(source[1]) - source[0].__floor__() + 1
        sides = [m.side.word for at in sorted(moves) for m in moves[at] if m.side is not Foot.BOTH]
        mirror = repeat.mirror or (bool(repeat.lead) and bool(sides) and sides[0][0].upper() != repeat.lead)
        for k in range(max(1, length // span)):
            shift = first - source[0].__floor__() + k * span
            for at, own in moves.items():
                copied = _copied([m.mirrored if mirror else m for m in own], repeat)
                self.stage.hands.setdefault(at + shift, []).extend(copied)
                self.stage.hand_at.setdefault(at + shift, (one.item.line, repeat.span))

    def _same_arms(self, one: Ready, places: list[Fraction]) -> None:
        """ "… with the same arms": those of as many counts before, mirrored where the feet are."""
        wholes = [p for p in places if p.denominator == 1]
        first, n = wholes[0], len(wholes)
        feet: list[Foot | None] = []
        for low in (first - n, first):
            there = (a.foot for a in self.stage.danced(low, low + n))
            feet.append(next((f for f in there if f in (Foot.LEFT, Foot.RIGHT)), None))
        mirror = None not in feet and feet[0] is not feet[1]
        self._copy_hands(one, Repeat(one.span, one.item.line, mirror=mirror, last=n), wholes)

    def _other_lead(self, repeat: Repeat, taken: list[Action]) -> bool:
        """ "Same to the left": mirrored when what is copied begins with the other foot."""
        if not repeat.lead:
            return False
        led = next((a.foot for a in taken if a.foot in (Foot.LEFT, Foot.RIGHT)), None)
        if led is not None:
            return bool(led.value != repeat.lead)
        sides: list[str] = [a.dir.value for a in taken if a.dir is not None and a.dir.value in ("left", "right")]
        sides += [m.side.word for a in taken for m in a.arms if m.side is not Foot.BOTH]
        sides += [m.toward.value for a in taken for m in a.arms if m.toward is not None and m.toward.value in SIDES]
        return bool(sides) and sides[0][0].upper() != repeat.lead


def _way(action: Action) -> str:
    return action.dir.value if action.dir is not None else ""


def _in_stead(want: Want, action: Action) -> Want:
    """Return what is danced instead of a copied action: with its foot, and beside the other where that one closes."""
    side = {"left": "L", "right": "R"}.get(want.dir, "") if want.verb in ("touch", "stomp", "stomp-up", "scuff") else ""
    if not want.foot and side and not want.ref:
        want = want._replace(foot=side, dir="")  # "but touch right"
    if not want.foot and action.foot in (Foot.LEFT, Foot.RIGHT) and want.verb != "hold":
        want = want._replace(foot=action.foot.value)
    closes = action.dir in CLOSING and not want.dir and want.verb in ("touch", "stomp", "stomp-up", "step")
    return want._replace(dir="together") if closes else want


CLOSING = (Direction.TOGETHER, Direction.CENTRE, Direction.IN_PLACE)
LIFTS = ("raise", "reach", "push")
HEIGHTS = ("overhead", "head", "shoulder", "chest", "waist")


def _copied(moves: Iterable[ArmMove], repeat: Repeat) -> tuple[ArmMove, ...]:
    """Return the hands' parts as read from the words that ask for the copy, where those say to go."""
    place = next((p for p in PLACES if p == repeat.place), None)
    if repeat.lowers:
        moves = [replace(m, gesture="lower", place=None, toward=None) if m.gesture in LIFTS else m for m in moves]
    return tuple(replace(m, span=repeat.span, place=_place(m.place, place)) for m in moves)


def _place(was: Place | None, now: Place | None) -> Place | None:
    """Return where a copied hand goes: a height takes the place of a height."""
    return now if now and was and (was in HEIGHTS) == (now in HEIGHTS) else was


def _tells_again(one: Ready, places: list[Fraction]) -> bool:
    """ "Other side: step L to side, …", "mirror: L foot": the copy is told once more, step by step or by its foot."""
    named = {t.kind for t in one.item.tokens for a in one.atoms if a.span[0] <= t.start < a.span[1]}
    if named <= {"side", "foot", "hand", "mark", "join", "fill", "prep"}:
        return True
    laid = lay(one.atoms, places, ranged=True)
    return not laid.problem and len({at for at, _, _ in laid.at}) == len(places)


def unlaid(atoms: Iterable[Atom], slots: Iterable[Slot]) -> list[Span]:
    """Return the words of phrases of which nothing is danced; a heading and a turn lend what they say to others."""
    danced = {w.span for slot in slots for w in slot.wants} | {h.span for slot in slots for h in slot.hands}
    whole = (a for a in atoms if not a.heading and a.name != "turn" and all(a.choices))
    return [a.span for a in whole if not any(d[0] <= a.span[0] and a.span[1] <= d[1] for d in danced)]


def _feet_of(action: Action) -> Action:
    """Return the action without its arms; what was for the arms alone is held."""
    return replace(action, arms=(), verb="hold" if action.verb == "arms" else action.verb)
