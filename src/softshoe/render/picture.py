"""A picture of the figure at one moment: floor, chair, body, what bears, and where the leading limb goes.

``figure_marks`` is what films draw frame by frame; ``svg_of`` is the same picture standing alone for sheets.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import Frames
from softshoe.render.picture_arrows import arrow_marks
from softshoe.render.picture_camera import Camera, rig_for
from softshoe.render.picture_chair import chair_items
from softshoe.render.picture_figure import Spot, figure_items
from softshoe.render.picture_ground import floor_marks, floor_spots, ground_marks
from softshoe.render.stage_svg import svg

if TYPE_CHECKING:
    from softshoe.figure.motion import Motion, Support
    from softshoe.render.picture_camera import Seen
    from softshoe.render.picture_figure import Item
    from softshoe.render.stage import Mark

AHEAD_COUNTS = 0.34
ON_PLATES = -7.6  # nearness of what is drawn on the footplates of a wheelchair
BEFORE_COUNTS, LEADING_COUNTS = 0.6, 0.3


def figure_marks(
    frames: Frames, camera: Camera, motion: Motion, *, travels: bool = True, came: bool = False
) -> list[Mark]:
    """Return the dancer at the first of two frames; the second tells where leading limbs go (``came``: come from).

    Under one who stands and ``travels`` the floor has spots."""
    points = frames.points_m[0]
    spots: list[Spot] = [(s[0], s[1], s[2], s[3]) for s in camera.project(points).tolist()]
    bearing = (float(frames.bearing[0, 0]), float(frames.bearing[0, 1]))
    shapes = frames.shape(0, 0), frames.shape(0, 1)
    items = figure_items(spots, points, bearing, view=camera.view, seated=motion.stance == "seated", shapes=shapes)
    if motion.chair is not None:
        items += chair_items(motion.chair, camera)
    marks = floor_spots(camera) if travels and motion.stance == "standing" else []
    plate_m = motion.chair.plate_m if motion.chair is not None else 0.0
    below = ground_marks(points, bearing, camera, ground_m=plate_m)
    if plate_m:
        items.append((ON_PLATES, below))
    else:
        marks += below
    marks += [mark for _, part in sorted(items, key=_nearness) for mark in part]
    return marks + arrow_marks(spots, points, frames.points_m[1], frames.active[0], camera, came=came)


def support_of(motion: Motion) -> Support:
    """Return what supports the dancer of a motion."""
    return motion.chair.kind if motion.chair is not None else "free"


def _nearness(item: Item) -> float:
    return item[0]


def svg_of(
    motion: Motion, moment: float, *, view: Seen = "mirror", width: int = 360, height: int = 420, alt: str = ""
) -> str:
    """Return the figure at one moment [counts from 0] as an SVG that stands alone, with ``alt`` for screen readers.

    Arrows show the way the limbs came to this moment. All pictures of one motion have one scale.
    """
    rig = rig_for(motion, (14.0, 10.0, width - 14.0, height - 28.0), view=view, follow=1.0)
    floor = floor_marks(rig, width=width * 0.94, bottom=height - 8.0, centre_x=width / 2)
    dancer = figure_marks(frames_with_before(motion, moment), rig.at(moment), motion, travels=False, came=True)
    return svg([*floor, *dancer], width=width, height=height, alt=alt)


def frames_with_before(motion: Motion, moment: float) -> Frames:
    """Return the frame of a moment and the one a little before it; what led on the way is what leads."""
    frames = motion.at(np.array([moment, moment - BEFORE_COUNTS]))
    points, active = frames.points_m.copy(), motion.at(np.full(2, moment - LEADING_COUNTS)).active
    if moment < BEFORE_COUNTS:  # the way to the first count lies before the motion: it is come to from rest
        from softshoe.figure.move import move

        points[1] = move((), counts=1.0, stance=motion.stance, support=support_of(motion)).frames.points_m[0]
        active = frames.active
    return Frames(points, frames.bearing, active, frames.hands)
