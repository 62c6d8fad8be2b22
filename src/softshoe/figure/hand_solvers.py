"""Where a hand goes for each solver of ``arm_rules``, and about where it is."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.figure.arm_rules import (
    AIR_PLACES,
    BODY_PLACES,
    DOWN_ELBOW,
    HIGH_ELBOW,
    SIDE_ELBOW,
    ArmRule,
    Held,
)
from softshoe.figure.hand_places import SCALE, on_body, on_support, rest, scaled, stretched
from softshoe.figure.pose import EVER, NEVER, ZERO, BodyKey, HandKey, Lead, Swing, Vector
from softshoe.figure.supports import holds

if TYPE_CHECKING:
    from softshoe.dance.arms import ArmMove
    from softshoe.figure.body import Body
    from softshoe.figure.ground import Beat
    from softshoe.figure.motion import Chair, Stance

SIDES = ((0, "left", Foot.LEFT, -1.0), (1, "right", Foot.RIGHT, 1.0))
MEETING_M = 0.014  # half the thickness of two palms together
OVER_FOOT_M = {"seated": 0.62, "standing": 0.8}  # as low over the foot as an arm comes with the back nearly upright
LOWEST_SWING_M = 0.31  # over the hip line: hands that swing stay over the thighs
KNEE_SHARE = 0.86  # both hands on one lifted knee: the other hand lies this much nearer the hip
SEATED_PULL: Vector = (-0.15, -0.5, 1.0)  # where elbows go that are drawn back before a chair's back
CROSSED_AHEAD_M = 0.34  # crossed arms are no farther before the trunk, and the right one is over the left one by:
CROSSED_OVER_M = 0.07  # how far the right arm lies over the left one when they cross
ROLL_AHEAD_M = 0.25  # hands that roll are so far before the trunk, or the elbows could not bend enough


@dataclass(slots=True)
class Hands:
    """Keys of both hands (left, right), the swings of lasting gestures, what the trunk does with them, who leads."""

    keys: tuple[list[HandKey], list[HandKey]]
    swings: list[Swing] = field(default_factory=list)
    body: list[BodyKey] = field(default_factory=list)
    leads: list[Lead] = field(default_factory=list)


class Asked(NamedTuple):
    """One gesture of one hand in its window; behind a chair ``free`` from a moment, holding again at ``back``."""

    beat: Beat
    move: ArmMove
    rule: ArmRule
    foot: Foot | None
    free: float = EVER
    back: float = NEVER


class HandSolvers:
    """Knows body, stance and support; one method a solver."""

    def __init__(self, body: Body, stance: Stance, chair: Chair | None = None) -> None:
        self.body, self.stance = body, stance
        self.held = holds(chair)
        self.home = on_support(chair, body) if chair is not None and self.held else rest(body, stance)
        self.shape = self.at_ease = "fist" if self.held else "soft"  # a hand that holds a rail is closed about it
        first = key_of(self.home, EVER, EVER)._replace(shape=self.shape)
        self.hands = Hands(([first], [first]), body=[BodyKey(EVER, EVER)])

    def _last(self, index: int) -> HandKey:
        return self.hands.keys[index][-1]

    def _about(self, held: Held | HandKey) -> Vector:
        """Return about where a held hand is in the trunk's frame."""
        x, y, z = held.point
        if held.parent == "support":
            return (0.24 * self.body.stature_m, 0.02, z)
        if held.parent in ("shoulder", "hang"):
            return (x, y + self.body.trunk_m, z + self.body.half_shoulders_m)
        if held.parent in ("thigh", "other thigh"):
            level = self.stance == "seated"
            return (x, y, z + 0.08) if level else (y, -x, z + 0.08)
        if held.parent == "foot":
            level = self.stance == "seated"
            hip = self.body.knee_height_m if level else self.body.ankle_m + self.body.leg_m
            return (x + (0.45 if level else 0.1), y - hip, z + 0.1)
        return held.point

    # -- solvers: where the hand goes ----------------------------------------------------------------------------

    def _touch(self, one: Asked, index: int, sign: float) -> Held:
        held = on_body(self._place(one), self.body, self.stance)
        meets = one.foot in (Foot.LEFT, Foot.RIGHT) and one.move.side is Foot.BOTH and one.move.place == "knee"
        if meets and one.foot is not SIDES[index][2]:
            x, y, _ = held.point
            return held._replace(parent="other thigh", point=(KNEE_SHARE * x, y, 0.02 * self.body.stature_m))
        return held

    def _place(self, one: Asked) -> str:
        place = one.move.place or one.rule.place or "chest"
        return place if place in BODY_PLACES else "knee"

    def _stretch(self, one: Asked, index: int, sign: float) -> Held:
        return stretched(one.move, one.rule, self.body, sign, self.stance)

    def _meet(self, one: Asked, index: int, sign: float) -> Held:
        x, y, _ = scaled(AIR_PLACES[self._place(one)], self.body)
        side = {Direction.RIGHT: 1.0, Direction.LEFT: -1.0}.get(one.move.toward or Direction.UP, 0.0)
        size = self.body.stature_m / SCALE
        elbow = HIGH_ELBOW if self._place(one) == "overhead" else SIDE_ELBOW
        out = MEETING_M * size + side * sign * 0.13 * size
        high = y > 0.6 * size
        return Held(
            "trunk",
            (x + 0.02, y - 0.02, out),
            (0.3, 0.95, -0.02) if high else (0.75, 0.62, -0.02),
            (0.0, 0.0, -1.0),
            elbow,
        )

    def _near(self, one: Asked, index: int, sign: float) -> Held:
        high = AIR_PLACES[self._place(one)][1]
        far = (0.25, high - 0.1, 0.22) if high > 0.45 else (0.17, max(high - 0.03, 0.2), 0.16)
        point = scaled(far, self.body)
        elbow = SEATED_PULL if self.stance == "seated" else (-1.0, -0.35, 0.35)
        return Held("trunk", point, (0.9, 0.25, -0.3), (0.0, -0.25, -1.0), elbow)

    def _air(self, one: Asked, index: int, sign: float) -> Held:
        x, y, z = AIR_PLACES[self._place(one)]
        point = scaled((x, max(y, LOWEST_SWING_M if one.rule.swing else 0.0), z), self.body)
        if one.move.gesture == "roll":
            point = (max(point[0] - 0.02, ROLL_AHEAD_M * self.body.stature_m / SCALE), point[1] - 0.03, 0.035)
            return Held("trunk", point, (0.25, 0.05, -0.97), (-0.9, 0.0, -0.2), (-0.3, -0.35, 1.0))
        if one.move.gesture == "swing":
            return Held("trunk", scaled((0.2, 0.19, 0.23), self.body), (0.95, 0.25, -0.1), (0.0, 0.0, -1.0), DOWN_ELBOW)
        if one.rule.hand == "up":
            elbow = HIGH_ELBOW if one.move.place == "overhead" or one.move.gesture == "wave" else DOWN_ELBOW
            return Held("trunk", point, (0.25, 1.0, 0.1), (1.0, -0.2, -0.1), elbow)
        if one.move.gesture == "close":
            return Held("trunk", point, (0.6, 0.4, -0.7), (-0.5, 0.0, -0.9), SIDE_ELBOW)
        return Held("trunk", point, (0.9, 0.25, -0.3), (0.0, -1.0, 0.0), (-0.4, -0.5, 0.9))

    def _turn(self, one: Asked, index: int, sign: float) -> Held:
        last = self._last(index)
        if last.parent in ("thigh", "hang"):
            x, y, z = scaled(AIR_PLACES[self._place(one)], self.body)
            last = HandKey(0.0, 0.0, "trunk", (x, y, z + 0.08), (1.0, 0.15, -0.1), ZERO, DOWN_ELBOW)
        palm = {Direction.UP: (0.0, -0.15, -1.0), Direction.DOWN: (0.0, -0.35, 1.0)}.get(
            one.move.toward or one.rule.toward or Direction.UP, (0.0, -1.0, 0.0)
        )
        return Held(last.parent, last.point, last.fingers, palm, last.elbow)

    def _follow(self, one: Asked, index: int, sign: float) -> Held:
        over = OVER_FOOT_M[self.stance] * self.body.stature_m / SCALE
        ahead = -0.02 if self.stance == "seated" else 0.03
        return Held("foot", (ahead, over, 0.02), (0.8, -0.6, 0.0), (-0.3, -1.0, 0.0), (-0.6, 0.2, 0.8))

    def _cross(self, one: Asked, index: int, sign: float) -> Held:
        place = self._place(one)
        size = self.body.stature_m / SCALE
        over = CROSSED_OVER_M * size if index else 0.0
        if place in ("chest", "shoulder"):
            point = (0.1 * size + over, 0.43 * size, -0.125 * size)
            return Held("trunk", point, (-0.25, 0.5, -0.85), (-1.0, 0.0, 0.1), (0.55, -0.8, 0.75))
        x, y, _ = scaled(AIR_PLACES[place], self.body)
        return Held(
            "trunk",
            (min(x + 0.03, CROSSED_AHEAD_M * size) + over, y, -0.1 * size),
            (0.2, 0.3, -0.9),
            (-0.6, -0.8, 0.0),
            (0.2, -0.7, 0.9),
        )

    def _low(self, one: Asked, index: int, sign: float) -> Held:
        place = one.move.place
        if self.held:
            return self.home
        if place is None or place == "foot" or (self.stance == "standing" and place in ("lap", "thigh", "knee")):
            return self.home if place != "thigh" else on_body("thigh", self.body, self.stance)
        if one.move.gesture == "lower" and place in ("chest", "shoulder", "waist", "head"):
            return Held("trunk", scaled(AIR_PLACES[place], self.body), (0.9, 0.1, -0.4), (0.0, -1.0, 0.0), DOWN_ELBOW)
        return on_body(place, self.body, self.stance)


def key_of(held: Held, start: float, end: float, bulge: Vector = ZERO) -> HandKey:
    """Return the key of a held hand."""
    return HandKey(start, end, held.parent, held.point, held.fingers, held.palm, held.elbow, bulge)
