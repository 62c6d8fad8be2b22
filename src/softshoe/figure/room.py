"""How much room legs lack: to each other, to the chair, and to their own way of bending. All frames at once, metres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.figure.clear import between
from softshoe.figure.motion import JOINT
from softshoe.figure.reach import dot, unit
from softshoe.figure.skeleton import UP, ahead, upright
from softshoe.figure.supports import bars, in_room

if TYPE_CHECKING:
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Chair, FloatArray
    from softshoe.figure.skeleton import FootTrack

SOLES_M, SHANKS_M, LEGS_M, SEAT_M = 0.033, 0.049, 0.046, 0.004  # least ways, of 1.62 m: a little over the truths'
KNEE = np.radians(128.0)  # under the ceiling of ranges.csv; design value
SIDES = ("left", "right")


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A danced motion: moments (n,), points (n, joints, 3), feet, facing (n,) [rad], body and chair."""

    moments: FloatArray
    points: FloatArray
    feet: tuple[FootTrack, FootTrack]
    facing: FloatArray
    body: Body
    chair: Chair | None

    def joint(self, side: str, name: str) -> FloatArray:
        """Return the points (n, 3) of a joint of one side."""
        found: FloatArray = self.points[:, JOINT[f"{side}_{name}"], :]
        return found

    def legs(self) -> tuple[Leg, Leg]:
        """Return both legs."""
        left, right = (Leg(*(self.joint(side, name) for name in Leg._fields)) for side in SIDES)
        return left, right


class Leg(NamedTuple):
    """Points (n, 3) of one leg."""

    hip: FloatArray
    knee: FloatArray
    ankle: FloatArray
    heel: FloatArray
    toe: FloatArray


def lacks(own: Leg, other: Leg, seen: Seen, index: int, facing: FloatArray) -> FloatArray:
    """Return how much (n,) room a leg lacks [m]; less than 0 where it has some."""
    lack = np.maximum(between_legs(own, other, seen), np.maximum(knee_back(own, facing), folded(own, seen)))
    if seen.chair is not None and seen.chair.kind == "chair":
        lack = np.maximum(lack, in_chair(own, seen, index))
    return lack


def between_legs(own: Leg, other: Leg, seen: Seen) -> FloatArray:
    """Return how much room (n,) two legs lack between their soles and between their shanks [m]."""
    size = seen.body.stature_m / 1.62
    lack: FloatArray = np.maximum(
        SOLES_M * size - between(own.heel, own.toe, other.heel, other.toe),
        SHANKS_M * size - between(own.ankle, own.knee, other.ankle, other.knee),
    )
    return lack


def knee_back(leg: Leg, facing: FloatArray) -> FloatArray:
    """Return how far (n,) a knee lies behind the line from hip to ankle, as the dancer faces [m]."""
    along = unit(leg.ankle - leg.hip)
    way = leg.knee - leg.hip
    off = way - dot(way, along) * along
    back: FloatArray = -dot(off, ahead(facing) + 0.5 * UP)[:, 0]
    return back


def folded(leg: Leg, seen: Seen) -> FloatArray:
    """Return how much (n,) too near the ankle is to the hip for a knee that bends no further than knees do [m]."""
    thigh, shank = seen.body.thigh_m, seen.body.shank_m
    least = np.sqrt(thigh**2 + shank**2 + 2 * thigh * shank * np.cos(KNEE))
    near: FloatArray = least - np.linalg.norm(leg.hip - leg.ankle, axis=-1)
    return near


def in_chair(leg: Leg, seen: Seen, index: int) -> FloatArray:
    """Return how much room a seated leg lacks to the chair's front legs and to its seat (n,) [m]."""
    chair, size = seen.chair, seen.body.stature_m / 1.62
    if chair is None:
        return np.zeros(len(leg.hip))
    front = [bar for bar in bars(chair) if bar.part == "leg"]
    lack = np.full(len(leg.hip), -1.0)
    for bar in front:
        away = between(
            leg.heel + 0.03 * size * UP, leg.toe + 0.03 * size * UP, np.array([bar.start]), np.array([bar.end])
        )
        lack = np.maximum(lack, LEGS_M * size - away)
    axes = upright(np.radians(np.full(1, chair.yaw_deg)))[0]
    middle = np.array(in_room(chair, (0.0, 0.0, 0.0)))
    hip, knee = ((points - middle) @ axes.T for points in (leg.hip, leg.knee))
    way = knee - hip
    ahead = (chair.depth_m / 2 - hip[:, 0]) / np.maximum(way[:, 0], 1e-6)
    aside = (chair.width_m / 2 - np.abs(hip[:, 2])) / np.maximum((1 if index else -1) * way[:, 2], 1e-6)
    over = hip[:, 1] + np.minimum(np.minimum(ahead, aside), 1.0) * way[:, 1] - chair.seat_m
    deep: FloatArray = np.maximum(lack, SEAT_M - over)
    return deep
