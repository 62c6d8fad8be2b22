"""Arms: from sampled hands and the trunk to elbows, wrists, fingertips; again only where what they go by has moved."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.figure.clear import calm
from softshoe.figure.hand_track import hand_track, in_room
from softshoe.figure.minjerk import share
from softshoe.figure.motion import JOINT
from softshoe.figure.reach import cross, dot, nearest_m, pushed_out, towards, two_bone, unit
from softshoe.figure.skeleton import column, placed, put, upright
from softshoe.figure.supports import holds

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from softshoe.figure.body import Body
    from softshoe.figure.hand_track import HandTrack
    from softshoe.figure.motion import Chair, FloatArray
    from softshoe.figure.pose import HandKey
    from softshoe.figure.skeleton import FootTrack, Trunk

    Frame = tuple[FloatArray, FloatArray]
    Rows = NDArray[np.bool_]

WRIST_DEG, ELBOW_DEG = 62.0, 144.0  # the most a wrist and an elbow are asked to bend; design values
PALM = 0.45  # of the hand from the wrist: where the palm's middle is; memory
PAST, NEAR_M, ROUND_COUNTS = (0.8, -0.1, 0.6), 0.001, 0.06  # round the own shoulder (right hand); design values
SHRUG = 0.02  # of stature: how far a shoulder rises with an arm overhead; design value
FOLLOWS = 0.96  # of its reach: how far down an arm follows a foot; design value
STAYS_M = 1e-7  # what moves less has not moved
SIDES = (("left", -1.0), ("right", 1.0))
OF_ARM = ("elbow", "wrist", "fingertip", "thumb")


class Stood(NamedTuple):
    """What the arms of a round went by: points of all joints (n, joints, 3), trunk, feet, how far hands go off."""

    points: FloatArray
    trunk: Trunk
    balls: tuple[FloatArray, FloatArray]
    off: FloatArray


class HandWay(NamedTuple):
    """Where a hand goes: palm point and the ways of fingers, palm and elbow, and the way past the shoulder (n, 3)."""

    palm: FloatArray
    fingers: FloatArray
    face: FloatArray
    elbow: FloatArray
    past: FloatArray


class Arms:
    """Both arms of one motion. ``short`` (n, 2): how much too far off the hands' places lie [m]."""

    def __init__(
        self,
        body: Body,
        moments: FloatArray,
        hands: Sequence[Sequence[HandKey]],
        swings: Sequence[FloatArray],
        chair: Chair | None,
    ) -> None:
        self.body, self.swings = body, swings
        self.tracks = [hand_track(keys, moments, side=sign) for keys, (_, sign) in zip(hands, SIDES, strict=True)]
        self.loose = [_loose(track) for track in self.tracks]
        self.reach = max(1, round(ROUND_COUNTS / float(moments[1] - moments[0])))
        self.raised = np.zeros((len(moments), 2))
        self.short, self.miss = np.zeros((len(moments), 2)), np.zeros((len(moments), 2))
        self.chair = chair if holds(chair) else None
        self.stood: Stood | None = None

    def set_(
        self, points: FloatArray, trunk: Trunk, feet: tuple[FootTrack, FootTrack], off: FloatArray, facing: FloatArray
    ) -> None:
        """Write both arms, solved anew where what they go by has moved; the others go with the trunk. Shoulders rise
        with hands that are high."""
        stands = Stood(points.copy(), trunk, (feet[0].ball, feet[1].ball), off)
        for index, (side, sign) in enumerate(SIDES):
            moved = self._moved(index, stands)
            if self.stood is not None:
                self._carried(points, index, trunk)
            if moved.any():
                self._solved(points, index, sign, moved, stands, facing)
            shoulder = points[:, JOINT[f"{side}_shoulder"], :]
            shoulder += column(self.raised[:, index]) * trunk.axes[:, 1, :]
        self.stood = stands

    def _moved(self, index: int, now: Stood) -> Rows:
        """Tell (n,) where what a hand goes by has moved otherwise than the pelvis."""
        then = self.stood
        if then is None:
            return np.ones(len(now.points), dtype=bool)
        step = now.trunk.pelvis - then.trunk.pelvis
        moved = _differs(now.off[index], then.off[index])
        if now.trunk.axes is not then.trunk.axes:
            moved |= np.abs(now.trunk.axes - then.trunk.axes).max(axis=(1, 2)) > STAYS_M
        for parent, on in self.loose[index].items():
            if parent == "support":
                moved |= on & _differs(step, np.zeros(3))
            elif parent == "foot":
                moved |= on & _differs(now.balls[index] - step, then.balls[index])
            else:
                side = SIDES[index if parent == "thigh" else 1 - index][0]
                for at in (JOINT[f"{side}_{joint}"] for joint in ("hip", "knee", "ankle")):
                    moved |= on & _differs(now.points[:, at, :] - step, then.points[:, at, :])
        return moved

    def _carried(self, points: FloatArray, index: int, trunk: Trunk) -> None:
        """Let an arm go with the trunk."""
        if self.stood is None:
            return
        step = trunk.pelvis - self.stood.trunk.pelvis
        for joint in OF_ARM:
            points[:, JOINT[f"{SIDES[index][0]}_{joint}"], :] += step

    def _solved(self, points: FloatArray, index: int, sign: float, moved: Rows, now: Stood, facing: FloatArray) -> None:
        near = _widened(moved, 4 * self.reach)
        part, trunk_axes = now.points[near], now.trunk.axes[near]
        track = self.tracks[index].rows(near)
        frames = self._frames(index, part, now, near, facing[near])
        hand = in_room(track, frames, side=sign)
        away = placed(np.zeros(3), trunk_axes, self.swings[index][near])
        palm, fingers = hand.point + away + now.off[index][near], unit(hand.fingers) + 2.0 * away
        shoulder = part[:, JOINT[f"{SIDES[index][0]}_shoulder"], :]
        palm[:, 1] += track.share_of("foot") * self._too_low(palm, shoulder)
        high = share((palm[:, 1] - shoulder[:, 1]) / (0.3 * self.body.stature_m))
        raised = SHRUG * self.body.stature_m * high
        shoulder += column(raised) * trunk_axes[:, 1, :]
        past = unit(placed(np.zeros(3), trunk_axes, np.broadcast_to([PAST[0], PAST[1], sign * PAST[2]], palm.shape)))
        miss, short = _set_arm(part, SIDES[index][0], HandWay(palm, fingers, hand.palm, hand.elbow, past), self)
        core = moved[near]
        self.raised[moved, index], self.miss[moved, index], self.short[moved, index] = (
            raised[core],
            miss[core],
            short[core],
        )
        for joint in OF_ARM:
            at = JOINT[f"{SIDES[index][0]}_{joint}"]
            points[moved, at, :] = part[core, at, :]

    def _too_low(self, palm: FloatArray, shoulder: FloatArray) -> FloatArray:
        """Return how much higher (n,) a palm over a foot must be to be in reach [m]."""
        reach = FOLLOWS * (self.body.arm_m + PALM * self.body.hand_m)
        level = (palm[:, 0] - shoulder[:, 0]) ** 2 + (palm[:, 2] - shoulder[:, 2]) ** 2
        lowest = shoulder[:, 1] - np.sqrt(np.maximum(reach**2 - level, 0.01))
        return np.maximum(lowest - palm[:, 1], 0.0)

    def _frames(
        self, index: int, points: FloatArray, now: Stood, near: Rows, facing: FloatArray
    ) -> Mapping[str, Frame]:
        """Return the frames in which hand keys of these moments are told."""
        side, other = ("left", "right") if index == 0 else ("right", "left")
        axes, level = now.trunk.axes[near], upright(facing)
        shoulder = points[:, JOINT[f"{side}_shoulder"], :]
        made = {"trunk": (now.trunk.pelvis[near], axes), "shoulder": (shoulder.copy(), axes)}
        made |= {"hang": (made["shoulder"][0], level), "foot": (now.balls[index][near], level)}
        for parent, whose in (("thigh", side), ("other thigh", other)):
            if parent in self.loose[index] and self.loose[index][parent][near].any():
                made[parent] = _thigh(points, whose)
        if self.chair is not None:
            origin = np.broadcast_to(np.array([self.chair.x_m, 0.0, self.chair.z_m]), shoulder.shape)
            made["support"] = origin, upright(np.full(len(points), np.radians(self.chair.yaw_deg)))
        return made


