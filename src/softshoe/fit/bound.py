"""Which walls can belong to a way that is cheap enough: a lower bound before and after each, that drops the others."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

from softshoe.fit.growing import FIRST, Reached
from softshoe.fit.lattice import NEAR, beyond

if TYPE_CHECKING:
    from softshoe.fit.growing import Edge, Edges, Node


def within(edges: Edges, most: float) -> Edges:
    """Return the edges along which a way may cost no more than ``most``; nodes that nothing leads to stay, empty."""
    before, after = _before(edges), _after(edges)
    return {node: [e for e in out if _through(before[node], e, after) <= most + NEAR] for node, out in edges.items()}


def _before(edges: Edges) -> dict[Node, Reached]:
    before = dict.fromkeys(edges, Reached()) | {FIRST: Reached(0.0)}
    for node, out in edges.items():
        for edge in out:
            if edge.to is not None:
                before[edge.to] = before[edge.to].or_else(beyond(before[node], edge))
    return before


def _after(edges: Edges) -> dict[Node, float]:
    after = dict.fromkeys(edges, inf)
    for node in reversed(edges):
        after[node] = min((edge.alone + edge.like + _rest(edge, after) for edge in edges[node]), default=inf)
    return after


def _rest(edge: Edge, after: dict[Node, float]) -> float:
    return after[edge.to] if edge.to is not None else min(edge.at_end)


def _through(before: Reached, edge: Edge, after: dict[Node, float]) -> float:
    return beyond(before, edge).least + _rest(edge, after)
