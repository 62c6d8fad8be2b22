"""All ways through a song, as a graph in arrays: a node is the beginning of a wall, an edge one way to dance that wall.

Where nothing is said of a wall by its number, a node is a position alone: what follows is the same whichever wall
begins there. Up to the last wall that is pinned or written, a node is a wall at a position. Decision 0013 tells more.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from softshoe.fit.edges import NONE, WHOLE, Edges, Ground, edges_anywhere
from softshoe.fit.fixed import Fixed, turn_of
from softshoe.fit.score import misfits
from softshoe.fit.steps import Step

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.pins import Pins
    from softshoe.fit.rules import Weights
    from softshoe.fit.steps import Key

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

FIXED = -2  # what an edge is that leaves no choice


@dataclass(frozen=True, slots=True)
class Block:
    """Nodes that lead only to later blocks: ``first`` is the number of the first of them.

    ``alone`` [node, edge, facing] what an edge charges without its repairs; ``to`` [node, edge, facing] the number of
    what it leads to, a node in a facing; ``bill`` [node, edge] the row of ``Lattice.bills`` it charges besides.
    """

    first: int
    wall: int
    positions: Ints
    alone: Floats
    to: Ints
    bill: Ints
    what: Ints

    @property
    def end(self) -> int:
        """The number of the first node behind."""
        return self.first + len(self.positions)


class Lattice:
    """One dance on one song. ``bills``: the repairs that an edge may charge together, each row once."""

    def __init__(self, ground: Ground, *, written: bool) -> None:
        self.ground = ground
        self.fixed = Fixed(ground.dance, ground.grid.total, ground.pins, ground.seen, written)
        self.bills: list[tuple[Key, ...]] = [(), *(repair.keys for repair in ground.repairs)]
        self.steps: dict[tuple[int, int], Step] = {}
        self._anywhere: dict[int, Edges] = {}
        layers = self._layers()
        self.blocks = self._joined(layers)
        self.size = self.blocks[-1].end

    def step(self, wall: int, at: int, what: int) -> Step:
        """Return an edge as the wall that is danced."""
        if what == FIXED:
            return self.steps[wall, at]
        if what == WHOLE:
            return self.fixed.within(Step(wall, at, self.ground.dance.counts))
        return self.ground.repairs[what - 1].step(wall, at)

    def _edges(self, wall: int) -> Edges:
        """The ways to dance a free wall, from everywhere."""
        own = any(ending.wall == wall for ending in self.ground.dance.endings)
        key = wall if own else 0
        if key not in self._anywhere:
            self._anywhere[key] = edges_anywhere(self.ground, key)
        return self._anywhere[key]

    def _layers(self) -> list[tuple[int, Ints, Edges]]:
        """(wall, positions, edges) for every block in order; wall 0: any."""
        found = []
        positions = np.array([0])
        for wall in range(1, self.fixed.last + 1):
            edges = self._of_wall(wall, positions)
            found.append((wall, positions, edges))
            positions = self._reached(edges)
            if not len(positions):
                return found
        return [*found, *self._free(positions)]

    def _reached(self, edges: Edges) -> Ints:
        to = np.unique(edges.to[np.isfinite(edges.alone[:, :, 0])])
        return to[to < self.ground.grid.total]

    def _free(self, positions: Ints) -> list[tuple[int, Ints, Edges]]:
        """Blocks of positions that are reached, each shorter than the shortest wall."""
        edges = self._edges(0)
        total = self.ground.grid.total
        there = np.isfinite(edges.alone[:, :, 0])
        reached = np.zeros(total + 1, dtype=bool)
        reached[positions] = True
        for at in range(total):
            if reached[at]:
                reached[edges.to[at, there[at]]] = True
        lengths = (edges.to - np.arange(total)[:, None])[there & (edges.to < total)]
        shortest = int(lengths.min(initial=total))
        known = np.flatnonzero(reached[:total])
        parts = np.split(known, np.flatnonzero(np.diff(known // shortest)) + 1)
        return [(0, part, edges.at(part)) for part in parts]

    def _of_wall(self, wall: int, positions: Ints) -> Edges:
        """The edges of one wall that is said by its number, or is before such a one."""
        if self.fixed.step(wall, 0) is None:
            return self._edges(wall).at(positions)
        steps = [self._fixed_step(wall, at) for at in positions.tolist()]
        ground, total = self.ground, self.ground.grid.total
        ends = np.array([step.end for step in steps])
        over = ground.over(ends)
        alone = [
            sum(misfits(ground.dance, ground.grid, step, ground.weights).values())
            + (ground.closing(step) if last else np.zeros(ground.facings))
            for step, last in zip(steps, over.tolist(), strict=True)
        ]
        turn = np.array([turn_of(step, ground.seen) * (not ground.dance.seated) // ground.unit_deg for step in steps])
        to = np.where(over, total, ends)
        return Edges(np.array(alone)[:, None], to[:, None], turn[:, None], np.full((len(steps), 1), FIXED))

    def _fixed_step(self, wall: int, at: int) -> Step:
        step = self.fixed.step(wall, at)
        assert step is not None
        self.steps[wall, at] = step
        return step

    def _joined(self, layers: list[tuple[int, Ints, Edges]]) -> list[Block]:
        """The layers as blocks whose edges know the numbers of the nodes they lead to."""
        total, facings = self.ground.grid.total, self.ground.facings
        sizes = [len(positions) for _, positions, _ in layers]
        firsts = np.concatenate(([0], np.cumsum(sizes))).tolist()
        numbers: dict[int, Ints] = {}
        for first, (wall, positions, _) in zip(firsts, layers, strict=False):
            numbers.setdefault(wall, np.full(total + 1, firsts[-1]))[positions] = np.arange(
                first, first + len(positions)
            )
        nothing = np.full(total + 1, firsts[-1])
        blocks = []
        for first, (wall, positions, edges) in zip(firsts, layers, strict=False):
            following = wall + 1 if 0 < wall < self.fixed.last else 0
            node = numbers.get(following, nothing)[edges.to]
            faced = (np.arange(facings) + edges.turn[:, :, None]) % facings
            to = node[:, :, None] * facings + faced
            bill = self._bill(wall, positions, edges)
            blocks.append(Block(first, wall, positions, edges.alone, to, bill, edges.what))
        return blocks

    def _bill(self, wall: int, positions: Ints, edges: Edges) -> Ints:
        if edges.what.size and edges.what[0, 0] == FIXED:
            return np.array([[self._row(self.steps[wall, at].repairs)] for at in positions.tolist()])
        return np.where(edges.what == NONE, 0, edges.what)

    def _row(self, repairs: tuple[Key, ...]) -> int:
        if repairs not in self.bills:
            self.bills.append(repairs)
        return self.bills.index(repairs)


def lattice(dance: Dance, grid: Grid, pins: Pins, weights: Weights, *, written: bool) -> Lattice:
    """Return the ways to lay the dance on the counts of the song; ``written`` honours the sheet's own repairs.

    On a song that fades the dance ends with its last whole wall.
    """
    return Lattice(Ground(dance, grid, pins, weights), written=written)
