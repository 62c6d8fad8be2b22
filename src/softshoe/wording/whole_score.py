"""How much speaks for a sheet as the network tells it: points for its traits, added up.

Table: ``data/wording/whole_points.csv``, a row a rule: ``trait`` and ``also`` are above (``>``) or not above (``<=``) a
limit, then its points count; a row without a trait always counts. Learnt: training/weighing.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.vocabulary import table
from softshoe.wording.whole_case import traits

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.wording.whole_case import Case


class Limit(NamedTuple):
    """A trait above a limit, or not above it."""

    trait: str
    above: bool
    limit: float

    def holds(self, of: Mapping[str, float]) -> bool:
        """Return whether it holds of some traits."""
        return (of[self.trait] > self.limit) is self.above


class Rule(NamedTuple):
    """Points that count where all limits hold."""

    limits: tuple[Limit, ...]
    points: float


def score(case: Case) -> float:
    """Return the logarithm of the odds that the sheet as the network tells it is to be taken: above 0 it is."""
    return points(traits(case), rules())


def points(of: Mapping[str, float], counted: Sequence[Rule]) -> float:
    """Return the points of some traits."""
    return sum(rule.points for rule in counted if all(limit.holds(of) for limit in rule.limits))


@cache
def rules() -> tuple[Rule, ...]:
    """Return the rules of the table."""
    return tuple(
        Rule(
            tuple(Limit(*_limit(row[name], row[f"{name} is"])) for name in ("trait", "also") if row[name]),
            float(row["points"]),
        )
        for row in table("whole_points.csv")
    )


def _limit(trait: str, told: str) -> tuple[str, bool, float]:
    """Return a limit told as "> 0.5" or "<= 0.5"."""
    sign, limit = told.split()
    return trait, sign == ">", float(limit)
