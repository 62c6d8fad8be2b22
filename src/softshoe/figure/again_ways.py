"""Another way for one foot: the least change of a planned way that has room, judged with the dancer's real hips, with
what stays where it ends, and with the way that comes after.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import cos, hypot, sin
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.figure.haste import hurry
from softshoe.figure.pose import NEVER
from softshoe.figure.reach import two_bone
from softshoe.figure.room import Leg, Seen, lacks
from softshoe.figure.skeleton import knee_pole
from softshoe.figure.tracks import foot_track

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray
    from softshoe.figure.pose import FootKey

AT_ONCE = 24  # so many ways are looked at together
TIMES = (1.0, 0.6, 0.2, 1.5)  # how often the way round as it is
AHEAD_M, ASIDE_M = (0.0, 0.05, -0.05, 0.1, -0.1, 0.18, -0.18), (0.0, 0.05, -0.05, 0.1, 0.18)  # more forward, more out
ENDS_M = (0.0, 0.04, -0.04, 0.08, -0.08, 0.14)  # how far elsewhere a foot ends where its place itself has no room
HIGHER_M = (0.0, 0.04, 0.08)
KNEES = (0.3, 0.6, -0.3)  # how much further out a knee turns [rad], where nothing else makes room; design values
PEAKS = (0.3, 0.7)  # at which share of its way it goes round then; design values
KNEE_COSTS = 0.1  # what a radian of it costs, in metres of detour; design value
PARTS = (1.0, 0.8, 0.6, 0.4, 0.2)  # of the way over the floor, of a turn, where there is no room for all of it
LEAVES_OUT, TURNS_LESS = 2.0, 0.3  # what a metre, a radian left out costs, in metres of detour; design values
MOST_WAYS = 80  # so many of the least changes are tried with another knee, three times as many with another place
STAYS_M = 0.004  # a foot that goes less with a key stays where it is
BETTER_M = 1e-4  # room gained that is worth another way
UNSEEN_ROWS = 2  # so many frames before and after what is not seen here is reckoned with


class Chain(NamedTuple):
    """A way of a foot with what hangs on it: the key before it; the way, then the keys in which the foot stays where it
    ends, ``own`` of them; and the way after those, if there is one."""

    before: FootKey
    keys: tuple[FootKey, ...]
    own: int

    @property
    def key(self) -> FootKey:
        """Return the way itself."""
        return self.keys[0]

    @property
    def left(self) -> float:
        """Return the moment when the foot leaves for the way after."""
        return self.keys[self.own].start if len(self.keys) > self.own else NEVER

    @property
    def until(self) -> float:
        """Return the moment when the way after is over."""
        return self.keys[-1].end if len(self.keys) > self.own else NEVER


class Other(NamedTuple):
    """Keys that take the place of a chain's own ones, and how much room is lacking then [m]."""

    keys: tuple[FootKey, ...]
    lack_m: float


def chain(keys: Sequence[FootKey], number: int, body: Body) -> Chain:
    """Return the chain of a key that is not the first."""
    end = number + 1
    while end < len(keys) and not goes(keys, end, body):
        end += 1
    return Chain(keys[number - 1], tuple(keys[number : end + 1]), end - number)


def goes(keys: Sequence[FootKey], number: int, body: Body) -> bool:
    """Tell whether a foot goes somewhere with a key, and does not turn where it stands."""
    key = keys[number]
    x, z = _begin(keys[max(number - 1, 0)], key, body)
    return hypot(key.point[0] - x, key.point[2] - z) > STAYS_M or key.lift_m > 0 or key.ring_m > 0 or key.point[1] > 0


def _begin(before: FootKey, key: FootKey, body: Body) -> tuple[float, float]:
    """Return (x, z) of the spot of the sole that a key leads, where it comes from."""
    along = (key.spot - before.spot) * body.foot_m * cos(before.pitch)
    return before.point[0] + along * cos(before.yaw), before.point[2] + along * sin(before.yaw)


def moved_with(was: FootKey, now: FootKey, key: FootKey) -> FootKey:
    """Return a key in which the foot stays where ``was`` ended, as it stays where ``now`` ends."""
    turned = now.yaw - was.yaw
    if now.point == was.point and not turned:
        return key
    x, z = key.point[0] - was.point[0], key.point[2] - was.point[2]
    x, z = x * cos(turned) - z * sin(turned), x * sin(turned) + z * cos(turned)
    return key._replace(point=(now.point[0] + x, key.point[1], now.point[2] + z), yaw=key.yaw + turned)


