"""Where the two feet are while a plan grows: the last key of each, its points, and the key turned about a spot."""

from __future__ import annotations

from math import cos, hypot, radians, sin
from typing import TYPE_CHECKING

from softshoe.dance.places import Direction
from softshoe.figure.feet_rules import MIDDLE
from softshoe.figure.ground import FEET, LOOK, LOOK_COUNTS, NEAR, TRAILS, still
from softshoe.figure.haste import counts_needed, in_time
from softshoe.figure.places import OWN, foot_spot
from softshoe.figure.pose import EVER, BodyKey, FootKey, NumberKey, Vector

if TYPE_CHECKING:
    from softshoe.dance.feet import Foot
    from softshoe.figure.body import Body
    from softshoe.figure.feet_rules import FootRule
    from softshoe.figure.ground import Beat
    from softshoe.figure.motion import Stance

REST_COUNTS = 0.05  # a foot that landed stays so long at least; design value
LEAST_COUNTS = 0.2  # what a foot has at least that waits for the other; design value


class Feet:
    """The feet of a plan that grows key by key. ``waits``: the moment before which a foot does not leave."""

    def __init__(self, body: Body, stance: Stance, facing_rad: float) -> None:
        self.body, self.stance = body, stance
        self.plan = still(body, stance, facing_rad)
        self.waits = dict.fromkeys(FEET, EVER)

    def key(self, foot: Foot) -> FootKey:
        """Return where the foot is now."""
        return self.plan.feet[FEET.index(foot)][-1]

    def leaves(self, foot: Foot, end: float) -> FootKey:
        """Return the key a foot leaves for one that ends then: not the turn that ends with it, whose place it takes."""
        keys = self.keys(foot)
        return keys[-2] if len(keys) > 1 and abs(keys[-1].end - end) < NEAR else keys[-1]

    def keys(self, foot: Foot) -> list[FootKey]:
        """Return all keys of the foot so far."""
        return self.plan.feet[FEET.index(foot)]

    def add(self, foot: Foot, key: FootKey) -> None:
        """Write a key; it begins when the last is over, and takes the place of one that ends with it."""
        keys = self.plan.feet[FEET.index(foot)]
        if len(keys) > 1 and abs(keys[-1].end - key.end) < NEAR:
            keys.pop()
        needs = counts_needed(keys[-1], key)
        if keys[-1].follows and key.end - needs < keys[-1].end:
            keys.pop()
            needs = counts_needed(keys[-1], key)
        last = keys[-1]
        trails = self.stance == "standing" and keys[-1].firm == TRAILS
        hurried = min(key.start, key.end - needs - REST_COUNTS * trails)
        waits = max(self.waits[foot], self._bears_from(foot.other, key.end))
        key = key._replace(start=max(hurried, min(waits, key.end - LEAST_COUNTS)))
        if last.firm == TRAILS and key.start < last.end:
            keys[-1] = last = last._replace(end=max(key.start, last.start + 0.3 * (last.end - last.start)))
        room = 0.5 * (key.end - max(key.start, last.start))
        if len(keys) > 1 and key.end - last.end < room:
            keys[-1] = last = last._replace(end=max(last.start, key.end - room))
        rest = min(REST_COUNTS, 0.15 * (key.end - last.end)) if not key.follows else 0.0
        key = key._replace(start=max(key.start, last.end + max(rest, 0.0)))
        keys.append(in_time(self.point(last, key.spot), key, key.yaw - last.yaw))

    def _bears_from(self, foot: Foot, before: float) -> float:
        """Return when a standing dancer's foot has last come to the floor before a moment: the other one does not leave
        until then."""
        if self.stance == "seated":
            return EVER
        downs = (k for k in reversed(self.keys(foot)) if k.point[1] <= NEAR and k.firm != TRAILS)
        return next((k.end for k in downs if k.end < before - NEAR), EVER)

    def middle(self, foot: Foot) -> tuple[float, float]:
        """Return (x, z) of the middle of the sole, as if it were flat."""
        key = self.key(foot)
        along = (MIDDLE - key.spot) * self.body.foot_m
        return key.point[0] + along * cos(key.yaw), key.point[2] + along * sin(key.yaw)

    def point(self, key: FootKey, spot: float) -> Vector:
        """Return the point of the sole at another spot of the same pose."""
        along = (spot - key.spot) * self.body.foot_m
        level = along * cos(key.pitch)
        y = max(0.0, key.point[1] + along * sin(key.pitch))
        return key.point[0] + level * cos(key.yaw), y, key.point[2] + level * sin(key.yaw)

    def pivoted(self, key: FootKey, *, spot: float, yaw: float, pitch: float, start: float, end: float) -> FootKey:
        """Return the key turned about a spot that stays where it is."""
        x, _, z = self.point(key, spot)
        return FootKey(start, end, (x, 0.0, z), spot, yaw, pitch, firm=key.firm)

    def lean(self, rule: FootRule, foot: Foot | None, way: Direction | None, beat: Beat) -> None:
        """Lean the trunk and sink the pelvis as a rule of the feet says."""
        own = OWN[foot] if foot else 0.0
        if rule.solver == "still":
            own = {Direction.RIGHT: 1.0, Direction.LEFT: -1.0}.get(way or Direction.UP, own)
        side = -own * rule.side_deg
        sink = rule.sink * self.body.stature_m
        ahead, right = self._toward(foot, way) if foot is not None and rule.toward_deg else (0.0, 0.0)
        forward = radians(rule.forward_deg + rule.toward_deg * ahead)
        key = BodyKey(beat.start, beat.at, forward, radians(side + rule.toward_deg * right), 0.0, sink)
        last = self.plan.body[-1]
        if (key.forward, key.right, key.sink_m) == (last.forward, last.right, last.sink_m) and rule.solver == "still":
            return
        if rule.solver == "still" and foot is None and not rule.side_deg:
            return
        self.plan.body.append(key)

    def _toward(self, foot: Foot, way: Direction | None) -> tuple[float, float]:
        """Return how far ahead (never back) and to the right a place lies, as shares of its way from home."""
        spot = foot_spot(foot, way, stance=self.stance, body=self.body)
        far = hypot(spot.forward_m, spot.out_m)
        return (max(spot.forward_m, 0.0) / far, OWN[foot] * spot.out_m / far) if far > NEAR else (0.0, 0.0)

    def look(self, turn: float, beat: Beat) -> None:
        """Seated, let ribs and eyes show the new wall and come back; hips and chair stay."""
        way = min(max(turn, -LOOK), LOOK)
        self.plan.body.append(BodyKey(beat.start, beat.at, turned=way))
        self.plan.body.append(BodyKey(beat.at + LOOK_COUNTS, beat.at + 2 * LOOK_COUNTS))
        self.plan.looks.append(NumberKey(beat.start, beat.at, way))
        self.plan.looks.append(NumberKey(beat.at + LOOK_COUNTS, beat.at + 2 * LOOK_COUNTS, 0.0))
