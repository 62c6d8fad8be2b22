"""The choices for each moment of a dance: single steps, patterns over several moments, arms, and hands for feet."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.adapt.at_once import AtOnce, lead
from softshoe.adapt.costs import add_arms, add_feet, cost_of
from softshoe.adapt.hands import Arms, arms_instead, for_the_feet
from softshoe.adapt.limits import busy_arms, of_arms, of_feet
from softshoe.adapt.pattern_rows import pattern_rows_in
from softshoe.adapt.steps import Steps, steps_instead
from softshoe.dance.feet import Foot

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from softshoe.adapt.pattern_rows import Found
    from softshoe.adapt.search import Asked
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove
    from softshoe.dance.places import Direction

FAR = 12.0  # what a choice may cost more than the cheapest of its moment
HELD = ("open", "cross", "raise", "reach", "point")  # shapes that stay for a count where nothing else is written
MOST = 12  # choices of feet at one moment, the cheapest
ONE_LEG = {"left foot", "right foot"}
BETWEEN = "nothing falls between the counts"
HURRY = "one foot has less than half a second between two actions at this tempo"
SLOW = "feet at half time keep their time to land"
ONE_THING = "feet or arms and never both at once"
HOLDS_ON = "the one hand that dances holds the chair"
OWN_ARMS = "the dance's own arms stay and the feet rest"
EARLIER, LATER = "danced a count earlier: feet at half time", "danced a count later: feet at half time"


@dataclass(frozen=True, slots=True)
class Choice:
    """What is danced at one moment instead, what that gives up by itself, and why.

    ``stands_in``: hands do what feet did; ``repeats``: the dance as written did the same thing twice here.
    """

    was: AtOnce
    now: AtOnce
    cost: float
    parts: tuple[tuple[str, float], ...]
    reasons: tuple[str, ...]
    sources: tuple[str, ...]
    stands_in: bool = False
    repeats: bool = False
    turned_deg: int = 0
    key: tuple[tuple[Foot | None, str, Direction | None], ...] = ()


@dataclass(frozen=True, slots=True)
class Span:
    """Choices for one moment, or for several that belong together."""

    choices: tuple[Choice, ...]


def spans(asked: Asked) -> list[list[Span]]:
    """Return, for every moment of the dance, the spans that may begin there."""
    pinned = dict(asked.pinned)
    found = [[Span((pinned[i],))] if i in pinned else _single(asked, i) for i in range(len(asked.moments))]
    for pattern in pattern_rows_in(asked.moments, asked.limits):
        made = _pattern_span(asked, pattern) if _wanted(asked, pattern) else None
        if made is not None:
            found[pattern.start].append(made)
    return found


def _wanted(asked: Asked, found: Found) -> bool:
    """True where a pattern asks for something ruled out, and none of it is settled already."""
    pinned = dict(asked.pinned)
    window = range(found.start, found.start + found.length)
    broken = (of_feet(asked.moments[i].feet, asked.limits) or feet_may(asked, i) for i in window)
    return not any(i in pinned for i in window) and any(broken)


def feet_may(asked: Asked, index: int) -> str:
    """Return why no foot may move at this moment, "" where one may."""
    moment = asked.moments[index]
    if "quick" in asked.limits and not moment.whole:
        return BETWEEN
    if index in asked.hurried:
        return HURRY
    if "slow feet" in asked.limits and asked.slow_counts and moment.at.moment % asked.slow_counts:
        return SLOW
    return ""


def _single(asked: Asked, index: int) -> list[Span]:
    moment = asked.moments[index]
    found = [_choice(asked, index, steps) for steps in _steps(asked, index)]
    found.sort(key=lambda choice: choice.cost)
    if "feet" in asked.limits and moment.feet and not _own_arms(asked, moment):
        found = [*_stand_ins(asked, index), *found]
    return [Span((choice,)) for choice in found[:MOST] if choice.cost <= found[0].cost + FAR or choice.stands_in]


def _steps(asked: Asked, index: int) -> Iterator[Steps]:
    moment = asked.moments[index]
    barred = feet_may(asked, index)
    if barred:
        yield Steps((), 1 if moment.feet else 0, (barred,) if moment.feet else (), ("common practice",))
        return
    found = steps_instead(moment.feet, asked.limits)
    seen = {one.feet for one in found}
    yield from found
    for one in _from_near_by(asked, index) if "slow feet" in asked.limits else ():
        if one.feet and one.feet not in seen:
            seen.add(one.feet)
            yield one


def _from_near_by(asked: Asked, index: int) -> Iterator[Steps]:
    at = asked.moments[index].at
    for near, why in _neighbours(asked, index):
        for one in steps_instead(near.feet, asked.limits):
            feet = tuple(replace(a, at=at) for a in one.feet)
            yield replace(one, feet=feet, reasons=(why, *one.reasons), moved=True)


def _neighbours(asked: Asked, index: int) -> Iterator[tuple[AtOnce, str]]:
    at = asked.moments[index].at.at
    for other in (*asked.moments[index + 1 : index + 6], *asked.moments[max(0, index - 5) : index][::-1]):
        if other.whole and other.feet and 0 < abs(other.at.at - at) < asked.slow_counts:
            yield other, EARLIER if other.at.at > at else LATER


def _choice(asked: Asked, index: int, steps: Steps) -> Choice:
    moment = asked.moments[index]
    arms = _arms(asked, moment, steps.feet, index)
    now = AtOnce(moment.at, steps.feet, arms.arms)
    parts: defaultdict[str, float] = defaultdict(float)
    compared = steps.feet if steps.moved else moment.feet
    if "feet" not in asked.limits or not (arms.arms or _arms_go_on(asked, index)):
        add_feet(parts, compared, steps.feet, arms=bool(arms.arms), resting=bool(ONE_LEG & asked.limits))
        parts["piece"] += steps.pieces
    add_arms(parts, moment.arms, arms.arms)
    parts["moved"] += steps.moved
    reasons = tuple(dict.fromkeys((*(steps.reasons if steps.feet != moment.feet else ()), *arms.reasons)))
    sources = tuple(dict.fromkeys((*steps.sources, *arms.sources)))
    return Choice(
        moment, now, cost_of(parts), tuple(parts.items()), reasons, sources,
        repeats=_may_repeat(asked, index, steps),
        turned_deg=sum(a.turn_deg for a in steps.feet) - sum(a.turn_deg for a in moment.feet),
        key=tuple((a.foot, a.verb, a.dir) for a in steps.feet),
    )  # fmt: skip


def _may_repeat(asked: Asked, index: int, steps: Steps) -> bool:
    """True where doing the same again is no fault: written so, a count was left out between, or one leg does it all."""
    stepping = any(action.verb == "step" for action in steps.feet)
    slow = "slow feet" in asked.limits and steps.feet == asked.moments[index].feet and not stepping
    return slow or bool(ONE_LEG & asked.limits) or _written_twice(asked, index)


def _written_twice(asked: Asked, index: int) -> bool:
    mine = [(a.foot, a.verb, a.dir) for a in asked.moments[index].feet]
    before = next((m for m in asked.moments[:index][::-1] if m.feet), None)
    return before is not None and mine == [(a.foot, a.verb, a.dir) for a in before.feet]


def _arms(asked: Asked, moment: AtOnce, feet: tuple[Action, ...], index: int) -> Arms:
    """Return the arms for a moment whose feet are settled: those that give up least."""
    limits = asked.limits
    if not moment.arms:
        return Arms(())
    if "quick" in limits and not moment.whole:
        return Arms((), 1, (BETWEEN,))
    if "one thing" in limits and feet and busy_arms(moment.arms):
        return Arms((), 1, (ONE_THING,))
    if "chair" in limits and {"left hand", "right hand"} & limits:
        return Arms((), 1, (HOLDS_ON,))
    free = free_hand(asked, index) if "chair" in limits else None
    if feet == moment.feet and not of_arms(moment.arms, limits):
        return Arms(moment.arms)
    found = arms_instead(moment.arms, limits, free, feet=frozenset(a.foot for a in feet if a.foot))
    if "one thing" in limits and feet:
        found = tuple(one for one in found if not busy_arms(one.arms))
    return min(found, key=lambda one: _arms_cost(moment.arms, one))


def _arms_cost(was: tuple[ArmMove, ...], one: Arms) -> float:
    parts: defaultdict[str, float] = defaultdict(float)
    add_arms(parts, was, one.arms)
    return cost_of(parts) + 0.01 * one.pieces


def free_hand(asked: Asked, index: int) -> Foot:
    """Return the hand that may dance behind a chair through a section; the one on the leading foot's side holds on."""
    start = max((at for at in asked.starts if at <= index), default=0)
    later = (*asked.moments[start:], *asked.moments[:start][::-1])
    moves = next((foot for m in later if (foot := lead(m.feet))), None)
    return (moves or Foot.LEFT).other


