"""Balance: the centre of mass, what bears, and how far inside it the dancer stays.

The floor is the plane y = 0; plan points are (x, z) [m].
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import JOINT, JOINTS

if TYPE_CHECKING:
    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray

GRAVITY = 9.81


def point_of(points_m: FloatArray, joint: str) -> FloatArray:
    """Return a joint's points (..., 3); "shoulders" and "hips" are the middles of both sides."""
    if joint in JOINT:
        found: FloatArray = points_m[..., JOINT[joint], :]
        return found
    one = joint[:-1]
    middle: FloatArray = (points_m[..., JOINT[f"left_{one}"], :] + points_m[..., JOINT[f"right_{one}"], :]) / 2
    return middle


@lru_cache(maxsize=16)
def _shares(body: Body) -> FloatArray:
    """Return how much of the whole mass acts at each joint: the centre of mass is one product."""
    shares = np.zeros(len(JOINTS))
    for part in body.parts:
        for joint, share in ((part.first, 1 - part.centre), (part.last, part.centre)):
            names = [joint] if joint in JOINT else [f"left_{joint[:-1]}", f"right_{joint[:-1]}"]
            for name in names:
                shares[JOINT[name]] += part.mass * share / len(names)
    whole: FloatArray = shares / shares.sum()
    return whole


def centre_of_mass(points_m: FloatArray, body: Body) -> FloatArray:
    """Return the whole body's centre of mass (..., 3) [m] of points (..., joints, 3)."""
    centre: FloatArray = np.einsum("...jk,j->...k", points_m, _shares(body))
    return centre


def weighted_centre(masses: FloatArray, points_m: FloatArray) -> FloatArray:
    """Return the common centre of parts: masses (n,), centres (n, k)."""
    centre: FloatArray = masses @ points_m / masses.sum()
    return centre


def foot_outline(heel_m: FloatArray, toe_m: FloatArray, *, width_m: float) -> FloatArray:
    """Return the four corners (4, 2) in plan of a foot flat on the floor."""
    along = np.asarray(toe_m)[[0, 2]] - np.asarray(heel_m)[[0, 2]]
    across = np.array([-along[1], along[0]]) / max(float(np.hypot(*along)), 1e-9) * width_m / 2
    heel, toe = np.asarray(heel_m)[[0, 2]], np.asarray(toe_m)[[0, 2]]
    return np.array([heel + across, toe + across, toe - across, heel - across])


def hull(points: FloatArray) -> FloatArray:
    """Return the convex hull (m, 2) of plan points (n, 2), in order around it (monotone chain)."""
    ordered = sorted({(round(float(x), 9), round(float(y), 9)) for x, y in points})  # one point where two nearly are
    if len(ordered) < 3:
        return np.array(ordered)
    return np.array(_half(ordered) + _half(ordered[::-1]))


def _half(ordered: list[tuple[float, float]]) -> list[tuple[float, float]]:
    chain: list[tuple[float, float]] = []
    for x, y in ordered:
        while len(chain) > 1:
            (ax, ay), (bx, by) = chain[-2], chain[-1]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                break
            chain.pop()
        chain.append((x, y))
    return chain[:-1]


def margin_m(outline: FloatArray, point: FloatArray) -> float:
    """Return how far a plan point lies inside a convex outline [m]; negative outside."""
    start, end = outline, np.roll(outline, -1, axis=0)
    edge = end - start
    length = np.maximum(np.hypot(edge[:, 0], edge[:, 1]), 1e-12)
    to = np.asarray(point) - start
    inward = (edge[:, 0] * to[:, 1] - edge[:, 1] * to[:, 0]) / length
    if np.all(inward >= 0):
        return float(inward.min())
    along = np.clip(np.einsum("ij,ij->i", to, edge) / length**2, 0, 1)[:, None]
    return -float(np.linalg.norm(to - along * edge, axis=1).min())


def extrapolated_m(place_m: FloatArray, speed_m_s: FloatArray, *, pendulum_m: float) -> FloatArray:
    """Return the extrapolated centre of mass x + v sqrt(l / g) (Hof, Gazendam & Sinke 2005, J Biomech 38:1-8)."""
    ahead: FloatArray = np.asarray(place_m) + np.asarray(speed_m_s) * np.sqrt(pendulum_m / GRAVITY)
    return ahead


def stability_margin_m(place_m: float, speed_m_s: float, edge_m: float, *, pendulum_m: float) -> float:
    """Return Hof's margin of stability b: from the extrapolated centre of mass to the edge of what bears [m]."""
    return edge_m - float(extrapolated_m(np.array(place_m), np.array(speed_m_s), pendulum_m=pendulum_m))
