"""All ways through a song, as a graph: a node is the beginning of a wall, an edge is that wall danced in one way.

A new repair is an edge only where it brings somebody home: a tag or restart ends where a phrase begins (or the music
after a pause), a bridge lets a section begin there. What is written or pinned holds for its wall and leaves no choice.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.dance.facing import turned
from softshoe.fit.anatomy import Anatomy, anatomy
from softshoe.fit.rules import limit, tag_lengths
from softshoe.fit.steps import Extra, Step

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.pins import Pins
    from softshoe.fit.steps import Key

Node = tuple[int, int]  # wall, position


@dataclass(frozen=True, slots=True)
class Edge:
    """One wall danced in one way; ``to`` None: the run is over with it.

    ``keys`` are its repairs, ``new`` those of them that nobody wrote or pinned.
    """

    step: Step
    to: Node | None
    turn_deg: int
    keys: tuple[Key, ...] = ()
    new: tuple[Key, ...] = ()


@dataclass(frozen=True, slots=True)
class Lattice:
    """The edges out of every node, walls in order; a node's own come after those that lead to it."""

    dance: Dance
    grid: Grid
    edges: Mapping[Node, tuple[Edge, ...]]


FIRST: Node = (1, 0)


def lattice(dance: Dance, grid: Grid, pins: Pins, *, written: bool) -> Lattice:
    """Return every way to lay the dance on the counts of the song; no edges when there is no count to dance.

    ``written`` honours the sheet's own tags and restarts. On a song that fades the dance ends with its last whole wall.
    """
    growing = _Growing(dance, grid, pins, anatomy(dance), written)
    edges: dict[Node, tuple[Edge, ...]] = {}
    layer = [FIRST] if grid.total else []
    while layer:
        for node in layer:
            edges[node] = tuple(growing.edges(node))
        layer = sorted({edge.to for node in layer for edge in edges[node] if edge.to is not None})
    return Lattice(dance, grid, edges)


@dataclass(frozen=True, slots=True)
class _Growing:
    dance: Dance
    grid: Grid
    pins: Pins
    anatomy: Anatomy
    written: bool

    def edges(self, node: Node) -> Iterator[Edge]:
        """Yield the ways to dance the wall that begins here."""
        wall, at = node
        whole = Step(wall, at, self.dance.counts)
        fixed = self._pinned(whole) or (self._written(whole) if self.written else None)
        if fixed is not None:
            yield self._edge(self._within(fixed))
            return
        yield self._edge(self._within(whole))
        for step in self._repaired(whole):
            edge = self._edge(step, new=step.repairs)
            if edge.to is not None or not step.cut:
                yield edge

    def _edge(self, step: Step, new: tuple[Key, ...] = ()) -> Edge:
        left = self.grid.total - step.end
        least = self.dance.counts if self.grid.fades else int(limit("least_wall"))
        over = left < least
        own = self.anatomy.facings_deg[min(step.counts, self.dance.counts)]
        turn = 0 if self.dance.seated else turned(own, _turn_of_extras(step))
        return Edge(step, None if over else (step.wall + 1, step.end), turn, step.repairs, new)

    def _repaired(self, whole: Step) -> Iterator[Step]:
        """Every tag, restart and bridge that brings somebody home."""
        if self.pins.tags:
            yield from self._longer(whole, (whole.counts,))
        if self.pins.restarts:
            yield from (
                Step(whole.wall, whole.at, counts, cut=True, change=change)
                for counts, change in self.anatomy.cuts
                if whole.at + counts in self.grid.landings
            )
        if self.pins.bridges:
            yield from (step for step in self._longer(whole, self.anatomy.breaks) if step.end <= self.grid.total)

    def _longer(self, whole: Step, places: tuple[int, ...]) -> Iterator[Step]:
        """The wall with counts added after one of these counts, so that what follows falls on a landing."""
        for after in places:
            for counts in tag_lengths(three=self.dance.metre == "3/4"):
                if whole.at + after + counts in self.grid.landings:
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
