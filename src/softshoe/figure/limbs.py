"""Limbs: pelvis, trunk, legs, arms and head of all frames from the sampled tracks.

Standing, the pelvis stands where it brings the centre of mass over what bears, and as high as both legs allow;
seated, it stays on the seat.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.arms import Arms
from softshoe.figure.balance import centre_of_mass
from softshoe.figure.clear import MOST_OUT, calm, turned_out
from softshoe.figure.clear_arms import arms_off
from softshoe.figure.ground import pelvis_x
from softshoe.figure.minjerk import share
from softshoe.figure.motion import JOINT
from softshoe.figure.reach import angle_deg
from softshoe.figure.skeleton import (
    Trunk,
    ahead,
    blank,
    column,
    leaning,
    rightward,
    set_leg,
    set_trunk,
)
from softshoe.figure.supports import holds
from softshoe.figure.tracks import repitched, spans

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.figure.body import Body
    from softshoe.figure.motion import Chair, FloatArray, Stance
    from softshoe.figure.pose import HandKey
    from softshoe.figure.skeleton import FootTrack

SOFT_KNEE = 0.991  # of the straight leg: how tall one stands; design value
LONGEST_LEG = 0.996
ROUNDS, SETTLING = 8, 3  # how often all is gone through at most; a pose is eased after the first ones
ANKLE_UP, ANKLE_DOWN = np.radians(23.5), np.radians(49.0)  # under the ceilings of ranges.csv; design values
ON_PLAN_M = 1e-4  # so near to where it shall be the centre of mass is there
FOLLOWS = 1.2  # how far the pelvis moves for each metre the centre of mass is off: the legs come after only in part
HIP_DEG = 113.5  # under the ceiling of ranges.csv; design value
HIP_DROP = np.radians(2.5)  # design value
BREATH_COUNTS = 4.0
LEANS, CALM_COUNTS = 3.2, 0.35  # towards a support: how eagerly, how smoothly; design values


@dataclass(frozen=True, slots=True, eq=False)
class Pose:
    """Everything sampled at n moments: feet (left, right), facing (n,) [rad], weight on the right foot (n,), trunk
    (n, 4) as ``body_track`` gives it, how far the head looks to the right (n,) [rad], keys and swings of the hands
    (left, right), where the
    centre of mass shall stand in plan (n, 2) [m], how far off hands go to keep arms out of
    each other and of the chest (2, n, 3) [m], what supports her."""

    stance: Stance
    body: Body
    moments: FloatArray
    feet: tuple[FootTrack, FootTrack]
    facing: FloatArray
    weight: FloatArray
    trunk: FloatArray
    gaze: FloatArray
    hands: tuple[Sequence[HandKey], Sequence[HandKey]]
    swings: tuple[FloatArray, FloatArray]
    centre: FloatArray
    off: FloatArray
    chair: Chair | None = None


def posed(pose: Pose) -> tuple[FloatArray, FloatArray, Pose]:
    """Return the points (n, joints, 3) of all frames, how far feet and hands miss their places (n, 4) [m], and the pose
    as it was eased."""
    points, miss = blank(len(pose.moments)), np.zeros((len(pose.moments), 4))
    arms = Arms(pose.body, pose.moments, pose.hands, pose.swings, pose.chair)
    place = pose.centre
    for turn in range(ROUNDS):
        pelvis = _seated_pelvis(pose) if pose.stance == "seated" else _standing_pelvis(pose, place)
        _set_all(points, miss, pose, pelvis, arms)
        short = pose.centre - centre_of_mass(points, pose.body)[:, [0, 2]]
        place = place + (FOLLOWS if turn < SETTLING else 1.0) * short
        before = pose
        if turn < SETTLING:
            pose = _settled(points, pose, arms, first=turn == 0)
        if pose is before and (pose.stance == "seated" or (turn >= SETTLING and np.abs(short).max() < ON_PLAN_M)):
            break
    miss[:, 2:] = arms.miss
    return points, miss, pose


def _settled(points: FloatArray, pose: Pose, arms: Arms, *, first: bool) -> Pose:
    """Return the pose with joints eased that bend too far and limbs kept off each other; the same one where nothing
    wants it."""
    tall = pose.body.stature_m
    made = _toward_support(arms.short, _leaning_back(points, _eased(points, pose, everywhere=first)))
    feet = turned_out(points, made.feet, pose.moments, tall, most=MOST_OUT[pose.stance])
    off = arms_off(points, pose.moments, tall)
    if off is None and feet is made.feet:
        return made
    return replace(made, feet=feet, off=pose.off if off is None else pose.off + off)


def _eased(points: FloatArray, pose: Pose, *, everywhere: bool) -> Pose:
    """Return the pose with feet pitched where an ankle would bend too far: the heel comes up, or the toes do; toes of
    feet that were raised bend anew ``everywhere``."""
    feet: list[FootTrack] = []
    for side, foot in zip(("left", "right"), pose.feet, strict=True):
        shank = points[:, JOINT[f"{side}_knee"], :] - points[:, JOINT[f"{side}_ankle"], :]
        flexed = np.pi / 2 - np.radians(angle_deg(foot.ball - foot.heel, shank))
        change = np.maximum(-flexed - ANKLE_DOWN, 0.0) - np.maximum(flexed - ANKLE_UP, 0.0)
        feet.append(repitched(foot, change, pose.body) if everywhere or change.any() else foot)
    return pose if feet == list(pose.feet) else replace(pose, feet=(feet[0], feet[1]))


def _leaning_back(points: FloatArray, pose: Pose) -> Pose:
    """Return the pose with the trunk leaning less forward where a hip would bend too far."""
    spine = points[:, JOINT["neck"], :] - points[:, JOINT["pelvis"], :]
    bent = [
        180.0 - angle_deg(spine, points[:, JOINT[f"{side}_knee"], :] - points[:, JOINT[f"{side}_hip"], :])
        for side in ("left", "right")
    ]
    more = np.radians(np.maximum(np.maximum(*bent) - HIP_DEG, 0.0))
    if not more.any():
        return pose
    trunk = pose.trunk.copy()
    trunk[:, 0] -= calm(more, samples(pose, CALM_COUNTS))
    return replace(pose, trunk=trunk)


def _toward_support(short: FloatArray, pose: Pose) -> Pose:
    """Return the pose with the trunk leaning as far towards a support as the hands that hold it need."""
    if not holds(pose.chair):
        return pose
    palms = [_held_share(keys, pose.moments) * short[:, index] for index, keys in enumerate(pose.hands)]
    if not max(palm.max() for palm in palms):
        return pose
    trunk = pose.trunk.copy()
    trunk[:, 0] += LEANS * calm(np.maximum(*palms), samples(pose, CALM_COUNTS)) / pose.body.trunk_m
    return replace(pose, trunk=trunk)


def _held_share(keys: Sequence[HandKey], moments: FloatArray) -> FloatArray:
    """Return 0 to 1: how much of a hand is on the support, less while it comes there or leaves it."""
    index, time = spans([k.start for k in keys], [k.end for k in keys], moments)
    on = np.array([float(k.parent == "support") for k in keys])
    before = on[np.maximum(index - 1, 0)]
    held: FloatArray = before + (on[index] - before) * share(time)
    return held


def _standing_pelvis(pose: Pose, place: FloatArray) -> FloatArray:
    body = pose.body
    share = np.stack([1 - pose.weight, pose.weight], axis=-1)
    rise = sum(share[:, i] * np.clip(foot.ankle[:, 1] - body.ankle_m, 0.0, None) for i, foot in enumerate(pose.feet))
    tall = body.ankle_m + SOFT_KNEE * body.leg_m + rise - pose.trunk[:, 3] + _breath(pose) * 0.002
    pelvis = np.stack([place[:, 0], tall, place[:, 1]], axis=-1)
    for sign, foot in zip((-1.0, 1.0), pose.feet, strict=True):
        hip = pelvis + sign * body.half_hips_m * rightward(pose.facing)
        level = np.hypot(hip[:, 0] - foot.ankle[:, 0], hip[:, 2] - foot.ankle[:, 2])
        most = np.sqrt(np.maximum((LONGEST_LEG * body.leg_m) ** 2 - level**2, 0.01)) + foot.ankle[:, 1]
        pelvis[:, 1] = _lower(pelvis[:, 1], most)
    return pelvis


def _lower(a: FloatArray, b: FloatArray, soft: float = 0.012) -> FloatArray:
    """Return the smaller of two heights, rounded where they meet, never above either."""
    mean: FloatArray = (a + b - np.sqrt((a - b) ** 2 + soft**2)) / 2
    return mean


def _seated_pelvis(pose: Pose) -> FloatArray:
    flat = column(pelvis_x(pose.body) + pose.trunk[:, 3]) * ahead(pose.facing)
    flat[:, 1] = pose.body.knee_height_m
    return flat


def _breath(pose: Pose) -> FloatArray:
    wave: FloatArray = np.sin(2 * np.pi * pose.moments / BREATH_COUNTS)
    return wave


def _set_all(points: FloatArray, miss: FloatArray, pose: Pose, pelvis: FloatArray, arms: Arms) -> None:
    body, n = pose.body, len(pose.moments)
    forward, right, turned = (pose.trunk[:, i] for i in range(3))
    hips = leaning(pose.facing, forward=np.zeros(n), right=-0.3 * right - _hip(pose), turned=np.zeros(n))
    lean = np.radians(3.0 if pose.stance == "standing" else 1.0) + forward + 0.004 * _breath(pose)
    axes = leaning(pose.facing, forward=lean, right=right, turned=turned)
    shrug = column(0.003 * _breath(pose)) * np.ones(2)
    trunk = Trunk(pelvis, hips, axes, shrug)
    set_trunk(points, trunk, _head(pose), body)
    for index, (side, foot) in enumerate(zip(("left", "right"), pose.feet, strict=True)):
        miss[:, index] = set_leg(points, side, foot, pose.facing, body)
    arms.set_(points, trunk, pose.feet, pose.off, pose.facing)


def _hip(pose: Pose) -> FloatArray:
    """Return how far the pelvis drops on the free side of a standing dancer [rad]."""
    return HIP_DROP * (2 * pose.weight - 1) if pose.stance == "standing" else np.zeros(len(pose.moments))


def _head(pose: Pose) -> FloatArray:
    return leaning(pose.facing, forward=0.3 * pose.trunk[:, 0], right=0.35 * pose.trunk[:, 1], turned=pose.gaze)


def samples(pose: Pose, counts: float) -> int:
    """Return how many samples a stretch of counts has, one at least."""
    return max(1, round(counts / float(pose.moments[1] - pose.moments[0])))
