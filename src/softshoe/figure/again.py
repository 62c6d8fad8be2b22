"""Feet looked over once more: where a danced motion has limbs through each other or through the chair, the foot that
moves takes another way. The whole dancer is known by then, so other ways are judged by her real hips and knees.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from math import cos, hypot, sin
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.figure.clear import between
from softshoe.figure.haste import fits
from softshoe.figure.motion import JOINT
from softshoe.figure.reach import dot, two_bone, unit
from softshoe.figure.skeleton import UP, ahead, knee_pole, upright
from softshoe.figure.supports import bars, in_room
from softshoe.figure.tracks import foot_track

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from softshoe.figure.body import Body
    from softshoe.figure.ground import Plan
    from softshoe.figure.motion import Chair, FloatArray
    from softshoe.figure.pose import FootKey
    from softshoe.figure.skeleton import FootTrack

SOLES_M, SHANKS_M, LEGS_M, SEAT_M = 0.033, 0.049, 0.046, 0.004  # least ways, of 1.62 m: a little over the truths'
SIDES = ("left", "right")
AT_ONCE = 24  # so many ways are looked at together
TIMES = (1.0, 0.6, 0.2, 1.5)  # how often the way round as it is
AHEAD_M, ASIDE_M = (0.0, 0.05, -0.05, 0.1, -0.1, 0.18, -0.18), (0.0, 0.05, -0.05, 0.1, 0.18)  # more forward, more out
ENDS_M = (0.0, 0.04, -0.04, 0.08, -0.08, 0.14)  # how far elsewhere a foot ends where its place itself has no room
HIGHER_M = (0.0, 0.04, 0.08)
PARTS = (1.0, 0.8, 0.6, 0.4, 0.2)  # of the way over the floor, of a turn, where there is no room for all of it
LEAVES_OUT, TURNS_LESS = 2.0, 0.3  # what a metre, a radian left out costs, in metres of detour; design values
RESTS_M, STAYS_M = 0.0005, 0.004  # a foot that goes less in a frame rests; that goes less with a key stays where it is


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A danced motion: moments (n,), points (n, joints, 3), feet, facing (n,) [rad], body and chair."""

    moments: FloatArray
    points: FloatArray
    feet: tuple[FootTrack, FootTrack]
    facing: FloatArray
    body: Body
    chair: Chair | None

    def joint(self, side: str, name: str) -> FloatArray:
        """Return the points (n, 3) of a joint of one side."""
        found: FloatArray = self.points[:, JOINT[f"{side}_{name}"], :]
        return found


class Leg(NamedTuple):
    """Points (n, 3) of one leg."""

    hip: FloatArray
    knee: FloatArray
    ankle: FloatArray
    heel: FloatArray
    toe: FloatArray


def mended(plan: Plan, seen: Seen) -> Plan | None:
    """Return the plan with other ways for feet whose way goes through something; None where none does."""
    legs = [Leg(*(seen.joint(side, name) for name in Leg._fields)) for side in SIDES]
    made: tuple[list[FootKey], list[FootKey]] = (list(plan.feet[0]), list(plan.feet[1]))
    blamed = _blamed(plan, seen, legs)
    for index, number in blamed:
        keys = plan.feet[index]
        way = _other_way(keys[number - 1], keys[number], seen, legs, index)
        if way is None:
            continue
        made[index][number] = way
        _stay_there(made[index], keys, number, seen.body)
        for twin in _twins(keys, number, seen):
            turned = keys[twin].yaw - keys[number].yaw
            x, _, z = way.bulge
            bulge = x * cos(turned) - z * sin(turned), 0.0, x * sin(turned) + z * cos(turned)
            made[index][twin] = keys[twin]._replace(bulge=bulge, lift_m=way.lift_m, ring_m=way.ring_m)
    changed = any(a is not b for index in (0, 1) for a, b in zip(made[index], plan.feet[index], strict=True))
    return replace(plan, feet=made) if changed else None


