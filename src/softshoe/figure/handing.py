"""From events to keys of the hands: the rules of ``arm_rules`` set in time.

A hand arrives exactly at its moment. What is only struck or sent out comes home when nothing more is asked for two
counts; what is reached stays while the dancer holds; what lasts goes on for each count it is written on.
"""

from __future__ import annotations

from math import dist, radians
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.figure.arm_rules import (
    ARM_RULES,
    ArmRule,
    Held,
)
from softshoe.figure.hand_places import SCALE, unit_of
from softshoe.figure.hand_solvers import SIDES, Asked, Hands, HandSolvers, key_of
from softshoe.figure.pose import NEVER, ZERO, BodyKey, HandKey, Lead, Swing, Vector

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from softshoe.figure.ground import Beat, Timed

COUNTS_A_METRE = 0.85  # what a hand takes at least for a long way; design value
LEAST_COUNTS_A_METRE, LEAST_STRETCH = 0.6, 0.7  # what it can do it in; the least stretch then; design values
LEAST_PART = 0.35  # behind a chair: of the time between two gestures, for the hand with the shorter way; design value
READY_COUNTS = 0.75  # behind a chair a hand with less time than this does not draw off first
STROKE = 0.42  # counts: a stroke takes no longer, however long the hand waited; design value
READY = 0.4  # of the way to a stroke, drawing off for it; design value
UNDER_GRIP_M = 0.0  # over the hip line: a hand that comes from lower goes up over the chair back first
BEHIND, LAST_BEHIND = 0.5, 0.2  # counts by which the left hand drums after the right; before a move; design values
CLEAR_M = {"standing": 0.36, "seated": 0.39}  # how far a hand on its way keeps from the shoulder; design values


