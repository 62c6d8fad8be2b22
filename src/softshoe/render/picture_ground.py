"""The ground of a picture: the pale floor, spots that show travel, a shadow and a ground bar under each foot."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.figure.motion import JOINT
from softshoe.render.look import guise_now, palette
from softshoe.render.picture_figure import SIDES, Spot, between
from softshoe.render.stage import Capsule, Mark, Polygon, arc_points

if TYPE_CHECKING:
    from softshoe.figure.motion import FloatArray
    from softshoe.render.look import Guise
    from softshoe.render.picture_camera import Camera, Rig

BAR_M, BAR_THICK_M = 0.150, 0.026
FLOOR_BEHIND_M = 0.45
SPOT_M = 0.5
ENDS = [JOINT[f"{side}_{end}"] for side in SIDES for end in ("heel", "toe")]
ROUND = arc_points(0.0, 0.0, 1.0, start_deg=0, end_deg=360, steps=20)[:-1]


def floor_marks(rig: Rig, *, width: float, bottom: float, centre_x: float | None = None) -> list[Mark]:
    """Return the floor: a pale round field, ``width`` wide, from behind all that is danced to ``bottom`` [px]; its
    middle is under the dancer, unless ``centre_x`` says where."""
    import numpy as np

    camera = replace(rig.camera, aim_x_m=0.0, aim_z_m=0.0)
    far = rig.behind_m + FLOOR_BEHIND_M
    at = {"mirror": [-far, 0.0, 0.0], "behind": [far, 0.0, 0.0], "side": [0.0, 0.0, -far]}[camera.view]
    far_y = float(camera.project(np.array([at]))[0, 1])
    middle, high = (far_y + bottom) / 2, (bottom - far_y) / 2
    round_ = arc_points(0.0, 0.0, 1.0, start_deg=0, end_deg=360, steps=72)[:-1]
    centre_x = camera.centre_x if centre_x is None else centre_x
    points = tuple((centre_x + x * width / 2, middle + y * high) for x, y in round_)
    return [Polygon(points, palette()["mist"])]


def floor_spots(camera: Camera) -> list[Mark]:
    """Return small spots half a metre apart on the floor near the aim, by which travel is seen."""
    return [*_spots(camera, guise_now())]


@lru_cache(maxsize=16)
def _spots(camera: Camera, _guise: Guise) -> list[Mark]:
    import numpy as np

    near_x, near_z = round(camera.aim_x_m / SPOT_M), round(camera.aim_z_m / SPOT_M)
    grid = [(x, z) for x in range(near_x - 2, near_x + 3) for z in range(near_z - 3, near_z + 4)]
    inside = [
        (x * SPOT_M, 0.0, z * SPOT_M)
        for x, z in grid
        if ((x * SPOT_M - camera.aim_x_m) / 0.62) ** 2 + ((z * SPOT_M - camera.aim_z_m) / 1.0) ** 2 < 1.0
    ]
    spots = camera.project(np.array(inside)).tolist() if inside else []
    return [_flat(x, y, 0.020 * size, 0.008 * size, palette()["rule"]) for x, y, _, size in spots]


def _flat(x: float, y: float, wide: float, high: float, fill: str) -> Mark:
    return Polygon(tuple((x + px * wide, y + py * high) for px, py in ROUND), fill)


def ground_marks(
    points: FloatArray, bearing: tuple[float, float], camera: Camera, *, ground_m: float = 0.0
) -> list[Mark]:
    """A soft shadow under each foot, and a thick bar as long as the share it bears; ``ground_m``: their height."""
    ends = points[ENDS].copy()
    ends[:, 1] = ground_m
    spots = [(s[0], s[1], s[2], s[3]) for s in camera.project(ends).tolist()]
    guise = guise_now()
    return [mark for k, bears in enumerate(bearing) for mark in _under(spots[2 * k], spots[2 * k + 1], bears, guise)]


@lru_cache(maxsize=16)
def _under(heel: Spot, toe: Spot, bears: float, _guise: Guise) -> list[Mark]:
    middle = between(heel, toe, 0.6)
    marks = [_shadow(middle, abs(toe[1] - heel[1]))]
    if bears > 0.05:
        half, thick = BAR_M * middle[3] * bears / 2, BAR_THICK_M * middle[3] / 2
        y = max(heel[1], toe[1]) + 2.2 * thick
        x = between(heel, toe, 0.8)[0]
        marks.append(Capsule(x - half, y, thick, x + half, y, thick, palette()["ink"]))
    return marks


def _shadow(spot: Spot, long_px: float) -> Mark:
    wide, high = 0.085 * spot[3], max(0.03 * spot[3], long_px * 0.6)
    return _flat(spot[0], spot[1], wide, high, palette()["shadow"])
