"""From events to keys of the feet, the weight, the facing and the trunk: the rules of ``feet_rules`` set in time.

A contact is reached exactly at its moment. The foot leaves when the contact before it has had its share of rest, so
that steps are crisp; what lasts several counts (a drag, a sweep) is one movement over all of them.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, pi, radians, sin
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.figure.body import BALL
from softshoe.figure.feet import Feet
from softshoe.figure.feet_rules import FLAT, LASTING, MIDDLE, FootRule, Shape, foot_rule
from softshoe.figure.paths import CROSSED_KNEE, CROSSING_LIFT, behind, roomy, round_the_other, seen_from, swept
from softshoe.figure.places import BESIDE, OWN, STEP, foot_spot
from softshoe.figure.pose import BodyKey, FootKey, Lead, NumberKey, Vector

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Event
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Stance

from softshoe.figure.ground import (
    BEFORE_LEG,
    CROSSED_HEEL_DEG,
    DWELL,
    EARLY,
    FEET,
    HEEL_UP_DEG,
    HELD_AHEAD,
    HELD_AHEAD_STEP,
    HELD_LIFT,
    HELD_STEP,
    INWARD_SHARE,
    LONGEST,
    NEAR,
    ON_BALLS_DEG,
    SHORTEST,
    TOE_OUT,
    TRAILS,
    TURN_COUNTS,
    UNDER_SEAT,
    Beat,
    Stand,
    Timed,
    seat_home,
    turned_by,
)


class Planner(Feet):
    """Goes through events in order and writes keys; one method a solver."""

    def __init__(
        self,
        body: Body,
        stance: Stance,
        facing_rad: float,
        *,
        drift_m: tuple[float, float] = (0.0, 0.0),
        held: bool = False,
    ) -> None:
        """``drift_m`` (forward, right of the wall's front) is added to every travelling step; ``held``: behind a chair,
        where steps are small."""
        super().__init__(body, stance, facing_rad)
        self.drift, self.held = drift_m, held
        self.front = facing_rad
        self.facing = self.before = facing_rad
        self.wall = facing_rad
        self.travelled = [0]
        self.on: Foot = Foot.BOTH
        self.short = 1.0
        self.run: dict[Foot, Timed | None] = {Foot.LEFT: None, Foot.RIGHT: None}

    # -- going through -------------------------------------------------------------------------------------------

    def dance(self, timed: Sequence[Timed], windows: dict[float, Beat], *, walls: Sequence[float] = ()) -> list[Stand]:
        """Plan all events, in order of time; return where the dancer stands as each of these walls begins."""
        stands: list[Stand] = []
        for index, one in enumerate(timed):
            while len(stands) < len(walls) and one.at >= walls[len(stands)] - NEAR:
                stands.append(self._stand())
            self.step(one, windows[one.at], [t for t in timed[index + 1 : index + 24] if t.at > one.at])
        while len(stands) < len(walls):
            stands.append(self._stand())
        return stands

    def _stand(self) -> Stand:
        left, right = self.middle(Foot.LEFT), self.middle(Foot.RIGHT)
        self.wall = self.facing
        self.travelled.append(0)
        return Stand((left[0] + right[0]) / 2, (left[1] + right[1]) / 2, self.facing)

    def step(self, one: Timed, beat: Beat, later: Sequence[Timed]) -> None:
        """Plan one event."""
        action = one.event.action
        rule = foot_rule(action.verb, self.stance)
        self.before = self.facing
        if action.turn_deg:
            self._turn(radians(action.turn_deg), beat)
        feet = FEET if action.foot is Foot.BOTH else (action.foot,) if action.foot else ()
        if self.stance == "standing":
            self._weigh(one.event, beat)
        for foot in feet:
            getattr(self, f"_{rule.solver}")(one, rule, foot, beat, later)
            if rule.solver != "still":
                limb = FEET.index(foot)
                self.plan.leads.append(Lead(limb, beat.start, one.at, one.at + 0.45 * min(beat.gap_after, 1.0)))
        if (
            self.stance == "standing"
            and action.foot is self.on
            and self.on in FEET
            and rule.solver in ("land", "settle")
        ):
            self._trail(self.on, beat)
        self.lean(rule, action.foot, action.dir, beat)

    # -- state ---------------------------------------------------------------------------------------------------

    def grounded(self, foot: Foot) -> FootKey:
        """Return where the foot is, or where it would come down when it is in the air."""
        now = self.key(foot)
        if now.point[1] <= NEAR:
            return now
        x, z = self._base(foot)
        return self.shaped(FLAT, foot, (x, 0.0, z), now.start, now.end)

    # -- solvers -------------------------------------------------------------------------------------------------

    def _land(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        verb, way = one.event.action.verb, one.event.action.dir
        if verb in LASTING and self._lasts(one, foot, later):
            return
        begun = self.run[foot]
        start = beat.start if begun is None else min(begun.at - 0.5, beat.start)
        self.run[foot] = None
        self.short = SHORTEST + (1 - SHORTEST) * min(beat.gap_before, 1.0)
        target = self.placed(rule.shape, foot, way)
        key = self.shaped(rule.shape, foot, target, min(start, self._early(foot, target, beat)), one.at)
        lift = (
            rule.lift
            * self.body.stature_m
            * (HELD_LIFT if self.held else 1.0)
            * (0.3 if self.key(foot).point[1] > NEAR else 1.0)
        )
        key = self._on_the_way(replace(key, lift_m=lift, late=rule.late), verb, foot)
        self.add(foot, key)
        if rule.after is not None:
            end = one.at + 0.32 * min(beat.gap_after, 1.0)
            gone = self.shaped(rule.after, foot, self.placed(rule.after, foot, way), one.at, end)
            if not rule.after.up and rule.after.spot == rule.shape.spot:
                gone = replace(gone, point=self.key(foot).point)
            self.add(foot, gone)

    def _early(self, foot: Foot, target: Vector, beat: Beat) -> float:
        """Return when a foot that has a long way to go leaves: before it would rest its share."""
        x, z = self.middle(foot)
        far = hypot(target[0] - x, target[2] - z) / (STEP * self.body.stature_m)
        return beat.at - min((1 - DWELL) + EARLY * min(max(far - 1.0, 0.0), 1.0), 1.0) * min(beat.gap_before, LONGEST)

    def _lasts(self, one: Timed, foot: Foot, later: Sequence[Timed]) -> bool:
        """Tell whether the same movement goes on at the next moment of this foot; then only its beginning is kept."""
        following = [t for t in later if t.event.action.foot is foot]
        same = following and following[0].event.action.verb == one.event.action.verb and following[0].at - one.at <= 1
        if same and self.run[foot] is None:
            self.run[foot] = one
        return bool(same)

    def _settle(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        now = self.key(foot)
        aloft = now.point[1] > NEAR
        if aloft or (one.event.action.verb == "recover" and one.event.action.dir not in (None, Direction.IN_PLACE)):
            self._land(one, foot_rule("step", self.stance), foot, beat, later)
            return
        spot = now.spot if now.spot in (0.0, BALL) else BALL
        yaw = self.facing + OWN[foot] * TOE_OUT
        if one.event.action.verb == "lower":
            yaw = now.yaw
        self.add(
            foot, replace(self.pivoted(now, spot=spot, yaw=yaw, pitch=0.0, start=beat.start, end=one.at), firm=1.0)
        )

    def _swing(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        now, way = self.grounded(foot), one.event.action.dir
        straight = self.facing + OWN[foot] * TOE_OUT
        heels = rule.shape.spot == BALL
        side = {Direction.RIGHT: 1.0, Direction.LEFT: -1.0, Direction.APART: OWN[foot]}.get(
            way or Direction.CENTRE, 0.0
        )
        wanted = side * radians(rule.shape.out_deg) * (-1 if heels else 1)
        if one.event.action.foot is not Foot.BOTH and wanted * OWN[foot] * (-1 if heels else 1) < 0:
            wanted *= INWARD_SHARE
        before = now.yaw - straight
        undoes = abs(before) > 0.1 and before * wanted < 0 and (now.spot == BALL) is not heels and not now.pitch
        yaw = straight if undoes else straight + wanted
        key = self.pivoted(now, spot=rule.shape.spot, yaw=yaw, pitch=0.0, start=beat.start, end=one.at)
        self.add(foot, replace(key, firm=1.0, droop=radians(-6.0 if heels else 6.0)))

    def _rise(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        now = self.grounded(foot)
        pitch = radians(rule.shape.pitch_deg)
        key = self.pivoted(now, spot=BALL, yaw=now.yaw, pitch=pitch, start=beat.start, end=one.at)
        self.add(foot, replace(key, firm=rule.shape.firm))

    def _spring(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        way = one.event.action.dir
        x, z = self.middle(foot)
        step = 0.6 * STEP * self.body.stature_m
        spot = foot_spot(foot, way, stance="standing", body=self.body)
        ahead = {Direction.FORWARD: step, Direction.BACK: -step}.get(way or Direction.IN_PLACE, 0.0)
        aside = {Direction.RIGHT: step, Direction.LEFT: -step}.get(way or Direction.IN_PLACE, 0.0)
        aside *= INWARD_SHARE if aside * OWN[foot] < 0 and one.event.action.foot is not Foot.BOTH else 1.0
        if way in (Direction.APART, Direction.TOGETHER, Direction.CENTRE) and one.event.action.foot is Foot.BOTH:
            middle = [(a + b) / 2 for a, b in zip(self.middle(Foot.LEFT), self.middle(Foot.RIGHT), strict=True)]
            half = spot.out_m * (0.45 if way is Direction.APART else 0.5) * OWN[foot]
            x, z = middle
            aside = half
        dx, dz = turned_by(self.facing, ahead, aside)
        key = self.shaped(FLAT, foot, (x + dx, 0.0, z + dz), one.at - 0.5 * min(beat.gap_before, 1.0), one.at)
        self.add(foot, replace(key, lift_m=rule.lift * self.body.stature_m))
        self.plan.body.append(BodyKey(beat.start, key.start, sink_m=0.02 * self.body.stature_m))
        self.plan.body.append(BodyKey(key.start, one.at))

    def _spin(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        free = foot if self.on is not foot else foot.other
        target = self.placed(rule.shape, free, Direction.TOGETHER)
        key = self.shaped(rule.shape, free, target, beat.start, one.at)
        self.add(free, replace(key, lift_m=0.02))

    def _still(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        if one.event.action.verb == "sway" and self.key(foot).pitch and self.stance == "standing":
            self._settle(one, rule, foot, beat, later)

    # -- places --------------------------------------------------------------------------------------------------

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
            and self.stance == "standing"
        ):
            more = turned_by(self.wall, *self.drift)
            dx, dz = dx + more[0], dz + more[1]
            self.travelled[-1] += 1
        return x + dx, 0.0, z + dz

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
            key = replace(key, lift_m=CROSSING_LIFT * self.body.stature_m)
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
        ahead += self._before_leg(key, foot)
        dx, dz = turned_by(self._front, ahead, out * OWN[foot])
        low, knee = behind(ways)
        return replace(
            key,
            droop=0.0 if verb == "drag" else droop,
            bulge=(dx, 0.0, dz),
            peak=peak,
            lift_m=key.lift_m * low,
            knee=key.knee + OWN[foot] * knee,
        )

    def _before_leg(self, key: FootKey, foot: Foot) -> float:
        """Return how far a seated foot that comes from or goes under the seat swings out before the chair's leg [m]."""
        if self.stance == "standing":
            return 0.0
        x, z = self.middle(foot)
        wide = abs(key.point[2] - z) > 0.3 * self.body.foot_m
        under = min(x, key.point[0]) < seat_home(self.body, foot)[0] - 0.1 * self.body.foot_m
        return BEFORE_LEG * self.body.foot_m if wide and under else 0.0

    # -- weight, turns, trunk -------------------------------------------------------------------------------------

    def _weigh(self, event: Event, beat: Beat) -> None:
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

    def _trail(self, bearing: Foot, beat: Beat) -> None:
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
        self.add(other, replace(key, firm=TRAILS, knee=OWN[other] * CROSSED_KNEE if crossed else key.knee))

    def _turn(self, turn: float, beat: Beat) -> None:
        if self.stance == "seated":
            self.look(turn, beat)
            return
        self.facing += turn
        begin = max(self.plan.facing[-1].end, min(beat.start, beat.at - TURN_COUNTS * abs(turn) / pi))
        self.plan.facing.append(NumberKey(begin, beat.at, self.facing))
        for foot in FEET:
            now = self.key(foot)
            key = self.pivoted(
                now, spot=BALL, yaw=now.yaw + turn, pitch=min(now.pitch, 0.0), start=beat.start, end=beat.at
            )
            crossed = hypot(*(a - b for a, b in zip(self.middle(foot), self.middle(foot.other), strict=True)))
            heels = radians(-ON_BALLS_DEG) if crossed > 1.2 * BESIDE * self.body.stature_m and not now.pitch else 0.0
            point = (key.point[0], self.point(now, BALL)[1], key.point[2])
            self.add(foot, replace(key, point=point, droop=heels))


def _bearing(event: Event, on: Foot) -> Foot:
    """Return the foot that bears after an event; a seated event danced standing keeps what bore."""
    if event.weight is Weight.SEAT:
        return on
    return Foot(event.weight.value)