def _stay_there(made: list[FootKey], keys: Sequence[FootKey], number: int, body: Body) -> None:
    """Let the keys after one that goes elsewhere now, in which the foot stays where it is, stay there."""
    was, now = keys[number], made[number]
    turned = now.yaw - was.yaw
    if now.point == was.point and not turned:
        return
    for n in range(number + 1, len(keys)):
        if _goes(keys, n, body):
            return
        x, z = keys[n].point[0] - was.point[0], keys[n].point[2] - was.point[2]
        x, z = x * cos(turned) - z * sin(turned), x * sin(turned) + z * cos(turned)
        point = (now.point[0] + x, keys[n].point[1], now.point[2] + z)
        made[n] = keys[n]._replace(point=point, yaw=keys[n].yaw + turned)


def _goes(keys: Sequence[FootKey], number: int, body: Body) -> bool:
    """Tell whether a foot goes somewhere with a key, and does not turn where it stands."""
    key = keys[number]
    x, z = _begin(keys[max(number - 1, 0)], key, body)
    return hypot(key.point[0] - x, key.point[2] - z) > STAYS_M or key.lift_m > 0 or key.ring_m > 0 or key.point[1] > 0


def _begin(before: FootKey, key: FootKey, body: Body) -> tuple[float, float]:
    """Return (x, z) of the spot of the sole that a key leads, where it comes from."""
    along = (key.spot - before.spot) * body.foot_m * cos(before.pitch)
    return before.point[0] + along * cos(before.yaw), before.point[2] + along * sin(before.yaw)


def _across(key: FootKey, seen: Seen) -> bool:
    """Tell whether a key's way goes over the beginning or the end of the motion."""
    return any(key.start < edge < key.end for edge in (seen.moments[0], seen.moments[-1]))


def _twins(keys: Sequence[FootKey], number: int, seen: Seen) -> list[int]:
    """Return the same keys one wall before and after, where a key goes over the edge of a wall."""
    if not _across(keys[number], seen):
        return []
    counts, end = float(seen.moments[-1] - seen.moments[0]), keys[number].end
    return [n for n, k in enumerate(keys) if n != number and abs(abs(k.end - end) - counts) < 1e-6]


def _blamed(plan: Plan, seen: Seen, legs: Sequence[Leg]) -> list[tuple[int, int]]:
    """Return the keys (foot, number) on whose way there is too little room: between legs the foot that moves more, at
    rest the one that came last; in the chair the leg's own foot."""
    found: set[tuple[int, int]] = set()
    between_legs = _between_legs(legs[0], legs[1], seen)
    speeds = [np.linalg.norm(np.gradient(foot.ankle, axis=0), axis=1) for foot in seen.feet]
    numbers = [np.searchsorted([k.start for k in keys], seen.moments, side="right") - 1 for keys in plan.feet]
    ends = [np.array([k.end for k in keys])[of] for keys, of in zip(plan.feet, numbers, strict=True)]
    moves = np.where(np.maximum(*speeds) > RESTS_M, speeds[1] > speeds[0], ends[1] > ends[0])
    goes = [
        np.array([_goes(keys, n, seen.body) for n in range(len(keys))])[of]
        for keys, of in zip(plan.feet, numbers, strict=True)
    ]
    moves = np.where(goes[0] != goes[1], goes[1], moves)
    for index in (0, 1):
        rows = (between_legs > 0) & (moves == bool(index)) | (_knee_back(legs[index], seen.facing) > 0)
        if seen.chair is not None and seen.chair.kind == "chair":
            rows |= _in_chair(legs[index], seen, index) > 0
        found |= {(index, int(number)) for number in numbers[index][rows] if number > 0}
    return sorted(found)


