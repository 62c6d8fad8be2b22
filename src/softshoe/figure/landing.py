"""Where feet land: places, shapes, and ways that keep off the other foot, off the chair and on the seat."""

from __future__ import annotations

from math import cos, hypot, radians, sin
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.figure.choosing import Crossing, clear_way
from softshoe.figure.feet_rules import FLAT, LASTING, MIDDLE, Shape
from softshoe.figure.haste import counts_needed
from softshoe.figure.paths import (
    CROSSING_LIFT,
    LEAST_BESIDE,
    behind,
    pushed_aside,
    roomy,
    round_the_other,
    seen_from,
    sole,
    swept,
)
from softshoe.figure.places import BESIDE, OWN, STEP, foot_spot
from softshoe.figure.pose import EVER, FootKey, Vector
from softshoe.figure.sitting import within_seat
from softshoe.figure.weighing import Weighing

if TYPE_CHECKING:
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Stance

from softshoe.figure.ground import (
    ANKLES_AHEAD,
    ANKLES_IN,
    BEFORE_LEG,
    FARTHEST_FEET,
    HELD_AHEAD,
    HELD_AHEAD_STEP,
    HELD_ASIDE,
    HELD_BACK,
    HELD_FORWARD,
    HELD_LIFT,
    HELD_STEP,
    NEAR,
    NEAR_BESIDE,
    TOE_OUT,
    UNDER_FEET,
    UNDER_SEAT,
    WIDE_FEET,
    Timed,
    seat_home,
    turned_by,
)


