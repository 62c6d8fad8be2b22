"""Dances that can be danced, made at random from the whole vocabulary: every verb with every place it allows.

Weight is kept: standing, a foot that bears does not move; seated, either may. Counts are filled by steps, quick steps,
two feet at once, hands alone, holds, named patterns, and copies of what was danced (plain or to the other side).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from hypothesis import strategies as st

from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURES, PLACES, ArmMove
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import LEVELS, Dance, Ending, Restart, Section, Tag
from softshoe.dance.facing import walls_of
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import net_turn_deg, state_after, weight_after
from softshoe.dance.patterns import EVENT_VERB, danced_pattern, patterns
from softshoe.dance.places import Direction as D
from softshoe.dance.verbs import VERB, VERBS

if TYPE_CHECKING:
    from collections.abc import Callable

FLAT = (D.FORWARD, D.BACK, D.LEFT, D.RIGHT, D.FORWARD_LEFT, D.FORWARD_RIGHT, D.BACK_LEFT, D.BACK_RIGHT)
CROSSED = (D.ACROSS_FRONT, D.ACROSS_BEHIND)
HOME = (D.TOGETHER, D.IN_PLACE, D.CENTRE)
# Where each verb may go: with one foot, with both.
PLACES_OF: dict[str, tuple[tuple[D, ...], tuple[D, ...]]] = {
    "step": ((*FLAT, *CROSSED, *HOME), (D.APART, D.TOGETHER, D.IN_PLACE, D.FORWARD, D.BACK, D.CENTRE)),
    "rock": ((*FLAT, *CROSSED), ()),
    "recover": ((D.IN_PLACE, D.FORWARD, D.BACK), ()),
    "sway": ((D.LEFT, D.RIGHT), ()),
    "lunge": (FLAT, ()),
    "stomp": ((*FLAT, *CROSSED, *HOME), (D.IN_PLACE, D.APART)),
    "drop": ((D.IN_PLACE,), ()),
    "grind": ((D.FORWARD, D.ACROSS_FRONT), ()),
    "pivot": ((D.IN_PLACE,), ()),
    "hop": ((D.IN_PLACE, D.FORWARD, D.BACK, D.LEFT, D.RIGHT), ()),
    "jump": ((), (D.IN_PLACE, D.FORWARD, D.BACK, D.LEFT, D.RIGHT, D.APART, D.TOGETHER, D.ACROSS_FRONT)),
    "touch": ((*FLAT, *CROSSED, *HOME), ()),
    "point": ((*FLAT, *CROSSED), ()),
    "heel": ((*FLAT, D.ACROSS_FRONT, D.TOGETHER, D.IN_PLACE), ()),
    "kick": ((*FLAT, D.ACROSS_FRONT), ()),
    "flick": ((D.BACK, D.LEFT, D.RIGHT, D.ACROSS_BEHIND, D.BACK_LEFT, D.BACK_RIGHT), ()),
    "hitch": ((D.UP,), ()),
    "hook": (CROSSED, ()),
    "scuff": ((D.FORWARD, D.FORWARD_LEFT, D.FORWARD_RIGHT, D.ACROSS_FRONT), ()),
    "brush": ((*FLAT, D.ACROSS_FRONT), ()),
    "sweep": (FLAT, ()),
    "drag": ((D.TOGETHER, *FLAT), ()),
    "fan": ((D.LEFT, D.RIGHT, D.CENTRE), (D.LEFT, D.RIGHT, D.CENTRE, D.APART)),
    "swivel": ((D.LEFT, D.RIGHT, D.CENTRE), (D.LEFT, D.RIGHT, D.CENTRE, D.APART)),
    "raise": ((D.UP,), (D.UP,)),
    "lower": ((D.DOWN,), (D.DOWN,)),
    "bump": ((), ()),
    "stomp-up": ((D.TOGETHER, D.IN_PLACE, D.FORWARD), ()),
    "turn": ((D.IN_PLACE,), ()),
    "unwind": ((), (D.IN_PLACE,)),
    "arms": ((), ()),
    "hold": ((), ()),
}
assert set(PLACES_OF) == {verb.name for verb in VERBS}
HIPS = (D.LEFT, D.RIGHT, D.FORWARD, D.BACK)
TURNS = (90, -90, 180, -180, 45, -45, 270, -270, 360, -360)
TURNING = ("step", "recover", "rock", "touch", "point", "hitch", "sweep", "kick", "stomp", "hop", "jump")
SIDES = (Foot.LEFT, Foot.RIGHT, Foot.BOTH)
SEATED_NOT = ("pivot", "turn", "unwind", "hop", "jump", "lunge", "grind")
TOWARD: dict[str, tuple[D | None, ...]] = {
    "push": (D.FORWARD, D.LEFT, D.RIGHT, D.UP, D.DOWN, D.APART, D.ACROSS_FRONT),
    "pull": (D.BACK, D.CENTRE, D.DOWN),
    "punch": (D.FORWARD, D.UP, D.LEFT, D.RIGHT, D.DOWN, D.ACROSS_FRONT),
    "reach": (D.FORWARD, D.UP, D.LEFT, D.RIGHT, D.APART, D.DOWN, D.BACK, D.ACROSS_FRONT),
    "raise": (None, D.UP), "open": (None,), "close": (None,), "point": (D.FORWARD, D.UP, D.DOWN, D.LEFT, D.RIGHT),
    "sweep": (D.LEFT, D.RIGHT), "wave": (None,), "rotate": (D.UP, D.DOWN),
}  # fmt: skip
AT: dict[str, tuple[str | None, ...]] = {
    "clap": (None, "overhead", "chest"), "pat": ("lap", "thigh", "knee", "hip", "chest", "shoulder"),
    "drum": ("lap", "thigh", "knee"), "rest": ("lap", "thigh", "knee", "hip", "chest", "shoulder"),
    "lower": (None, "lap", "thigh", "hip", "waist"), "follow": ("foot",), "cross": (None, "chest"),
    "snap": (None, "shoulder", "head", "waist", "overhead"), "raise": (None, "shoulder", "overhead", "head"),
    "swing": (None,), "circle": (None, "waist", "chest", "shoulder", "head", "overhead"),
}  # fmt: skip
HEIGHTS: tuple[str | None, ...] = (None, "waist", "chest", "shoulder", "head")
MOVED = (*CROSSED,)


@st.composite
def arm_moves(draw: st.DrawFn) -> ArmMove:
    """One hand or both, doing what that gesture does, where it can."""
    gesture = draw(st.sampled_from([g.name for g in GESTURES]))
    side = Foot.BOTH if gesture in ("clap", "roll", "cross", "open", "close") else draw(st.sampled_from(SIDES))
    if gesture == "follow" and side is Foot.BOTH:
        side = Foot.RIGHT
    toward = draw(st.sampled_from(TOWARD.get(gesture, (None,))))
    place = draw(st.sampled_from(AT.get(gesture, HEIGHTS)))
    if gesture in ("push", "punch", "reach", "raise") and place == "overhead":
        toward = D.UP
    if toward is D.APART and side is not Foot.BOTH:
        toward = D.LEFT if side is Foot.LEFT else D.RIGHT
    assert place is None or place in PLACES
    return ArmMove(side, gesture, place, toward)  # type: ignore[arg-type]


def arms() -> st.SearchStrategy[tuple[ArmMove, ...]]:
    """None, one entry, or one for each hand."""
    one = arm_moves().map(lambda m: (m,))
    two = arm_moves().filter(lambda m: m.side is not Foot.BOTH).flatmap(
        lambda a: arm_moves().filter(lambda b: b.side is a.side.other).map(lambda b: (a, b)))  # fmt: skip
    return st.one_of(st.just(()), st.just(()), one, two)


class Maker:
    """Makes actions one after the other; ``weight`` is what bears, ``last`` the last action of the feet."""

    def __init__(self, draw: st.DrawFn, weight: Weight) -> None:
        self.draw = draw
        self.weight = weight
        self.last: Action | None = None
        self.raised: Foot | None = None

    def add(self, action: Action) -> Action:
        """Stand as the action leaves her."""
        self.weight = weight_after(action, self.weight)
        self.last = action if action.foot is not None else self.last
        return action

    def free(self) -> tuple[Foot, ...]:
        """The feet that may move."""
        if self.weight in (Weight.LEFT, Weight.RIGHT):
            return (Foot(self.weight.value).other,)
        return (Foot.LEFT, Foot.RIGHT)

    def foot_action(self, at: Fraction, *, quiet: bool = False) -> Action:
        """One action that the feet may do now."""
        draw = self.draw
        names = [v.name for v in VERBS if v.name not in ("arms", "hold", "drop", "lower")]
        if self.weight is Weight.SEAT:
            names = [n for n in names if n not in SEATED_NOT]
        name = draw(st.sampled_from(names))
        if self._may_drop() and draw(st.booleans()):
            name = "drop"
        elif self.last is not None and self.last.verb == "raise":
            name = draw(st.sampled_from((name, "lower")))
        return self._of(name, at, quiet=quiet)

    def _may_drop(self) -> bool:
        last = self.last
        return last is not None and last.verb in ("touch", "heel", "point") and last.foot in self.free()

    def _of(self, name: str, at: Fraction, *, quiet: bool) -> Action:
        draw = self.draw
        one, both = PLACES_OF[name]
        last = self.last
        if name in ("drop", "lower") and last is not None:
            place = D.IN_PLACE if name == "drop" else D.DOWN
            return Action(Count(at), last.foot, name, place)
        if name == "bump":
            return Action(Count(at), None, "bump", draw(st.sampled_from(HIPS)))
        foot = draw(st.sampled_from(self.free()))
        if both and (not one or draw(st.integers(0, 4)) == 0):
            foot = Foot.BOTH
        place = draw(st.sampled_from(both if foot is Foot.BOTH else one))
        place = self._own_side(name, foot, place)
        if name in ("pivot", "turn", "hop"):
            foot = self._bearing_foot(name, foot)
        turn = 0
        if self.weight is not Weight.SEAT and not quiet:
            turn = self._turn(name)
        said = None
        if name == "unwind":
            said = draw(st.sampled_from((None, Weight.LEFT, Weight.RIGHT)))
        elif foot is Foot.BOTH and VERB[name].weight in ("foot", "both") and self.weight is not Weight.SEAT:
            said = draw(st.sampled_from((None, None, Weight.LEFT, Weight.RIGHT)))
        elif name == "drag" and self.weight is not Weight.SEAT:
            said = draw(st.sampled_from((None, Weight(foot.value))))
        elif name == "turn" and self.weight is Weight.BOTH:
            said = Weight(foot.value)
        said = None if self.weight is Weight.SEAT else said
        return Action(Count(at), foot, name, place, turn, weight_said=said)

    def _bearing_foot(self, name: str, foot: Foot) -> Foot:
        bears = Foot(self.weight.value) if self.weight in (Weight.LEFT, Weight.RIGHT) else foot
        return bears.other if name == "pivot" and bears is foot.other else bears

    def _own_side(self, name: str, foot: Foot, place: D) -> D:
        """A sway goes over the foot of its side; a foot to the other side crosses, which is said otherwise."""
        own = {Foot.LEFT: (D.LEFT, D.FORWARD_LEFT, D.BACK_LEFT), Foot.RIGHT: (D.RIGHT, D.FORWARD_RIGHT, D.BACK_RIGHT)}
        if foot in own and place not in own[foot] and place.mirrored is not place and name not in ("fan", "swivel"):
            return place.mirrored
        return place

    def _turn(self, name: str) -> int:
        if name in ("pivot", "unwind", "turn"):
            return self.draw(st.sampled_from(TURNS))
        if name in TURNING:
            return self.draw(st.sampled_from((0, 0, 0, 0, *TURNS)))
        return 0

    def count(self, n: int) -> list[Action]:
        """Fill one whole count."""
        draw = self.draw
        kind = draw(st.sampled_from(("step", "step", "step", "step", "and", "a", "e", "two", "arms", "hold", "three")))
        at = Fraction(n)
        if kind == "hold":
            return [Action(Count(at), None, "hold")]
        if kind == "arms":
            moves = draw(arms().filter(bool))
            return [Action(Count(at), None, "arms", arms=moves)]
        first = self.add(replace(self.foot_action(at), arms=draw(arms())))
        if kind == "two" and self.weight in (Weight.LEFT, Weight.RIGHT) and first.turn_deg == 0:
            return [first, *self._second(first)]
        parts = {"and": (2,), "a": (3,), "e": (1,), "three": (2, 3)}.get(kind, ())
        return [first, *(self._quick(at + Fraction(part, 4)) for part in parts)]

    def _quick(self, at: Fraction) -> Action:
        """What stands between counts: mostly a foot, now and then a clap."""
        if self.draw(st.integers(0, 5)) == 0:
            return Action(Count(at), None, "arms", arms=(ArmMove(Foot.BOTH, "clap"),))
        return self.add(self.foot_action(at))

    def _second(self, first: Action) -> list[Action]:
        """The other foot, at the same moment."""
        other = self.free()[0]
        if first.foot is other or first.foot is Foot.BOTH or first.foot is None:
            return []
        name = self.draw(st.sampled_from(("sweep", "hitch", "drag", "flick")))
        place = self._own_side(name, other, self.draw(st.sampled_from(PLACES_OF[name][0])))
        return [self.add(Action(first.at, other, name, place))]


@cache
def whole_patterns(seated: bool) -> list[tuple[str, int]]:
    """Named patterns that begin on a count and their length in whole counts."""
    found = []
    for name, pattern in patterns().items():
        steps = pattern.steps
        if len(steps) < 2 or steps[0].at != 1 or any(s.place == "any" for s in steps):
            continue
        if any(EVENT_VERB.get(s.verb, s.verb) not in VERB or s.verb in ("clap", "snap") for s in steps) or (
            seated and any(s.turn_deg for s in steps)
        ):
            continue
        found.append((name, int(max(s.at for s in steps))))
    return found


def _pattern(maker: Maker, at: int, left: int) -> list[Action]:
    names = [name for name, length in whole_patterns(maker.weight is Weight.SEAT) if length <= left]
    if not names:
        return []
    name = maker.draw(st.sampled_from(names))
    lead = maker.draw(st.sampled_from(maker.free()))
    actions = list(danced_pattern(name, lead=lead, at=Count(Fraction(at))))
    return [maker.add(_event(a, seated=maker.weight is Weight.SEAT)) for a in actions]


def _event(action: Action, *, seated: bool) -> Action:
    """A pattern's action as the dance events have it: a knee goes up; on a chair nothing is said of the weight."""
    place = D.UP if action.verb == "hitch" else None if action.verb == "hold" else action.dir
    if action.verb == "bump":  # the hips, not a foot
        return replace(action, foot=None, weight_said=None)
    return replace(action, dir=place, weight_said=None if seated else action.weight_said)


