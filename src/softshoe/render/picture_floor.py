"""The floor from above, 12 o'clock up: the feet as prints, what stands on the floor, where the dancer looks.

One drawing for the film's inset and the printed floor map. Room points are those of a motion (forward, right), turned
by the facing with which it began.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import JOINT
from softshoe.figure.supports import bars, holds, in_room, seat_box
from softshoe.render.look import guise_now, palette
from softshoe.render.look_plan import arrow_marks
from softshoe.render.look_signs import foot_print
from softshoe.render.stage import Capsule, Line, Mark, Point, Polygon, hull

if TYPE_CHECKING:
    from softshoe.figure.motion import Chair, FloatArray
    from softshoe.render.look import Guise
    from softshoe.render.picture_camera import Box

SIDES = ("left", "right")
MARGIN_M = 0.24
FOOT_M = 0.27  # a shoe, from heel to toe and its rounding
LEAST_FOOT_PX = 30.0
LOOKS_AHEAD_M = 0.36


@dataclass(frozen=True, slots=True)
class FloorView:
    """Where the floor lies on a page: ``scale`` [px a metre], the page point of the room point (forward, right)."""

    scale: float
    x: float
    y: float
    forward_m: float
    right_m: float
    facing_deg: float = 0.0

    def at(self, forward_m: float, right_m: float) -> Point:
        """Return the page point of a point of the motion."""
        turn = math.radians(self.facing_deg)
        ahead = forward_m * math.cos(turn) - right_m * math.sin(turn)
        aside = forward_m * math.sin(turn) + right_m * math.cos(turn)
        return self.x + self.scale * (aside - self.right_m), self.y - self.scale * (ahead - self.forward_m)

    @property
    def foot_px(self) -> float:
        """How long a print is drawn."""
        return max(FOOT_M * self.scale, LEAST_FOOT_PX)


def reach_of(points_m: FloatArray, chair: Chair | None) -> FloatArray:
    """Return the least and the most forward and right that feet take of the floor, and what is held: shape (2, 2)."""
    feet = [JOINT[f"{side}_{end}"] for side in SIDES for end in ("heel", "toe")]
    spots = points_m[:, feet][..., [0, 2]].reshape(-1, 2)
    if chair is not None and holds(chair):
        held = [(end[0], end[2]) for bar in bars(chair) for end in (bar.start, bar.end)]
        spots = np.concatenate([spots, np.array(held)])
    ends: FloatArray = np.stack([spots.min(axis=0), spots.max(axis=0)])
    return ends


def floor_view(reach_m: FloatArray, box: Box, *, most: float, margin_m: float = MARGIN_M) -> FloorView:
    """Return the view that holds this reach, and ``margin_m`` round it, in a box of the page, at no more than ``most``
    pixels a metre."""
    left, top, right, bottom = box
    deep, wide = (reach_m[1] - reach_m[0] + 2 * margin_m).tolist()
    scale = min((right - left) / wide, (bottom - top) / deep, most)
    forward, aside = ((reach_m[0] + reach_m[1]) / 2).tolist()
    return FloorView(scale, (left + right) / 2, (top + bottom) / 2, forward, aside)


def print_at(points: FloatArray, side: str) -> tuple[float, float, float]:
    """Return where a foot stands: forward, right [m] and where its toe points, degrees clockwise from forward."""
    heel, toe = points[JOINT[f"{side}_heel"]], points[JOINT[f"{side}_toe"]]
    ahead, aside = float(toe[0] - heel[0]), float(toe[2] - heel[2])
    return float(heel[0] + toe[0]) / 2, float(heel[2] + toe[2]) / 2, math.degrees(math.atan2(aside, ahead))


def feet_marks(points: FloatArray, bearing: tuple[float, float], view: FloorView) -> list[Mark]:
    """Return both feet of one moment (n, 3): filled where they bear, open where they are free."""
    marks: list[Mark] = []
    for side, bears in sorted(zip(SIDES, bearing, strict=True), key=lambda one: -one[1]):
        forward, right, toe_deg = print_at(points, side)
        x, y = view.at(forward, right)
        turned = toe_deg + view.facing_deg
        marks += foot_print(x, y, view.foot_px, side=side, bears=bears, toe_deg=turned, bar=False)
    return marks


def ghost_marks(points: FloatArray, view: FloorView) -> list[Mark]:
    """Return where both feet stood a while ago, in thin outline."""
    rule = palette()["rule"]
    marks: list[Mark] = []
    for side in SIDES:
        forward, right, toe_deg = print_at(points, side)
        x, y = view.at(forward, right)
        marks.append(_sole(x, y, view.foot_px, toe_deg + view.facing_deg, rule))
    return marks


def _sole(x: float, y: float, size: float, deg: float, ink: str) -> Mark:
    t = math.radians(deg)
    (hx, hy), (bx, by) = ((x + far * size * math.sin(t), y - far * size * math.cos(t)) for far in (-0.30, 0.24))
    return Capsule(hx, hy, 0.20 * size, bx, by, 0.26 * size, None, ink, 1.6)


def looks_deg(points: FloatArray) -> float:
    """Return where the dancer's hips look, degrees clockwise from forward."""
    left, right = points[JOINT["left_hip"]], points[JOINT["right_hip"]]
    return math.degrees(math.atan2(float(left[0] - right[0]), float(right[2] - left[2])))