def _lacks(own: Leg, other: Leg, seen: Seen, index: int, facing: FloatArray) -> FloatArray:
    """Return how much (n,) room a leg lacks [m]; less than 0 where it has some."""
    lack = np.maximum(_between_legs(own, other, seen), _knee_back(own, facing))
    if seen.chair is not None and seen.chair.kind == "chair":
        lack = np.maximum(lack, _in_chair(own, seen, index))
    return lack


def _between_legs(own: Leg, other: Leg, seen: Seen) -> FloatArray:
    size = seen.body.stature_m / 1.62
    lack: FloatArray = np.maximum(
        SOLES_M * size - between(own.heel, own.toe, other.heel, other.toe),
        SHANKS_M * size - between(own.ankle, own.knee, other.ankle, other.knee),
    )
    return lack


def _knee_back(leg: Leg, facing: FloatArray) -> FloatArray:
    """Return how far (n,) a knee lies behind the line from hip to ankle, as the dancer faces [m]."""
    along = unit(leg.ankle - leg.hip)
    way = leg.knee - leg.hip
    off = way - dot(way, along) * along
    back: FloatArray = -dot(off, ahead(facing) + 0.5 * UP)[:, 0]
    return back


def _in_chair(leg: Leg, seen: Seen, index: int) -> FloatArray:
    """Return how much room a seated leg lacks to the chair's front legs and to its seat (n,) [m]."""
    chair, size = seen.chair, seen.body.stature_m / 1.62
    if chair is None:
        return np.zeros(len(leg.hip))
    front = [bar for bar in bars(chair) if bar.part == "leg"]
    lack = np.full(len(leg.hip), -1.0)
    for bar in front:
        away = between(
            leg.heel + 0.03 * size * UP, leg.toe + 0.03 * size * UP, np.array([bar.start]), np.array([bar.end])
        )
        lack = np.maximum(lack, LEGS_M * size - away)
    axes = upright(np.radians(np.full(1, chair.yaw_deg)))[0]
    middle = np.array(in_room(chair, (0.0, 0.0, 0.0)))
    hip, knee = ((points - middle) @ axes.T for points in (leg.hip, leg.knee))
    way = knee - hip
    ahead = (chair.depth_m / 2 - hip[:, 0]) / np.maximum(way[:, 0], 1e-6)
    aside = (chair.width_m / 2 - np.abs(hip[:, 2])) / np.maximum((1 if index else -1) * way[:, 2], 1e-6)
    over = hip[:, 1] + np.minimum(np.minimum(ahead, aside), 1.0) * way[:, 1] - chair.seat_m
    deep: FloatArray = np.maximum(lack, SEAT_M - over)
    return deep


def _other_way(before: FootKey, key: FootKey, seen: Seen, legs: Sequence[Leg], index: int) -> FootKey | None:
    """Return the key with the least change of way that lacks no room, or less than now; None where none is better."""
    rows = np.flatnonzero((seen.moments >= key.start) & (seen.moments <= key.end + 1e-9))
    if len(rows) < 2:
        return None
    now = float(_judged([key], before, seen, legs, index, rows)[0])
    own, other = _rows(legs[index], rows), _rows(legs[1 - index], rows)
    really = float(_lacks(own, other, seen, index, seen.facing[rows]).max())
    blind = max(really - now, 0.0)  # what is not seen here: heels that come up, a foot that is raised over the other
    best, least = None, now - 1e-4
    ways = list(_ways(before, key, seen, index, rows))
    for first in range(0, len(ways), AT_ONCE):
        some = ways[first : first + AT_ONCE]
        lack = _judged(some, before, seen, legs, index, rows)
        good = np.flatnonzero(lack <= -blind)
        if len(good):
            return some[int(good[0])]
        if lack.min() < least:
            best, least = some[int(lack.argmin())], float(lack.min())
    return best


def _rows(leg: Leg, rows: NDArray[np.intp]) -> Leg:
    return Leg(*(points[rows] for points in leg))


