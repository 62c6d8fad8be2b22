"""What a dance allows: where it may be cut, where counts may be added, how it has turned after each count."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import gcd
from typing import TYPE_CHECKING

from softshoe.dance.feet import Weight
from softshoe.dance.footwork import wall_events
from softshoe.fit.tags import leading_foot, restart_change

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

SQUARE_DEG = 90


@dataclass(frozen=True, slots=True)
class Anatomy:
    """One dance, looked at for fitting.

    ``weights`` and ``facings_deg`` hold what is so when count n is over, n from 0 to the wall's length. ``cuts`` are
    (counts, change): where a restart may come, with the altered last action it needs. ``breaks``: counts after which
    a bridge may come, the ends of sections.
    """

    counts: int
    section: int
    weights: tuple[Weight, ...]
    facings_deg: tuple[int, ...]
    cuts: tuple[tuple[int, str | None], ...]
    breaks: tuple[int, ...]

    @property
    def turn_deg(self) -> int:
        """How far a whole wall turns, 0 to 359."""
        return self.facings_deg[-1]

    @property
    def unit_deg(self) -> int:
        """The greatest turn that all facings at wall starts are multiples of; 360 when none turns."""
        turns = [self.turn_deg, *(self.facings_deg[counts] for counts, _ in self.cuts)]
        return gcd(360, *turns)


@lru_cache(maxsize=256)
def anatomy(dance: Dance) -> Anatomy:
    """Look at a dance once; a seated dance turns nobody."""
    weights, facings = _states(dance)
    lead = leading_foot(dance)
    cuts = []
    for counts in range(3 if dance.metre == "3/4" else 4, dance.counts, 3 if dance.metre == "3/4" else 4):
        change = restart_change(dance, counts)
        free = weights[counts] is dance.start_weight or (
            dance.start_weight is Weight.BOTH and weights[counts].value != lead.value
        )
        if facings[counts] % SQUARE_DEG == 0 and (free or change):
            cuts.append((counts, change))
    breaks = tuple(range(dance.counts_per_section, dance.counts, dance.counts_per_section))
    return Anatomy(dance.counts, dance.counts_per_section, weights, facings, tuple(cuts), breaks)


def _states(dance: Dance) -> tuple[tuple[Weight, ...], tuple[int, ...]]:
    weights, facings = [dance.start_weight], [0]
    events = wall_events(dance)
    next_event = 0
    for count in range(1, dance.counts + 1):
        weight, facing = weights[-1], facings[-1]
        while next_event < len(events) and events[next_event].action.at.whole <= count:
            weight, facing = events[next_event].weight, events[next_event].facing_deg
            next_event += 1
        weights.append(weight)
        facings.append(0 if dance.seated else facing)
    return tuple(weights), tuple(facings)
