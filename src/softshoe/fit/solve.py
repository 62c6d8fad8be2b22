"""The cheapest way through a song, exactly: dynamic programming over positions, facings and patterns of repairs.

What a wall charges by itself is the same however it was reached. What its repairs charge depends only on whether they
belong to a pattern ("a tag of 4 after every second wall"). So the song is swept from its end to its start once for many
choices of patterns together. Which choices can be the best at all is told by sweeps in which a repair may come again in
any wall: these charge no more than any pattern of it. Decision 0013 tells more.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations_with_replacement
from math import inf
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from softshoe.fit.edges import TIE
from softshoe.fit.prices import Learnt, Tariff, places, prices

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from numpy.typing import NDArray

    from softshoe.fit.lattice import Block, Lattice
    from softshoe.fit.prices import Choice, Prices
    from softshoe.fit.steps import Key, Step

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

AT_ONCE, PAIRS_AT_ONCE = 256, 6  # so many choices are swept together; so many pairs of repairs are looked at together
NEAR = TIE / 2
FIRST = 0
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Way:
    """One way through the song and what its walls, repairs and ending charge together [points].

    ``new`` are the repairs that nobody wrote or pinned.
    """

    steps: tuple[Step, ...]
    cost: float
    new: tuple[Key, ...]


def cheapest(song: Lattice, allowed: Callable[[Key], bool] = lambda _: True, *, most: float = inf) -> Way | None:
    """Return the cheapest way whose new repairs are all allowed; None when none charges ``most`` or less."""
    search = _Search(song, allowed)
    best = search.best(most + NEAR)
    return search.way(*best) if best is not None else None


class _Search:
    def __init__(self, song: Lattice, allowed: Callable[[Key], bool]) -> None:
        self.song, self.facings = song, song.ground.facings
        self.tariff = Tariff(song.ground, song.bills)
        self.shut = np.array([False, *(not all(map(allowed, repair.keys)) for repair in song.ground.repairs)])
        self.blocks = [(block, self._alone(block)) for block in song.blocks]
        used = np.zeros(len(song.bills), dtype=bool)
        for block, alone in self.blocks:
            used[block.bill[np.isfinite(alone[:, :, 0])]] = True
        self.keys = np.flatnonzero(self.tariff.holds[used].any(axis=0)).tolist()

    @cached_property
    def easiest(self) -> float:
        """What the song charges at least when every repair has been learnt already."""
        learnt = tuple(Learnt(key) for key in self.keys)
        priced = prices(self.tariff, [learnt])
        return float(self._swept(priced)[0][0])

    def _alone(self, block: Block) -> Floats:
        """What edges charge, infinite for those that are not allowed."""
        if not self.shut.any():
            return block.alone
        return np.where(self.shut[np.maximum(block.what, 0)][:, :, None], inf, block.alone)

    def best(self, most: float) -> tuple[Choice, float] | None:
        """Return the best choice of patterns and what it charges, None when nothing charges less than ``most``."""
        best = self._least([((), 0.0)], most)
        best = self._single(best[1] if best else most) or best
        return self._paired(best[1] if best else most) or best

    def _single(self, most: float) -> tuple[Choice, float] | None:
        """One pattern, of each repair that could be in one."""
        apart = self._below([(Learnt(key),) for key in self.keys], most)
        return self._least([((place,), bound) for (learnt,), bound in apart for place in places(learnt.key)], most)

    def _paired(self, most: float) -> tuple[Choice, float] | None:
        """Two patterns, of pairs of repairs that could be in two; the likeliest pairs first."""
        best = None
        pairs = self._below([(Learnt(a), Learnt(b)) for a, b in combinations_with_replacement(self.keys, 2)], most)
        pairs.sort(key=lambda one: one[1])
        for at in range(0, len(pairs), PAIRS_AT_ONCE):
            some = [pair for pair, bound in pairs[at : at + PAIRS_AT_ONCE] if bound < most]
            found = self._least(self._places_of(some, most), most)
            best, most = (found, found[1]) if found else (best, most)
        return best

    def _places_of(self, pairs: Sequence[Choice], most: float) -> list[tuple[Choice, float]]:
        """Places of both of each pair, where each of the places could be with the other in any wall."""
        halves = [(place, other) for one, other in pairs for place in places(one.key)]
        halves += [(place, one) for one, other in pairs if one != other for place in places(other.key)]
        known: dict[tuple[int, int], list[tuple[Learnt, float]]] = {}
        for (place, other), bound in self._below(halves, most):
            known.setdefault((place.key, other.key), []).append((place, bound))
        return [
            ((a, b), max(least, bound))
            for one, other in pairs
            for a, least in known.get((one.key, other.key), ())
            for b, bound in known.get((other.key, one.key), ())
        ]

    def _hopeful(self, choices: Sequence[Choice], most: float) -> list[Choice]:
        """The choices that may charge less than ``most``: each is learnt, and danced twice or it is no pattern."""
        twice = (self.tariff.full + self.tariff.again).tolist()
        learning = self.tariff.learning.tolist()
        cheap = [choice for choice in choices if sum(twice[learnt.key] for learnt in choice) < most]
        if not cheap:
            return []
        left = most - self.easiest
        return [choice for choice in cheap if sum(learning[learnt.key] for learnt in choice) < left]

    def _below(self, choices: Sequence[Choice], most: float) -> list[tuple[Choice, float]]:
        """The choices that charge less than ``most``, with what each charges."""
        found = []
        for part in _parts(self._hopeful(choices, most - NEAR)):
            costs = self._costs(prices(self.tariff, part))[: len(part)].tolist()
            found += [(choice, cost) for choice, cost in zip(part, costs, strict=True) if cost < most - NEAR]
        return found

    def _least(self, bounded: list[tuple[Choice, float]], most: float) -> tuple[Choice, float] | None:
        """The choice that charges least, None when none charges less than ``most``; each comes with a lower bound."""
        best: Choice | None = None
        bounded.sort(key=lambda one: one[1])
        for part in _parts(bounded):
            hopeful = [choice for choice, bound in part if bound < most - NEAR]
            if not hopeful:
                break
            priced = prices(self.tariff, hopeful)
            costs = self._costs(priced)
            chosen = int(np.argmin(costs))
            if costs[chosen] < most - NEAR:
                best, most = priced.choices[chosen], float(costs[chosen])
        return (best, most) if best is not None else None

    def _costs(self, priced: Prices) -> Floats:
        """What each choice charges for the whole song."""
        return self._swept(priced)[0] + priced.learning

    def _swept(self, priced: Prices) -> tuple[Floats, Floats]:
        """Go from the song's end to its start: what it charges from the first node on, under each choice; and from each
        node in each facing on, [node and facing, choice], under what each choice has become in that wall.
        """
        many = len(priced.choices)
        charged = np.zeros((self.song.size + 1, self.facings, many))
        flat = charged.reshape(-1, many)
        least = charged[0]
        for block, alone in reversed(self.blocks):
            onward = flat[block.to]
            onward += alone[..., None]
            onward += priced.bills[block.bill][:, :, None]
            least = onward.min(axis=1)
            charged[block.first : block.end] = least[..., priced.after]
        return least[FIRST, 0], flat

    def way(self, choice: Choice, cost: float) -> Way:
        """Walk from the start along the edges that the cost comes from."""
        priced = prices(self.tariff, [choice])
        _, later = self._swept(priced)
        node, facing, holds, wall = FIRST, 0, 0, 1
        steps: list[Step] = []
        new: list[Key] = []
        while node < self.song.size:
            block, alone = next(both for both in self.blocks if node < both[0].end)
            row = node - block.first
            onward = later[block.to[row, :, facing], holds] + alone[row, :, facing]
            edge = int(np.argmin(onward + priced.bills[block.bill[row], holds]))
            what = int(block.what[row, edge])
            steps.append(self.song.step(wall, int(block.positions[row]), what))
            new += steps[-1].repairs if what > 0 else ()
            node, facing = divmod(int(block.to[row, edge, facing]), self.facings)
            wall, holds = wall + 1, int(priced.after[holds])
        return Way(tuple(steps), cost, tuple(dict.fromkeys(new)))


def _parts(many: Sequence[T]) -> Iterator[Sequence[T]]:
    return (many[at : at + AT_ONCE] for at in range(0, len(many), AT_ONCE))
