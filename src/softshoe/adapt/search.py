"""The search: of all ways through a dance that keep within the abilities, the one that gives up least.

Dynamic programming over the moments of the dance. The state holds what bears the dancer and where the feet are, so
what is chosen on one count stays possible on the next; ways that end in the same state are compared and the cheaper
goes on. Equals are decided by the order of the tables, so a mirrored dance gets the mirrored version.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.adapt.choices import Choice, Span, spans
from softshoe.adapt.costs import WEIGHTS
from softshoe.adapt.state import State, after
from softshoe.dance.feet import Weight

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.adapt.at_once import AtOnce

BEAM = 24  # ways kept at each moment
FAR = 14.0  # what a way may cost more than the best one there: beyond it never catches up in practice


@dataclass(frozen=True, slots=True)
class Asked:
    """What is searched for: the moments as written and what bore then, the limits, and where the dance stands on the
    first count. ``slow_counts`` feet at half time move on every second or third count; ``hurried`` moments are too
    quick for one foot; at ``firm`` ones (restarts, tags, the end) weight and facing are as written; sections begin at
    ``starts``; ``pinned`` choices are settled.
    """

    moments: tuple[AtOnce, ...]
    weights: tuple[Weight, ...]
    limits: frozenset[str]
    start: Weight
    slow_counts: int = 0
    hurried: frozenset[int] = frozenset()
    firm: frozenset[int] = frozenset()
    starts: tuple[int, ...] = ()
    pinned: tuple[tuple[int, Choice], ...] = ()

    @property
    def turns(self) -> bool:
        """True where nothing rules out turning, so that everybody should look the same way."""
        return not {"seat", "chair", "turning"} & self.limits


@dataclass(frozen=True, slots=True)
class Way:
    """A way through the dance so far: its cost, the state it leads to, the last choice, what it cost on the way, and
    the moment it leads to."""

    cost: float
    state: State
    choice: Choice | None = None
    before: Way | None = None
    parts: tuple[str, ...] = ()
    at: int = 0

    def steps(self) -> list[Way]:
        """Return the way's steps from the first moment on."""
        found: list[Way] = []
        way: Way | None = self
        while way is not None and way.choice is not None:
            found.append(way)
            way = way.before
        return found[::-1]


@dataclass(frozen=True, slots=True)
class Searched:
    """One choice for every moment, what they give up by named part, and what that costs."""

    choices: tuple[Choice, ...]
    given_up: Mapping[str, float]
    cost: float


def search(asked: Asked) -> Searched | None:
    """Return the way through the dance that gives up least; None where what is pinned leaves no way."""
    arrived: list[dict[State, Way]] = [{} for _ in range(len(asked.moments) + 1)]
    begin = State(Weight.SEAT if "seat" in asked.limits else asked.start)
    arrived[0][begin] = Way(0.0, begin)
    for index, options in enumerate(spans(asked)):
        reached = (_along(way, span, index, asked) for way in _best(arrived[index]) for span in options)
        for way in reached:
            if way is not None:
                _keep(arrived[way.at], way)
    if not arrived[-1]:
        return None
    end = min((_ended(way) for way in arrived[-1].values()), key=lambda way: round(way.cost, 6))
    given_up: Counter[str] = Counter()
    for step in end.steps():
        given_up.update(step.parts)
        given_up.update(dict(step.choice.parts) if step.choice else {})
    parts = {part: round(times, 2) for part, times in sorted(given_up.items()) if times}
    return Searched(tuple(s.choice for s in end.steps() if s.choice), parts, end.cost)


def _best(ways: dict[State, Way]) -> list[Way]:
    found = sorted(ways.values(), key=lambda way: round(way.cost, 6))[:BEAM]
    if not found:
        return found
    return [way for way in found if way.cost <= found[0].cost + FAR]


def _keep(ways: dict[State, Way], way: Way) -> None:
    there = ways.get(way.state)
    if there is None or way.cost < there.cost - 1e-6:
        ways[way.state] = way


def _ended(way: Way) -> Way:
    drift = abs(way.state.x) + abs(way.state.y)
    return replace(way, cost=way.cost + drift * WEIGHTS["drift"], parts=(*way.parts, *("drift",) * drift))


def _along(way: Way, span: Span, index: int, asked: Asked) -> Way | None:
    """Go along a span: one choice for each of its moments; None where the feet can't."""
    for at, choice in enumerate(span.choices, index):
        found = after(way.state, choice.now.feet, asked.limits)
        if found is None:
            return None
        state, parts = found
        if state.weight is not asked.weights[at] and state.weight is not Weight.SEAT:
            parts = (*parts, "end weight" if at in asked.firm else "weight")
        if choice.turned_deg and asked.turns:
            state = state._replace(off_deg=(state.off_deg + choice.turned_deg) % 360)
        if state.off_deg:
            parts = (*parts, "end facing" if at in asked.firm else "facing")
        state, again = _danced(way.state, state, choice)
        parts = (*parts, *again)
        way = Way(way.cost + choice.cost + sum(WEIGHTS[part] for part in parts), state, choice, way, parts, at + 1)
    return way


def _danced(before: State, state: State, choice: Choice) -> tuple[State, tuple[str, ...]]:
    """Note what was danced, and what is done twice running where it was not written so."""
    if choice.stands_in:
        again = choice.now.arms == before.last and not choice.repeats
        return state._replace(last=choice.now.arms), ("same hands",) if again else ()
    if not choice.key:
        return (state._replace(last=choice.now.arms) if choice.now.arms else state), ()
    again = choice.key == before.last and not choice.repeats
    return state._replace(last=choice.key), ("twice",) if again else ()