class Handler(HandSolvers):
    """Goes through events in order and writes keys of the hands; one method a solver."""

    def gesture(self, timed: Sequence[Timed], windows: dict[float, Beat]) -> Hands:
        """Plan the hands of all events."""
        moving = [t.at for t in timed if t.event.action.verb not in ("hold", "arms")]
        both = [self._asked(timed, windows, foot) for _, _, foot, _ in SIDES]
        for index, side, _, sign in SIDES:
            asked = one_at_a_time(both, self._way_home)[index] if self.held else both[index]
            for number, one in enumerate(asked):
                later = asked[number + 1].beat if number + 1 < len(asked) else None
                ends = later is not None and asked[number + 1].move.gesture != "drum" and later.at - one.beat.at <= 1
                self.behind = LAST_BEHIND if ends else BEHIND
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

    def _way_home(self, one: Asked, index: int) -> float:
        """Return about how far a gesture is from home [m]."""
        held = getattr(self, f"_{one.rule.solver}")(one, index, SIDES[index][3])
        return dist(self._about(held), self._about(key_of(self.home, 0.0, 0.0)))

    # -- one gesture ---------------------------------------------------------------------------------------------

    def _one(self, one: Asked, index: int, side: str, sign: float) -> None:
        beat, rule = one.beat, one.rule
        self.shape = rule.shape
        drums = one.move.gesture == "drum" and one.move.side is Foot.BOTH and index == 0
        at = beat.at + (self.behind if drums else 0.0)
        held = self._within(getattr(self, f"_{rule.solver}")(one, index, sign), one, index)
        ready = self._ready(one, held, index)
        far = self._far(index, ready or held)
        far += dist(ready.bulge, ZERO) if ready is not None else 0.0
        begin = min(beat.start + (at - beat.at), at - far * COUNTS_A_METRE - (STROKE if ready else 0.0))
        start = max(begin, self._last(index).end, one.free)
        ready = ready if not self.held or at - start > READY_COUNTS else None
        if ready is not None:
            ready = self._ready_within(ready, held, index, at - start)
            middle = start + self._ready_share(index, ready, one.rule) * (at - start)
            stroke = dist(self._about(ready), self._about(held)) * COUNTS_A_METRE
            middle = max(min(middle, at - stroke), start + 0.35 * (at - start), at - max(STROKE, stroke))
            least = LEAST_COUNTS_A_METRE * (self._far(index, ready) + dist(ready.bulge, ZERO))
            middle = max(middle, min(start + least, at - LEAST_COUNTS_A_METRE * stroke / COUNTS_A_METRE))
            self._add(index, ready._replace(start=start, end=middle))
            start = middle
        self._add(index, key_of(held, start, at, self._round(index, held)))
        if rule.rebound_m and one.back == NEVER:
            back = self._drawn(held, one, rule.rebound_m)
            self._add(index, key_of(back, at + 0.06, at + 0.34 * min(beat.gap_after, 1.0)))
        if rule.swing:
            self._swing(one, side, index)
        self.hands.leads.append(Lead(2 + index, beat.start, at, at + 0.5 * min(beat.gap_after, 1.0)))

    def _within(self, held: Held, one: Asked, index: int) -> Held:
        """Return a stretched arm no farther out than the hand gets, and gets back from, in the time there is."""
        if one.rule.solver != "stretch":
            return held
        free = one.beat.at - max(self._last(index).end, one.free)
        far = self._far(index, held) - free / LEAST_COUNTS_A_METRE
        if one.back < NEVER:
            back = dist(self._about(held), self._about(key_of(self.home, 0.0, 0.0)))
            far = max(far, back - (one.back - one.beat.at) / LEAST_COUNTS_A_METRE)
        share = min(max(1.0 - max(far, 0.0) / dist(held.point, ZERO), LEAST_STRETCH), 1.0)
        x, y, z = held.point
        return held._replace(point=(share * x, share * y, share * z))

    def _ready_within(self, ready: HandKey, held: Held, index: int, counts: float) -> HandKey:
        """Return the pose before a stroke so much nearer to the stroke's end that there is time for both."""
        way = self._far(index, ready) + dist(self._about(ready), self._about(held))
        if way * LEAST_COUNTS_A_METRE <= counts:
            return ready
        share = max(counts / (way * LEAST_COUNTS_A_METRE), 0.2)
        point = ready.point
        if ready.parent != held.parent:
            if held.parent != "shoulder" or ready.parent != "trunk":
                return ready
            x, y, z = held.point
            end = (x, y + self.body.trunk_m, z + self.body.half_shoulders_m)
        else:
            end = held.point
        x, y, z = (e + share * (p - e) for p, e in zip(point, end, strict=True))
        return ready._replace(point=(x, y, z))

    def _add(self, index: int, key: HandKey) -> None:
        keys = self.hands.keys[index]
        start = max(key.start, keys[-1].end)
        if key.end - start < 0.04:
            last = keys[-1]
            keys[-1] = last._replace(end=min(last.end, max(last.start, key.end - 0.1)))
            start = keys[-1].end
        keys.append(key._replace(start=min(start, key.end), shape=self.shape))

    def _ready(self, one: Asked, held: Held, index: int) -> HandKey | None:
        """Return the pose before a stroke: hands apart before a clap, a fist drawn in before a punch."""
        if one.move.gesture == "punch":
            drawn = self._near(one, index, 1.0)
        elif one.rule.ready_m:
            drawn = self._drawn(held, one, one.rule.ready_m)
        else:
            return None
        return key_of(drawn, 0.0, 0.0, self._round(index, drawn))

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
        return held._replace(point=(x - way[0] * step, y - way[1] * step, z - way[2] * step))

    def _round(self, index: int, held: Held) -> Vector:
        """Round a way that would pass too near the own shoulder, forward and a little outward of it."""
        start, end = self._about(self._last(index)), self._about(held)
        shoulder = (0.0, self.body.trunk_m, self.body.half_shoulders_m)
        way = [b - a for a, b in zip(start, end, strict=True)]
        length = sum(w * w for w in way) or 1.0
        share = sum((s - a) * w for s, a, w in zip(shoulder, start, way, strict=True)) / length
        share = min(max(share, 0.0), 1.0)
        near = sum((a + share * w - s) ** 2 for s, a, w in zip(shoulder, start, way, strict=True)) ** 0.5
        wide = max(0.0, CLEAR_M[self.stance] * self.body.stature_m / SCALE - near)
        if not 0.1 < share < 0.9:
            wide *= 0.4
        both = {self._last(index).parent, held.parent}
        if "support" in both and len(both) == 2:
            return _across((-0.08, 0.18, 0.06) if min(start[1], end[1]) < UNDER_GRIP_M else (0.0, 0.08, 0.06), way)
        low = "thigh" in both and min(start[1], end[1]) < 0.0 and self.stance == "seated"
        over = 0.0 if len(both) == 1 else 0.2 if low else 0.12 if "foot" in both else 0.07 if "thigh" in both else 0.0
        ahead, out = (0.3 * wide, wide) if self.held else (wide, 0.5 * wide)  # not into the chair that is held
        return _across((ahead, over, out + 0.4 * over), way)

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
                swings[number] = swing._replace(end=end)
                return
        swings.append(Swing(side, kind, begin, end, size))

    # -- afterwards ----------------------------------------------------------------------------------------------

    def _afterwards(self, one: Asked, index: int, later: Beat | None, moving: Sequence[float]) -> None:
        """Bring the hand home when nothing more is asked of it for about two counts."""
        at, self.shape = one.beat.at, self.at_ease
        until = later.start if later else at + 1e3
        leave = self._leaves(one, moving)
        if one.back < NEVER:
            leave = max(at + 0.02, min(one.back - 0.8, at + 1.5 if leave is None else leave))
            self._add(index, key_of(self.home, leave, min(one.back, leave + 0.85), self._round(index, self.home)))
            return
        if leave is None or until - leave < 0.7:
            return
        self._add(index, key_of(self.home, leave, leave + min(0.85, until - leave), self._round(index, self.home)))

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
                forward += 15.5 if rule.solver == "follow" else 0.0
            key = BodyKey(windows[at].start, at, radians(forward), radians(right), radians(turned))
            self.hands.body.append(key)
            if number + 1 == len(armed) or armed[number + 1].at > at + 2:
                self.hands.body.append(BodyKey(at + 0.9, at + 1.6))


def one_at_a_time(
    asked: Sequence[Sequence[Asked]], way_home: Callable[[Asked, int], float]
) -> tuple[list[Asked], list[Asked]]:
    """Return what is asked of the hands (left, right) so that one always holds: of two at one moment the hand on the
    side of the moving foot does it, and between moments of different hands one comes back before the other leaves;
    the hand with the longer way gets the longer time."""
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
            ways = way_home(one, index) + 0.1, way_home(then, other) + 0.1
            part = min(max(ways[0] / sum(ways), LEAST_PART), 1 - LEAST_PART)
            half = one.beat.at if home else one.beat.at + part * (then.beat.at - one.beat.at)
            back = NEVER if home else half
            line[number : number + 2] = [(index, one._replace(back=back)), (other, then._replace(free=half))]
    return [one for index, one in line if index == 0], [one for index, one in line if index == 1]


def _across(bulge: Vector, way: Sequence[float]) -> Vector:
    """Return what of a bulge lies across the way: along it, it would only make the hand hurry."""
    length = sum(w * w for w in way) or 1.0
    share = sum(b * w for b, w in zip(bulge, way, strict=True)) / length
    x, y, z = (b - share * w for b, w in zip(bulge, way, strict=True))
    return (x, y, z)
