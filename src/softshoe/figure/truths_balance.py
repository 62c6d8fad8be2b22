"""Truths of balance: where the centre of mass is over what bears."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.balance import GRAVITY, centre_of_mass, foot_outline, hull, margin_m
from softshoe.figure.danced import SIDES, Measure
from softshoe.figure.supports import in_room
from softshoe.figure.weight import PENDULUM, pendulum_s

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from numpy.typing import NDArray

    from softshoe.figure.danced import Danced
    from softshoe.figure.motion import FloatArray

Stood = tuple[tuple[float, ...], tuple[float, ...]]
MOST_OUT_M = 0.002
BEARS = 0.02  # a foot that bears less than this share counts as free
LOOK_COUNTS = 2  # how far ahead a step counts as coming; the last of a motion can't be looked at
EVERY = 4  # of the frames at rest, one in so many is looked at
REST_M_S, REST_M_S2 = 0.02, 0.05  # slower and steadier than this the centre of mass is at rest; design values


def balance(danced: Danced) -> Iterator[Measure]:
    """The point the floor pushes from lies in the feet that bear, whenever one does; at rest that is the centre of
    mass's own place."""
    if danced.motion.stance != "standing":
        return
    centre = centre_of_mass(danced.motion.frames.points_m, danced.body)[:, [0, 2]]
    rate = danced.motion.per_count / danced.count_s
    gained = np.gradient(np.gradient(centre, axis=0), axis=0) * rate**2
    point = centre - gained * PENDULUM * danced.body.of("dc_hip_h") / GRAVITY
    yield from _outside("balance", danced, np.arange(2, len(centre) - 2, EVERY), point, support)
    still = np.linalg.norm(gained, axis=1) < REST_M_S2
    at_rest = still & (np.linalg.norm(np.gradient(centre, axis=0), axis=1) * rate < REST_M_S)
    yield from _outside("balance at rest", danced, np.flatnonzero(at_rest), centre, support)


def sitting(danced: Danced) -> Iterator[Measure]:
    """Seated, the centre of mass stays over seat and feet; footplates add nothing outside the wheels."""
    if danced.motion.stance != "seated":
        return
    centre = centre_of_mass(danced.motion.frames.points_m, danced.body)[:, [0, 2]]
    yield from _outside("balance seated", danced, np.arange(0, len(centre), EVERY), centre, seat_and_feet)


def stepping(danced: Danced) -> Iterator[Measure]:
    """Stepping, the extrapolated centre of mass (Hof) stays over the feet and the place where the next one lands."""
    if danced.motion.stance != "standing":
        return
    centre = centre_of_mass(danced.motion.frames.points_m, danced.body)[:, [0, 2]]
    speed = np.gradient(centre, axis=0) * danced.motion.per_count / danced.count_s
    frames = np.arange(0, len(centre) - LOOK_COUNTS * danced.motion.per_count, EVERY)
    ahead = centre + speed * pendulum_s(danced.body)
    yield from _outside("margin of stability", danced, frames, ahead, next_support)


def _outside(
    truth: str, danced: Danced, frames: NDArray[np.intp], points: FloatArray, base: Callable[[Danced, int], FloatArray]
) -> Iterator[Measure]:
    """Yield the frame in which a plan point lies farthest out of what bears."""
    worst: Measure | None = None
    for frame in frames.tolist():
        outline = base(danced, frame)
        if len(outline) > 2:
            out = -margin_m(outline, points[frame])
            if worst is None or out > worst.value:
                worst = Measure(truth, "centre of mass", danced.moment(frame), out, MOST_OUT_M)
    if worst is not None:
        yield worst


def support(danced: Danced, frame: int) -> FloatArray:
    """Return the outline (m, 2) of the feet that bear at a frame."""
    bearing = danced.motion.frames.bearing[frame]
    corners = [_sole(danced, side, frame) for side, share in zip(SIDES, bearing, strict=True) if share > BEARS]
    return hull(np.concatenate(corners)) if corners else np.zeros((0, 2))


def next_support(danced: Danced, frame: int) -> FloatArray:
    """Return the outline (m, 2) of the feet that bear now or soon."""
    bearing = danced.motion.frames.bearing
    later = range(
        frame,
        min(frame + LOOK_COUNTS * danced.motion.per_count + 1, len(bearing)),
        max(danced.motion.per_count // 4, 1),
    )
    soles = {_stood(danced, side, f) for f in later for index, side in enumerate(SIDES) if bearing[f, index] > 0.05}
    return _hull_of(tuple(sorted(soles)), danced.body.foot_width_m)


def seat_and_feet(danced: Danced, frame: int) -> FloatArray:
    """Return the outline (m, 2) of the seat and of the feet on the floor at a frame."""
    chair = danced.motion.chair
    if chair is None:
        return np.zeros((0, 2))
    x, z = chair.depth_m / 2, chair.width_m / 2
    seat = np.array([in_room(chair, (a, 0.0, b)) for a in (-x, x) for b in (-z, z)])[:, [0, 2]]
    bearing = danced.motion.frames.bearing[frame] * (chair.plate_m == 0.0)
    feet = [_sole(danced, side, frame) for side, share in zip(SIDES, bearing, strict=True) if share > BEARS]
    return hull(np.concatenate([seat, *feet]))


def _sole(danced: Danced, side: str, frame: int) -> FloatArray:
    return _outline(*_stood(danced, side, frame), danced.body.foot_width_m)


def _stood(danced: Danced, side: str, frame: int) -> Stood:
    """Return where a foot stands: heel and toe."""
    heel, toe = danced.joint(f"{side}_heel")[frame], danced.joint(f"{side}_toe")[frame]
    return tuple(heel.tolist()), tuple(toe.tolist())


@lru_cache(maxsize=256)
def _hull_of(soles: tuple[Stood, ...], width_m: float) -> FloatArray:
    """Return the outline of soles together; dancers stand where they stood for many frames."""
    corners = [_outline(heel, toe, width_m) for heel, toe in soles]
    return hull(np.concatenate(corners)) if corners else np.zeros((0, 2))


@lru_cache(maxsize=256)
def _outline(heel: tuple[float, ...], toe: tuple[float, ...], width_m: float) -> FloatArray:
    """Return the corners of a sole; feet that stand are asked for again and again."""
    return foot_outline(np.array(heel), np.array(toe), width_m=width_m)
