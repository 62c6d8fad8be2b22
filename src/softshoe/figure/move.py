"""Motion of a dance: events become keys, keys become tracks, tracks become joint points, all frames at once.

Moments are counts from 0; a contact written at a moment lands on it exactly.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.dance.feet import Foot
from softshoe.errors import FigureError
from softshoe.figure.again import mended, room_lacking
from softshoe.figure.body import Body
from softshoe.figure.clear import OVER_M, stepped_over
from softshoe.figure.danced import Danced
from softshoe.figure.feet_rules import foot_rule
from softshoe.figure.footing import Planner
from softshoe.figure.ground import Plan, Stand, Timed, beats
from softshoe.figure.hand_track import hand_shapes
from softshoe.figure.handing import Handler
from softshoe.figure.limbs import Pose, posed
from softshoe.figure.motion import Frames, Motion
from softshoe.figure.pose import NEVER
from softshoe.figure.room import Seen
from softshoe.figure.smaller import made_smaller
from softshoe.figure.supports import chair_for, farther, holds, stance_of
from softshoe.figure.tracks import (
    body_track,
    foot_track,
    gaze_track,
    lead_track,
    number_track,
    pulse_track,
    swing_track,
)
from softshoe.figure.weight import centre_over, padding, pendulum_s, pressure, shares

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.dance.action import Event
    from softshoe.figure.hand_solvers import Hands
    from softshoe.figure.motion import Chair, FloatArray, Stance, Support
    from softshoe.figure.pose import FootKey
    from softshoe.figure.skeleton import FootTrack

PER_COUNT = 24
MOST_TURNED = radians(29.0)  # how far the trunk turns from the hips, under the ceiling of ranges.csv
MOST_COUNTS = 20000
SOFT_KNEE = 0.006  # of stature: how far the pelvis gives at each change of weight; design value
CARE, LEAD_IN, LANDINGS = 8.0, 12.0, 3  # of the wall before: counts with care, counts and landings planned at least
LOOKS = 9  # how often a danced motion is looked over at most
AFTER = 6.0  # counts of the wall after that are planned with a wall
DRIFT_ROUNDS = 2  # how often steps are corrected before they are planned with care
LARGEST_CORRECTION_M = 0.09  # a step is made longer or shorter by no more than this to come back; design value


class Dancer(NamedTuple):
    """Who dances, how, and what supports her."""

    body: Body
    stance: Stance
    chair: Chair | None


class Score(NamedTuple):
    """All keys of one motion."""

    plan: Plan
    hands: Hands


def move(
    events: Sequence[Event],
    *,
    counts: float,
    stance: Stance,
    body: Body | None = None,
    arms: bool = True,
    per_count: int = PER_COUNT,
    start_facing_deg: float = 0.0,
    loop: bool = False,
    support: Support | None = None,
) -> Motion:
    """Return the motion of events over ``counts`` counts from moment 0; ``danced`` tells the same with its misses.

    events : in order of time; an event at moment 0 has landed at the very start, its way there lies before.
    counts : length of the motion, over 0. With ``loop`` the wall before and the wall after are danced alike: the
        pose at ``counts`` is the pose at 0 as seen from the next wall, and small corrections of the steps bring
        the dancer back to her place.
    support : what holds the dancer; None is the chair of a seated one and the bare floor of a standing one. It goes
        before ``stance``.
    arms : False leaves the arms at rest.

    Raises FigureError when counts or per_count can't be danced.

    >>> motion = move((), counts=2, stance="seated")
    >>> motion.frames.points_m.shape
    (49, 28, 3)
    """
    return danced(
        events,
        counts=counts,
        stance=stance,
        body=body,
        arms=arms,
        per_count=per_count,
        start_facing_deg=start_facing_deg,
        loop=loop,
        support=support,
    ).motion


def danced(
    events: Sequence[Event],
    *,
    counts: float,
    stance: Stance,
    body: Body | None = None,
    arms: bool = True,
    per_count: int = PER_COUNT,
    start_facing_deg: float = 0.0,
    loop: bool = False,
    support: Support | None = None,
    count_s: float = 0.5,
) -> Danced:
    """Return the motion of ``move`` with what it was made from and how far feet and hands miss their places."""
    if not 0 < counts <= MOST_COUNTS or per_count < 2:
        raise FigureError("counts", f"{counts:g} counts can't be danced", "a motion has a length", "give counts over 0")
    who = body or Body()
    on: Support = support or ("chair" if stance == "seated" else "free")
    dancer = Dancer(who, stance_of(on), chair_for(who, on, facing_deg=start_facing_deg))
    score = (_looped if loop else _once)(events, counts, dancer, start_facing_deg)
    if dancer.chair is not None and holds(dancer.chair):
        dancer = dancer._replace(chair=farther(dancer.chair, _foremost(score.plan, dancer.chair)))
    moments = np.linspace(0.0, counts, round(counts * per_count) + 1)
    hands = score.hands if arms else Handler(who, dancer.stance, dancer.chair).hands
    leads = lead_track([*score.plan.leads, *hands.leads], moments)
    plan, pose, points, miss = _looked_over(score.plan, hands, moments, dancer, leads, count_s)
    if dancer.chair is not None:
        points[..., 1] += dancer.chair.plate_m
    frames = Frames(points, _bearing(pose), leads, hand_shapes(hands.keys, moments))
    motion = Motion(dancer.stance, counts, per_count, frames, np.degrees(pose.facing), dancer.chair)
    smaller = made_smaller(score.plan, plan, counts=counts, foot_m=who.foot_m)
    return Danced(motion, events, who, miss, count_s, smaller)


def _looked_over(
    planned: Plan, hands: Hands, moments: FloatArray, dancer: Dancer, leads: FloatArray, count_s: float
) -> tuple[Plan, Pose, FloatArray, FloatArray]:
    """Return the plan with ways that have room, its pose, points and misses: of all looks the one with most room."""
    least, plan = np.inf, planned
    for _ in range(LOOKS):
        looked = _sampled(plan, hands, moments, dancer, leads, count_s)
        points, miss, eased = posed(looked)
        seen = Seen(moments, points, eased.feet, looked.facing, dancer.body, dancer.chair)
        lack = room_lacking(seen)
        if lack < least:
            least, best = lack, (plan, looked, points, miss)
        other = mended(plan, seen) if lack > 0 else None
        if other is None:
            break
        plan = other
    return best


def _once(events: Sequence[Event], counts: float, who: Dancer, facing_deg: float) -> Score:
    timed = [Timed(float(event.action.at.moment), event) for event in events if event.action.at.moment <= counts]
    windows = beats(timed)
    planner = Planner(who.body, who.stance, radians(facing_deg), held=holds(who.chair))
    planner.dance(timed, windows)
    return Score(planner.plan, Handler(*who).gesture(timed, windows))


def _looped(events: Sequence[Event], counts: float, who: Dancer, facing_deg: float) -> Score:
    """Plan the wall before, the wall, and the beginning of the wall after; the wall begins over the room's origin."""
    once = [Timed(float(event.action.at.moment), event) for event in events]
    timed = [Timed(at + wall * counts, event) for wall in (-1, 0, 1) for at, event in once if wall < 1 or at < AFTER]
    free, held = who.stance == "standing", holds(who.chair)
    windows, first = beats(timed), -counts if held else _lead_in(once, counts)  # what is held stands still in the room
    planned = [one for one in timed if one.at >= first]
    front = radians(facing_deg - _turned(t for t in timed if t.at < 0) * free)
    begins = front + radians(_turned(t for t in timed if t.at < first) * free)
    drift = (0.0, 0.0)
    for _ in range(DRIFT_ROUNDS if free else 0):
        rough = Planner(who.body, who.stance, begins, wall_rad=front, drift_m=drift, held=held, careful_from=NEVER)
        begin, end = rough.dance([t for t in planned if t.at < counts], windows, walls=(0.0, counts))
        drift = _corrected(drift, begin, end, max(rough.travelled[1], 1))
    fine = Planner(who.body, who.stance, begins, wall_rad=front, drift_m=drift, held=held, careful_from=-CARE)
    begin, _ = fine.dance(planned, windows, walls=(0.0, counts))
    plan = _moved(fine.plan, begin) if free and not held else fine.plan
    return Score(plan, Handler(*who).gesture(timed, windows))


