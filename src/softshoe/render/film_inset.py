"""The inset of a film: the dancer's feet from above on the plan of the room, with the prints of the counts before.

It takes the place of a bare plan: its thick line is the front of the room, its arrow where the dancer looks. Who stays
in her place has a map that stands; whoever travels stays about its middle, and spots half a metre apart pass under her.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import JOINT
from softshoe.render.look import palette
from softshoe.render.look_plan import turn_arc
from softshoe.render.picture_camera import Camera, moved, smoothed
from softshoe.render.picture_floor import (
    feet_marks,
    floor_view,
    front_marks,
    ghost_marks,
    looks_deg,
    looks_marks,
    print_at,
    reach_of,
    support_marks,
)
from softshoe.render.stage import Circle

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.figure.motion import FloatArray, Motion
    from softshoe.render.picture_camera import Box, Place
    from softshoe.render.picture_floor import FloorView
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage import Mark

CLOSEST, FARTHEST = 0.85, 0.56  # pixels a metre, as a share of the inset's width; smaller than the second, it follows
FOLLOWS = 0.60
BEFORE_COUNTS = (3, 2, 1)
INSIDE = 8.0
MOVED_M = 0.05
SMOOTH_COUNTS = 2.0
SPOT_M = 0.5
TURN_M = 0.42


@dataclass(frozen=True, slots=True, eq=False)
class _Map:
    """The map of one motion: its scale and middle, and the dancer's smoothed path where the map follows her."""

    view: FloorView
    track_m: FloatArray | None

    def middle(self, moment: float, per_count: int) -> Place:
        """The point (forward, right) of the motion's own frame that lies in the middle."""
        if self.track_m is None:
            return self.view.forward_m, self.view.right_m
        at = min(max(moment * per_count, 0.0), len(self.track_m) - 1.0)
        low = min(int(at), len(self.track_m) - 2)
        forward, right = (self.track_m[low] + (self.track_m[low + 1] - self.track_m[low]) * (at - low)).tolist()
        return forward, right


class Inset:
    """The floor maps of one film, each made when it is first shown."""

    def __init__(self, motions: Mapping[str, Motion], box: Box) -> None:
        self.box, self._motions = box, motions
        self._maps: dict[str, _Map] = {}
        self._prints: dict[tuple[str, int], list[FloatArray]] = {}

    def still(self, shown: Shown) -> list[Mark]:
        """Return what stands as long as a page does: the field, and the front of the room."""
        return front_marks(self.box, words=True) if shown.motion is not None else []

    def live(self, shown: Shown, points: FloatArray, bearing: tuple[float, float], turn_deg: float) -> list[Mark]:
        """Return what changes: support and earlier prints, the feet of this very moment and where she looks."""
        name = str(shown.motion)
        view, motion = self._view(shown), self._motions[name]
        marks = self._spots(view) if self._map(name).track_m is not None else []
        if motion.chair is not None:
            marks += support_marks(motion.chair, view)
        if shown.beat is not None and shown.beat.motion is not None:  # before she dances nothing came before
            for earlier in self._trail(name, shown.moment):
                marks += ghost_marks(earlier, view)
        if turn_deg:
            marks += self._turn(points, view, turn_deg)
        if motion.stance == "standing":  # who sits stays facing the front
            marks += looks_marks(points, view)
        return [*marks, *feet_marks(points, bearing, view)]

    def _map(self, name: str) -> _Map:
        if name not in self._maps:
            self._maps[name] = self._made(self._motions[name])
        return self._maps[name]

    def _made(self, motion: Motion) -> _Map:
        box, wide = self.box, self.box[2] - self.box[0]
        inner = (box[0] + INSIDE, box[1] + INSIDE, box[2] - INSIDE, box[3] - INSIDE)
        reach = reach_of(motion.frames.points_m, motion.chair)
        view = floor_view(reach, inner, most=CLOSEST * wide)
        if view.scale >= FARTHEST * wide or motion.chair is not None:
            return _Map(view, None)
        path = motion.frames.points_m[:, JOINT["pelvis"], ::2]
        track = smoothed(path, round(SMOOTH_COUNTS * motion.per_count))
        return _Map(replace(view, scale=FOLLOWS * wide), track)

    def _view(self, shown: Shown) -> FloorView:
        """The map of this moment; before another motion begins at once, on its way to lie as that one will."""
        name = str(shown.motion)
        mine, motion = self._map(name), self._motions[name]
        middle, scale = mine.middle(shown.moment, motion.per_count), mine.view.scale
        facing_deg = float(shown.beat.facing_deg) if shown.beat is not None else 0.0
        then, beat = shown.then, shown.beat
        if shown.gone and then is not None and then.count is not None and beat is not None and mine.track_m is not None:
            coming, begins = self._map(str(then.motion)), float(then.count.moment)
            other = self._motions[str(then.motion)]
            target = _looks_at(coming.middle(begins, other.per_count), coming.view.scale)
            way = moved(
                _looks_at(middle, scale), target, turn_deg=float(then.facing_deg - beat.facing_deg),
                here=_place(motion, motion.counts), there=_place(other, begins), share=shown.gone,
            )  # fmt: skip
            middle, scale = (way.aim_x_m, way.aim_z_m), way.scale
        box = self.box
        return replace(
            mine.view, scale=scale, x=(box[0] + box[2]) / 2, y=(box[1] + box[3]) / 2, forward_m=middle[0],
            right_m=middle[1], facing_deg=facing_deg,
        )  # fmt: skip

    def _spots(self, view: FloorView) -> list[Mark]:
        """Spots half a metre apart on the floor, of the motion's own frame."""
        reach = (self.box[2] - self.box[0]) / view.scale * 0.75
        near = [round(value / SPOT_M) for value in (view.forward_m, view.right_m)]
        steps = range(-int(reach / SPOT_M) - 1, int(reach / SPOT_M) + 2)
        rule = palette()["rule"]
        spots = (view.at((near[0] + a) * SPOT_M, (near[1] + b) * SPOT_M) for a in steps for b in steps)
        left, top, right, bottom = self.box
        return [Circle(x, y, 2.6, rule) for x, y in spots if left < x < right and top < y < bottom]

    def _trail(self, name: str, moment: float) -> list[FloatArray]:
        """Where the feet stood on the counts before, each place once."""
        first = math.floor(moment + 1e-6)
        if (name, first) not in self._prints:
            moments = [float(first - k) for k in BEFORE_COUNTS if first - k >= 0]
            kept: list[FloatArray] = []
            for points in self._motions[name].at(np.array(moments)).points_m if moments else ():
                if not kept or math.dist(_both(points), _both(kept[-1])) > MOVED_M:
                    kept.append(points)
            self._prints[name, first] = kept
        return self._prints[name, first]

    def _turn(self, points: FloatArray, view: FloorView, turn_deg: float) -> list[Mark]:
        """An arc round the dancer from where she looks to where she will."""
        pelvis = points[JOINT["pelvis"]]
        x, y = view.at(float(pelvis[0]), float(pelvis[2]))
        start = looks_deg(points) + view.facing_deg
        return turn_arc(x, y, TURN_M * view.scale, facing_deg=start, turn_deg=turn_deg)


def _both(points: FloatArray) -> tuple[float, ...]:
    return (*print_at(points, "left")[:2], *print_at(points, "right")[:2])


def _looks_at(middle: Place, scale: float) -> Camera:
    return Camera("behind", scale, 0.0, 0.0, *middle)


def _place(motion: Motion, moment: float) -> Place:
    x, _, z = motion.at(np.array([moment])).points_m[0, JOINT["pelvis"]].tolist()
    return x, z
