"""The order of the dances of a class: effort rises to a peak past the middle and falls, tempo goes in kind steps.

Every rule is one small function that says what an order breaks; the order whose breaches cost the least is taken. The
same dances always give the same order.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise, permutations
from typing import TYPE_CHECKING

from softshoe.plan.effort import asks, tempo_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.dance import Dance

PEAK_AT = (0.45, 0.75)
STEP_BPM, STEP_SHARE, STEP_EFFORT = 24.0, 0.2, 2
LAST_EFFORT, HARD_EFFORT = 2, 4
ALL_ORDERS = 6


@dataclass(frozen=True, slots=True)
class _Row:
    """What the rules look at, worked out once a dance."""

    title: str
    effort: int
    bpm: float
    dance: Dance

    @classmethod
    def of(cls, dance: Dance) -> _Row:
        return cls(dance.title, asks(dance).effort, tempo_of(dance), dance)


def ends_easily(rows: Sequence[_Row]) -> list[str]:
    """The last dance asks little."""
    last = rows[-1]
    return [f"“{last.title}” is a lively last dance"] if last.effort > LAST_EFFORT else []


def never_hard_twice(rows: Sequence[_Row]) -> list[str]:
    """No two hard dances in a row."""
    return [
        f"“{a.title}” and “{b.title}” are both hard, one after the other"
        for a, b in pairwise(rows)
        if min(a.effort, b.effort) >= HARD_EFFORT
    ]


def effort_steps(rows: Sequence[_Row]) -> list[str]:
    """Effort changes by little from one dance to the next."""
    return [
        f"from “{a.title}” to “{b.title}” the effort changes much"
        for a, b in pairwise(rows)
        if abs(a.effort - b.effort) > STEP_EFFORT
    ]


def tempo_steps(rows: Sequence[_Row]) -> list[str]:
    """Tempo changes by little from one dance to the next."""
    return [
        f"from “{a.title}” to “{b.title}” the tempo changes by {abs(a.bpm - b.bpm):.0f}"
        for a, b in pairwise(rows)
        if abs(a.bpm - b.bpm) > min(STEP_BPM, STEP_SHARE * max(a.bpm, b.bpm))
    ]


def peak_past_the_middle(rows: Sequence[_Row]) -> list[str]:
    """The effort is highest a little past the middle."""
    efforts = [row.effort for row in rows]
    if len(efforts) < 3 or max(efforts) == min(efforts):
        return []
    at = (efforts.index(max(efforts)) + 0.5) / len(efforts)
    return [] if PEAK_AT[0] <= at <= PEAK_AT[1] else ["the effort is not highest a little past the middle"]


RULES = ((ends_easily, 5), (never_hard_twice, 4), (effort_steps, 3), (tempo_steps, 2), (peak_past_the_middle, 1))


def ordered(dances: Sequence[Dance]) -> tuple[Dance, ...]:
    """Return the dances in the order that breaks the least; more than six are put in one by one at the best place."""
    start = sorted(map(_Row.of, dances), key=lambda row: (row.effort, row.title))
    if not start:
        return ()
    best = min(permutations(start), key=_cost) if len(start) <= ALL_ORDERS else _one_by_one(start)
    return tuple(row.dance for row in best)


def _one_by_one(rows: Sequence[_Row]) -> tuple[_Row, ...]:
    done: tuple[_Row, ...] = ()
    for row in rows:
        done = min(((*done[:k], row, *done[k:]) for k in range(len(done) + 1)), key=_cost)
    return done


def _cost(rows: Sequence[_Row]) -> int:
    return sum(weight * len(rule(rows)) for rule, weight in RULES)


def cost(dances: Sequence[Dance]) -> int:
    """Return what the order costs: the weights of the rules it breaks."""
    return _cost([_Row.of(dance) for dance in dances])


def breaches(dances: Sequence[Dance]) -> list[str]:
    """Say which rules the order breaks, in sentences."""
    rows = [_Row.of(dance) for dance in dances]
    return [words for rule, _ in RULES for words in rule(rows)] if rows else []
