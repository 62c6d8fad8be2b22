"""How far a seated foot goes: no farther than the thigh lies on the seat. Points: forward, up, right of the chair."""

from __future__ import annotations

from math import cos, sin
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.body import ANKLE
from softshoe.figure.ground import pelvis_x
from softshoe.figure.places import OWN
from softshoe.figure.reach import two_bone
from softshoe.figure.skeleton import knee_pole

if TYPE_CHECKING:
    from softshoe.dance.feet import Foot
    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray
    from softshoe.figure.pose import FootKey

OVER_M, LEAST, STEP = 0.003, 0.5, 0.04  # over the seat; how much of a way is kept at least; design values
CROSSED_OUT = 0.38  # how far [rad]; as far as ``clear.MOST_OUT`` comes to
NEAR_SHARE = 0.5  # foot lengths from home: nearer places let every thigh lie; design value


def within_seat(key: FootKey, home: FootKey, foot: Foot, body: Body, front: float) -> FootKey:
    """Return the key with its place so much nearer to that of ``home``, the same pose at home, that the thigh lies on
    the seat and not in it."""
    begin, end = np.array(home.point), np.array(key.point)
    if np.linalg.norm(end - begin) < NEAR_SHARE * body.foot_m:
        return key
    share = 1.0
    while share > LEAST and thigh_over_m(key._replace(point=_at(begin, end, share)), foot, body, front) < OVER_M:
        share -= STEP
    return key._replace(point=_at(begin, end, share)) if share < 1.0 else key


def _at(begin: FloatArray, end: FloatArray, share: float) -> tuple[float, float, float]:
    x, _, z = (begin + share * (end - begin)).tolist()
    return x, float(end[1]), z


def thigh_over_m(key: FootKey, foot: Foot, body: Body, front: float) -> float:
    """Return how high the thigh's bone leaves the edge of the seat over it [m], with the foot at a key."""
    yaw, own = key.yaw - front, OWN[foot]
    x, y, z = key.point
    along = (ANKLE - key.spot) * body.foot_m
    sole = np.array([cos(key.pitch) * cos(yaw), sin(key.pitch), cos(key.pitch) * sin(yaw)])
    up = np.array([-sin(key.pitch) * cos(yaw), cos(key.pitch), -sin(key.pitch) * sin(yaw)])
    middle = np.array([x * cos(front) + z * sin(front), y, z * cos(front) - x * sin(front)])
    ankle = middle + along * sole + body.ankle_m * up
    hip = np.array([pelvis_x(body), body.knee_height_m, own * body.half_hips_m])
    across = own * middle[2] < 0  # a shank that crosses the other turns its knee out
    pole = knee_pole(np.zeros(1), np.array([yaw]), np.array([key.knee + across * own * CROSSED_OUT]))[0]
    knee = two_bone(hip, ankle, first_m=body.thigh_m, second_m=body.shank_m, pole=pole).middle_m
    way = knee - hip
    chair = body.chair
    ahead = (chair.depth_m / 2 - hip[0]) / max(way[0], 1e-6)
    aside = (chair.width_m / 2 - own * hip[2]) / max(own * way[2], 1e-6)
    return float(hip[1] + min(ahead, aside, 1.0) * way[1] - chair.seat_m)