def looks_marks(points: FloatArray, view: FloorView) -> list[Mark]:
    """Return an arrow before the dancer that points where her hips look."""
    pelvis, looks = points[JOINT["pelvis"]], looks_deg(points)
    t = math.radians(looks)
    ahead, aside = float(pelvis[0]) + LOOKS_AHEAD_M * math.cos(t), float(pelvis[2]) + LOOKS_AHEAD_M * math.sin(t)
    x, y = view.at(ahead, aside)
    return arrow_marks(x, y, max(0.13 * view.scale, 14.0), looks + view.facing_deg, palette()["soft"])


def support_marks(chair: Chair, view: FloorView) -> list[Mark]:
    """Return what the dancer sits on or holds, from above; kept while neither it nor the view moves."""
    return _support(chair, view, guise_now())


@lru_cache(maxsize=16)
def _support(chair: Chair, view: FloorView, _guise: Guise) -> list[Mark]:
    colours = palette()
    marks: list[Mark] = []
    seat = seat_box(chair)
    if seat is not None:
        (x0, _, z0), (x1, _, z1) = seat
        corners = [in_room(chair, (x, 0.0, z)) for x in (x0, x1) for z in (z0, z1)]
        metal = chair.kind == "wheelchair"
        fill = colours["rule"] if metal else colours["seat"]
        shape = hull([view.at(x, z) for x, _, z in corners])
        marks.append(Polygon(shape, fill, colours["soft"] if metal else colours["wood_deep"], 1.6))
    top = {"slat": colours["wood"], "tyre": colours["trousers_deep"], "grip": colours["trousers_deep"]}
    shown = [bar for bar in bars(chair) if bar.part in (*top, "rung")]
    for bar in shown:
        (ax, _, az), (bx, _, bz) = bar.start, bar.end
        ends = (view.at(ax, az), view.at(bx, bz))
        marks.append(Line(ends, top.get(bar.part, colours["soft"]), max(2 * bar.r_m * view.scale, 3.0)))
    return marks


def front_marks(box: Box, *, words: bool) -> list[Mark]:
    """Return the field of a floor map with the front wall of the room thick along its top."""
    from softshoe.render.stage import Text

    colours = palette()
    left, top, right, bottom = box
    field = Polygon(
        ((left, top), (right, top), (right, bottom), (left, bottom)), colours["paper"], colours["soft"], 1.6
    )
    wall = Line(((left, top), (right, top)), colours["ink"], 5.0)
    name = Text((left + right) / 2, top - 10, "front of the room", 20, colours["soft"], anchor="middle")
    return [field, wall, *([name] if words else [])]