def _judged(
    ways: Sequence[FootKey], before: FootKey, seen: Seen, legs: Sequence[Leg], index: int, rows: NDArray[np.intp]
) -> FloatArray:
    """Return how much room (ways,) a leg lacks at worst."""
    keys: list[FootKey] = []
    part = (seen.moments[rows] - ways[0].start) / max(ways[0].end - ways[0].start, 1e-9)
    for number, way in enumerate(ways):
        keys += [
            before._replace(start=2.0 * number, end=2.0 * number),
            way._replace(start=2.0 * number, end=2.0 * number + 1),
        ]
    n = len(ways)
    foot = foot_track(keys, (2.0 * np.arange(n)[:, None] + part).ravel(), seen.body)
    hip, yaw = np.tile(legs[index].hip[rows], (n, 1)), np.tile(seen.facing[rows], n)
    pole = knee_pole(yaw, foot.yaw, np.tile(seen.feet[index].knee[rows], n))
    leg = two_bone(hip, foot.ankle, first_m=seen.body.thigh_m, second_m=seen.body.shank_m, pole=pole)
    own = Leg(hip, leg.middle_m, leg.end_m, foot.heel, foot.toe)
    other = Leg(*(np.tile(points[rows], (n, 1)) for points in legs[1 - index]))
    worst: FloatArray = _lacks(own, other, seen, index, yaw).reshape(n, -1).max(axis=1)
    return worst


def _ways(before: FootKey, key: FootKey, seen: Seen, index: int, rows: NDArray[np.intp]) -> Iterator[FootKey]:
    """Yield ways for which there is time, the least change first."""
    front = float(seen.facing[rows[-1]])
    size, own = seen.body.stature_m / 1.62, 1.0 if index else -1.0
    x, z = _begin(before, key, seen.body)
    made = []
    for times, more, out, higher in (
        product(TIMES, AHEAD_M, ASIDE_M, HIGHER_M) if _goes((before, key), 1, seen.body) else ()
    ):
        forward, right = more * size, own * out * size
        bulge = (
            times * key.bulge[0] + forward * cos(front) - right * sin(front),
            0.0,
            times * key.bulge[2] + forward * sin(front) + right * cos(front),
        )
        cost = abs(times - 1) * hypot(key.bulge[0], key.bulge[2]) + abs(more) + abs(out) + 1.5 * higher
        made.append((cost, key._replace(bulge=bulge, lift_m=key.lift_m + higher * size, ring_m=times * key.ring_m)))
    turns = PARTS if abs(seen.facing[rows[-1]] - seen.facing[rows[0]]) < 1e-6 else PARTS[:1]
    for part, turned, times in () if _across(key, seen) else product(PARTS, turns, TIMES[:3]):
        point = (x + part * (key.point[0] - x), key.point[1], z + part * (key.point[2] - z))
        bulge = part * times * key.bulge[0], 0.0, part * times * key.bulge[2]
        yaw = before.yaw + turned * (key.yaw - before.yaw)
        way = key._replace(bulge=bulge, point=point, ring_m=part * times * key.ring_m, yaw=yaw)
        less = LEAVES_OUT * (1 - part) * hypot(key.point[0] - x, key.point[2] - z) + abs(yaw - key.yaw) * TURNS_LESS
        made.append((less, way))
    for more, out, times in () if _across(key, seen) or key.point[1] > 0 else product(ENDS_M, ENDS_M, TIMES[:3]):
        forward, right = more * size, own * out * size
        dx, dz = forward * cos(front) - right * sin(front), forward * sin(front) + right * cos(front)
        point = (key.point[0] + dx, key.point[1], key.point[2] + dz)
        bulge = times * key.bulge[0], 0.0, times * key.bulge[2]
        made.append((LEAVES_OUT * hypot(dx, dz), key._replace(point=point, bulge=bulge)))
    made.sort(key=itemgetter(0))
    begin = (x, before.point[1], z)
    return (way for _, way in made if fits(begin, way))
