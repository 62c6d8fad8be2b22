"""The way of a foot between two places: round the other foot, in an arc, in a ring. Plan points are (x, z) [m]."""

from __future__ import annotations

from math import cos, hypot, pi, sin
from typing import TYPE_CHECKING, NamedTuple

from softshoe.figure.ground import turned_by

if TYPE_CHECKING:
    from softshoe.figure.pose import FootKey

CLEAR_AHEAD, CLEAR_ASIDE = 0.185, 0.068  # of stature: how far from the other foot's middle a foot goes; design values
LEAST_WAY_M = 0.03
STRAIGHT = (0.0, 0.0, 0.5)
CROSSED_LIFT, CROSSED_KNEE = 0.7, 0.6  # behind the other foot: share of the lift, the knee out [rad]; design values
CROSSING_LIFT = 0.02  # of stature: what is drawn along the floor comes off it where feet cross; design value
ROOM_SEATED = 0.045  # of stature: how far a seated foot goes round the other at most; design value
LEAST_BESIDE = 0.032  # of stature: between the lines of two soles on the floor; design value
RING = 0.06  # of stature; design value


class Ways(NamedTuple):
    """Where a foot comes from and goes to, (forward, out to its own side) of the other foot, by the dancer's front."""

    begin: tuple[float, float]
    end: tuple[float, float]


def seen_from(
    begin: tuple[float, float], end: tuple[float, float], other: tuple[float, float], *, front: float, own: float
) -> Ways:
    """Return the way of a foot as seen from the other foot; ``own`` is 1 for a right foot, -1 for a left one."""

    def seen(point: tuple[float, float]) -> tuple[float, float]:
        x, z = point[0] - other[0], point[1] - other[1]
        return x * cos(front) + z * sin(front), own * (z * cos(front) - x * sin(front))

    return Ways(seen(begin), seen(end))


def round_the_other(ways: Ways, before: Ways, turned: float, stature_m: float) -> tuple[float, float, float]:
    """Return how far (forward, out) the way bulges so that the foot goes round the other one, and where on it (0 to 1).

    A foot that crosses goes in front or behind as it lands; one that comes back goes round its own side. ``before`` is
    the way as seen before the body ``turned`` [rad, to the own side], ``ways`` after it.
    """
    (f0, o0), (f1, o1) = ways
    forward, out = f1 - f0, o1 - o0
    length = hypot(forward, out)
    if length < LEAST_WAY_M:
        return STRAIGHT
    aside = (-out / length, forward / length)
    wanted = _side(ways, before, turned)
    if aside[0] * wanted[0] + aside[1] * wanted[1] < 0:
        aside = (-aside[0], -aside[1])
    share = -(f0 * forward + o0 * out) / length**2
    if not 0.05 < share < 0.95:
        return STRAIGHT
    passes = (f0 + share * forward) * aside[0] + (o0 + share * out) * aside[1]
    clear = stature_m * (CLEAR_AHEAD * abs(aside[0]) + CLEAR_ASIDE * abs(aside[1]))
    push = max(0.0, clear - passes)
    return aside[0] * push, aside[1] * push, min(max(share, 0.2), 0.85)


def roomy(bulge_m: float, stature_m: float) -> float:
    """Return the share of its way round the other foot that a seated foot goes: no farther than the leg reaches."""
    return min(1.0, ROOM_SEATED * stature_m / bulge_m) if bulge_m else 1.0


def behind(ways: Ways) -> tuple[float, float]:
    """Return the share of its lift and how far its knee turns out [rad] for a foot that crosses behind the other, or
    comes from there: low and with the knee out, so that it does not meet the back of the other knee."""
    (f0, o0), (f1, o1) = ways
    if o1 < 0 and f1 < 0:
        return CROSSED_LIFT, CROSSED_KNEE
    if o0 < 0 and f0 < 0:
        return CROSSED_LIFT, 0.0
    return 1.0, 0.0


def _side(ways: Ways, before: Ways, turned: float) -> tuple[float, float]:
    (f0, o0), (f1, o1) = before.begin, ways.end
    if o1 < 0 and o0 >= 0:
        return (1.0 if f1 >= 0 else -1.0), 0.0
    if o0 < 0:
        ahead = 1.0 if f0 >= 0 else -1.0
        return ahead * cos(turned) + sin(turned), cos(turned) - ahead * sin(turned)
    return sin(turned / 2), cos(turned / 2)


def swept(
    key: FootKey, begin: tuple[float, float], *, front: float, own: float, stature_m: float, seated: bool
) -> FootKey:
    """Return the key of a foot that draws an arc on the floor, or a ring where it ends where it began."""
    way = hypot(key.point[0] - begin[0], key.point[2] - begin[1])
    ring = RING * stature_m
    if way < ring:
        if seated:  # in front of the chair's legs
            return key._replace(ring_m=0.78 * ring, ring_side=-own, ring_yaw=front + own * pi / 2)
        return key._replace(ring_m=ring, ring_side=own, ring_yaw=front)
    ahead, out = (0.02, 0.05) if seated else (0.0, 0.12)
    side = turned_by(front, ahead * stature_m, own * out * stature_m)
    return key._replace(bulge=(side[0], 0.0, side[1]))


Plan = tuple[float, float]


def sole(middle: Plan, yaw: float, half_m: float) -> tuple[Plan, Plan]:
    """Return heel and toe of a flat foot."""
    dx, dz = half_m * cos(yaw), half_m * sin(yaw)
    return (middle[0] - dx, middle[1] - dz), (middle[0] + dx, middle[1] + dz)


def pushed_aside(foot: tuple[Plan, Plan], other: tuple[Plan, Plan], least_m: float) -> Plan:
    """Return the way by which a foot must be moved so that its line stays so far from the other's: straight away from
    it, and across it where it would lie on it."""
    pairs = [(*_nearest(p, other), -1.0) for p in foot] + [(*_nearest(p, foot), 1.0) for p in other]
    far, (x, z), way = min(((hypot(x, z), (x, z), way) for (x, z), way in ((pair[:2], pair[2]) for pair in pairs)))
    if _crosses(foot, other):
        far = -far
    if far >= least_m:
        return 0.0, 0.0
    length = abs(far) or 1.0
    size = way * (least_m - far) / length * (-1.0 if far < 0 else 1.0)
    return size * x, size * z


def _nearest(point: Plan, line: tuple[Plan, Plan]) -> Plan:
    """Return the way from a point to the nearest of a stretch."""
    (ax, az), (bx, bz) = line
    dx, dz = bx - ax, bz - az
    share = min(max(((point[0] - ax) * dx + (point[1] - az) * dz) / (dx * dx + dz * dz), 0.0), 1.0)
    return ax + share * dx - point[0], az + share * dz - point[1]


def _crosses(one: tuple[Plan, Plan], other: tuple[Plan, Plan]) -> bool:
    def side(line: tuple[Plan, Plan], p: Plan) -> float:
        (ax, az), (bx, bz) = line
        return (bx - ax) * (p[1] - az) - (bz - az) * (p[0] - ax)

    return side(one, other[0]) * side(one, other[1]) < 0 and side(other, one[0]) * side(other, one[1]) < 0