class Landing(Weighing):
    """The feet of a plan, and where they go."""

    def __init__(
        self,
        body: Body,
        stance: Stance,
        facing_rad: float,
        *,
        wall_rad: float | None = None,
        drift_m: tuple[float, float] = (0.0, 0.0),
        held: bool = False,
        careful_from: float = EVER,
    ) -> None:
        """``wall_rad``: where the wall faces, if it is under way; ``drift_m`` (forward, right of the wall's front) is
        added to every travelling step; ``held``: behind a chair, where steps are small; ``careful_from``: the moment
        from which a foot that crosses looks for a clear way."""
        super().__init__(body, stance, facing_rad)
        self.drift, self.held, self.careful_from = drift_m, held, careful_from
        self.front = self.wall = facing_rad if wall_rad is None else wall_rad
        self.travelled = [0]
        self.stood = (0.0, 0.0)  # (x, z) between the feet as the present step begins
        self.short = 1.0
        self.run: dict[Foot, Timed | None] = {Foot.LEFT: None, Foot.RIGHT: None}

    def grounded(self, foot: Foot) -> FootKey:
        """Return where the foot is, or where it would come down when it is in the air."""
        now = self.key(foot)
        if now.point[1] <= NEAR:
            return now
        x, z = self._base(foot)
        return self.shaped(FLAT, foot, (x, 0.0, z), now.start, now.end)

    def _seated(self, key: FootKey, shape: Shape, foot: Foot) -> FootKey:
        """Return the key of a seated foot no farther out than its thigh lies on the seat."""
        if self.stance == "standing":
            return key
        x, z = self._base(foot)
        return within_seat(key, self.shaped(shape, foot, (x, 0.0, z), key.start, key.end), foot, self.body, self.front)

    def _far_out(self, key: FootKey, foot: Foot) -> bool:
        """Tell whether a seated foot on the floor would be farther from home than any place of the dance."""
        x, _, z = self.point(key, MIDDLE)
        home = self._base(foot)
        return hypot(x - home[0], z - home[1]) > FARTHEST_FEET * self.body.foot_m

    def _beside(self, target: Vector, shape: Shape, foot: Foot) -> Vector:
        """Return a place on the floor moved so far aside that the foot does not stand on the other one."""
        other = self.key(foot.other)
        if shape.up or shape.fixed or other.point[1] > NEAR:
            return target
        half = self.body.foot_m / 2
        yaw = self._front + OWN[foot] * (TOE_OUT + radians(shape.out_deg))
        soles = sole((target[0], target[2]), yaw, half), sole(self.middle(foot.other), other.yaw, half)
        dx, dz = pushed_aside(*soles, LEAST_BESIDE * self.body.stature_m)
        return target[0] + dx, target[1], target[2] + dz

    def _ankles(self, foot: Foot, way: Direction | None) -> Vector:
        """Return where a foot goes when both cross on a chair: the right one before the left, or behind it."""
        front = (foot is Foot.RIGHT) == (way is Direction.ACROSS_FRONT)
        forward, inward = (ANKLES_AHEAD, ANKLES_IN) if front else (-UNDER_SEAT, ANKLES_IN)
        x, z = self._base(foot)
        dx, dz = turned_by(self._front, forward * self.body.foot_m, -inward * self.body.foot_m * OWN[foot])
        return x + dx, 0.0, z + dz

    def _off_the_other(self, key: FootKey, foot: Foot) -> FootKey:
        """Return the key of a foot on the floor turned less where it would turn into the other one."""
        last, other = self.key(foot), self.key(foot.other)
        if key.point[1] > NEAR or other.point[1] > NEAR:
            return key
        half, least = self.body.foot_m / 2, 0.9 * LEAST_BESIDE * self.body.stature_m
        for part in (1.0, 0.5, 0.25):
            turned = key._replace(yaw=last.yaw + part * (key.yaw - last.yaw))
            middle = self.point(turned._replace(pitch=0.0), MIDDLE)
            soles = sole((middle[0], middle[2]), turned.yaw, half), sole(self.middle(foot.other), other.yaw, half)
            if pushed_aside(*soles, least) == (0.0, 0.0):
                return turned
        return key._replace(yaw=last.yaw)

    def placed(self, shape: Shape, foot: Foot, way: Direction | None) -> Vector:
        """Return where the middle of the flat foot would lie; ``up`` is kept for ``shaped``."""
        own = OWN[foot]
        if shape.fixed is not None:
            back = -1.0 if way is Direction.ACROSS_BEHIND else 1.0
            small = HELD_AHEAD if self.held and shape.fixed[1] > 0 else 1.0
            out, forward = shape.fixed[0] * self.body.stature_m, shape.fixed[1] * self.body.stature_m * back * small
            x, z = self._base(foot)
            dx, dz = turned_by(self._front, forward, out * own)
            return x + dx, 0.0, z + dz
        if way is Direction.IN_PLACE or (way in (Direction.UP, Direction.DOWN) and self.stance == "standing"):
            x, z = self._base(foot) if self.key(foot).point[1] > NEAR else self.middle(foot)
            return x, 0.0, z
        spot = foot_spot(foot, way, stance=self.stance, body=self.body)
        crossed = self.stance == "seated" and way in (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)
        far = shape.reach * self.short * (HELD_STEP if self.held else 1.0)
        far = 1.0 if crossed or way is Direction.TOGETHER else far
        x, z = self._base(foot) if self.stance == "seated" else self.middle(foot.other)
        out = spot.out_m * far * shape.aside if spot.out_m > 0.15 else spot.out_m
        out *= 0.6 if crossed and shape.up else 1.0
        ahead = spot.forward_m * (max(far, 1.0) if spot.out_m < 0 else far) * (HELD_AHEAD_STEP if self.held else 1.0)
        if self.stance == "seated":
            ahead = max(ahead, -UNDER_SEAT * self.body.foot_m)
        dx, dz = turned_by(self._front, ahead, out * own)
        if (
            way not in (Direction.TOGETHER, Direction.CENTRE)
            and not shape.pitch_deg
            and not shape.up
            and spot.out_m > 0
            and self.stance == "standing"
        ):
            more = turned_by(self.wall - self._front, *self.drift)
            beside = min(out, BESIDE * self.body.stature_m)
            dx, dz = turned_by(self._front, ahead + more[0], own * max(out + own * more[1], beside))
            self.travelled[-1] += 1
        return self._in_reach((x + dx, 0.0, z + dz))

    def _in_reach(self, target: Vector) -> Vector:
        """Return a place no farther from where she began than a hand on the support and the support itself allow."""
        if not self.held:
            return target
        size = self.body.stature_m
        x, _, z = target
        ahead, aside = x * cos(self.front) + z * sin(self.front), z * cos(self.front) - x * sin(self.front)
        ahead = min(max(ahead, -HELD_BACK * size), HELD_FORWARD * size)
        aside = min(max(aside, -HELD_ASIDE * size), HELD_ASIDE * size)
        x, z = turned_by(self.front, ahead, aside)
        return x, 0.0, z

    @property
    def _front(self) -> float:
        return self.front if self.stance == "seated" else self.facing

    def _base(self, foot: Foot) -> tuple[float, float]:
        """Return (x, z) under the own hip: seated home, standing beside the other foot."""
        if self.stance == "seated":
            return turned_by(self.front, *seat_home(self.body, foot))
        x, z = self.middle(foot.other)
        dx, dz = turned_by(self.facing, 0.0, OWN[foot] * BESIDE * self.body.stature_m)
        return x + dx, z + dz

    def shaped(self, shape: Shape, foot: Foot, middle: Vector, start: float, end: float) -> FootKey:
        """Return the key of a shape whose flat foot would have its middle there."""
        yaw = self._front + OWN[foot] * (TOE_OUT + radians(shape.out_deg))
        along = (shape.spot - MIDDLE) * self.body.foot_m
        up = (shape.fixed[2] if shape.fixed else shape.up) * self.body.stature_m * (HELD_LIFT if self.held else 1.0)
        point = (middle[0] + along * cos(yaw), up, middle[2] + along * sin(yaw))
        knee = OWN[foot] * radians(shape.knee_deg)
        pitch = radians(shape.pitch_deg + shape.ahead_deg * self._ahead(foot, middle))
        return FootKey(start, end, point, shape.spot, yaw, pitch, knee=knee, firm=shape.firm)

    def _ahead(self, foot: Foot, middle: Vector) -> float:
        """Return how far ahead of under the hip a place is, in whole places (-1 to 1)."""
        x, z = self._base(foot)
        forward = (middle[0] - x) * cos(self._front) + (middle[2] - z) * sin(self._front)
        unit = self.body.foot_m * 0.75 if self.stance == "seated" else STEP * self.body.stature_m
        return min(max(forward / unit, -1.0), 1.0)

    def _on_the_way(self, key: FootKey, verb: str, foot: Foot) -> FootKey:
        """Round the way: a foot goes about the other one, sweeps draw an arc or a ring."""
        along = (MIDDLE - key.spot) * self.body.foot_m
        end = key.point[0] + along * cos(key.yaw), key.point[2] + along * sin(key.yaw)
        ways = seen_from(self.middle(foot), end, self.middle(foot.other), front=self._front, own=OWN[foot])
        crosses = min(ways.begin[1], ways.end[1]) < 0
        if verb in LASTING and crosses:
            key = key._replace(lift_m=CROSSING_LIFT * self.body.stature_m)
        if verb == "sweep" and not crosses:
            x, _, z = self.point(self.key(foot), key.spot)
            seated = self.stance == "seated"
            tall = self.body.stature_m
            return swept(key, (x, z), front=self._front, own=OWN[foot], stature_m=tall, seated=seated)
        droop = radians(-12.0 if self.stance == "standing" else -7.0) if key.lift_m and not key.pitch else 0.0
        before = seen_from(self.middle(foot), end, self.middle(foot.other), front=self.before, own=OWN[foot])
        turned = OWN[foot] * (self.facing - self.before)
        ahead, out, peak = round_the_other(ways, before, turned, self.body.stature_m)
        small = self.short * (roomy(hypot(ahead, out), self.body.stature_m) if self.stance == "seated" else 1.0)
        ahead, out = ahead * small, out * small
        ahead += self._before_leg(end, foot)
        dx, dz = turned_by(self._front, ahead, out * OWN[foot])
        low, knee = behind(ways)
        return key._replace(
            droop=0.0 if verb == "drag" else droop,
            bulge=(dx, 0.0, dz),
            peak=peak,
            lift_m=key.lift_m * low,
            knee=key.knee + OWN[foot] * knee,
        )

    def _clear(self, key: FootKey, foot: Foot) -> FootKey:
        """Return the key with a way that keeps off the other foot, if it crosses it."""
        other = foot.other
        end = self.body.foot_m * (MIDDLE - key.spot)
        to = key.point[0] + end * cos(key.yaw), key.point[2] + end * sin(key.yaw)
        ways = [
            seen_from(self.middle(foot), to, self.middle(other), front=front, own=OWN[foot])
            for front in (self.before, self._front)
        ]
        beside = NEAR_BESIDE * BESIDE * self.body.stature_m
        if key.end < self.careful_from or min(way[n][1] for way in ways for n in (0, 1)) > beside:
            return key
        key = key._replace(late=1.0)
        last, start = self.leaves(foot, key.end), key.start
        begin = min(key.start, key.end - counts_needed(last, key))
        key = key._replace(start=max(begin, last.end))
        front = cos(self._front), sin(self._front)
        chosen = clear_way(Crossing(last, key, self.keys(other)[-2:], self.body, front, self.stance))
        return chosen._replace(start=start)

    def _before_leg(self, end: tuple[float, float], foot: Foot) -> float:
        """Return how far a seated foot that comes from or goes under the seat swings out before the chair's leg [m];
        ``end`` is where its middle goes."""
        if self.stance == "standing":
            return 0.0
        ways = seen_from(self.middle(foot), end, self._base(foot), front=self.front, own=OWN[foot])
        wide = abs(ways.begin[1] - ways.end[1]) > WIDE_FEET * self.body.foot_m
        under = min(ways.begin[0], ways.end[0]) < -UNDER_FEET * self.body.foot_m
        return BEFORE_LEG * self.body.foot_m if wide and under else 0.0
