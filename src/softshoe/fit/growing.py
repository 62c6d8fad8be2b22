"""Edges out of a node: one wall danced in every way that is allowed, with what each charges."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from softshoe.dance.facing import turned
from softshoe.fit.ending import needs_ending
from softshoe.fit.pattern import again, full
from softshoe.fit.rules import limit, tag_lengths
from softshoe.fit.score import misfits, repairs_cost
from softshoe.fit.steps import Extra, Step

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from softshoe.dance.dance import Dance
    from softshoe.fit.anatomy import Anatomy
    from softshoe.fit.grid import Grid
    from softshoe.fit.pins import Pins
    from softshoe.fit.rules import Weights
    from softshoe.fit.steps import Key

Node = tuple[int, int]  # wall, position
INF = float("inf")
LEAST_WALL = int(limit("least_wall"))
FIRST: Node = (1, 0)
TIE = 1e-5  # of two ways that cost the same, the one with fewer repairs, then the shorter tag


@dataclass(frozen=True, slots=True)
class Reached:
    """The least that can have been charged on the way to a node: repairing nothing, one thing only (by what), or more.

    A lower bound: a repair is charged as at a like place, and in full only when it is the first or second of its kind.
    """

    none: float = INF
    one: Mapping[Key, float] = field(default_factory=dict)
    more: float = INF
    learning: float = field(init=False)  # the least after which something new may be learnt

    def __post_init__(self) -> None:
        object.__setattr__(self, "learning", min([self.none, *self.one.values()]))

    @property
    def least(self) -> float:
        """The least of all."""
        return min(self.learning, self.more)

    def least_with(self, key: Key, like: float, first: float) -> float:
        """Return the least that is charged with one repair more."""
        return min(self.learning + first, self.one.get(key, INF), self.more) + like

    def with_repairs(self, repairs: tuple[Key, ...], like: float, first: float) -> Reached:
        """Return what is reached when a wall with these repairs is danced."""
        if not repairs:
            return self
        if len(repairs) > 1:
            return Reached(more=min(self.learning + first, self.more) + like)
        key = repairs[0]
        same = min(self.none + first, self.one.get(key, INF)) + like
        others = min((cost for other, cost in self.one.items() if other != key), default=INF)
        return Reached(one={key: same}, more=min(others + first, self.more) + like)

    def later(self, charge: float) -> Reached:
        """Return the same with a charge more."""
        return Reached(self.none + charge, {key: cost + charge for key, cost in self.one.items()}, self.more + charge)

    def or_else(self, other: Reached) -> Reached:
        """Return the lesser of two ways to a node, in each respect."""
        keys = {*self.one, *other.one}
        one = {key: min(self.one.get(key, INF), other.one.get(key, INF)) for key in keys}
        return Reached(min(self.none, other.none), one, min(self.more, other.more))


@dataclass(frozen=True, slots=True)
class Edge:
    """One wall danced in one way; ``to`` None: the run is over with it.

    ``repairs`` are its repairs, ``new`` those of them that nobody wrote or pinned. ``alone`` is what the wall charges
    by itself, ``like`` the least that its repairs charge, ``first`` what the cheapest of them charges more when it is
    the first of its kind. ``at_end``: what closing the song with it charges, by facing.
    """

    step: Step
    to: Node | None
    turn_deg: int
    repairs: tuple[Key, ...]
    new: tuple[Key, ...]
    alone: float
    like: float
    first: float
    at_end: tuple[float, ...] = ()


Edges = dict[Node, list[Edge]]


@dataclass(frozen=True, slots=True)
class Growing:
    """Everything that decides which ways there are to dance a wall."""

    dance: Dance
    grid: Grid
    pins: Pins
    weights: Weights
    anatomy: Anatomy
    written: bool
    unit_deg: int
    landings: frozenset[int]
    prices: dict[tuple[tuple[Key, ...], bool], tuple[float, float]] = field(default_factory=dict)

    def walked(self, choose: Callable[[Node, set[Key]], Edge]) -> tuple[tuple[Step, ...], float]:
        """Go through the song by one rule; return the way and what it charges."""
        node: Node | None = FIRST
        steps, alone, facing = [], 0.0, 0
        learnt: set[Key] = set()
        while node is not None:
            edge = choose(node, learnt)
            learnt.update(edge.repairs)
            steps.append(edge.step)
            alone += edge.alone + (edge.at_end[facing // self.unit_deg] if edge.to is None else 0.0)
            facing = turned(facing, edge.turn_deg)
            node = edge.to
        return tuple(steps), alone + repairs_cost(self.dance, steps, self.weights)

    def as_it_is(self, node: Node, _: set[Key]) -> Edge:
        """The edge that repairs nothing new."""
        return next(self.edges(node))

    def looking_ahead(self, node: Node, learnt: set[Key]) -> Edge:
        """The edge that charges least together with a plain wall behind it."""
        return min(self.edges(node), key=lambda edge: self._ahead(edge, learnt))

    def _ahead(self, edge: Edge, learnt: set[Key]) -> float:
        repairs = edge.like + edge.first * (not learnt.issuperset(edge.repairs))
        return edge.alone + repairs + (next(self.edges(edge.to)).alone if edge.to is not None else 0.0)

    def edges(self, node: Node, before: Reached | None = None, most: float = INF) -> Iterator[Edge]:
        """Yield the ways to dance the wall that begins here; the first repairs nothing new.

        Repairs that alone would charge more than ``most``, with what is charged ``before``, are left out.
        """
        wall, at = node
        whole = Step(wall, at, self.dance.counts)
        fixed = self._pinned(whole) or (self._written(whole) if self.written else None)
        if fixed is not None:
            yield self._edge(self._within(fixed))
            return
        yield self._edge(self._within(whole))
        for step in self._repaired(whole):
            like, first = self._price(step)
            if before is not None and before.least_with(step.repairs[0], like, first) > most:
                continue
            edge = self._edge(step, new=step.repairs)
            if edge.to is not None or not step.cut:
                yield edge

    def _price(self, step: Step) -> tuple[float, float]:
        """The least that a step's repairs charge, and what the cheapest of them charges more if it is the first."""
        name = (step.repairs, step.change is not None)
        if name not in self.prices:
            costs = [full(self.dance, self.weights, key, changed=name[1]) for key in name[0]]
            like = [again(self.weights, cost) for cost in costs]
            first = min((a - b for a, b in zip(costs, like, strict=True)), default=0.0)
            self.prices[name] = sum(like), first
        return self.prices[name]

    def _edge(self, step: Step, new: tuple[Key, ...] = ()) -> Edge:
        left = self.grid.total - step.end
        over = left < (self.dance.counts if self.grid.fades else LEAST_WALL)
        own = self.anatomy.facings_deg[step.counts]
        turn = 0 if self.dance.seated else turned(own, _turn_of_extras(step))
        alone = sum(misfits(self.dance, self.grid, step, self.weights).values())
        tie = sum(TIE * (10 + counts) for _, _, counts in step.repairs)
        to = None if over else (step.wall + 1, step.end)
        closing = self._closing(step) if over else ()
        return Edge(step, to, turn, step.repairs, new, alone + tie, *self._price(step), closing)

    def _closing(self, step: Step) -> tuple[float, ...]:
        charge = self.weights.of("ending")
        facings = range(0, 360, self.unit_deg)
        return tuple(charge * needs_ending(self.dance, self.grid, step, facing, self.anatomy) for facing in facings)

    def _repaired(self, whole: Step) -> Iterator[Step]:
        """Every tag, restart and bridge that brings somebody home."""
        if self.pins.tags:
            yield from self._longer(whole, (whole.counts,))
        if self.pins.restarts:
            yield from (
                Step(whole.wall, whole.at, counts, cut=True, change=change)
                for counts, change in self.anatomy.cuts
                if whole.at + counts in self.landings
            )
        if self.pins.bridges:
            yield from (step for step in self._longer(whole, self.anatomy.breaks) if step.end <= self.grid.total)

    def _longer(self, whole: Step, places: tuple[int, ...]) -> Iterator[Step]:
        """The wall with counts added after one of these counts, so that what follows falls on a landing."""
        for after in places:
            for counts in tag_lengths(three=self.dance.metre == "3/4"):
                if whole.at + after + counts in self.landings:
                    yield Step(whole.wall, whole.at, whole.counts, (Extra(after, counts),))

    def _within(self, step: Step) -> Step:
        """A wall that the end of the song cuts is no restart; it keeps the extras that are whole before the end."""
        if step.end <= self.grid.total:
            return step
        left = self.grid.total - step.at
        kept: list[Extra] = []
        for extra, at in step.places():
            if at + extra.counts < self.grid.total and extra.after < step.counts:
                kept.append(extra)
        counts = min(step.counts, left - sum(extra.counts for extra in kept))
        return Step(step.wall, step.at, counts, tuple(kept))

    def _pinned(self, whole: Step) -> Step | None:
        pin = self.pins.walls.get(whole.wall)
        if pin is None:
            return None
        said = {(t.after_count, t.counts): t.actions for t in self.dance.tags if whole.wall in t.walls}
        extras = tuple(
            Extra(after, counts, said.get((after, counts), ()), (after, counts) in said) for after, counts in pin.extras
        )
        return self._so(whole, pin.counts or whole.counts, tuple(sorted(extras, key=lambda e: e.after)))

    def _written(self, whole: Step) -> Step | None:
        """The wall as the sheet says it, or None when it says nothing of this wall."""
        cut = next((r.after_count for r in self.dance.restarts if whole.wall in r.walls), None)
        tags = [t for t in self.dance.tags if whole.wall in t.walls and (cut is None or t.after_count <= cut)]
        if cut is None and not tags:
            return None
        ends = next((t.after_count for t in tags if t.then == "start"), cut)
        extras = tuple(Extra(t.after_count, t.counts, t.actions, True) for t in tags)
        return self._so(whole, ends or whole.counts, tuple(sorted(extras, key=lambda e: e.after)))

    def _so(self, whole: Step, counts: int, extras: tuple[Extra, ...]) -> Step:
        cut = counts < whole.counts
        change = dict(self.anatomy.cuts).get(counts) if cut else None
        return Step(whole.wall, whole.at, min(counts, whole.counts), extras, cut, change)


def _turn_of_extras(step: Step) -> int:
    """How far written tags and bridges turn; proposed ones turn nobody."""
    return sum(action.turn_deg for extra in step.extras for action in extra.actions) % 360
