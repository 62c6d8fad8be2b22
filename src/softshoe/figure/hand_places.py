"""Where hands are held: at rest, on the body, stretched out. Vectors are told for the right hand (``pose.HandKey``)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.places import Direction
from softshoe.figure.arm_rules import (
    BESIDE_CHAIR,
    BODY_PLACES,
    CROSSING,
    CROSSING_ELBOW,
    HAND_OFF_M,
    HEIGHTS,
    PAST_CHAIR,
    PAST_ELBOW,
    WAYS,
    ArmRule,
    Held,
)
from softshoe.figure.places import hand_point
from softshoe.figure.supports import grip

if TYPE_CHECKING:
    from softshoe.dance.arms import ArmMove
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Chair, Stance
    from softshoe.figure.pose import Vector

HIGH = HEIGHTS["overhead"]
STANDING_SHARE = 0.45  # of the way down a thigh: how far a standing dancer's hand comes; design value
SCALE = 1.62  # the stature for which lengths in arm_rules are written


def scaled(point: Vector, body: Body) -> Vector:
    """Return a vector of the rules in this body's metres."""
    size = body.stature_m / SCALE
    return (point[0] * size, point[1] * size, point[2] * size)


def rest(body: Body, stance: Stance) -> Held:
    """Return a hand at rest: on the thigh when seated, hanging by the side when standing."""
    if stance == "seated":
        return on_body("lap", body, stance)
    point = (0.012 * body.stature_m, -0.97 * (body.arm_m + 0.45 * body.hand_m), 0.045 * body.stature_m)
    return Held("hang", point, (0.12, -1.0, 0.0), (-0.15, 0.0, -1.0), (-1.0, -0.1, 0.35))


def on_support(chair: Chair, body: Body) -> Held:
    """Return a hand lying on top of the chair back or the walking frame, told in the support's own frame."""
    x, y, z = grip(chair, body)
    return Held("support", (x, y + HAND_OFF_M, z), (0.93, -0.12, -0.3), (0.0, -1.0, 0.0), (-0.75, -0.6, 0.5))


def on_body(place: str, body: Body, stance: Stance) -> Held:
    """Return a hand lying on a place of the body; a standing dancer reaches only the upper half of her thighs."""
    parent, row, point, fingers, palm, elbow = BODY_PLACES[place]
    if parent == "thigh":
        share = point[0] if stance == "seated" else STANDING_SHARE * point[0]
        at = (share * body.thigh_m, body.thigh_thick_m + HAND_OFF_M, point[2])
        return Held(parent, at, fingers, palm, elbow)
    at = hand_point(row, body) if row else scaled(point, body)
    return Held(parent, at, fingers, palm, elbow)


def stretched(move: ArmMove, rule: ArmRule, body: Body, side: float, stance: Stance) -> Held:
    """Return an arm sent out from the shoulder in the direction said, at the height of the place said. Seated, what
    goes back goes past the chair's back."""
    toward = move.toward or rule.toward or Direction.FORWARD
    if toward is rule.toward is Direction.UP and HEIGHTS.get(move.place or "", HIGH) < HIGH:
        toward = Direction.FORWARD  # raised as high as the place, no higher
    if toward in (Direction.APART, Direction.TOGETHER, Direction.CENTRE, Direction.IN_PLACE):
        toward = Direction.RIGHT if side > 0 else Direction.LEFT
    if toward in (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND):
        toward = Direction.FORWARD_LEFT if side > 0 else Direction.FORWARD_RIGHT
    forward, up, right = WAYS[toward]
    out, share = right * side, rule.share
    place = move.place or (rule.place if toward not in (Direction.UP, Direction.DOWN) else None)
    if toward not in (Direction.UP, Direction.DOWN):
        up += HEIGHTS.get(place or "shoulder", 0.0)
    else:
        out = 0.12 if toward is Direction.UP else 0.45
    if out < -0.1:
        forward, share = max(forward, CROSSING[0]), min(share, CROSSING[1])
    elif toward in (Direction.BACK_LEFT, Direction.BACK_RIGHT) and stance == "seated":
        forward = BESIDE_CHAIR
    elif toward is Direction.BACK:
        share = 0.6
        if stance == "seated":
            (forward, up, out), share = PAST_CHAIR, 0.9
    way = unit_of((forward, up, out))
    length = share * (body.arm_m + (0.1 if rule.hand == "push" else 0.45) * body.hand_m)
    point = (way[0] * length, way[1] * length, way[2] * length)
    fingers, palm = _hand_of(rule.hand, way)
    past = toward is Direction.BACK and stance == "seated"
    elbow = PAST_ELBOW if past else CROSSING_ELBOW if out < -0.1 else _elbow(way)
    return Held("shoulder", point, fingers, palm, elbow)


def _elbow(way: Vector) -> Vector:
    """Return where the elbow points: down for a level arm, out for one that goes up or down."""
    high = max(0.0, way[1])
    low = max(0.0, -way[1])
    return (-0.35 + 0.75 * high - 0.5 * low, -1.0 + 0.6 * high, 0.4 + 0.4 * high + 0.2 * low)


def _hand_of(kind: str, way: Vector) -> tuple[Vector, Vector]:
    """Return the ways of fingers and palm of an outstretched hand."""
    high = way[1] > 0.75
    if kind == "push":
        if high:
            return (-0.6, 0.45, -0.5), (0.0, 1.0, 0.0)
        if way[1] < -0.6:
            return (0.95, -0.1, -0.2), (0.0, -1.0, 0.0)
        return (0.5 * way[0], 0.9, 0.5 * way[2]), way
    if high:
        return way, (0.35, 0.0, -1.0)
    if kind == "up":
        return (0.3, 1.0, 0.0), (1.0, 0.0, 0.0)
    return way, (0.0, -1.0, 0.0)


def unit_of(a: Vector) -> Vector:
    """Return the vector at length one."""
    length = (a[0] ** 2 + a[1] ** 2 + a[2] ** 2) ** 0.5
    return (a[0] / length, a[1] / length, a[2] / length)
