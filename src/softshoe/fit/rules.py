"""The numbers of fitting, read from ``data/fit``: weights that a person can move, and thresholds."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from softshoe.errors import SettingError, nearest
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Mapping

MOST_POINTS = 100.0


@dataclass(frozen=True, slots=True)
class Rule:
    """One weight: its name, what it charges by default, the part of the score it belongs to, whose choice, words."""

    name: str
    value: float
    part: str
    mark: str
    words: str


@cache
def rules() -> tuple[Rule, ...]:
    """Return the weights as they come, in the order they are shown."""
    return tuple(
        Rule(row["name"], float(row["value"]), row["part"], row["mark"], row["words"]) for row in table("fit/weights")
    )


@cache
def _usual() -> Mapping[str, float]:
    return MappingProxyType({rule.name: rule.value for rule in rules()})


@dataclass(frozen=True, slots=True)
class Weights:
    """What each thing charges; ``moved`` are those a person has set, the rest are as they come.

    >>> Weights(moved={"tag": 3.0}).of("tag"), Weights().of("tag")
    (3.0, 6.0)
    """

    moved: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for name, value in self.moved.items():
            if name not in _usual():
                near = nearest(name, _usual())
                raise _not_a_weight(name, f"did you mean “{near}”?" if near else "“softshoe fit --weights” lists them")
            if not 0 <= value <= MOST_POINTS:
                mend = f"give a number such as {_usual()[name]:g}"
                raise SettingError("--weight", f"“{name}” can't be {value:g}", "a weight lies between 0 and 100", mend)

    def of(self, name: str) -> float:
        """Return one weight [points]."""
        return self.moved.get(name, _usual()[name])


def _not_a_weight(name: str, mend: str) -> SettingError:
    return SettingError("--weight", f"there is no weight “{name}”", "no part of the score has that name", mend)


def part_of(name: str) -> str:
    """Return the part of the score that a weight belongs to."""
    return _parts()[name]


@cache
def _parts() -> Mapping[str, str]:
    return MappingProxyType({rule.name: rule.part for rule in rules()})


@cache
def limit(name: str) -> float:
    """Return a threshold of ``data/fit/limits.csv``."""
    return next(float(row["value"]) for row in table("fit/limits") if row["name"] == name)


@cache
def tag_lengths(*, three: bool) -> Mapping[int, bool]:
    """Return the lengths of tags that are weighed, and whether each is usual."""
    metre = "three" if three else "four"
    return {int(row["counts"]): row["usual"] == "yes" for row in table("fit/tags") if row["metre"] == metre}


@cache
def most_repairs() -> Mapping[str, int]:
    """Return how many different tags and restarts dancers of a level usually keep."""
    return {row["level"]: int(row["most"]) for row in table("fit/repairs")}
