"""The dancer as she was drawn last, and what of her nobody could see to have moved since."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import Frames
from softshoe.render.picture_arrows import LEADS

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray, HandShape
    from softshoe.render.picture_camera import Camera

SEEN_PX, SEEN_BEARING = 0.75, 0.06  # what moves or fills less since it was drawn last is not drawn anew
FROM_ABOVE = 0.7  # how large a length towards the viewer is seen on the map beside her, against one across the picture


@dataclass(frozen=True, slots=True, eq=False)
class Pose:
    """Joints in the room, on the screen and towards the viewer [px], what bears, what leads, the camera, and
    the shapes of the hands."""

    points_m: FloatArray
    spots_px: FloatArray
    bearing: FloatArray
    leads: FloatArray
    camera: Camera
    shapes: tuple[HandShape, HandShape]

    def frames(self, frames: Frames) -> Frames:
        """These frames, with the joints of this pose."""
        points = np.stack([self.points_m, frames.points_m[1]])
        return Frames(points, self.bearing[None], frames.active, frames.hands)


def pose_after(frames: Frames, camera: Camera, before: Pose | None, *, scale: float) -> Pose:
    """Return the pose to be drawn: every joint stays where it was drawn last, unless somebody could see that it moved;
    ``before`` itself where nobody could see a difference at all."""
    points, bearing, leads = frames.points_m[0], frames.bearing[0], frames.active[0] > LEADS
    shapes = frames.shape(0, 0), frames.shape(0, 1)
    spots = camera.project(points)[:, :3] * (scale, scale, FROM_ABOVE * camera.scale * scale)
    if before is not None:
        moved = np.abs(spots - before.spots_px).max(axis=1) >= SEEN_PX
        filled = np.abs(bearing - before.bearing) >= SEEN_BEARING
        if not (moved.any() or filled.any() or (leads != before.leads).any() or shapes != before.shapes):
            return before
        if camera == before.camera:
            points = np.where(moved[:, None], points, before.points_m)
            spots = np.where(moved[:, None], spots, before.spots_px)
            bearing = np.where(filled, bearing, before.bearing)
    return Pose(points, spots, bearing, leads, camera, shapes)
