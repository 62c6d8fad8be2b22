"""From events to keys of the hands: the rules of ``arm_rules`` set in time.

A hand arrives exactly at its moment. What is only struck or sent out comes home when nothing more is asked for two
counts; what is reached stays while the dancer holds; what lasts goes on for each count it is written on.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import dist, radians
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.figure.arm_rules import (
    AIR_PLACES,
    ARM_RULES,
    BODY_PLACES,
    DOWN_ELBOW,
    HIGH_ELBOW,
    SIDE_ELBOW,
    ArmRule,
    Held,
)
from softshoe.figure.hand_places import SCALE, on_body, on_support, rest, scaled, stretched, unit_of
from softshoe.figure.pose import EVER, NEVER, ZERO, BodyKey, HandKey, Lead, Swing, Vector
from softshoe.figure.supports import holds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.arms import ArmMove
    from softshoe.figure.body import Body
    from softshoe.figure.ground import Beat, Timed
    from softshoe.figure.motion import Chair, Stance

SIDES = ((0, "left", Foot.LEFT, -1.0), (1, "right", Foot.RIGHT, 1.0))
COUNTS_A_METRE = 0.85  # what a hand takes at least for a long way; design value
READY_COUNTS = 0.75  # behind a chair a hand with less time than this does not draw off first
STROKE = 0.42  # counts: a stroke takes no longer, however long the hand waited; design value
READY = 0.4  # of the way to a stroke, drawing off for it; design value
MEETING_M = 0.014  # half the thickness of two palms together
OVER_FOOT_M = {"seated": 0.62, "standing": 0.8}  # as low over the foot as an arm comes with the back nearly upright
LOWEST_SWING_M = 0.31  # over the hip line: hands that swing stay over the thighs
KNEE_SHARE = 0.86  # both hands on one lifted knee: the other hand lies this much nearer the hip
SEATED_PULL: Vector = (-0.15, -0.5, 1.0)  # where elbows go that are drawn back before a chair's back
CROSSED_OVER_M = 0.07  # how far the right arm lies over the left one when they cross
CLEAR_M = 0.36  # how far a hand on its way keeps from the shoulder


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


class Handler:
    """Goes through events in order and writes keys of the hands; one method a solver."""

    def __init__(self, body: Body, stance: Stance, chair: Chair | None = None) -> None:
        self.body, self.stance = body, stance
        self.held = holds(chair)
        self.home = on_support(chair, body) if chair is not None and self.held else rest(body, stance)
        first = _key(self.home, EVER, EVER)
        self.hands = Hands(([first], [first]), body=[BodyKey(EVER, EVER)])

    def gesture(self, timed: Sequence[Timed], windows: dict[float, Beat]) -> Hands:
        """Plan the hands of all events."""
        moving = [t.at for t in timed if t.event.action.verb not in ("hold", "arms")]
        both = [self._asked(timed, windows, foot) for _, _, foot, _ in SIDES]
        for index, side, _, sign in SIDES:
            asked = one_at_a_time(both)[index] if self.held else both[index]
            for number, one in enumerate(asked):
                later = asked[number + 1].beat if number + 1 < len(asked) else None
                self._one(one, index, side, sign)
                self._afterwards(one, index, later, moving)
        self._trunk(timed, windows)
        return self.hands

    def _asked(self, timed: Sequence[Timed], windows: dict[float, Beat], foot: Foot) -> list[Asked]:
        found: dict[float, Asked] = {}
        for at, event in timed:
            for move in event.action.arms:
                if move.side in (foot, Foot.BOTH) or move.gesture == "clap":
                    found[at] = Asked(windows[at], move, ARM_RULES[move.gesture], event.action.foot)
        return [found[at] for at in sorted(found)]

    # -- one gesture ---------------------------------------------------------------------------------------------

    def _one(self, one: Asked, index: int, side: str, sign: float) -> None:
        beat, rule = one.beat, one.rule
        at = beat.at + (0.5 if one.move.gesture == "drum" and one.move.side is Foot.BOTH and index == 0 else 0.0)
        held = getattr(self, f"_{rule.solver}")(one, index, sign)
        ready = self._ready(one, held, index)
        far = self._far(index, ready or held)
        begin = min(beat.start + (at - beat.at), at - far * COUNTS_A_METRE - (STROKE if ready else 0.0))
        start = max(begin, self._last(index).end, one.free)
        ready = ready if not self.held or at - start > READY_COUNTS else None
        if ready is not None:
            middle = start + self._ready_share(index, ready, one.rule) * (at - start)
            stroke = dist(self._about(ready), self._about(held)) * COUNTS_A_METRE
            middle = max(min(middle, at - stroke), start + 0.35 * (at - start), at - max(STROKE, stroke))
            self._add(index, replace(ready, start=start, end=middle))
            start = middle
        self._add(index, _key(held, start, at, self._round(index, held)))
        if rule.rebound_m and one.back == NEVER:
            back = self._drawn(held, one, rule.rebound_m)
            self._add(index, _key(back, at + 0.06, at + 0.34 * min(beat.gap_after, 1.0)))
        if rule.swing:
            self._swing(one, side, index)
        self.hands.leads.append(Lead(2 + index, beat.start, at, at + 0.5 * min(beat.gap_after, 1.0)))

    def _last(self, index: int) -> HandKey:
        return self.hands.keys[index][-1]

    def _add(self, index: int, key: HandKey) -> None:
        keys = self.hands.keys[index]
        start = max(key.start, keys[-1].end)
        if key.end - start < 0.04:
            last = keys[-1]
            keys[-1] = replace(last, end=min(last.end, max(last.start, key.end - 0.1)))
            start = keys[-1].end
        keys.append(replace(key, start=min(start, key.end)))

    def _ready(self, one: Asked, held: Held, index: int) -> HandKey | None:
        """Return the pose before a stroke: hands apart before a clap, a fist drawn in before a punch."""
        if one.move.gesture == "punch":
            drawn = self._near(one, index, 1.0)
        elif one.rule.ready_m:
            drawn = self._drawn(held, one, one.rule.ready_m)
        else:
            return None
        return _key(drawn, 0.0, 0.0, self._round(index, drawn))

    def _far(self, index: int, held: Held | HandKey) -> float:
        """Return about how far the hand has to go [m]."""
        return dist(self._about(self._last(index)), self._about(held))

    def _ready_share(self, index: int, ready: HandKey, rule: ArmRule) -> float:
        """Return how much of the time drawing off for a stroke takes: more the further the hand is."""
        a, b = self._about(self._last(index)), self._about(ready)
        far = dist(a, b)
        stroke = rule.ready_m or 0.4
        return min(max(far / (far + stroke), READY), 0.72)

    def _drawn(self, held: Held, one: Asked, far: float) -> Held:
        """Return the hand drawn off against its palm's way; a punch is drawn back along its arm."""
        way = unit_of(held.point if one.move.gesture == "punch" else held.palm)
        if one.rule.solver == "air":
            way = (0.3, 0.9, 0.0)
        x, y, z = held.point
        step = far * self.body.stature_m / SCALE
        return replace(held, point=(x - way[0] * step, y - way[1] * step, z - way[2] * step))

    def _round(self, index: int, held: Held) -> Vector:
        """Round a way that would pass too near the own shoulder, forward and a little outward of it."""
        start, end = self._about(self._last(index)), self._about(held)
        shoulder = (0.0, self.body.trunk_m, self.body.half_shoulders_m)
        way = [b - a for a, b in zip(start, end, strict=True)]
        length = sum(w * w for w in way) or 1.0
        share = sum((s - a) * w for s, a, w in zip(shoulder, start, way, strict=True)) / length
        share = min(max(share, 0.0), 1.0)
        near = sum((a + share * w - s) ** 2 for s, a, w in zip(shoulder, start, way, strict=True)) ** 0.5
        wide = max(0.0, CLEAR_M * self.body.stature_m / SCALE - near)
        if not 0.1 < share < 0.9:
            wide *= 0.4
        both = {self._last(index).parent, held.parent}
        if "support" in both and len(both) == 2:
            return (-0.08, 0.18, 0.06)
        low = "thigh" in both and min(start[1], end[1]) < 0.0 and self.stance == "seated"
        over = 0.0 if len(both) == 1 else 0.2 if low else 0.12 if "foot" in both else 0.07 if "thigh" in both else 0.0
        return (wide, over, 0.5 * wide + 0.4 * over)

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
        return (x + 0.45, 0.15, z + 0.1) if held.parent == "foot" else held.point

    def _swing(self, one: Asked, side: str, index: int) -> None:
        begin, end = one.beat.at, min(one.beat.at + 1.0, max(one.back - 0.4, one.beat.at + 0.05))
        size = one.rule.swing_m * self.body.stature_m / SCALE
        kind = one.rule.swing or ""
        if kind == "circle" and one.move.place == "overhead":
            kind = "lasso"
        if kind == "swing" and (one.foot is Foot.LEFT) == (index == 0):
            size = -size
        if kind == "wave":
            size = size if one.move.side is not Foot.LEFT else -size
        swings = self.hands.swings
        for number, swing in enumerate(swings):
            if swing.hand == side and swing.kind == kind and abs(swing.end - begin) < 0.01:
                swings[number] = replace(swing, end=end)
                return
        swings.append(Swing(side, kind, begin, end, size))

    # -- solvers: where the hand goes ----------------------------------------------------------------------------

    def _touch(self, one: Asked, index: int, sign: float) -> Held:
        held = on_body(self._place(one), self.body, self.stance)
        meets = one.foot in (Foot.LEFT, Foot.RIGHT) and one.move.side is Foot.BOTH and one.move.place == "knee"
        if meets and one.foot is not SIDES[index][2]:
            x, y, _ = held.point
            return replace(held, parent="other thigh", point=(KNEE_SHARE * x, y, 0.02 * self.body.stature_m))
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
            point = (point[0] - 0.02, point[1] - 0.03, 0.035)
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
        return Held("trunk", (x + over + 0.03, y, -0.1 * size), (0.7, 0.1, -0.7), (0.0, -1.0, 0.0), (0.2, -0.7, 0.9))

    def _low(self, one: Asked, index: int, sign: float) -> Held:
        place = one.move.place
        if self.held:
            return self.home
        if place is None or place == "foot" or (self.stance == "standing" and place in ("lap", "thigh", "knee")):
            return self.home if place != "thigh" else on_body("thigh", self.body, self.stance)
        if one.move.gesture == "lower" and place in ("chest", "shoulder", "waist", "head"):
            return Held("trunk", scaled(AIR_PLACES[place], self.body), (0.9, 0.1, -0.4), (0.0, -1.0, 0.0), DOWN_ELBOW)
        return on_body(place, self.body, self.stance)

    # -- afterwards ----------------------------------------------------------------------------------------------

    def _afterwards(self, one: Asked, index: int, later: Beat | None, moving: Sequence[float]) -> None:
        """Bring the hand home when nothing more is asked of it for about two counts."""
        at = one.beat.at
        until = later.start if later else at + 1e3
        leave = self._leaves(one, moving)
        if one.back < NEVER:
            leave = max(at + 0.02, one.back - 0.8)
            self._add(index, _key(self.home, leave, one.back, self._round(index, self.home)))
            return
        if leave is None or until - leave < 0.7:
            return
        self._add(index, _key(self.home, leave, leave + min(0.85, until - leave), self._round(index, self.home)))

    def _leaves(self, one: Asked, moving: Sequence[float]) -> float | None:
        at = one.beat.at
        if one.rule.after == "rests":
            return None
        if one.rule.after == "lasts":
            return at + 0.9
        if one.rule.after == "returns":
            return at + (0.45 if one.move.gesture in ("clap", "snap", "pat") else 0.9)
        steps = [t for t in moving if t > at + 1.5]
        return min([*steps[:1], at + 6.0])

    def _trunk(self, timed: Sequence[Timed], windows: dict[float, Beat]) -> None:
        """Let the trunk go a little with hands that are sent out, and come back with the next event of the arms."""
        armed = [t for t in timed if t.event.action.arms]
        for number, (at, event) in enumerate(armed):
            forward = turned = right = 0.0
            for move in event.action.arms:
                rule = ARM_RULES[move.gesture]
                side = {Direction.RIGHT: 1.0, Direction.LEFT: -1.0}.get(move.toward or Direction.UP, 0.0)
                single = {Foot.LEFT: 1.0, Foot.RIGHT: -1.0, Foot.BOTH: 0.0}[move.side]
                level = move.toward in (None, Direction.FORWARD) and move.place not in ("overhead", "head")
                forward += rule.forward_deg if level else 0.0
                turned += rule.turned_deg * (side if side else single * 0.8 * level)
                right += 3.0 * side
                low = rule.solver == "touch" and move.place in ("knee", "foot")
                forward += 0.0 if not low else 2.5 if self.stance == "seated" else 24.0
                forward += 14.0 if rule.solver == "follow" else 0.0
            key = BodyKey(windows[at].start, at, radians(forward), radians(right), radians(turned))
            self.hands.body.append(key)
            if number + 1 == len(armed) or armed[number + 1].at > at + 2:
                self.hands.body.append(BodyKey(at + 0.9, at + 1.6))


