"""What supports a dancer, as bars in the room: the chair she sits on, the chair back or walking frame she holds.

Truths and drawing read the same bars. Told in the support's own frame (forward, up, right of the seat's middle) and
turned into the room. Sizes not in ``Chair`` are design values, after plain dining chairs, folding wheelchairs and
walking frames; no standard stands behind them.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, radians, sin
from typing import TYPE_CHECKING, NamedTuple

from softshoe.figure.motion import Chair

if TYPE_CHECKING:
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Stance, Support
    from softshoe.figure.pose import Vector

LEG_M, SLAT_M = 0.017, 0.026
SEAT_THICK_M = 0.035
RAKE_M = 0.03  # how far the top of a back lies behind its foot
NEAREST_M, MOST_AWAY_M = 0.17, 0.08  # a ball of the foot this far ahead moves the support away, by this at most
HOLD_AHEAD = 0.23  # of stature: from the dancer's middle to the chair back she holds
GRIP_OUT = {"chair back": 0.075, "frame": 0.165}  # of stature: from the midline to where a hand holds
GRIP_AHEAD = {"chair back": 0.0, "frame": 0.085}  # of stature: from the back of the support
FRAME_HEIGHT, FRAME_DEPTH = 0.485, 0.25  # of stature: grips at the wrist of a hanging arm (Drillis & Contini); design
WHEEL_M, WHEEL_OUT_M, TYRE_M = 0.3, 0.045, 0.014
PLATE_M = 0.08
WHEEL_CORNERS = 12


class Bar(NamedTuple):
    """A round bar from one room point to another; ``part`` says what it is of."""

    start: Vector
    end: Vector
    r_m: float
    part: str


def stance_of(support: Support) -> Stance:
    """Return how one dances with a support."""
    return "seated" if support in ("chair", "wheelchair") else "standing"


def holds(chair: Chair | None) -> bool:
    """Tell whether hands hold it: a chair back or a walking frame before a standing dancer."""
    return chair is not None and chair.kind in ("chair back", "frame")


def chair_for(body: Body, support: Support, *, facing_deg: float = 0.0) -> Chair | None:
    """Return what supports a dancer who begins over the room's origin; None for one who stands free."""
    if support == "free":
        return None
    if support == "chair":
        return body.chair
    if support == "wheelchair":
        return replace(body.chair, kind="wheelchair", plate_m=PLATE_M, seat_m=body.chair.seat_m + PLATE_M)
    if support == "frame":
        depth, height = FRAME_DEPTH * body.stature_m, FRAME_HEIGHT * body.stature_m + body.shoe_m
        ahead = depth / 2 - 0.02 * body.stature_m
        made = Chair(height, depth, 2 * GRIP_OUT["frame"] * body.stature_m, 0.0, "frame")
    else:
        ahead = HOLD_AHEAD * body.stature_m + body.chair.depth_m / 2 + RAKE_M
        made = replace(body.chair, kind="chair back")
    turn = radians(facing_deg)
    return replace(made, x_m=ahead * cos(turn), z_m=ahead * sin(turn), yaw_deg=facing_deg)


def farther(chair: Chair, foremost_m: float) -> Chair:
    """Return what is held moved a little away from a dancer whose feet come so far ahead of where she begins [m]."""
    more = min(max(foremost_m - NEAREST_M, 0.0), MOST_AWAY_M)
    turn = radians(chair.yaw_deg)
    return replace(chair, x_m=chair.x_m + more * cos(turn), z_m=chair.z_m + more * sin(turn))


def grip(chair: Chair, body: Body) -> Vector:
    """Return the point on top of a support that the right hand holds, told in its own frame."""
    ahead = -chair.depth_m / 2 + GRIP_AHEAD[chair.kind] * body.stature_m
    ahead -= RAKE_M if chair.kind == "chair back" else 0.0
    top = chair.seat_m + chair.back_m
    return ahead, top, GRIP_OUT[chair.kind] * body.stature_m


def in_room(chair: Chair, point: Vector) -> Vector:
    """Return a point told forward, up, right of a support's middle as a room point."""
    turn = radians(chair.yaw_deg)
    x, y, z = point
    return (chair.x_m + x * cos(turn) - z * sin(turn), y, chair.z_m + x * sin(turn) + z * cos(turn))


