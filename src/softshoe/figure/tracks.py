"""Tracks: keys sampled at all moments at once; between keys the movement is minimum-jerk."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.body import ANKLE, BALL
from softshoe.figure.minjerk import bump, leaning_bump, share, when
from softshoe.figure.skeleton import FootTrack, ahead, column, rightward

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray
    from softshoe.figure.pose import BodyKey, FootKey, Lead, NumberKey, Swing

    Indexes = NDArray[np.intp]
    Frame = tuple[FloatArray, FloatArray]


LOOK, LOOK_AHEAD = np.radians(11.0), np.radians(28.0)  # how far the head turns; design values
STAYS_M = 0.004  # a foot whose point moves less than this stays where it is


def spans(starts: Sequence[float], ends: Sequence[float], moments: FloatArray) -> tuple[Indexes, FloatArray]:
    """Return which key is under way or held at each moment, and the share of its time that has passed."""
    begin, end = np.asarray(starts), np.asarray(ends)
    index = np.maximum(np.searchsorted(begin, moments, side="right") - 1, 0)
    length = np.maximum(end - begin, 1e-9)
    return index, np.clip((moments - begin[index]) / length[index], 0.0, 1.0)


def number_track(keys: Sequence[NumberKey], moments: FloatArray) -> FloatArray:
    """Return the number at each moment."""
    index, time = spans([k.start for k in keys], [k.end for k in keys], moments)
    values = np.array([k.value for k in keys])
    before = values[np.maximum(index - 1, 0)]
    track: FloatArray = before + (values[index] - before) * share(time)
    return track


def ordered(keys: Sequence[NumberKey] | Sequence[BodyKey]) -> tuple[list[float], list[float]]:
    """Return starts and ends in which no key begins before the last is over."""
    starts: list[float] = []
    ends: list[float] = []
    for key in keys:
        start = max(key.start, ends[-1]) if ends else key.start
        starts.append(start)
        ends.append(max(key.end, start))
    return starts, ends


def body_track(keys: Sequence[BodyKey], moments: FloatArray) -> FloatArray:
    """Return (n, 4): leaning forward, leaning right, turned right [rad], sunk [m]."""
    index, time = spans(*ordered(keys), moments)
    values = np.array([(k.forward, k.right, k.turned, k.sink_m) for k in keys])
    before = values[np.maximum(index - 1, 0)]
    track: FloatArray = before + (values[index] - before) * column(share(time))
    return track


def _sole(yaw: FloatArray, pitch: FloatArray) -> FloatArray:
    """Return the unit vector from heel to ball."""
    level = ahead(yaw)
    sole: FloatArray = level * column(np.cos(pitch))
    sole[..., 1] += np.sin(pitch)
    return sole


def foot_track(keys: Sequence[FootKey], moments: FloatArray, body: Body) -> FootTrack:
    """Return one foot at all moments. It never goes under the floor; the toes bend where the ball bears."""
    index, time = spans([k.start for k in keys], [k.end for k in keys], moments)
    last = np.maximum(index - 1, 0)
    fields = ("spot", "yaw", "pitch", "lift_m", "droop", "ring_m", "ring_side", "ring_yaw", "knee", "firm")
    column_of = {name: np.array([getattr(k, name) for k in keys]) for name in fields}
    column_of["round"] = np.array([when(k.peak) for k in keys])
    column_of["high"] = np.array([0.5 ** (1 / k.late) for k in keys])
    point = np.array([k.point for k in keys])
    way = share(time)
    spot, rise = column_of["spot"][index], leaning_bump(time, column_of["high"][index])

    def blend(name: str) -> FloatArray:
        values = column_of[name]
        mixed: FloatArray = values[last] + (values[index] - values[last]) * way
        return mixed

    shift = (spot - column_of["spot"][last]) * body.foot_m
    begin = point[last] + column(shift) * _sole(column_of["yaw"][last], column_of["pitch"][last])
    begin[..., 1] = np.maximum(begin[..., 1], 0.0)
    at = begin + (point[index] - begin) * column(way)
    goes = (np.linalg.norm(point[index] - begin, axis=-1) > STAYS_M) | (column_of["ring_m"][index] > 0)
    firm = blend("firm") * np.where(goes, np.clip(1 - np.minimum(way, 1 - way) / 0.004, 0.0, 1.0), 1.0)
    at[..., 1] += column_of["lift_m"][index] * rise
    at += np.array([k.bulge for k in keys])[index] * column(leaning_bump(time, column_of["round"][index]))
    at += _ring(column_of, index, way)
    return _built(at, spot, blend("yaw"), blend("pitch") + column_of["droop"][index] * rise, body, blend("knee"), firm)


def _ring(column_of: Mapping[str, FloatArray], index: Indexes, way: FloatArray) -> FloatArray:
    radius, yaw = column_of["ring_m"][index], column_of["ring_yaw"][index]
    forward, out = np.sin(2 * np.pi * way), 1 - np.cos(2 * np.pi * way)
    circle: FloatArray = column(radius * forward) * ahead(yaw)
    circle += column(radius * out * column_of["ring_side"][index]) * rightward(yaw)
    return circle


def _built(
    at: FloatArray, spot: FloatArray, yaw: FloatArray, pitch: FloatArray, body: Body, knee: FloatArray, firm: FloatArray
) -> FootTrack:
    sole = _sole(yaw, pitch)
    heel = at - column(spot * body.foot_m) * sole
    ball = heel + BALL * body.foot_m * sole
    tip = (1 - BALL) * body.foot_m
    bend = -np.arcsin(np.clip(ball[..., 1] / tip, 0.0, 1.0))
    toe = ball + tip * _sole(yaw, np.where(pitch < 0, np.maximum(pitch, bend), pitch))
    under = np.minimum(np.minimum(heel[..., 1], ball[..., 1]), toe[..., 1])
    lifted = np.zeros_like(heel)
    lifted[..., 1] = np.maximum(-under, 0.0)
    normal = -ahead(yaw) * column(np.sin(pitch))
    normal[..., 1] += np.cos(pitch)
    ankle = heel + ANKLE * body.foot_m * sole + body.ankle_m * normal
    air = np.clip(1 - under / 0.02, 0.0, 1.0)
    return FootTrack(heel + lifted, ball + lifted, toe + lifted, ankle + lifted, yaw, pitch, spot, knee, firm * air)


def repitched(foot: FootTrack, change: FloatArray, body: Body) -> FootTrack:
    """Return the foot pitched by more (toes up) about what touches the floor: the heel of a lifted toe, else the ball;
    in the air about the ankle."""
    spot = np.where(foot.pitch > 0.02, 0.0, np.maximum(foot.spot, BALL))
    spot = np.where(np.minimum(foot.heel[:, 1], foot.toe[:, 1]) > STAYS_M, ANKLE, spot)
    at = foot.heel + column(spot * body.foot_m) * _sole(foot.yaw, foot.pitch)
    change = np.where(foot.pitch > 0.02, np.maximum(change, -foot.pitch), change)
    return _built(at, spot, foot.yaw, foot.pitch + change, body, foot.knee, foot.firm)


def pulse_track(keys: Sequence[NumberKey], moments: FloatArray) -> FloatArray:
    """Return 0 to 1 (n,): a soft knee as the weight comes over a foot, once a key."""
    track = np.zeros(len(moments))
    for key in keys[1:]:
        start = key.start + 0.4 * (key.end - key.start)
        low, high = np.searchsorted(moments, [start, key.end + 0.25])
        track[low:high] = np.maximum(track[low:high], bump((moments[low:high] - start) / (key.end + 0.25 - start)))
    return track


def gaze_track(leads: FloatArray, facing: FloatArray, *, per_count: int) -> FloatArray:
    """Return how far the head looks to the right (n,) [rad]: a little to the side that leads, and ahead into a turn."""
    side = LOOK * (np.maximum(leads[:, 1], leads[:, 3]) - np.maximum(leads[:, 0], leads[:, 2]))
    width = max(per_count, 1)
    window = np.hanning(width + 2)[1:-1]
    padded = np.pad(side, width, mode="edge")
    calm = np.convolve(padded, window / window.sum(), mode="same")[width:-width]
    coming = np.append(facing[width // 5 :], np.full(width // 5, facing[-1]))
    gaze: FloatArray = calm + np.clip(coming - facing, -LOOK_AHEAD, LOOK_AHEAD)
    return gaze


def lead_track(leads: Sequence[Lead], moments: FloatArray) -> FloatArray:
    """Return (n, 4): how much each limb leads, 0 to 1."""
    track = np.zeros((len(moments), 4))
    for lead in leads:
        low, high = np.searchsorted(moments, [lead.start - 0.1, lead.end + 0.1])
        near = moments[low:high]
        rise = share((near - lead.start) / max((lead.at - lead.start) * 0.3, 1e-6))
        fall = 1 - share((near - lead.at) / max(lead.end - lead.at, 1e-6))
        track[low:high, lead.limb] = np.maximum(track[low:high, lead.limb], rise * fall)
    return track


def _circle(turn: FloatArray, side: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    return 0.2 * np.sin(turn), np.cos(turn), side * np.sin(turn)


def _lasso(turn: FloatArray, side: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    return np.cos(turn), 0.1 * np.sin(turn), side * np.sin(turn)


def _roll(turn: FloatArray, side: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    phase = turn + (0.0 if side > 0 else np.pi)
    return np.sin(phase), np.cos(phase), 0.0 * turn


def _wave(turn: FloatArray, _side: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    return 0.0 * turn, -0.15 * np.cos(turn / 2) ** 2, np.cos(turn / 2)


def _shake(turn: FloatArray, side: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    return 0.4 * np.sin(6 * turn), np.sin(4 * turn), 0.6 * side * np.cos(4 * turn)


def _walk(turn: FloatArray, side: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    forward = -np.cos(turn / 2)
    return forward, 0.35 * np.abs(forward), -0.15 * side * forward


CURVES = {"circle": _circle, "lasso": _lasso, "roll": _roll, "wave": _wave, "shake": _shake, "swing": _walk}


def swing_track(swings: Sequence[Swing], moments: FloatArray, *, hand: str) -> FloatArray:
    """Return (n, 3): how far a hand is carried off by its swings, forward, up and right in the trunk's frame [m]."""
    track = np.zeros((len(moments), 3))
    side = 1.0 if hand == "right" else -1.0
    for swing in swings:
        if swing.hand != hand:
            continue
        low, high = np.searchsorted(moments, [swing.begin - 0.45, swing.end])
        near = moments[low:high] - swing.begin
        size = swing.size_m * share((near + 0.45) / 0.45) * share((swing.end - moments[low:high]) / 0.45)
        track[low:high] += column(size) * np.stack(CURVES[swing.kind](2 * np.pi * near, side), axis=-1)
    return track