def _filled(actions: list[Action], first: int, last: int) -> list[Action]:
    """Counts that nothing fills are held."""
    there = {a.at.at for a in actions}
    holds = [Action(Count(Fraction(n)), None, "hold") for n in range(first, last + 1) if Fraction(n) not in there]
    return sorted([*actions, *holds], key=lambda a: a.at.at)


def stretch(maker: Maker, first: int, last: int) -> list[Action]:
    """Fill the counts from first to last, now and then with a pattern."""
    out: list[Action] = []
    n = first
    while n <= last:
        made: list[Action] = []
        if maker.draw(st.integers(0, 3)) == 0:
            made = _pattern(maker, n, last - n + 1)
        made = made or maker.count(n)
        out += made
        n = max(a.at.whole for a in made) + 1
    return _filled(out, first, last)


def _section(maker: Maker, before: list[Action], begun: list[Weight], first: int, unit: int) -> list[Action]:
    """A section: new, half of it copied (to the other side or not), or a copy of the section before.

    ``begun`` tells what bore her where each section began: a copy begins with the same foot free, or the other.
    """
    kind = maker.draw(st.sampled_from(("new", "new", "again", "mirror", "copy", "copied mirror")))
    half, start = unit // 2, maker.weight
    if kind in ("copy", "copied mirror") and begun:
        source = [a for a in before if first - unit <= a.at.whole < first]
        if _may_copy(begun[-1], start, mirror=kind == "copied mirror"):
            return _copied(maker, source, unit, mirror=kind == "copied mirror")
    if kind in ("again", "mirror"):
        out = stretch(maker, first, first + half - 1)
        if _may_copy(start, maker.weight, mirror=kind == "mirror"):
            return [*out, *_copied(maker, out, half, mirror=kind == "mirror")]
        return [*out, *stretch(maker, first + half, first + unit - 1)]
    return stretch(maker, first, first + unit - 1)


