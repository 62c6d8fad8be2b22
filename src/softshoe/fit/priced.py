"""A lattice with prices: what each wall charges by itself, and which walls can belong to a cheap enough way."""

from __future__ import annotations

from dataclasses import dataclass
from math import gcd, inf
from typing import TYPE_CHECKING

import numpy as np

from softshoe.fit.anatomy import anatomy
from softshoe.fit.ending import needs_ending
from softshoe.fit.lattice import FIRST, Edge, Lattice, Node
from softshoe.fit.pattern import again, full
from softshoe.fit.score import misfits

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.fit.rules import Weights

    Floats = NDArray[np.float64]

TIE = 1e-5  # of two ways that cost the same, the one with fewer repairs, then the shorter tag
NEAR = 1e-6


@dataclass(frozen=True, slots=True)
class PricedEdge:
    """An edge and what it charges by itself; ``at_end`` what closing the song with it charges by facing, else None."""

    edge: Edge
    alone: float
    at_end: Floats | None


Edges = dict[Node, list[PricedEdge]]


@dataclass(frozen=True, slots=True)
class Priced:
    """A lattice with prices; facings are steps of ``unit_deg``. All searches on one song share it."""

    lattice: Lattice
    weights: Weights
    unit_deg: int
    edges: Edges


def priced(lattice: Lattice, weights: Weights) -> Priced:
    """Charge every edge once."""
    turns = [edge.turn_deg for out in lattice.edges.values() for edge in out if edge.to is not None]
    unit = gcd(anatomy(lattice.dance).turn_deg, 360, *turns)
    edges = {
        node: [PricedEdge(edge, _alone(lattice, edge, weights), _at_end(lattice, edge, weights, unit)) for edge in out]
        for node, out in lattice.edges.items()
    }
    return Priced(lattice, weights, unit, edges)


def _alone(lattice: Lattice, edge: Edge, weights: Weights) -> float:
    tie = sum(TIE * (10 + counts) for _, _, counts in edge.keys)
    return sum(misfits(lattice.dance, lattice.grid, edge.step, weights).values()) + tie


def _at_end(lattice: Lattice, edge: Edge, weights: Weights, unit_deg: int) -> Floats | None:
    if edge.to is not None:
        return None
    asks = [needs_ending(lattice.dance, lattice.grid, edge.step, facing) for facing in range(0, 360, unit_deg)]
    return weights.of("ending") * np.array(asks, dtype=float)


def within(song: Priced, edges: Edges, most: float, weights: Weights) -> Edges:
    """Return the edges that a way of at most this cost can go along.

    A lower bound for each edge: every repair charged as at a like place, the first of them in full.
    """
    cheap = _Bound(song, edges, weights)
    return {node: [one for one in out if cheap.through(node, one) <= most + NEAR] for node, out in edges.items()}


class _Bound:
    """The least that can be charged before and after each node; [0]: nothing repaired there, [1]: with repairs."""

    def __init__(self, song: Priced, edges: Edges, weights: Weights) -> None:
        self.dance, self.weights = song.lattice.dance, weights
        self.before: dict[Node, list[float]] = {node: [inf, inf] for node in edges} | {FIRST: [0.0, inf]}
        self.after: dict[Node, float] = dict.fromkeys(edges, inf)
        self.known: dict[tuple[object, ...], tuple[float, float]] = {}
        for node, out in edges.items():
            for one in out:
                self._go_on(node, one)
        for node in reversed(edges):
            for one in edges[node]:
                self._go_back(node, one)

    def repairs(self, one: PricedEdge) -> tuple[float, float]:
        """The least that the edge's repairs charge where others come before them, and the most any adds if first."""
        if not one.edge.keys:
            return 0.0, 0.0
        name = (*one.edge.keys, one.edge.step.change is not None)
        if name not in self.known:
            alone = [full(self.dance, self.weights, key, changed=bool(name[-1])) for key in one.edge.keys]
            like = [again(self.weights, value) for value in alone]
            self.known[name] = sum(like), min(a - b for a, b in zip(alone, like, strict=True))
        return self.known[name]

    def _go_on(self, node: Node, one: PricedEdge) -> None:
        if one.edge.to is None:
            return
        like, first = self.repairs(one)
        none, some = self.before[node]
        into = self.before[one.edge.to]
        if one.edge.keys:
            into[1] = min(into[1], none + one.alone + like + first, some + one.alone + like)
        else:
            into[0], into[1] = min(into[0], none + one.alone), min(into[1], some + one.alone)

    def _go_back(self, node: Node, one: PricedEdge) -> None:
        like, _ = self.repairs(one)
        end = float(one.at_end.min()) if one.at_end is not None else 0.0
        rest = self.after[one.edge.to] if one.edge.to is not None else end
        self.after[node] = min(self.after[node], one.alone + like + rest)

    def through(self, node: Node, one: PricedEdge) -> float:
        """Return the least that a way along this edge charges."""
        like, first = self.repairs(one)
        none, some = self.before[node]
        end = float(one.at_end.min()) if one.at_end is not None else 0.0
        rest = self.after[one.edge.to] if one.edge.to is not None else end
        return min(none + (first if one.edge.keys else 0.0), some) + one.alone + like + rest
