"""What repairs charge when some of them are learnt: every choice of like places is a small machine, wall by wall.

A ``Learnt`` is one repair that comes again: after every second wall, say, with so many walls still to go until the next
time. With period 0 it may come again in any wall, which charges no more than any pattern of it: a lower bound.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.fit.pattern import Pattern, again, full
from softshoe.fit.rules import limit

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from numpy.typing import NDArray

    from softshoe.fit.edges import Ground
    from softshoe.fit.steps import Key

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

PERIODS = range(int(limit("shortest_period")), int(limit("longest_period")) + 1)


class Learnt(NamedTuple):
    """One repair by its number; ``to_go`` walls until it comes again."""

    key: int
    period: int = 0
    to_go: int = 0

    @property
    def next(self) -> Learnt:
        """The same, a wall later."""
        return self._replace(to_go=(self.to_go - 1) % self.period) if self.period else self


Choice = tuple[Learnt, ...]


def places(key: int) -> Iterator[Learnt]:
    """Every pattern that a repair can have."""
    return (Learnt(key, period, to_go) for period in PERIODS for to_go in range(period))


class Tariff:
    """What each repair charges alone and at a like place, by its number, and which repairs each bill holds."""

    def __init__(self, ground: Ground, bills: Sequence[tuple[Key, ...]]) -> None:
        self.keys = list(dict.fromkeys(key for bill in bills for key in bill))
        changed = {("restart", counts, 0) for counts, change in ground.seen.cuts if change is not None}
        weights = ground.weights
        alone = [full(ground.dance, weights, key, changed=key in changed) for key in self.keys]
        self.full: Floats = np.array(alone)
        self.again: Floats = np.array([again(weights, charge) for charge in alone])
        self.learning: Floats = self.full - self.again
        self.holds: Floats = np.zeros((len(bills), len(self.keys)))
        number = {key: index for index, key in enumerate(self.keys)}
        for row, bill in enumerate(bills):
            for key in bill:
                self.holds[row, number[key]] += 1

    def pattern(self, learnt: Learnt) -> Pattern:
        """Return a choice as the pattern that the score knows; wall 1 begins with it."""
        return Pattern(self.keys[learnt.key], learnt.period, (1 + learnt.to_go) % learnt.period)


@dataclass(frozen=True, slots=True)
class Prices:
    """Choices at once: ``bills`` [bill, choice] what each bill charges in a wall, ``after`` the choice a wall later,
    ``learning`` what each charges for being learnt."""

    choices: tuple[Choice, ...]
    bills: Floats
    after: Ints
    learning: Floats


def prices(tariff: Tariff, choices: Iterable[Choice]) -> Prices:
    """Return the prices under each choice; those that they become later are added behind them."""
    known = list(dict.fromkeys(choices))
    number = {choice: index for index, choice in enumerate(known)}
    after = []
    for choice in known:  # grows while it is gone through
        later = tuple(learnt.next for learnt in choice)
        if later not in number:
            number[later] = len(known)
            known.append(later)
        after.append(number[later])
    each = np.repeat(tariff.full[:, None], len(known), axis=1)
    learning = np.zeros(len(known))
    for index, choice in enumerate(known):
        for learnt in choice:
            learning[index] += tariff.learning[learnt.key]
            if not learnt.to_go:
                each[learnt.key, index] = tariff.again[learnt.key]
    return Prices(tuple(known), tariff.holds @ each, np.array(after), learning)