def one_at_a_time(asked: Sequence[Sequence[Asked]]) -> tuple[list[Asked], list[Asked]]:
    """Return what is asked of the hands (left, right) so that one always holds: of two at one moment the hand on the
    side of the moving foot does it, and between moments of different hands one comes back before the other leaves."""
    moments = sorted({one.beat.at for hand in asked for one in hand})
    line: list[tuple[int, Asked]] = []
    for at in moments:
        here = [(index, one) for index, hand in enumerate(asked) for one in hand if one.beat.at == at]
        wanted = 0 if here[0][1].foot is Foot.LEFT else 1
        line.append(next((pair for pair in here if pair[0] == wanted), here[0]))
    for number in range(len(line) - 1):
        (index, one), (other, then) = line[number : number + 2]
        if index != other:
            home = one.rule.solver == "low"
            half = one.beat.at if home else (one.beat.at + then.beat.at) / 2
            back = NEVER if home else half
            line[number : number + 2] = [(index, one._replace(back=back)), (other, then._replace(free=half))]
    return [one for index, one in line if index == 0], [one for index, one in line if index == 1]


def _key(held: Held, start: float, end: float, bulge: Vector = ZERO) -> HandKey:
    return HandKey(start, end, held.parent, held.point, held.fingers, held.palm, held.elbow, bulge)
