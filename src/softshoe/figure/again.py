"""Feet looked over once more: where a danced motion has limbs through each other or through the chair, the foot that
moves takes another way. The whole dancer is known by then, so other ways are judged by her real hips and knees.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, sin
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.figure.again_ways import Other, chain, goes, other_way
from softshoe.figure.pose import NEVER
from softshoe.figure.room import Leg, Seen, between_legs, folded, in_chair, knee_back, lacks

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from softshoe.figure.ground import Plan
    from softshoe.figure.motion import FloatArray
    from softshoe.figure.pose import FootKey

RESTS_M = 0.0005  # a foot that goes less in a frame rests
NEAR = 1e-6

Keys = tuple[tuple[int, int], ...]
"""Keys as (foot, number), those that rather give way first."""


def room_lacking(seen: Seen) -> float:
    """Return how much room legs lack at worst in a motion [m]; 0 where they lack none."""
    legs = seen.legs()
    lack = [lacks(legs[index], legs[1 - index], seen, index, seen.facing) for index in (0, 1)]
    return max(0.0, float(np.max(lack)))


def mended(plan: Plan, seen: Seen) -> Plan | None:
    """Return the plan with other ways for feet whose way goes through something; None where none does."""
    legs = seen.legs()
    made: tuple[list[FootKey], list[FootKey]] = (list(plan.feet[0]), list(plan.feet[1]))
    done: list[tuple[float, float]] = []
    for blamed in _blamed(plan, seen, legs):
        if any(start < _key(plan, blamed).end and _key(plan, blamed).start < end for start, end in done):
            continue  # one change at a time: the next look tells what it did
        found = _least(plan, seen, legs, blamed)
        if found is None:
            continue
        (index, number), other = found
        done.append((plan.feet[index][number].start, chain(plan.feet[index], number, seen.body).until))
        for n, key in enumerate(other.keys):
            made[index][number + n] = key
        for twin in _twins(plan.feet[index], number, len(other.keys), seen):
            _danced_alike(made[index], plan.feet[index], (number, twin), other.keys)
    return replace(plan, feet=made) if done else None


def _key(plan: Plan, blamed: Keys) -> FootKey:
    index, number = blamed[0]
    return plan.feet[index][number]


def _least(plan: Plan, seen: Seen, legs: Sequence[Leg], blamed: Keys) -> tuple[tuple[int, int], Other] | None:
    """Return the first of these keys that finds a way with room, or the one that lacks least."""
    best: tuple[tuple[int, int], Other] | None = None
    for index, number in blamed:
        links = chain(plan.feet[index], number, seen.body)
        found = other_way(links, seen, legs, index, stays=_across(links.key, seen))
        if found is not None and (best is None or found.lack_m < best[1].lack_m):
            best = (index, number), found
        if found is not None and found.lack_m <= 0:
            break
    return best


def _across(key: FootKey, seen: Seen) -> bool:
    """Tell whether a key's way goes over the beginning or the end of the motion."""
    return any(key.start < edge < key.end for edge in (seen.moments[0], seen.moments[-1]))


def _twins(keys: Sequence[FootKey], number: int, own: int, seen: Seen) -> list[int]:
    """Return the same keys one wall before and after, where what hangs on a key goes over the edge of a wall."""
    until = keys[number + own].start if number + own < len(keys) else NEVER
    if not any(keys[number].start < edge < until for edge in (seen.moments[0], seen.moments[-1])):
        return []
    counts, end = float(seen.moments[-1] - seen.moments[0]), keys[number].end
    return [n for n, k in enumerate(keys) if n != number and abs(abs(k.end - end) - counts) < NEAR]


def _danced_alike(
    made: list[FootKey], keys: Sequence[FootKey], pair: tuple[int, int], other: Sequence[FootKey]
) -> None:
    """Let the same keys of another wall go as the changed ones of this one do, seen from that wall."""
    number, twin = pair
    turned = keys[twin].yaw - keys[number].yaw

    def seen_there(x: float, z: float) -> tuple[float, float]:
        return x * cos(turned) - z * sin(turned), x * sin(turned) + z * cos(turned)

    for n, now in enumerate(other):
        if twin + n >= len(keys):
            return
        was, there = keys[number + n], keys[twin + n]
        dx, dz = seen_there(now.point[0] - was.point[0], now.point[2] - was.point[2])
        bx, bz = seen_there(now.bulge[0], now.bulge[2])
        made[twin + n] = there._replace(
            point=(there.point[0] + dx, there.point[1], there.point[2] + dz),
            yaw=there.yaw + now.yaw - was.yaw,
            bulge=(bx, 0.0, bz),
            lift_m=now.lift_m,
            ring_m=now.ring_m,
        )


class Going(NamedTuple):
    """One foot at all frames: the key that is under way or held, whether the foot goes somewhere with it just now, the
    key with which it came where it is, and when it came there."""

    number: NDArray[np.intp]
    on_its_way: NDArray[np.bool_]
    came_with: NDArray[np.intp]
    came: FloatArray


def _going(keys: Sequence[FootKey], seen: Seen) -> Going:
    number = np.searchsorted([k.start for k in keys], seen.moments, side="right") - 1
    moves = np.array([goes(keys, n, seen.body) for n in range(len(keys))])
    last = np.maximum.accumulate(np.where(moves, np.arange(len(keys)), 0))
    ends = np.array([k.end for k in keys])
    return Going(number, moves[number] & (seen.moments < ends[number]), last[number], ends[last[number]])


def _blamed(plan: Plan, seen: Seen, legs: Sequence[Leg]) -> list[Keys]:
    """Return keys on whose way there is too little room: between legs the foot that is on its way, or else the one that
    came last; in the chair the leg's own foot."""
    going = [_going(keys, seen) for keys in plan.feet]
    found: set[Keys] = set()
    speeds = [np.linalg.norm(np.gradient(foot.ankle, axis=0), axis=1) for foot in seen.feet]
    rests = np.maximum(*speeds) <= RESTS_M
    later = np.where(rests, going[1].came > going[0].came, speeds[1] > speeds[0])
    moves = np.where(going[0].on_its_way != going[1].on_its_way, going[1].on_its_way, later)
    for row in np.flatnonzero(between_legs(legs[0], legs[1], seen) > 0).tolist():
        own = int(moves[row])
        found.add(_give_way(going, own, row))
    for index in (0, 1):
        deep = np.maximum(knee_back(legs[index], seen.facing), folded(legs[index], seen)) > 0
        if seen.chair is not None and seen.chair.kind == "chair":
            deep |= in_chair(legs[index], seen, index) > 0
        found |= {_own(going[index], index, row) for row in np.flatnonzero(deep).tolist()}
    return sorted(kept for one in found if (kept := tuple(each for each in one if each[1] > 0)))


def _own(foot: Going, index: int, row: int) -> Keys:
    """Return the keys of one foot that put it where it is, the way there first."""
    number, came = (index, int(foot.number[row])), (index, int(foot.came_with[row]))
    return (number,) if number == came else (came, number)


def _give_way(going: Sequence[Going], own: int, row: int) -> Keys:
    """Return the keys that may give way where two legs meet: of the foot that moves; where it turns on the spot, the
    turn before a place that it had long before the other foot came; at last the other foot's place."""
    mine = _own(going[own], own, row)
    if len(mine) > 1 and going[own].came[row] < going[1 - own].came[row]:
        mine = mine[1:]
    theirs = (1 - own, int(going[1 - own].came_with[row]))
    return mine if going[1 - own].on_its_way[row] else (*mine, theirs)