def bars(chair: Chair) -> tuple[Bar, ...]:
    """Return the bars of a support in the room; its seat is ``seat_box``."""
    made = {"frame": _frame, "wheelchair": _wheelchair}.get(chair.kind, _plain)(chair)
    return tuple(Bar(in_room(chair, b.start), in_room(chair, b.end), b.r_m, b.part) for b in made)


def seat_box(chair: Chair) -> tuple[Vector, Vector] | None:
    """Return the seat's lowest and highest corner in the support's own frame; a walking frame has none."""
    if chair.kind == "frame":
        return None
    x, z = chair.depth_m / 2, chair.width_m / 2
    return (-x, chair.seat_m - SEAT_THICK_M, -z), (x, chair.seat_m, z)


def _back(chair: Chair) -> list[Bar]:
    back, side, top = -chair.depth_m / 2, chair.width_m / 2 - LEG_M, chair.seat_m + chair.back_m
    posts = [Bar((back, chair.seat_m, z), (back - RAKE_M, top, z), LEG_M, "post") for z in (-side, side)]
    heights = (chair.back_m * 0.55, chair.back_m - SLAT_M)
    slats = [
        Bar(
            (back - RAKE_M * h / chair.back_m, chair.seat_m + h, -side),
            (back - RAKE_M * h / chair.back_m, chair.seat_m + h, side),
            SLAT_M,
            "slat",
        )
        for h in heights
    ]
    return posts + slats


def _plain(chair: Chair) -> list[Bar]:
    x, z = chair.depth_m / 2 - LEG_M, chair.width_m / 2 - LEG_M
    legs = [Bar((a, LEG_M, b), (a, chair.seat_m - SEAT_THICK_M, b), LEG_M, "leg") for a in (-x, x) for b in (-z, z)]
    return legs + _back(chair)


def _wheelchair(chair: Chair) -> list[Bar]:
    side, front, back = chair.width_m / 2 + WHEEL_OUT_M, chair.depth_m / 2, -chair.depth_m / 2
    made: list[Bar] = []
    for z in (-side, side):
        rim = [
            (
                -0.06 + WHEEL_M * cos(2 * pi * k / WHEEL_CORNERS),
                WHEEL_M + TYRE_M + WHEEL_M * sin(2 * pi * k / WHEEL_CORNERS),
                z,
            )
            for k in range(WHEEL_CORNERS)
        ]
        made += [Bar(a, b, TYRE_M, "tyre") for a, b in zip(rim, rim[1:] + rim[:1], strict=True)]
    inner = chair.width_m / 2 - LEG_M
    for z in (-inner, inner):
        made.append(Bar((front, chair.seat_m - SEAT_THICK_M, z), (front + 0.06, 0.1, z), LEG_M, "leg"))
        made.append(Bar((front + 0.06, 0.045, z), (front + 0.02, 0.045, z), 0.04, "caster"))
        made.append(
            Bar(
                (back - RAKE_M, chair.seat_m + chair.back_m * 0.9, z),
                (back - 0.12, chair.seat_m + chair.back_m * 0.92, z),
                LEG_M,
                "push",
            )
        )
    return made + _back(replace(chair, back_m=chair.back_m * 0.9))


def _frame(chair: Chair) -> list[Bar]:
    x, z, top = chair.depth_m / 2, chair.width_m / 2, chair.seat_m
    made: list[Bar] = []
    for side in (-z, z):
        made += [Bar((a * 1.05, LEG_M, side * 1.04), (a * 0.9, top - 0.03, side), LEG_M, "leg") for a in (-x, x)]
        made.append(Bar((-x * 0.9, top - 0.02, side), (x * 0.9, top - 0.02, side), 0.02, "grip"))
        made.append(Bar((-x, top * 0.45, side * 1.02), (x, top * 0.45, side * 1.02), LEG_M * 0.8, "rung"))
    made.append(Bar((x * 0.9, top - 0.04, -z), (x * 0.9, top - 0.04, z), LEG_M, "rung"))
    made.append(Bar((x, top * 0.55, -z * 1.02), (x, top * 0.55, z * 1.02), LEG_M * 0.8, "rung"))
    return made