@dataclass(frozen=True, slots=True, eq=False)
class Judge:
    """Where a chain is looked at: the rows of the frames seen, both legs there, which foot it is, and how far its knee
    was turned out more than planned (n,) [rad]."""

    links: Chain
    seen: Seen
    rows: NDArray[np.intp]
    own: Leg
    other: Leg
    index: int
    turned_out: FloatArray

    @classmethod
    def of(cls, links: Chain, seen: Seen, legs: Sequence[Leg], index: int) -> Judge:
        """Return the judge of a chain of one foot."""
        rows = np.flatnonzero((seen.moments >= links.key.start) & (seen.moments <= links.until + 1e-9))
        own, other = (Leg(*(points[rows] for points in legs[which])) for which in (index, 1 - index))
        begin = links.before._replace(start=links.key.start, end=links.key.start)
        planned = foot_track([begin, *links.keys], seen.moments[rows], seen.body).knee
        return cls(links, seen, rows, own, other, index, seen.feet[index].knee[rows] - planned)

    def really(self) -> FloatArray:
        """Return how much room (rows,) the leg lacks as it was seen."""
        return lacks(self.own, self.other, self.seen, self.index, self.seen.facing[self.rows])

    def lacking(self, ways: Sequence[tuple[FootKey, ...]]) -> FloatArray:
        """Return how much room (ways, rows) the leg would lack with other keys."""
        begin, apart = self.links.key.start, float(self.seen.moments[self.rows[-1]]) - self.links.key.start + 1.0
        keys: list[FootKey] = []
        for number, way in enumerate(ways):
            later = number * apart
            keys.append(self.links.before._replace(start=begin + later, end=begin + later))
            keys += [key._replace(start=key.start + later, end=key.end + later) for key in way]
        n, seen = len(ways), self.seen
        foot = foot_track(keys, (apart * np.arange(n)[:, None] + seen.moments[self.rows]).ravel(), seen.body)
        hip, yaw = np.tile(self.own.hip, (n, 1)), np.tile(seen.facing[self.rows], n)
        pole = knee_pole(yaw, foot.yaw, foot.knee + np.tile(self.turned_out, n))
        leg = two_bone(hip, foot.ankle, first_m=seen.body.thigh_m, second_m=seen.body.shank_m, pole=pole)
        own = Leg(hip, leg.middle_m, leg.end_m, foot.heel, foot.toe)
        other = Leg(*(np.tile(points, (n, 1)) for points in self.other))
        return lacks(own, other, seen, self.index, yaw).reshape(n, -1)


def other_way(links: Chain, seen: Seen, legs: Sequence[Leg], index: int, *, stays: bool) -> Other | None:
    """Return the chain's own keys with the least change that lacks no room, or less than now; None where none is
    better. ``stays``: the place itself must not change."""
    judge = Judge.of(links, seen, legs, index)
    own = seen.moments[judge.rows] <= links.left
    if own.sum() < 2:
        return None
    now = judge.lacking([links.keys])[0]
    unseen = _widest(np.maximum(judge.really() - now, 0.0))  # heels that come up, a foot raised over the other
    best, least = None, float((now + unseen)[own].max()) - BETTER_M
    if least <= 0:
        return None
    for some in _batches(_ways(links, seen, index, judge.rows[own], stays=stays)):
        made = [_with(links, way) for way in some]
        lack = judge.lacking(made)
        worse = own | (lack > now + BETTER_M)  # what comes after counts where this way makes it worse
        worst = np.where(worse, lack + unseen, -np.inf).max(axis=1)
        good = np.flatnonzero(worst <= 0.0)
        if len(good):
            return Other(made[int(good[0])][: links.own], 0.0)
        if worst.min() < least:
            least = float(worst.min())
            best = Other(made[int(worst.argmin())][: links.own], least)
    return best


def _widest(values: FloatArray) -> FloatArray:
    shifted = np.pad(values, UNSEEN_ROWS)
    widest: FloatArray = np.lib.stride_tricks.sliding_window_view(shifted, 2 * UNSEEN_ROWS + 1).max(axis=1)
    return widest


def _batches(ways: Iterator[FootKey]) -> Iterator[list[FootKey]]:
    some = []
    for way in ways:
        some.append(way)
        if len(some) == AT_ONCE:
            yield some
            some = []
    if some:
        yield some


def _with(links: Chain, way: FootKey) -> tuple[FootKey, ...]:
    """Return the chain's keys with another way at their head."""
    stay = (moved_with(links.key, way, key) for key in links.keys[1 : links.own])
    return way, *stay, *links.keys[links.own :]


def _time_after(links: Chain, way: FootKey, body: Body) -> bool:
    """Tell whether there is time for the way after, from where another way ends; where there was none before, no less
    than then."""
    if len(links.keys) == links.own or way.point == links.key.point:
        return True
    after = links.keys[-1]
    before, now = links.keys[links.own - 1], _with(links, way)[links.own - 1]
    was, is_now = ((*_begin(key, after, body), key.point[1], after.yaw - key.yaw) for key in (before, now))
    least = max(1.0, hurry((was[0], was[2], was[1]), after, was[3]))
    return hurry((is_now[0], is_now[2], is_now[1]), after, is_now[3]) <= least


