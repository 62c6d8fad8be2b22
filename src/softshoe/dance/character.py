"""The character of a dance in numbers: what it asks of feet and arms, how it turns and travels, which side works.

All shares are 0 to 1. A figure is what the feet do in two counts (three in a waltz); a figure and its mirror are one.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.dance.feet import ONE, Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance

STAYS = (Direction.TOGETHER, Direction.IN_PLACE, Direction.CENTRE, Direction.UP, Direction.DOWN, None)
CROSSED = (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)
PER = 32  # counts that halves and figures are told for


@dataclass(frozen=True, slots=True)
class Character:
    """``halves``: moments between counts in 32. ``biggest_turn_deg`` of one action; ``turning_deg`` of one wall, both
    ways added. ``figures``, ``gestures``: different ones in a wall. ``feet_and_hands``: counts on which both move, in
    32. ``extras``: tags, bridges and restarts. ``tempo_cpm``: counts a minute, the fastest stated, or None.
    ``right_feet``, ``right_hands``: the right side's share of what one side does alone, None where none does.
    ``travel``, ``arms``: share of the counts. ``busy``: foot actions a count; ``busiest``: the count with most.
    """

    counts: int
    halves: float
    biggest_turn_deg: int
    turning_deg: int
    figures: int
    gestures: int
    crossings: int
    feet_and_hands: float
    extras: int
    tempo_cpm: float | None
    right_feet: float | None
    right_hands: float | None
    travel: float
    arms: float
    busy: float
    busiest: int


def character_of(dance: Dance) -> Character:
    """Return what one wall of the dance asks for."""
    actions = dance.actions
    counts = max(1, dance.counts)
    times = [a.at.at.as_integer_ratio() for a in actions]
    at = [n // per - 1 for n, per in times]  # the count each stands in, from 0
    stretch = 3 if dance.metre in ("3/4", "6/8") else 2
    tempo = dance.tempo_bpm
    feet = Counter(n for n, a in zip(at, actions, strict=True) if a.foot is not None)
    armed = {n for n, a in zip(at, actions, strict=True) if a.arms}
    turns = [abs(a.turn_deg) for a in actions]
    busiest = max(set(at), key=lambda n: (feet[n], -n), default=1)
    return Character(
        counts=dance.counts,
        halves=len({time for time in times if time[1] != 1}) * PER / counts,
        biggest_turn_deg=max(turns, default=0),
        turning_deg=sum(turns),
        figures=len(_figures(actions, times, stretch)),
        gestures=len({(move.gesture, move.place) for a in actions for move in a.arms}),
        crossings=sum(a.dir in CROSSED for a in actions),
        feet_and_hands=len(armed & feet.keys()) * PER / counts,
        extras=len(dance.tags) + len(dance.restarts),
        tempo_cpm=max(tempo) if isinstance(tempo, tuple) else tempo,
        right_feet=right_share(a.foot for a in actions),
        right_hands=right_share(move.side for a in actions for move in a.arms),
        travel=0.0 if dance.seated else len({n for n, a in zip(at, actions, strict=True) if _travels(a)}) / counts,
        arms=len(armed) / counts,
        busy=sum(feet.values()) / counts,
        busiest=busiest + 1,
    )


def right_share(sides: Iterable[Foot | None]) -> float | None:
    """Return the right side's share of what one side does alone; None where neither does anything alone.

    >>> right_share([Foot.RIGHT, Foot.LEFT, Foot.BOTH, Foot.RIGHT, Foot.RIGHT, None])
    0.75
    """
    alone = [side for side in sides if side in ONE]
    return alone.count(Foot.RIGHT) / len(alone) if alone else None


def _travels(action: Action) -> bool:
    """Return whether a step leaves the spot."""
    return action.foot is not None and action.dir not in STAYS and VERB[action.verb].takes_weight


def _figures(actions: Iterable[Action], times: Iterable[tuple[int, int]], counts: int) -> set[Figure]:
    """Return the different figures of the feet, each in that of its two mirror images that sorts first."""
    stretches: dict[int, list[Part]] = {}
    for action, (n, per) in zip(actions, times, strict=True):
        if action.foot is not None:
            stretch = (n // per - 1) // counts
            stretches.setdefault(stretch, []).append(_part(n - stretch * counts * per, per, action))
    told = {tuple(sorted(parts)) for parts in stretches.values()}
    return {min(figure, tuple(sorted(map(_mirrored, figure)))) for figure in told}


Part = tuple[int, int, str, str, str, int]  # moment as numerator and denominator, foot, verb, way, turn
Figure = tuple[Part, ...]
MIRRORED = (
    {one.value: one.other.value for one in Foot} | {one.value: one.mirrored.value for one in Direction} | {"": ""}
)


def _part(n: int, per: int, a: Action) -> Part:
    """An action as plain values; its moment is counted from the stretch's start."""
    return n, per, a.foot.value if a.foot else "", a.verb, a.dir.value if a.dir else "", a.turn_deg


def _mirrored(part: Part) -> Part:
    n, per, foot, verb, way, turn = part
    return n, per, MIRRORED[foot], verb, MIRRORED[way], -turn