def _own_arms(asked: Asked, moment: AtOnce) -> bool:
    return bool(moment.arms) and not ("quick" in asked.limits and not moment.whole)


def _arms_go_on(asked: Asked, index: int) -> bool:
    """True where the dance's own arms are still busy: held in a shape since the count before, or between two counts."""
    moment = asked.moments[index]
    if moment.arms or not index:
        return False
    before = asked.moments[index - 1]
    if moment.whole:
        return moment.at.at - before.at.at <= 1 and any(arm.gesture in HELD for arm in before.arms)
    return any(busy_arms(beside.arms) for beside in asked.moments[index - 1 : index + 2 : 2])


def _stand_ins(asked: Asked, index: int) -> list[Choice]:
    """Return what hands do for the feet of a moment, the first choice first."""
    moment = asked.moments[index]
    if ("quick" in asked.limits and not moment.whole) or _arms_go_on(asked, index):
        return []
    made = []
    for order, given in enumerate(for_the_feet(moment.feet)):
        within = next((one for one in arms_instead(given.arms, asked.limits, None) if one.arms), None)
        if within is not None:
            reasons, parts = (*given.reasons, *within.reasons), (("later choice", float(order)), *_turns(moment))
            now = AtOnce(moment.at, (), within.arms)
            again = _written_twice(asked, index)
            cost = cost_of(dict(parts))
            made.append(Choice(moment, now, cost, parts, reasons, given.sources, stands_in=True, repeats=again))
    return made


