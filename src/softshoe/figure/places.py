"""Places: where feet and hands go, as rows of ``data/body/places.csv``, for the sixteen directions of the dance events.

Rows are shares: standing feet in step lengths from the bearing foot, seated feet in foot lengths from home (the foot
flat under its own knee), hands in half shoulder widths out, arm lengths forward, shoulder heights up from the seat.
Out is positive on the own side. All numbers are design values.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Stance
    from softshoe.figure.pose import Vector

STEP = 0.22  # of stature: a class's working step, shorter than a walking step; design value
BACKWARD = 0.72  # a step back is this much of a step forward; design value
BESIDE = 0.065  # of stature: between the middles of two feet side by side; a shoe's width and a little; design value
OWN = {Foot.RIGHT: 1.0, Foot.LEFT: -1.0, Foot.BOTH: 0.0}


class Spot(NamedTuple):
    """Metres out to the own side, forward and up from where the place is measured."""

    out_m: float
    forward_m: float
    up_m: float


@cache
def rows(kind: str) -> dict[str, Spot]:
    """Return the rows for "foot, standing", "foot, seated" or "hand" that have numbers, as shares."""
    return {
        row["place"]: Spot(float(row["x_out"]), float(row["y_forward"]), float(row["z_up"]))
        for row in table("body/places")
        if row["for"] == kind and row["x_out"]
    }


_D = Direction
_STRAIGHT = {
    _D.FORWARD: "fwd",
    _D.BACK: "back",
    _D.TOGETHER: "tog",
    _D.ACROSS_FRONT: "cross",
    _D.ACROSS_BEHIND: "behind",
}
_STRAIGHT |= {_D.APART: "side", _D.CENTRE: "tog", _D.IN_PLACE: "tog", _D.UP: "tog", _D.DOWN: "tog"}
_SIDED = {
    _D.RIGHT: (1, "side", "cross"),
    _D.LEFT: (-1, "side", "cross"),
    _D.FORWARD_RIGHT: (1, "fdiag", "cross"),
    _D.FORWARD_LEFT: (-1, "fdiag", "cross"),
    _D.BACK_RIGHT: (1, "bdiag", "behind"),
    _D.BACK_LEFT: (-1, "bdiag", "behind"),
}
_SEATED = {"tog": "home", "cross": "across", "bdiag": "back", "behind": "back"}
_SEATED_INWARD = {"cross": "in", "behind": "in"}
ACROSS = Spot(-1.1, 0.6, 0.0)  # seated: ankle over ankle, beyond the other foot; design value


def place_name(foot: Foot, way: Direction | None) -> str:
    """Return the name of the standing foot row for a direction; a side away from the foot is across."""
    way = way or _D.TOGETHER
    if way in _STRAIGHT:
        return _STRAIGHT[way]
    side, own, other = _SIDED[way]
    return own if OWN[foot] == side or foot is Foot.BOTH else other


def foot_spot(foot: Foot, way: Direction | None, *, stance: Stance, body: Body) -> Spot:
    """Return where a foot goes: standing from the middle of the bearing foot, seated from its own home [m]."""
    name = place_name(foot, way)
    if stance == "seated":
        inward = way in _SIDED and name in _SEATED_INWARD
        name = _SEATED_INWARD[name] if inward else _SEATED.get(name, name)
        share = ACROSS if name == "across" else rows("foot, seated")[name]
        return Spot(*(part * body.foot_m for part in share))
    share = rows("foot, standing")[name]
    step, beside = STEP * body.stature_m, BESIDE * body.stature_m
    out = max(abs(share.out_m) * step, beside) * (1 if share.out_m >= 0 else -1)
    shorter = BACKWARD if share.forward_m < -0.5 else 1.0
    return Spot(out, share.forward_m * step * shorter, share.up_m * step)


def hand_point(name: str, body: Body) -> Vector:
    """Return a hand place in the trunk's frame: forward, up from the hip line, outward to the own side [m]."""
    share = rows("hand")[name]
    seat_m = body.knee_height_m - body.chair.seat_m
    up = share.up_m * (body.trunk_m + seat_m) - seat_m
    return (share.forward_m * body.arm_m, up, share.out_m * body.half_shoulders_m)
