"""Footing's ground: the windows of moments, what a plan holds, and where feet are at home."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import cos, radians, sin
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.feet import Foot
from softshoe.figure.body import ANKLE
from softshoe.figure.feet_rules import MIDDLE
from softshoe.figure.places import BESIDE, OWN
from softshoe.figure.pose import EVER, BodyKey, FootKey, Lead, NumberKey

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Event
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Stance

DWELL = 0.35  # of the time between two contacts the foot rests before it leaves; design value
EARLY = 0.25  # of that time more for a way of two steps or more; design value
UNDER_SEAT = 0.42  # foot lengths behind home: never past the front edge of the seat; design value
AFTER_COUNTS, AFTER_LESS = 0.32, 1.5  # of a count for the follow-through; how much lower it is in less; design values
LONGEST = 1.3  # counts: no single step takes longer
SETTLE = 0.35  # of the time to the next contact until the weight has come over the foot; design value
TOE_OUT = radians(6.0)
HEEL_UP_DEG = 42.0  # how far the heel of a foot left behind comes up; design value
CROSSED_HEEL_DEG = 14.0  # the same behind a foot that crosses in front: its knee would meet the other; design value
INWARD_SHARE = 0.25  # of a fan or a swivel, when it goes towards the other foot; design value
SHORTEST = 0.4  # of a step: what it would be in no time; half counts make seven tenths of one; design value
HELD_STEP, HELD_AHEAD_STEP = 0.5, 0.65  # behind a chair: of a step, and further of one ahead or back; design values
HELD_FORWARD, HELD_BACK, HELD_ASIDE = 0.08, 0.16, 0.26  # of stature: how far from where she began; design values
HELD_AHEAD, HELD_LIFT = 0.1, 0.5  # behind a chair: of a knee's way ahead, of a lift; design values
TURN_COUNTS = 0.8  # what half a turn takes at least where there is time; design value
HOME_FROM, HOME_FIRST, HOME_BY = 0.12, 0.58, 0.9  # of the time until the other seated foot lands; design values
HOME_LIFT = 0.028  # of stature; design value
ACROSS_FEET = 0.3  # foot lengths in from home: a foot so far in lies across; design value
NEAR_BESIDE = 0.7  # of the way between feet side by side: a foot that comes or goes nearer crosses; design value
OVER_ANKLE, UNDER_ANKLE = 1.7, 0.4  # of their lifts, of the foot that goes over and of the other; design values
ANKLES_AHEAD, ANKLES_IN = 0.8, 0.62  # foot lengths from home: ankles that both cross; design values
FARTHEST_FEET, SWUNG_LIFT = 0.8, 0.008  # foot lengths: farther out a seated foot turns on the spot, lifted a little
BEFORE_LEG = 0.45  # foot lengths before the chair's leg, where a foot goes round it; design value
WIDE_FEET, UNDER_FEET = 0.3, 0.1  # foot lengths: a way so wide, from or to so far back, goes round it; design values
ON_BALLS_DEG = 24.0  # how far the heel comes up of a foot that turns; design value
BOTH_ON_BALLS_DEG = 38.0  # the same where both feet stay and must pass each other; design value
LOOK, LOOK_COUNTS = radians(28.0), 0.8  # a look that stands for a turn: how far (30 degrees at most), how long
TRAILS = 0.4  # how firm a foot is that stays behind on its ball
FEET = (Foot.LEFT, Foot.RIGHT)
NEAR = 1e-6


class Timed(NamedTuple):
    """An event at its moment, within the stretch that is planned (the walls before and after may be in it)."""

    at: float
    event: Event


@dataclass(slots=True)
class Plan:
    """Keys in order of time, still growing while the events are gone through."""

    feet: tuple[list[FootKey], list[FootKey]]
    weight: list[NumberKey]
    facing: list[NumberKey]
    body: list[BodyKey]
    leads: list[Lead] = field(default_factory=list)
    looks: list[NumberKey] = field(default_factory=lambda: [NumberKey(EVER, EVER, 0.0)])


class Stand(NamedTuple):
    """Where the dancer stands: the middle between her feet [m] and her facing [rad]."""

    x: float
    z: float
    facing: float


class Beat(NamedTuple):
    """One moment's window: when movement begins, when it lands, how long until the next contact."""

    start: float
    at: float
    gap_before: float
    gap_after: float

    @property
    def settled(self) -> float:
        """When the weight has come over the foot that landed."""
        return self.at + SETTLE * min(self.gap_after, 1.0)


def beats(timed: Sequence[Timed]) -> dict[float, Beat]:
    """Return the window of each moment."""
    moments = sorted({t.at for t in timed})
    made = {}
    for index, at in enumerate(moments):
        before = at - moments[index - 1] if index else 1.0
        after = moments[index + 1] - at if index + 1 < len(moments) else 1.0
        made[at] = Beat(at - min((1 - DWELL) * before, LONGEST), at, before, after)
    return made


def turned_by(yaw: float, forward: float, right: float) -> tuple[float, float]:
    """Return room (x, z) of a way told forward and right of a yaw."""
    return forward * cos(yaw) - right * sin(yaw), forward * sin(yaw) + right * cos(yaw)


def still(body: Body, stance: Stance, facing_rad: float) -> Plan:
    """Return the plan of a dancer who waits: feet at home, weight on both."""
    feet = tuple(_home_key(body, stance, foot, facing_rad) for foot in FEET)
    return Plan(
        feet=([feet[0]], [feet[1]]),
        weight=[NumberKey(EVER, EVER, 0.5)],
        facing=[NumberKey(EVER, EVER, facing_rad)],
        body=[BodyKey(EVER, EVER)],
    )


def seat_home(body: Body, foot: Foot) -> tuple[float, float]:
    """Return (x, z) of the middle of a seated foot at home: flat, the ankle under its own knee, feet hip width
    apart.
    """
    ankle = pelvis_x(body) + body.thigh_m - 0.004
    return ankle + (MIDDLE - ANKLE) * body.foot_m, OWN[foot] * body.half_hips_m * 1.12


def pelvis_x(body: Body) -> float:
    """Return where the hips sit on the chair, forward of the seat's middle [m]: well back, without leaning on it."""
    return -body.chair.depth_m / 2 + 0.085 * body.stature_m


def _home_key(body: Body, stance: Stance, foot: Foot, facing: float) -> FootKey:
    if stance == "seated":
        x, z = seat_home(body, foot)
        x, z = turned_by(facing, x, z)
    else:
        x, z = turned_by(facing, 0.0, OWN[foot] * BESIDE * body.stature_m / 2)
    return FootKey(EVER, EVER, (x, 0.0, z), MIDDLE, facing + OWN[foot] * TOE_OUT)
