"""The camera: room points to screen points, with mild perspective.

It stands a little above the chest of a seated dancer and looks level (its picture is shifted, not tilted, so that
upright things stay upright). Screen x grows to the dancer's right in both views: seen from behind that is how it looks,
and facing the viewer it makes the figure a mirror image. From the side the
dancer looks to the right. What is nearer lies lower on the floor and is larger.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import TYPE_CHECKING, Literal

from softshoe.figure.motion import JOINT
from softshoe.figure.supports import bars

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray, Motion

    Box = tuple[float, float, float, float]
    Place = tuple[float, float]

Seen = Literal["mirror", "behind", "side"]
DISTANCE_M = 4.0
HEIGHT_M = 1.55
SMOOTH_COUNTS = 4.0
FOLLOW_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
LARGE_ENOUGH = 0.82  # of the size the dancer has when the camera follows her wholly
HAIR_M = 0.10
RIM_M = ((0.36, 0.0, -0.3), (0.36, 0.0, 0.3), (-0.3, 0.0, 0.0), (0.0, 0.5, -0.42), (0.0, 0.5, 0.42))  # floor and elbows


@dataclass(frozen=True, slots=True)
class Camera:
    """Where the picture stands: ``scale`` is pixels a metre at the aim, ``floor_y`` the screen height of the floor
    there, ``centre_x`` its screen x; ``aim_x_m`` and ``aim_z_m`` the room point (forward, right) it looks at;
    ``yaw_deg`` how far it has gone round that point, clockwise from above."""

    view: Seen
    scale: float
    centre_x: float
    floor_y: float
    aim_x_m: float = 0.0
    aim_z_m: float = 0.0
    yaw_deg: float = 0.0

    def project(self, points_m: FloatArray) -> FloatArray:
        """Return screen points for room points (n, 3): shape (n, 4) of x [px], y [px], nearness [m], size [px a metre].

        Nearness is 0 at the aim and grows towards the viewer.
        """
        import numpy as np

        ahead, right = points_m[:, 0] - self.aim_x_m, points_m[:, 2] - self.aim_z_m
        if self.yaw_deg:
            sine, cosine = sin(radians(self.yaw_deg)), cos(radians(self.yaw_deg))
            ahead, right = ahead * cosine + right * sine, right * cosine - ahead * sine
        near, aside = {"mirror": (ahead, right), "behind": (-ahead, right), "side": (right, ahead)}[self.view]
        size = self.scale * DISTANCE_M / np.maximum(DISTANCE_M - near, 0.5)
        horizon_y = self.floor_y - self.scale * HEIGHT_M
        screen: FloatArray = np.empty((len(points_m), 4))
        screen[:, 0] = self.centre_x + size * aside
        screen[:, 1] = horizon_y + size * (HEIGHT_M - points_m[:, 1])
        screen[:, 2], screen[:, 3] = near, size
        return screen


@dataclass(frozen=True, slots=True, eq=False)
class Rig:
    """A camera that may follow: its aim moves along ``track_m`` (n, 2: forward, right), ``per_count`` points a count.

    ``behind_m`` is how far beyond the aim a foot ever comes."""

    camera: Camera
    track_m: FloatArray
    per_count: int
    behind_m: float

    def at(self, moment: float) -> Camera:
        """Return the camera of a moment [counts from 0]."""
        where = min(max(moment * self.per_count, 0.0), len(self.track_m) - 1.0)
        low = min(int(where), len(self.track_m) - 2)
        forward, right = (self.track_m[low] + (self.track_m[low + 1] - self.track_m[low]) * (where - low)).tolist()
        return replace(self.camera, aim_x_m=forward, aim_z_m=right)


def rig_for(motion: Motion, box: Box, *, view: Seen, follow: float | None = None) -> Rig:
    """Return the rig that holds the whole motion in a box of the page (left, top, right, bottom) [px].

    The camera stands still where that leaves the dancer large enough; else it follows her smoothed path, by no more
    than it needs. ``follow`` from 0 (still) to 1 (the dancer stays in the middle) settles it.
    """
    shares = FOLLOW_SHARES if follow is None else (follow,)
    smooth = smoothed(motion.frames.points_m[:, JOINT["pelvis"], ::2], round(SMOOTH_COUNTS * motion.per_count))
    middle = (smooth.min(axis=0) + smooth.max(axis=0)) / 2
    tracks = [middle + share * (smooth - middle) for share in shares]
    scales = [_fit(motion, track, view, box)[0] for track in tracks]
    chosen = next(k for k, scale in enumerate(scales) if scale >= LARGE_ENOUGH * max(scales))
    scale, centre_x, floor_y = _fit(motion, tracks[chosen], view, box)
    axis, sign = (2, 1.0) if view == "side" else (0, 1.0 if view == "mirror" else -1.0)
    ends = [JOINT[f"{side}_{end}"] for side in ("left", "right") for end in ("heel", "toe")]
    feet = motion.frames.points_m[:, ends, axis]
    behind_m = float((sign * (tracks[chosen][:, axis // 2, None] - feet)).max())
    return Rig(Camera(view, scale, centre_x, floor_y), tracks[chosen], motion.per_count, behind_m)


def _fit(motion: Motion, track_m: FloatArray, view: Seen, box: Box) -> tuple[float, float, float]:
    """Scale, and screen x and y of the floor at the aim, so that body, hair and a rim of floor stay in the box."""
    import numpy as np

    left, top, right, bottom = box
    points = motion.frames.points_m - np.stack([track_m[:, 0], 0 * track_m[:, 0], track_m[:, 1]], axis=1)[:, None, :]
    hair = points[:, [JOINT["crown"]]] + [0.0, HAIR_M, 0.0]
    rim = np.broadcast_to(np.array(RIM_M), (len(points), len(RIM_M), 3))
    around = np.concatenate([points, hair, rim], axis=1).reshape(-1, 3)
    if motion.chair is not None:
        ends = np.array([end for bar in bars(motion.chair) for end in (bar.start, bar.end)])
        aim = np.stack([track_m.min(axis=0), track_m.max(axis=0)])
        stands = [ends - np.array([x, 0.0, z]) for x, z in aim]
        around = np.concatenate([around, *stands])
    unit = Camera(view, 1.0, 0.0, 0.0).project(around)
    low, high = unit[:, :2].min(axis=0), unit[:, :2].max(axis=0)
    scale = min((right - left) / float(high[0] - low[0]), (bottom - top) / float(high[1] - low[1]))
    return scale, (left + right) / 2 - scale * float(low[0] + high[0]) / 2, bottom - scale * float(high[1])


def smoothed(path: FloatArray, reach: int) -> FloatArray:
    """Return a path (n, k) averaged over a soft window of ``reach`` samples to each side, its ends held."""
    import numpy as np

    window = np.hanning(2 * reach + 3)[1:-1]
    held = np.pad(path, ((reach, reach), (0, 0)), mode="edge")
    sides = [np.convolve(held[:, k], window / window.sum(), mode="valid") for k in range(path.shape[1])]
    smooth: FloatArray = np.stack(sides, axis=1)
    return smooth


def moved(now: Camera, then: Camera, *, turn_deg: float, here: Place, there: Place, share: float) -> Camera:
    """Return the camera on its way from ``now`` to the one that will look at the next motion.

    The next motion begins turned by ``turn_deg``; its place ``there`` (forward, right) is the place ``here`` of the
    present one. At ``share`` 1 the picture is that of the next motion's first moment.
    """
    sine, cosine = sin(radians(turn_deg)), cos(radians(turn_deg))
    ahead, right = there[0] - then.aim_x_m, there[1] - then.aim_z_m
    aim = here[0] - (ahead * cosine - right * sine), here[1] - (ahead * sine + right * cosine)

    def between(a: float, b: float) -> float:
        return a + (b - a) * share

    return Camera(
        now.view,
        between(now.scale, then.scale),
        between(now.centre_x, then.centre_x),
        between(now.floor_y, then.floor_y),
        between(now.aim_x_m, aim[0]),
        between(now.aim_z_m, aim[1]),
        share * turn_deg,
    )