def _turned(timed: Iterable[Timed]) -> int:
    return sum(one.event.action.turn_deg for one in timed)


def _lead_in(once: Sequence[Timed], counts: float) -> float:
    """Return the moment from which the feet of the wall before are planned: where they stand as the wall begins no
    longer depends on where they stood then, since each has been set down several times."""
    landed = {Foot.LEFT: 0, Foot.RIGHT: 0}
    for at, event in reversed(once):
        if event.action.foot in landed and foot_rule(event.action.verb, "standing").solver == "land":
            landed[event.action.foot] += 1
        if at <= counts - LEAD_IN and min(landed.values()) >= LANDINGS:
            return at - counts
    return -counts


def _corrected(drift: tuple[float, float], begin: Stand, end: Stand, steps: int) -> tuple[float, float]:
    """Return what each step adds (forward, right of the wall) so that the wall ends where it began."""
    dx, dz = (begin.x - end.x) / steps, (begin.z - end.z) / steps
    forward = dx * cos(begin.facing) + dz * sin(begin.facing)
    right = -dx * sin(begin.facing) + dz * cos(begin.facing)
    most = LARGEST_CORRECTION_M
    return min(max(drift[0] + forward, -most), most), min(max(drift[1] + right, -most), most)


def _moved(plan: Plan, begin: Stand) -> Plan:
    """Return the plan with the beginning of the wall over the room's origin."""

    def here(keys: Sequence[FootKey]) -> list[FootKey]:
        return [k._replace(point=(k.point[0] - begin.x, k.point[1], k.point[2] - begin.z)) for k in keys]

    return replace(plan, feet=(here(plan.feet[0]), here(plan.feet[1])))


