"""Like places: a repair that comes again every so many walls is learnt once, and each further time costs little.

A pattern is one repair with a period and a place in it: "a tag of 4 after every second wall". A run may have two of
them. What a run's repairs cost is the least over all choices of patterns, so it never depends on how it was found.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import combinations, product
from typing import TYPE_CHECKING

from softshoe.fit.rules import Weights, limit, tag_lengths

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from softshoe.dance.dance import Dance
    from softshoe.fit.steps import Key, Step

MOST_PATTERNS = 2
Use = tuple["Key", int]  # what is repaired, in which wall


@dataclass(frozen=True, slots=True)
class Pattern:
    """One repair at walls ``place``, ``place`` + ``period``, …"""

    key: Key
    period: int
    place: int

    def has(self, key: Key, wall: int) -> bool:
        """True when this repair in this wall belongs to the pattern."""
        return key == self.key and wall % self.period == self.place


def patterns(uses: Iterable[Use]) -> tuple[Pattern, ...]:
    """Return the patterns that could hold two of these uses or more; of those that hold the same, one."""
    walls: dict[Key, set[int]] = defaultdict(set)
    for key, wall in uses:
        walls[key].add(wall)
    periods = range(int(limit("shortest_period")), int(limit("longest_period")) + 1)
    found: dict[tuple[Key, frozenset[int]], Pattern] = {}
    for key, (period, place) in product(sorted(walls), ((n, k) for n in periods for k in range(n))):
        held = frozenset(wall for wall in walls[key] if wall % period == place)
        if len(held) > 1:
            found.setdefault((key, held), Pattern(key, period, place))
    return tuple(found.values())


def charge(dance: Dance, weights: Weights, key: Key, *, changed: bool) -> Mapping[str, float]:
    """Return what a repair costs alone, by the name of the weight."""
    kind, after, counts = key
    if kind == "restart":
        named = {"restart_early" if after * 2 < dance.counts else "restart": 1}
        named |= {"off_section": 1} if after % dance.counts_per_section else {}
        named |= {"changed": 1} if changed else {}
    elif kind == "tag":
        unusual = not tag_lengths(three=dance.metre == "3/4").get(counts, False)
        named = {"tag": 1, **({"odd_tag": 1} if unusual else {})}
    else:
        named = {"bridge": 1}
    return {name: weights.of(name) for name in named}


def full(dance: Dance, weights: Weights, key: Key, *, changed: bool) -> float:
    """Return what a repair costs alone."""
    return sum(charge(dance, weights, key, changed=changed).values())


def again(weights: Weights, alone: float) -> float:
    """Return what a repair costs at a like place; never more than alone."""
    return min(weights.of("again"), alone)


def like_places(dance: Dance, steps: Sequence[Step], weights: Weights) -> tuple[Pattern, ...]:
    """Return the patterns that make these steps cost least: at most two."""
    uses = [(key, step.wall) for step in steps for key in step.repairs]
    alone = {key: full(dance, weights, key, changed=_changed(steps, key)) for key, _ in uses}
    chosen: tuple[Pattern, ...] = ()
    best = 0.0
    for many in range(1, MOST_PATTERNS + 1):
        for some in combinations(patterns(uses), many):
            saved = _saved(some, uses, alone, weights)
            if saved > best + 1e-9:
                best, chosen = saved, some
    return chosen


def _changed(steps: Sequence[Step], key: Key) -> bool:
    return any(step.change is not None for step in steps if key in step.repairs)


def _saved(some: Sequence[Pattern], uses: Sequence[Use], alone: Mapping[Key, float], weights: Weights) -> float:
    """How much less the uses cost when these patterns are learnt: each is paid once in full."""
    held = [key for key, wall in uses if any(one.has(key, wall) for one in some)]
    gained = sum(alone[key] - again(weights, alone[key]) for key in held)
    return gained - sum(alone[one.key] - again(weights, alone[one.key]) for one in some)