def _ways(links: Chain, seen: Seen, index: int, rows: NDArray[np.intp], *, stays: bool) -> Iterator[FootKey]:
    """Yield ways for which there is time, the least change first; ways to other places that go round too come last."""
    front = float(seen.facing[rows[-1]])
    aim = Aim(links.key, _begin(links.before, links.key, seen.body), seen.body.stature_m / 1.62, front, index)
    begin = (aim.begin[0], links.before.point[1], aim.begin[1])
    moves = goes((links.before, links.key), 1, seen.body)
    made = list(_rounder(aim)) if moves else []
    if not stays:
        steady = abs(seen.facing[rows[-1]] - seen.facing[rows[0]]) < 1e-6
        made += [*_smaller(aim, links.before, PARTS if steady else PARTS[:1])]
        made += [*_elsewhere(aim)] if moves and links.key.point[1] <= 0 else []
    made.sort(key=itemgetter(0))
    most = max(1.0, hurry(begin, links.key, links.key.yaw - links.before.yaw))

    def has_time(way: FootKey) -> bool:
        return hurry(begin, way, way.yaw - links.before.yaw) <= most and _time_after(links, way, seen.body)

    yield from (way for _, way in made if has_time(way))
    eased = [(cost + more, way) for cost, some in made[:MOST_WAYS] for more, way in _eased(aim._replace(key=some))]
    ends = () if stays or not moves else (*_smaller(aim, links.before, PARTS[:1]), *_elsewhere(aim))
    both = [
        (cost + more, way)
        for cost, end in ends
        if cost > 0
        for more, way in _rounder(aim._replace(key=end), ahead=AHEAD_M[:5], aside=ASIDE_M[:3], times=TIMES[:1])
    ]
    for more_ways in (eased, both):
        more_ways.sort(key=itemgetter(0))
        yield from (way for _, way in more_ways[: 3 * MOST_WAYS] if has_time(way))


class Aim(NamedTuple):
    """A way that may change: its key, where its led spot comes from (x, z), how big the dancer is against 1.62 m, the
    way she faces [rad], which foot."""

    key: FootKey
    begin: tuple[float, float]
    size: float
    front: float
    which: int

    def turned(self, ahead: float, out: float) -> tuple[float, float]:
        """Return room (x, z) of a way told forward and out to the foot's own side, of a dancer of 1.62 m."""
        forward, right = ahead * self.size, (1.0 if self.which else -1.0) * out * self.size
        return forward * cos(self.front) - right * sin(self.front), forward * sin(self.front) + right * cos(self.front)


def _rounder(
    aim: Aim, *, ahead: Sequence[float] = AHEAD_M, aside: Sequence[float] = ASIDE_M, times: Sequence[float] = TIMES
) -> Iterator[tuple[float, FootKey]]:
    """Yield ways rounder, farther out and higher, with their costs."""
    x, _, z = aim.key.bulge
    for often, more, out, higher in product(times, ahead, aside, HIGHER_M):
        dx, dz = aim.turned(more, out)
        way = aim.key._replace(
            bulge=(often * x + dx, 0.0, often * z + dz),
            lift_m=aim.key.lift_m + higher * aim.size,
            ring_m=often * aim.key.ring_m,
        )
        yield abs(often - 1) * hypot(x, z) + abs(more) + abs(out) + 1.5 * higher, way


def _eased(aim: Aim) -> Iterator[tuple[float, FootKey]]:
    """Yield a way with the knee turned further out, and one round sooner or later, with what it costs."""
    for more in KNEES:
        yield KNEE_COSTS * abs(more), aim.key._replace(knee=aim.key.knee + (1.0 if aim.which else -1.0) * more)
    for peak in PEAKS:
        yield KNEE_COSTS * abs(peak - aim.key.peak), aim.key._replace(peak=peak)


def _smaller(aim: Aim, before: FootKey, turns: Sequence[float]) -> Iterator[tuple[float, FootKey]]:
    """Yield ways that go or turn a part only, with their costs."""
    (x, z), key = aim.begin, aim.key
    for part, turned, times in product(PARTS, turns, TIMES[:3]):
        point = (x + part * (key.point[0] - x), key.point[1], z + part * (key.point[2] - z))
        bulge = part * times * key.bulge[0], 0.0, part * times * key.bulge[2]
        yaw = before.yaw + turned * (key.yaw - before.yaw)
        way = key._replace(bulge=bulge, point=point, ring_m=part * times * key.ring_m, yaw=yaw)
        less = LEAVES_OUT * (1 - part) * hypot(key.point[0] - x, key.point[2] - z) + abs(yaw - key.yaw) * TURNS_LESS
        yield less, way


def _elsewhere(aim: Aim) -> Iterator[tuple[float, FootKey]]:
    """Yield ways that end beside their place, with their costs."""
    key = aim.key
    for more, out, times in product(ENDS_M, ENDS_M, TIMES[:3]):
        dx, dz = aim.turned(more, out)
        point = (key.point[0] + dx, key.point[1], key.point[2] + dz)
        bulge = times * key.bulge[0], 0.0, times * key.bulge[2]
        yield LEAVES_OUT * hypot(dx, dz), key._replace(point=point, bulge=bulge)
