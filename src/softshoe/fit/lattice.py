"""All ways through a song, as a graph: a node is the beginning of a wall, an edge is that wall danced in one way.

A new repair is an edge only where it brings somebody home: a tag or restart ends where a phrase begins (or the music
after a pause), a bridge lets a section begin there. What is written or pinned holds for its wall and leaves no choice.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import gcd, inf
from typing import TYPE_CHECKING

from softshoe.fit.anatomy import anatomy
from softshoe.fit.growing import FIRST, Edge, Edges, Growing, Node, Reached

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.pins import Pins
    from softshoe.fit.rules import Weights
    from softshoe.fit.steps import Step

NEAR = 1e-6


@dataclass(frozen=True, slots=True)
class Lattice:
    """The edges out of every node, walls in order; facings are steps of ``unit_deg``.

    All ways that charge at most ``most`` are in it. ``plain`` repairs nothing new and charges ``plain_cost``.
    """

    dance: Dance
    grid: Grid
    weights: Weights
    unit_deg: int
    edges: Edges
    most: float
    plain: tuple[Step, ...]
    plain_cost: float


def lattice(
    dance: Dance,
    grid: Grid,
    pins: Pins,
    weights: Weights,
    *,
    written: bool,
    slack: float = 0.0,
    cap: float = inf,
) -> Lattice:
    """Return the ways to lay the dance on the counts of the song that charge little enough.

    That is: ``slack`` more than a way found by looking one wall ahead, and no more than ``cap``. ``written``
    honours the sheet's own tags and restarts. On a song that fades the dance ends with its last whole wall.
    """
    seen = anatomy(dance)
    turns = [sum(action.turn_deg for action in tag.actions) for tag in dance.tags]
    unit = gcd(seen.unit_deg, 360, *turns)
    growing = Growing(dance, grid, pins, weights, seen, written, unit, grid.landings)
    plain, plain_cost = growing.walked(growing.as_it_is)
    _, ahead_cost = growing.walked(growing.looking_ahead)
    most = min(min(plain_cost, ahead_cost) + slack, cap)
    return Lattice(dance, grid, weights, unit, _grown(growing, most + NEAR), most, plain, plain_cost)


def _grown(growing: Growing, most: float) -> Edges:
    """Wall by wall, the edges that a way charging no more than ``most`` may go along."""
    edges: Edges = {}
    layer: dict[Node, Reached] = {FIRST: Reached(0.0)}
    while layer:
        following: dict[Node, Reached] = {}
        for node in sorted(layer):
            grown = ((edge, beyond(layer[node], edge)) for edge in growing.edges(node, layer[node], most))
            cheap = [(edge, reached) for edge, reached in grown if reached.least <= most]
            edges[node] = [edge for edge, _ in cheap]
            _reach(following, cheap)
        layer = following
    return edges


def _reach(following: dict[Node, Reached], out: list[tuple[Edge, Reached]]) -> None:
    for edge, reached in out:
        if edge.to is not None:
            known = following.get(edge.to)
            following[edge.to] = reached if known is None else known.or_else(reached)


def beyond(before: Reached, edge: Edge) -> Reached:
    """Return what is reached after an edge."""
    return before.with_repairs(edge.repairs, edge.like, edge.first).later(edge.alone)
