"""Weight and turns while a plan grows: who bears, the heel that comes up behind, the body that turns on its balls."""

from __future__ import annotations

from math import hypot, pi, radians
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot, Weight
from softshoe.figure.body import BALL
from softshoe.figure.feet import Feet
from softshoe.figure.feet_rules import foot_rule
from softshoe.figure.ground import (
    BOTH_ON_BALLS_DEG,
    CROSSED_HEEL_DEG,
    FEET,
    HEEL_UP_DEG,
    NEAR,
    ON_BALLS_DEG,
    TRAILS,
    TURN_COUNTS,
    Beat,
)
from softshoe.figure.paths import CROSSED_KNEE, seen_from
from softshoe.figure.places import BESIDE, OWN, STEP
from softshoe.figure.pose import NumberKey

if TYPE_CHECKING:
    from softshoe.dance.action import Event
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Stance


class Weighing(Feet):
    """The feet of a plan, and what bears and turns."""

    def __init__(self, body: Body, stance: Stance, facing_rad: float) -> None:
        super().__init__(body, stance, facing_rad)
        self.front = facing_rad
        self.facing = self.before = facing_rad
        self.on: Foot = Foot.BOTH
        self.turns_from: float | None = None  # when the body begins the turn of the present step

    def weigh(self, event: Event, beat: Beat) -> None:
        """Let the weight come over the foot that bears after an event."""
        after, moving = _bearing(event, self.on), event.action.foot
        if self.on is Foot.BOTH and moving in FEET and foot_rule(event.action.verb, "standing").solver == "land":
            before = 1.0 if moving is Foot.LEFT else 0.0
            self.plan.weight.append(NumberKey(beat.at - beat.gap_before, beat.start + 0.05, before))
            if after is Foot.BOTH:
                return
        share = {Foot.LEFT: 0.0, Foot.RIGHT: 1.0, Foot.BOTH: 0.5}[after]
        if after is not self.on or self.plan.weight[-1].value != share:
            start = beat.at - 0.45 * min(beat.gap_before, 1.0)
            self.plan.weight.append(NumberKey(start, beat.settled, share))
        self.on = after

    def trail(self, bearing: Foot, beat: Beat) -> None:
        """Let the heel of the foot left far from the bearing one come up as the weight leaves it."""
        other = bearing.other
        now = self.key(other)
        if now.point[1] > NEAR or (now.pitch and now.spot != BALL) or now.end > beat.at + NEAR:
            return
        (x, z), (bx, bz) = self.middle(other), self.middle(bearing)
        far = hypot(x - bx, z - bz) - BESIDE * self.body.stature_m
        pitch = -radians(HEEL_UP_DEG) * min(1.0, max(0.0, far / (STEP * self.body.stature_m) - 0.1))
        ways = seen_from((bx, bz), (bx, bz), (x, z), front=self.facing, own=OWN[bearing])
        crossed = ways.end[1] < 0 and ways.end[0] > 0
        pitch = max(pitch, -radians(CROSSED_HEEL_DEG)) if crossed else pitch
        start = max(beat.at - 0.3 * min(beat.gap_before, 1.0), now.end)
        key = self.pivoted(now, spot=BALL, yaw=now.yaw, pitch=min(pitch, now.pitch), start=start, end=beat.settled)
        self.add(other, key._replace(firm=TRAILS, knee=OWN[other] * CROSSED_KNEE if crossed else key.knee))

    def turn(self, turn: float, beat: Beat, *, stays: bool) -> None:
        """Turn the body and the balls of the feet; where both feet stay on the floor their heels come up high."""
        if self.stance == "seated":
            self.look(turn, beat)
            return
        self.facing += turn
        free = max((self.key(foot).end for foot in FEET if self.key(foot).firm != TRAILS), default=beat.start)
        begin = min(beat.start, beat.at - TURN_COUNTS * abs(turn) / pi)
        begin = self.turns_from = max(self.plan.facing[-1].end, min(max(begin, free), beat.start))
        self.plan.facing.append(NumberKey(begin, beat.at, self.facing))
        for foot in FEET:
            now = self.key(foot)
            key = self.pivoted(now, spot=BALL, yaw=now.yaw + turn, pitch=min(now.pitch, 0.0), start=begin, end=beat.at)
            apart = hypot(*(a - b for a, b in zip(self.middle(foot), self.middle(foot.other), strict=True)))
            up = BOTH_ON_BALLS_DEG if stays else ON_BALLS_DEG if apart > 1.2 * BESIDE * self.body.stature_m else 0.0
            heels = 0.0 if now.pitch else -radians(up)
            point = (key.point[0], self.point(now, BALL)[1], key.point[2])
            self.add(foot, key._replace(point=point, droop=heels))


def _bearing(event: Event, on: Foot) -> Foot:
    """Return the foot that bears after an event; a seated event danced standing keeps what bore."""
    if event.weight is Weight.SEAT:
        return on
    return Foot(event.weight.value)