def _sampled(plan: Plan, hands: Hands, moments: FloatArray, who: Dancer, leads: FloatArray, count_s: float) -> Pose:
    body, stance = who.body, who.stance
    facing = number_track(plan.facing, moments)
    trunk = body_track(plan.body, moments) + body_track(hands.body, moments)
    trunk[:, 2] = np.clip(trunk[:, 2], -MOST_TURNED, MOST_TURNED)
    if stance == "standing":
        trunk[:, 3] += SOFT_KNEE * body.stature_m * pulse_track(plan.weight, moments)
    return Pose(
        stance=stance,
        body=body,
        moments=moments,
        feet=_feet(plan, moments, who),
        facing=facing,
        weight=number_track(plan.weight, moments),
        trunk=trunk,
        gaze=gaze_track(leads, facing, per_count=_rate(moments)) + number_track(plan.looks, moments),
        hands=hands.keys,
        swings=(
            swing_track(hands.swings, moments, hand="left"),
            swing_track(hands.swings, moments, hand="right"),
        ),
        centre=_centre(plan, moments, who, count_s),
        off=np.zeros((2, len(moments), 3)),
        chair=who.chair,
    )


def _foremost(plan: Plan, chair: Chair) -> float:
    """Return how far towards a support a foot ever stands, from the room's origin [m]."""
    ahead = np.radians(chair.yaw_deg)
    return max(float(k.point[0] * np.cos(ahead) + k.point[2] * np.sin(ahead)) for keys in plan.feet for k in keys)


def _feet(plan: Plan, moments: FloatArray, who: Dancer) -> tuple[FootTrack, FootTrack]:
    left, right = (foot_track(keys, moments, who.body) for keys in plan.feet)
    return stepped_over((left, right), moments, who.body.stature_m, most_m=OVER_M[who.stance])


def _rate(moments: FloatArray) -> int:
    return max(2, round(1 / float(moments[1] - moments[0])))


def _bearing(pose: Pose) -> FloatArray:
    """Return (n, 2): standing the shares of weight, seated how firmly each foot is on the floor."""
    if pose.stance == "seated":
        return np.stack([foot.firm for foot in pose.feet], axis=-1)
    return shares(pose.feet, pose.weight, per_count=_rate(pose.moments))


def _centre(plan: Plan, moments: FloatArray, who: Dancer, count_s: float) -> FloatArray:
    """Return (n, 2) where the centre of mass of a standing dancer shall be, from her steps before and after."""
    if who.stance == "seated":
        return np.zeros((len(moments), 2))
    step = float(moments[1] - moments[0])
    fall = pendulum_s(who.body) / count_s / step
    more = padding(fall)
    wide = moments[0] + step * np.arange(-more, len(moments) + more)
    feet = _feet(plan, wide, who)
    point = pressure(feet, number_track(plan.weight, wide), who.body, per_count=_rate(moments))
    return centre_over(point, fall_samples=fall)