def _turns(moment: AtOnce) -> tuple[tuple[str, float], ...]:
    """Turns that hands can only show."""
    return (("turn", float(sum(bool(action.turn_deg) for action in moment.feet))),)


def _pattern_span(asked: Asked, found: Found) -> Span | None:
    """A pattern made over as a whole, where all of it keeps within the limits."""
    first = asked.moments[found.start].at.at
    pattern = found.row
    spent: set[Fraction] = set()
    choices = []
    for index in range(found.start, found.start + found.length):
        moment = asked.moments[index]
        since = moment.at.at - first
        spent.add(since)
        feet = tuple(replace(a, at=moment.at) for a in pattern.feet.get(since, ()))
        hands = pattern.arms.get(since, ())
        if pattern.arms:
            if feet or moment.arms:
                return None
            choices.append(_hands_choice(asked, moment, hands, pattern.reason, pattern.source))
            continue
        if of_feet(feet, asked.limits) or (feet and feet_may(asked, index)):
            return None
        steps = Steps(feet, 0, (pattern.reason,), (pattern.source,))
        choices.append(_as_pattern(_choice(asked, index, steps)))
    if spent < set(pattern.feet) | set(pattern.arms) or any(choice is None for choice in choices):
        return None
    return Span(tuple(choice for choice in choices if choice is not None))


def _as_pattern(choice: Choice) -> Choice:
    """A pattern is danced by its own feet and may do a thing twice: that is no loss of sides."""
    parts = tuple((part, times) for part, times in choice.parts if part != "side")
    return replace(choice, parts=parts, cost=cost_of(dict(parts)), repeats=True)


def _hands_choice(asked: Asked, moment: AtOnce, hands: tuple[ArmMove, ...], reason: str, source: str) -> Choice | None:
    within = next((one for one in arms_instead(hands, asked.limits, None) if one.arms or not hands), None)
    if within is None or (within.arms and "quick" in asked.limits and not moment.whole):
        return None
    now = AtOnce(moment.at, (), within.arms)
    parts = _turns(moment)
    reasons = (reason, *within.reasons)
    return Choice(moment, now, cost_of(dict(parts)), parts, reasons, (source,), stands_in=bool(within.arms))
