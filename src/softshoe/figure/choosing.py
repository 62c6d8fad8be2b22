"""A way for a foot that crosses the other: of several ways the least one that keeps the soles apart.

Before the dancer moves she looks where the other foot is: farther round it, higher over it, or as planned.
"""

from __future__ import annotations

from itertools import product
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.figure.clear import between
from softshoe.figure.haste import counts_needed
from softshoe.figure.skeleton import UP
from softshoe.figure.tracks import foot_track

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray, Stance
    from softshoe.figure.pose import FootKey
    from softshoe.figure.skeleton import FootTrack

APART_M, EASIER_M = 0.055, 0.004  # between soles, of 1.62 m; and less where a foot begins or ends nearer
SHIN_M, SHINS_LESS_M = 0.15, -0.01  # how far up shins are looked at; they keep so much farther apart than soles
AT_ONCE = 12  # so many ways are looked at together
LOOKS = np.linspace(0.04, 1.0, 13)  # shares of the time of a way at which it is looked at
ROUND = {"standing": (1.0, 1.4, 1.8, 0.75), "seated": (1.0, 0.7, 0.4)}  # times the way round the other foot as planned
AHEAD_M = {"standing": (0.0, 0.06, -0.06, 0.12, -0.12, 0.2, -0.2), "seated": (0.0, 0.03, -0.03, 0.06)}  # forward of it
HIGHER_M = {"standing": (0.0, 0.03, 0.07), "seated": (0.0, 0.02, 0.04)}


class Crossing(NamedTuple):
    """A foot on its way past the other: its last key, the key it goes to, the last keys of the other foot, the body,
    the plan direction the dancer faces, how she dances."""

    begin: FootKey
    key: FootKey
    other: Sequence[FootKey]
    body: Body
    front: tuple[float, float]
    stance: Stance


def clear_way(crossing: Crossing) -> FootKey:
    """Return the key with the way round and over the other foot that keeps clear of it and costs least; where none
    does, that which comes least near."""
    stands = foot_track(crossing.other, crossing.key.start + LOOKS * _lasts(crossing.key), crossing.body)
    least = _nearest_m(crossing, stands, [crossing.key])
    size = crossing.body.stature_m / 1.62
    wanted = min(APART_M * size, least[0, 0] - EASIER_M, least[0, -1] - EASIER_M)
    if least.min() >= wanted:
        return crossing.key
    ways = _ways(crossing)
    best, most = crossing.key, -np.inf
    for first in range(0, len(ways), AT_ONCE):
        near = _nearest_m(crossing, stands, ways[first : first + AT_ONCE]).min(axis=1)
        good = np.flatnonzero(near >= wanted)
        if len(good):
            return ways[first + int(good[0])]
        if near.max() > most:
            best, most = ways[first + int(near.argmax())], near.max()
    return best


def _lasts(key: FootKey) -> float:
    return key.end - key.start


def _ways(crossing: Crossing) -> list[FootKey]:
    """Return the ways that there is time for, the shortest first; as planned, whatever time there is."""
    size, key, (ahead, aside) = crossing.body.stature_m / 1.62, crossing.key, crossing.front
    x, _, z = key.bulge
    made = []
    for times, more, higher in product(ROUND[crossing.stance], AHEAD_M[crossing.stance], HIGHER_M[crossing.stance]):
        bulge = (times * x + more * size * ahead, 0.0, times * z + more * size * aside)
        cost = abs(times - 1.0) * float(np.hypot(x, z)) + abs(more) + 1.5 * higher
        made.append((cost, key._replace(bulge=bulge, lift_m=key.lift_m + higher * size)))
    made.sort(key=itemgetter(0))
    room = key.end - crossing.begin.end
    return [way for cost, way in made if cost == 0.0 or counts_needed(crossing.begin, way) <= room]


def _nearest_m(crossing: Crossing, stands: FootTrack, ways: Sequence[FootKey]) -> FloatArray:
    """Return (ways, looks): how near the soles come to each other [m]."""
    keys: list[FootKey] = []
    for number, way in enumerate(ways):
        at = 2.0 * number
        keys += [crossing.begin._replace(start=at, end=at), way._replace(start=at, end=at + 1)]
    moving = foot_track(keys, (2.0 * np.arange(len(ways))[:, None] + LOOKS).ravel(), crossing.body)
    heel, toe, ankle = (np.tile(points, (len(ways), 1)) for points in (stands.heel, stands.toe, stands.ankle))
    shin = SHIN_M * crossing.body.stature_m / 1.62 * UP
    near = np.minimum(
        between(moving.heel, moving.toe, heel, toe),
        between(moving.ankle, moving.ankle + shin, ankle, ankle + shin) + SHINS_LESS_M,
    )
    return near.reshape(len(ways), -1)
