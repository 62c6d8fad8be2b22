"""A motion: where every joint is, over counts.

Frames are ISB: X forward, Y up, Z to the dancer's right, metres; the dancer begins facing +X at the origin of the room
(seated: the chair's seat centre above the origin). Counts here are moments from 0: count 1 is 0.0.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]

Stance = Literal["standing", "seated"]
Support = Literal["free", "chair back", "frame", "chair", "wheelchair"]
"""What holds the dancer besides her feet: nothing, a chair back or a walking frame that her hands hold, or a seat."""

JOINTS = (
    "pelvis", "chest", "neck", "head", "crown", "nose",
    "left_shoulder", "left_elbow", "left_wrist", "left_fingertip", "left_thumb",
    "right_shoulder", "right_elbow", "right_wrist", "right_fingertip", "right_thumb",
    "left_hip", "left_knee", "left_ankle", "left_heel", "left_toe",
    "right_hip", "right_knee", "right_ankle", "right_heel", "right_toe",
    "left_ball", "right_ball",
)  # fmt: skip
"""Heel, ball and toe lie on the sole of the shoe: on the floor they are at height 0. The toes bend at the ball."""
HAND_SHAPES = ("soft", "flat", "open", "fist", "point", "thumb")
"""How hands are held: at ease, fingers together, fingers spread, closed, one finger out, the thumb out."""
SHAPE_STEPS = 8  # a hand goes from one shape to the next in so many steps
JOINT = {name: index for index, name in enumerate(JOINTS)}


class HandShape(NamedTuple):
    """How a hand is held: from which of ``HAND_SHAPES`` it comes, to which it goes, and the share of the way gone."""

    before: str = "soft"
    now: str = "soft"
    gone: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Chair:
    """The chair of a figure, metres: seat height over the floor, depth, width, back over the seat.

    ``x_m``, ``z_m`` is where its seat's middle stands in the room, ``yaw_deg`` where it faces: a chair stays where it
    is. ``plate_m`` is how high the footplates of a wheelchair are. Of a walking frame ``seat_m`` is the height of its
    grips.
    """

    seat_m: float
    depth_m: float
    width_m: float
    back_m: float
    kind: Support = "chair"
    x_m: float = 0.0
    z_m: float = 0.0
    yaw_deg: float = 0.0
    plate_m: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Frames:
    """Joint points at n moments: ``points_m`` (n, len(JOINTS), 3); ``bearing`` (n, 2) shares 0 to 1 that the left and
    the right foot bear (seated: how firmly the foot is on the floor); ``active`` (n, 4) 0 to 1 how much the left foot,
    right foot, left hand, right hand are leading the present count; ``hands`` (n, 2, 3) how the left and the right
    hand are held: the indexes of ``HAND_SHAPES`` they come from and go to, and the share of the way (None: at ease)."""

    points_m: FloatArray
    bearing: FloatArray
    active: FloatArray
    hands: FloatArray | None = None

    def shape(self, frame: int, hand: int) -> HandShape:
        """Return how a hand (0 left, 1 right) is held in a frame, in a few steps of its way."""
        if self.hands is None:
            return HandShape()
        before, now, gone = self.hands[frame, hand].tolist()
        share = round(gone * SHAPE_STEPS) / SHAPE_STEPS
        came, goes = HAND_SHAPES[int(before)], HAND_SHAPES[int(now)]
        if came == goes or share in (0.0, 1.0):
            only = came if share == 0.0 else goes
            return HandShape(only, only)
        return HandShape(came, goes, share)


@dataclass(frozen=True, slots=True, eq=False)
class Motion:
    """One motion sampled evenly at ``per_count`` samples a count from moment 0 to ``counts`` (both ends kept)."""

    stance: Stance
    counts: float
    per_count: int
    frames: Frames
    facing_deg: FloatArray
    chair: Chair | None

    def at(self, moments: FloatArray) -> Frames:
        """Return the frames at these moments [counts from 0], clipped to the motion; straight between samples."""
        where = np.clip(np.asarray(moments, np.float64), 0.0, self.counts) * self.per_count
        low = np.minimum(where.astype(np.intp), len(self.facing_deg) - 2)
        part = where - low
        whole = self.frames
        hands = None if whole.hands is None else whole.hands[np.round(where).astype(np.intp)]
        points, bearing, active = (_between(a, low, part) for a in (whole.points_m, whole.bearing, whole.active))
        return Frames(points, bearing, active, hands)


def _between(samples: FloatArray, low: NDArray[np.intp], part: FloatArray) -> FloatArray:
    share = part.reshape(-1, *([1] * (samples.ndim - 1)))
    mixed: FloatArray = samples[low] * (1 - share) + samples[low + 1] * share
    return mixed