def _may_copy(then: Weight, now: Weight, *, mirror: bool) -> bool:
    return now is (then.other if mirror else then)


def _copied(maker: Maker, source: list[Action], by: int, *, mirror: bool) -> list[Action]:
    later: Callable[[Action], Action] = lambda a: a.later(Counts(Fraction(by)))  # noqa: E731
    return [maker.add(later(a.mirrored if mirror else a)) for a in source]


def _words() -> st.SearchStrategy[str]:
    return st.sampled_from(("Lantern", "Kettle", "Willow Walk", "Copper Tea", "Harbour Lights", "Nine Barn Owls"))


@st.composite
def sound_dances(draw: st.DrawFn, *, sections: int = 3) -> Dance:
    """A whole dance with its header, tags, restarts and endings."""
    seated = draw(st.booleans())
    metre = draw(st.sampled_from(("4/4", "3/4", "4/4", "2/4", "6/8")))
    unit = 6 if metre in ("3/4", "6/8") else 8
    start = Weight.SEAT if seated else draw(st.sampled_from((Weight.LEFT, Weight.RIGHT)))
    maker = Maker(draw, start)
    made: list[Action] = []
    begun: list[Weight] = []
    count = draw(st.integers(1, sections))
    for k in range(count):
        weight = maker.weight
        made += _section(maker, made, begun, k * unit + 1, unit)
        begun.append(weight)
    if all(a.foot is None for a in made):
        made[0] = Action(made[0].at, Foot.RIGHT, "step", D.IN_PLACE)
    parts = tuple(Section(k + 1, Count(Fraction(k * unit + 1)), Counts(Fraction(unit))) for k in range(count))
    dance = Dance(
        draw(_words()), count * unit, None, draw(st.none() | st.sampled_from(LEVELS)), seated, metre,
        draw(st.none() | st.integers(60, 180) | st.just((90, 120)) | st.just(97.5)),
        draw(st.none() | st.integers(0, 64)), start, parts, tuple(made),
    )  # fmt: skip
    dance = replace(dance, walls=walls_of(net_turn_deg(dance)))
    return _with_extras(draw, dance, unit)