def _loose(track: HandTrack) -> dict[str, Rows]:
    """Return the frames that don't go with the trunk in which a hand is told, with where that is (n,)."""
    found = {parent: track.on(parent) for parent in ("thigh", "other thigh", "foot", "support")}
    return {parent: on for parent, on in found.items() if on.any()}


def _differs(a: FloatArray, b: FloatArray) -> Rows:
    far = np.abs(a - b)
    rows: Rows = np.maximum(np.maximum(far[..., 0], far[..., 1]), far[..., 2]) > STAYS_M
    return rows


def _widened(rows: Rows, by: int) -> Rows:
    """Return the rows and so many before and after each."""
    if rows.all():
        return rows
    wide: Rows = np.asarray(np.lib.stride_tricks.sliding_window_view(np.pad(rows, by), 2 * by + 1).any(axis=1), bool)
    return wide


def _thigh(points: FloatArray, side: str) -> Frame:
    hip, knee, ankle = (points[:, JOINT[f"{side}_{name}"], :] for name in ("hip", "knee", "ankle"))
    along = unit(knee - hip)
    shin = ankle - knee
    top = unit(dot(shin, along) * along - shin)
    return hip, np.stack([along, top, cross(along, top)], axis=-2)


def _set_arm(points: FloatArray, side: str, to: HandWay, arms: Arms) -> tuple[FloatArray, FloatArray]:
    """Write elbow to fingertip of one arm; return how far the palm misses its place, and how much too far that is
    (n,) [m]. A hand that would pass too near the shoulder goes round it."""
    body, shoulder = arms.body, points[:, JOINT[f"{side}_shoulder"], :]
    wanted = to.palm - PALM * body.hand_m * unit(to.fingers)
    least = nearest_m(body.upper_arm_m, body.forearm_m, ELBOW_DEG) + NEAR_M
    out = pushed_out(wanted - shoulder, to.past, least)
    wrist = wanted + column(calm(out, arms.reach)) * to.past if out.any() else wanted
    arm = two_bone(
        shoulder, wrist, first_m=body.upper_arm_m, second_m=body.forearm_m, pole=to.elbow, most_bent_deg=ELBOW_DEG
    )
    hand = towards(to.fingers, arm.end_m - arm.middle_m, WRIST_DEG)
    thumb = (1.0 if side == "right" else -1.0) * cross(hand, unit(to.face))
    put(points, f"{side}_elbow", arm.middle_m)
    put(points, f"{side}_wrist", arm.end_m)
    put(points, f"{side}_fingertip", arm.end_m + body.hand_m * hand)
    put(points, f"{side}_thumb", arm.end_m + body.hand_m * (0.42 * hand + 0.3 * unit(thumb)))
    return np.linalg.norm(arm.end_m - wanted, axis=1), arm.short_m
