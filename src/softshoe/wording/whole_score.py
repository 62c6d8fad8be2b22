"""How much speaks for a sheet as the network tells it: points for its traits, added up.

Table: ``data/wording/whole_points.csv``, a row a rule: its points count where its limits hold, traits that are above
("errors > 0.5") or not above a number ("errors <= 0.5"), parted by semicolons. Learnt: training/weighing.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.vocabulary import table
from softshoe.wording.whole_case import traits, unlike_of_their_own

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.wording.whole_case import Case


NEVER = -9.0
OF_THE_DANCE = frozenset(("weight", "arms", "side", "free-foot", "facing", "walls", "seated"))


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
    of = traits(case)
    own = {**of, "sections unlike": unlike_of_their_own(case)}
    return NEVER if is_never_taken(own) or exchanges(case) else points(of, rules())


def exchanges(case: Case) -> bool:
    """Return whether the sheet as it is told only has other errors of the dance than were told, and as many."""
    return len(case.left) >= len(case.kinds) and bool(OF_THE_DANCE & set(case.left) - set(case.kinds))


def is_never_taken(of: Mapping[str, float]) -> bool:
    """Return whether no points can count.

    One error was told, and one section differs, which alone would not be taken: so it was written. Or more would be
    amiss than was.
    """
    one_slip = of["errors"] == 1 and of["sections unlike"] == 1 and not of["sections are taken alone"]
    return one_slip or of["errors"] < of["errors left"]


def points(of: Mapping[str, float], counted: Sequence[Rule]) -> float:
    """Return the points of some traits."""
    return sum(rule.points for rule in counted if all(limit.holds(of) for limit in rule.limits))


@cache
def rules() -> tuple[Rule, ...]:
    """Return the rules of the table."""
    return tuple(
        Rule(tuple(_limit(told) for told in row["limits"].split("; ") if told), float(row["points"]))
        for row in table("whole_points.csv")
    )


def _limit(told: str) -> Limit:
    """Return a limit told as "errors > 0.5"."""
    trait, sign, limit = told.rsplit(maxsplit=2)
    return Limit(trait, sign == ">", float(limit))