def _with_extras(draw: st.DrawFn, dance: Dance, unit: int) -> Dance:
    def played(after: int, counts: int) -> tuple[Action, ...]:
        weight = Weight.SEAT if dance.seated else state_after(dance, after)[0]
        return tuple(stretch(Maker(draw, weight), 1, counts))

    tags, restarts, endings = [], [], []
    if draw(st.integers(0, 2)) == 0:
        inside = draw(st.booleans())
        after = draw(st.integers(1, dance.counts - 1)) if inside else dance.counts
        then = draw(st.sampled_from(("start", "continue"))) if inside else "start"
        walls = tuple(sorted(draw(st.sets(st.integers(1, 9), min_size=1, max_size=3))))
        counts = draw(st.integers(2, 8))
        tags.append(Tag(walls, after, counts, then, played(after, counts)))  # type: ignore[arg-type]
    if draw(st.integers(0, 2)) == 0:
        walls = tuple(sorted(draw(st.sets(st.integers(1, 9), min_size=1, max_size=3))))
        restarts.append(Restart(walls, draw(st.integers(1, dance.counts - 1))))
    if draw(st.integers(0, 2)) == 0:
        after = draw(st.integers(1, dance.counts))
        counts = draw(st.integers(1, 8))
        wall = draw(st.just("last") | st.integers(2, 8))
        facing = draw(st.sampled_from((0, 90, 180, 270)))
        endings.append(Ending(wall, after, counts, facing, played(after, counts)))  # type: ignore[arg-type]
    return replace(dance, tags=tuple(tags), restarts=tuple(restarts), endings=tuple(endings))
