"""The cheapest way through a song: exact dynamic programming over (wall, position, facing, patterns of repairs).

What a wall charges by itself is the same however it was reached. What its repairs charge depends only on whether they
belong to a pattern ("a tag of 4 after every second wall"), so every choice of at most two patterns is solved at once,
as one axis of the arrays; the facing is the other, since it decides whether the end needs a turn. See decision 0013.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from softshoe.fit.bound import within
from softshoe.fit.growing import FIRST, TIE
from softshoe.fit.lattice import NEAR
from softshoe.fit.pattern import Pattern, again, full, patterns

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import NDArray

    from softshoe.fit.growing import Edge, Edges, Node
    from softshoe.fit.lattice import Lattice
    from softshoe.fit.pattern import Use
    from softshoe.fit.steps import Key, Step

    Floats = NDArray[np.float64]
    Choice = tuple[Pattern, ...]

PAIRED = 24  # so many patterns are tried in pairs; in a song with more, the best of them


@dataclass(frozen=True, slots=True)
class Way:
    """One way through the song and what its walls, repairs and ending charge together [points]."""

    steps: tuple[Step, ...]
    cost: float


def cheapest(song: Lattice, allowed: Callable[[Edge], bool] = lambda _: True) -> Way | None:
    """Return the cheapest way whose edges are all allowed; None when there is none within what the lattice holds."""
    edges = within({node: [edge for edge in out if allowed(edge)] for node, out in song.edges.items()}, song.most)
    search = _Search(song, edges)
    best = search.best([(), *search.single()])
    search = _Search(song, within(search.edges, min(best.cost, song.most) if best is not None else song.most))
    best = _cheaper(best, search.best(search.pairs()))
    return best if best is not None and best.cost <= song.most + NEAR else None


def _cheaper(one: Way | None, other: Way | None) -> Way | None:
    if one is None or other is None:
        return one or other
    return other if other.cost < one.cost - TIE / 2 else one


class _Search:
    """One sweep from the song's end to its start; axis 0 of its arrays is the facing, axis 1 the choice of patterns."""

    def __init__(self, song: Lattice, edges: Edges) -> None:
        self.song, self.edges = song, edges
        found = [edge for out in edges.values() for edge in out if edge.repairs]
        self.uses: tuple[Use, ...] = tuple(sorted({(key, e.step.wall) for e in found for key in e.repairs}))
        changed = {key for e in found for key in e.repairs if e.step.change is not None}
        self.full = {key: full(song.dance, song.weights, key, changed=key in changed) for key, _ in self.uses}
        self.again = {key: again(song.weights, alone) for key, alone in self.full.items()}
        self.facings = 360 // song.unit_deg

    def single(self) -> list[Choice]:
        """Return the choices of one pattern."""
        return [(one,) for one in patterns(self.uses)]

    def pairs(self) -> list[Choice]:
        """Return the choices of two patterns together; where there are very many patterns, of the best ones."""
        found = patterns(self.uses)
        if len(found) > PAIRED:
            totals, _ = self._swept([(one,) for one in found])
            found = tuple(found[index] for index in sorted(np.argsort(totals, kind="stable")[:PAIRED]))
        return list(combinations(found, 2))

    def best(self, choices: list[Choice]) -> Way | None:
        """Return the cheapest way under any of these choices, None when there is none."""
        if not choices:
            return None
        totals, costs = self._swept(choices)
        chosen = int(np.argmin(totals))
        if not np.isfinite(totals[chosen]):
            return None
        return Way(self._walked(costs, choices[chosen], chosen), float(totals[chosen]))

    def _swept(self, choices: list[Choice]) -> tuple[Floats, dict[Node, Floats]]:
        charges = self._charges(choices)
        costs: dict[Node, Floats] = {}
        for node in reversed(self.edges):
            best = np.full((self.facings, len(choices)), np.inf)
            for edge in self.edges[node]:
                onward = self._onward(edge, costs)
                for key in edge.repairs:
                    onward = onward + charges[key, edge.step.wall]
                np.minimum(best, onward, out=best)
            costs[node] = best
        learning = [sum(self.full[one.key] - self.again[one.key] for one in some) for some in choices]
        totals: Floats = costs[FIRST][0] + np.array(learning)
        return totals, costs

    def _charges(self, choices: list[Choice]) -> dict[Use, Floats]:
        """What each use charges under each choice of patterns."""
        known = {one: index for index, one in enumerate(dict.fromkeys(one for some in choices for one in some))}
        last = len(known)  # a pattern that holds nothing
        first_of = np.array([known[some[0]] if some else last for some in choices])
        second_of = np.array([known[some[1]] if len(some) > 1 else last for some in choices])
        of_key: dict[Key, list[tuple[int, Pattern]]] = {}
        for one, index in known.items():
            of_key.setdefault(one.key, []).append((index, one))
        charges = {}
        for key, wall in self.uses:
            holds = np.zeros(last + 1, dtype=bool)
            for index, one in of_key.get(key, ()):
                holds[index] = one.has(key, wall)
            charges[key, wall] = np.where(holds[first_of] | holds[second_of], self.again[key], self.full[key])
        return charges

    def _onward(self, edge: Edge, costs: Mapping[Node, Floats]) -> Floats:
        """What this wall and the rest of the song cost, without repairs in it, by the facing at its beginning."""
        if edge.to is None:
            return np.array(edge.at_end)[:, None] + edge.alone
        turn = edge.turn_deg // self.song.unit_deg
        after = costs[edge.to] + edge.alone
        return np.concatenate((after[turn:], after[:turn])) if turn else after

    def _walked(self, costs: Mapping[Node, Floats], some: Choice, chosen: int) -> tuple[Step, ...]:
        """Walk from the start along the edges that the best cost comes from."""
        node: Node | None = FIRST
        facing = 0
        steps = []
        while node is not None:
            best = min(self.edges[node], key=lambda edge: self._cost(edge, costs, facing, some, chosen))
            steps.append(best.step)
            facing = self._turned(best, facing)
            node = best.to
        return tuple(steps)

    def _turned(self, edge: Edge, facing: int) -> int:
        return (facing + edge.turn_deg // self.song.unit_deg) % self.facings

    def _cost(self, edge: Edge, costs: Mapping[Node, Floats], facing: int, some: Choice, chosen: int) -> float:
        """One entry of ``_onward`` with the repairs."""
        held = [any(pattern.has(key, edge.step.wall) for pattern in some) for key in edge.repairs]
        repairs = sum(self.again[key] if h else self.full[key] for key, h in zip(edge.repairs, held, strict=True))
        if edge.to is None:
            return repairs + edge.alone + edge.at_end[facing]
        return repairs + edge.alone + float(costs[edge.to][self._turned(edge, facing), chosen])
