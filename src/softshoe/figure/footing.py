"""From events to keys of the feet, the weight, the facing and the trunk: the rules of ``feet_rules`` set in time.

A contact is reached exactly at its moment. The foot leaves when the contact before it has had its share of rest, so
that steps are crisp; what lasts several counts (a drag, a sweep) is one movement over all of them.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot, radians
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.figure.body import BALL
from softshoe.figure.feet_rules import FLAT, LASTING, MIDDLE, FootRule, foot_rule
from softshoe.figure.landing import Landing
from softshoe.figure.paths import (
    seen_from,
)
from softshoe.figure.places import OWN, STEP, foot_spot
from softshoe.figure.pose import EVER, BodyKey, Lead, Vector

if TYPE_CHECKING:
    from collections.abc import Sequence


from softshoe.figure.ground import (
    ACROSS_FEET,
    AFTER_COUNTS,
    AFTER_LESS,
    BOTH_ON_BALLS_DEG,
    DWELL,
    EARLY,
    FEET,
    HELD_LIFT,
    HOME_BY,
    HOME_FIRST,
    HOME_FROM,
    HOME_LIFT,
    INWARD_SHARE,
    LONGEST,
    NEAR,
    OVER_ANKLE,
    SHORTEST,
    SWUNG_LIFT,
    TOE_OUT,
    UNDER_ANKLE,
    Beat,
    Stand,
    Timed,
    turned_by,
)


class Planner(Landing):
    """Goes through events in order and writes keys; one method a solver."""

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
        self.before, self.turns_from = self.facing, None
        left, right = self.middle(Foot.LEFT), self.middle(Foot.RIGHT)
        self.stood = (left[0] + right[0]) / 2, (left[1] + right[1]) / 2
        if action.turn_deg:
            self.turn(radians(action.turn_deg), beat, stays=rule.solver == "settle")
        feet = FEET if action.foot is Foot.BOTH else (action.foot,) if action.foot else ()
        if self.stance == "standing":
            self.weigh(one.event, beat)
        if self.stance == "seated" and len(feet) == 1 and rule.solver != "still":
            crosses = action.verb == "hook" or action.dir in (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)
            self._comes_down(feet[0].other, beat, crossed=crosses)
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
            self.trail(self.on, beat)
        self.lean(rule, action.foot, action.dir, beat)

    def _comes_down(self, foot: Foot, beat: Beat, *, crossed: bool) -> None:
        """Let a seated foot still in the air come home while the other moves, or before that if it lies across; one
        that is ``crossed`` by the other stands at home too."""
        now, home = self.key(foot), self._base(foot)
        ways = seen_from(home, self.middle(foot), home, front=self.front, own=OWN[foot])
        away = crossed and hypot(*ways.end) > ACROSS_FEET * self.body.foot_m
        across = ways.end[1] < -ACROSS_FEET * self.body.foot_m
        if now.end > beat.at - NEAR or (now.point[1] <= NEAR and not away and not across):
            return
        room = min(beat.at - now.end, LONGEST)
        begin = beat.at - room
        start, end = begin + HOME_FROM * room, begin + (HOME_FIRST if across else HOME_BY) * room
        key = self.shaped(FLAT, foot, (home[0], 0.0, home[1]), start, end)
        key = self._on_the_way(key._replace(lift_m=HOME_LIFT * self.body.stature_m), "step", foot)
        self.add(foot, self._clear(key, foot))
        self.waits[foot.other] = end - HOME_FROM * room if across else EVER

    # -- solvers -------------------------------------------------------------------------------------------------

    def _land(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        verb, way = one.event.action.verb, one.event.action.dir
        if verb in LASTING and self._lasts(one, foot, later):
            return
        begun = self.run[foot]
        start = beat.start if begun is None else min(begun.at - 0.5, beat.start)
        self.run[foot] = None
        self.short = SHORTEST + (1 - SHORTEST) * min(beat.gap_before, 1.0)
        both = one.event.action.foot is Foot.BOTH and way in (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)
        crossed = both and self.stance == "seated"
        target = self._ankles(foot, way) if crossed else self.placed(rule.shape, foot, way)
        target = self._beside(target, rule.shape, foot)
        leaves = min(start, self._early(foot, target, beat), self.turns_from or start)
        key = self.shaped(rule.shape, foot, target, leaves, one.at)
        lift = (
            rule.lift
            * self.body.stature_m
            * (HELD_LIFT if self.held else 1.0)
            * (0.3 if self.key(foot).point[1] > NEAR else 1.0)
        )
        if crossed:
            lift *= OVER_ANKLE if (foot is Foot.RIGHT) == (way is Direction.ACROSS_FRONT) else UNDER_ANKLE
        key = self._on_the_way(self._seated(key, rule.shape, foot)._replace(lift_m=lift, late=rule.late), verb, foot)
        self.add(foot, self._clear(key, foot))
        if rule.after is not None:
            room = min(beat.gap_after, 1.0)
            end, after = one.at + AFTER_COUNTS * room, replace(rule.after, up=rule.after.up * room**AFTER_LESS)
            gone = self.shaped(after, foot, self.placed(after, foot, way), one.at, end)
            gone = self._seated(gone, after, foot)
            over = self.stance == "seated" and way in (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)
            if over or (after.spot == rule.shape.spot and after.reach == rule.shape.reach):
                x, _, z = self.key(foot).point
                gone = gone._replace(point=(x, gone.point[1], z))
            self.add(foot, self._off_the_other(gone, foot)._replace(follows=True))

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
        key = self.pivoted(now, spot=spot, yaw=yaw, pitch=0.0, start=beat.start, end=one.at)
        heels = -radians(BOTH_ON_BALLS_DEG) if one.event.action.turn_deg and spot == BALL and not now.pitch else 0.0
        self.add(foot, key._replace(firm=1.0, droop=heels))

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
        key = key._replace(droop=radians(-6.0 if heels else 6.0))
        if self.stance == "seated" and self._far_out(key, foot):
            key = self.pivoted(now, spot=MIDDLE, yaw=yaw, pitch=0.0, start=beat.start, end=one.at)
            key = key._replace(lift_m=SWUNG_LIFT * self.body.stature_m)
        self.add(foot, self._off_the_other(key._replace(firm=1.0), foot))

    def _rise(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        now = self.grounded(foot)
        pitch = radians(rule.shape.pitch_deg)
        key = self.pivoted(now, spot=BALL, yaw=now.yaw, pitch=pitch, start=beat.start, end=one.at)
        self.add(foot, key._replace(firm=rule.shape.firm))

    def _spring(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        way = one.event.action.dir
        x, z = self.middle(foot)
        step = 0.6 * STEP * self.body.stature_m
        spot = foot_spot(foot, way, stance="standing", body=self.body)
        ahead = {Direction.FORWARD: step, Direction.BACK: -step}.get(way or Direction.IN_PLACE, 0.0)
        aside = {Direction.RIGHT: step, Direction.LEFT: -step}.get(way or Direction.IN_PLACE, 0.0)
        aside *= INWARD_SHARE if aside * OWN[foot] < 0 and one.event.action.foot is not Foot.BOTH else 1.0
        if way in (Direction.APART, Direction.TOGETHER, Direction.CENTRE) and one.event.action.foot is Foot.BOTH:
            middle = self.stood
            half = spot.out_m * (0.45 if way is Direction.APART else 0.5) * OWN[foot]
            x, z = middle
            aside = half
        dx, dz = turned_by(self.facing, ahead, aside)
        target = (x + dx, 0.0, z + dz)
        target = target if one.event.action.foot is Foot.BOTH else self._beside(target, FLAT, foot)
        key = self.shaped(FLAT, foot, target, one.at - 0.5 * min(beat.gap_before, 1.0), one.at)
        self.add(foot, key._replace(lift_m=rule.lift * self.body.stature_m))
        self.plan.body.append(BodyKey(beat.start, key.start, sink_m=0.02 * self.body.stature_m))
        self.plan.body.append(BodyKey(key.start, one.at))

    def _spin(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        free = foot if self.on is not foot else foot.other
        target = self.placed(rule.shape, free, Direction.TOGETHER)
        key = self.shaped(rule.shape, free, target, beat.start, one.at)
        self.add(free, key._replace(lift_m=0.02))

    def _still(self, one: Timed, rule: FootRule, foot: Foot, beat: Beat, later: Sequence[Timed]) -> None:
        if one.event.action.verb == "sway" and self.key(foot).pitch and self.stance == "standing":
            self._settle(one, rule, foot, beat, later)
