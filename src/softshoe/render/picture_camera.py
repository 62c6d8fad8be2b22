"""The camera: room points to screen points, with mild perspective.

It stands a little above the chest of a seated dancer and looks level (its picture is shifted, not tilted, so that
upright things stay upright). Screen x grows to the dancer's right in both views: seen from behind that is how it looks,
and facing the viewer it makes the figure a mirror image. What is nearer lies lower on the floor and is larger.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray
    from softshoe.teach.lesson import View

DISTANCE_M = 4.0
HEIGHT_M = 1.55


@dataclass(frozen=True, slots=True)
class Camera:
    """Where the picture stands: ``scale`` is pixels a metre at the aim, ``floor_y`` the screen height of the floor
    there, ``centre_x`` its screen x; ``aim_x_m`` and ``aim_z_m`` the room point (forward, right) it looks at."""

    view: View
    scale: float
    centre_x: float
    floor_y: float
    aim_x_m: float = 0.0
    aim_z_m: float = 0.0

    def project(self, points_m: FloatArray) -> FloatArray:
        """Return screen points for room points (n, 3): shape (n, 4) of x [px], y [px], nearness [m], size [px a metre].

        Nearness is 0 at the aim and grows towards the viewer.
        """
        import numpy as np

        sign = 1.0 if self.view == "mirror" else -1.0
        near = sign * (points_m[:, 0] - self.aim_x_m)
        size = self.scale * DISTANCE_M / np.maximum(DISTANCE_M - near, 0.5)
        horizon_y = self.floor_y - self.scale * HEIGHT_M
        x = self.centre_x + size * (points_m[:, 2] - self.aim_z_m)
        y = horizon_y + size * (HEIGHT_M - points_m[:, 1])
        screen: FloatArray = np.stack([x, y, near, size], axis=1)
        return screen


def framed(points_m: FloatArray, *, view: View, left: float, top: float, right: float, bottom: float) -> Camera:
    """Return the camera that holds all these points (n, 3) inside a box of the page [px], as large as it can.

    The picture is centred on the middle of what is shown; the floor nearest to the viewer lies on the box's bottom.
    """
    import numpy as np

    aim_z = float(points_m[:, 2].min() + points_m[:, 2].max()) / 2
    aim_x = float(np.median(points_m[:, 0]))
    unit = Camera(view, 1.0, 0.0, 0.0, aim_x, aim_z).project(points_m)
    x, y = unit[:, 0], unit[:, 1]
    width, height = float(x.max() - x.min()), float(y.max() - y.min())
    scale = min((right - left) / max(width, 0.3), (bottom - top) / max(height, 0.3))
    centre = (left + right) / 2 - scale * float(x.min() + x.max()) / 2
    return Camera(view, scale, centre, bottom - scale * float(y.max()), aim_x, aim_z)
