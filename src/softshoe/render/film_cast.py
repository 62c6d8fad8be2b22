"""Who dances in a film: the motions, the pose of rest before they begin, and the cameras that hold them.

While nobody dances the figure rests as she will sit or stand; in the last count before the first she goes from rest
into the first pose, with the soft start and end of a minimum-jerk movement (Flash & Hogan 1985).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import JOINT, Frames, Motion, Support
from softshoe.render.picture import AHEAD_COUNTS, figure_marks, frames_with_before, support_of
from softshoe.render.picture_camera import moved, rig_for
from softshoe.render.picture_ground import floor_marks

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.render.picture_camera import Box, Camera, Place, Rig
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage import Mark
    from softshoe.teach.lesson import FigureKind, View

AT_ONCE = 32  # moments
LEAST_TURN_DEG = 20.0


class _Ahead:
    """Frames of one motion, reckoned many at a time in the order in which they will be shown first."""

    def __init__(self, motion: Motion) -> None:
        self._motion, self._order, self._place = motion, [0.0] * 0, dict[float, int]()
        self._first, self._frames = 0, motion.at(np.zeros(0))

    def expect(self, moment: float) -> None:
        """Told the moments that will be shown."""
        if moment not in self._place:
            self._place[moment] = len(self._order)
            self._order.append(moment)

    def at(self, moment: float) -> Frames:
        """Return the frames of a moment and a little after it."""
        k = self._place.get(moment)
        if k is None:
            return self._motion.at(np.array([moment, moment + AHEAD_COUNTS]))
        if not 0 <= 2 * (k - self._first) < len(self._frames.bearing):
            moments = np.array(self._order[k : k + AT_ONCE])
            self._first = k
            self._frames = self._motion.at(np.stack([moments, moments + AHEAD_COUNTS], axis=1).ravel())
        j, many = 2 * (k - self._first), self._frames
        hands = None if many.hands is None else many.hands[j : j + 2]
        return Frames(many.points_m[j : j + 2], many.bearing[j : j + 2], many.active[j : j + 2], hands)


class Cast:
    """The dancers of one film by the names of their motions."""

    def __init__(
        self, motions: Mapping[str, Motion], stage: Box, *, held: bool = False, follow: float | None = None
    ) -> None:
        """``held``: each pose stands for its count, and arrows show the way the limbs came; ``follow``: how far cameras
        follow, None as little as leaves her large."""
        self._motions, self._stage, self._held, self._follow = motions, stage, held, follow
        self._rests: dict[Support, Motion] = {}
        self._rigs: dict[tuple[str, View], Rig] = {}
        self._floors: dict[tuple[str, View], list[Mark]] = {}
        self._ahead: dict[str, _Ahead] = {}

    def expect(self, name: str, moment: float) -> None:
        """Told a moment of a motion that will be shown, in the order in which it will."""
        if name not in self._ahead:
            self._ahead[name] = _Ahead(self._motions[name])
        self._ahead[name].expect(moment)

    def rest(self, support: Support) -> Motion:
        """Return the figure at rest, on or behind the very chair of the motions where they have one."""
        if support not in self._rests:
            from softshoe.figure.move import move

            self._rests[support] = move((), counts=1.0, stance="standing", support=support)
        return self._rests[support]

    def rig(self, name: str, view: View) -> Rig:
        """Return the camera of a motion, made once."""
        if (name, view) not in self._rigs:
            self._rigs[name, view] = rig_for(self._motions[name], self._stage, view=view, follow=self._follow)
        return self._rigs[name, view]

    def floor(self, name: str, view: View, *, width: float, bottom: float) -> list[Mark]:
        """Return the floor that a motion is danced on, made once."""
        if (name, view) not in self._floors:
            self._floors[name, view] = floor_marks(self.rig(name, view), width=width, bottom=bottom)
        return self._floors[name, view]

    def frames(self, shown: Shown) -> Frames:
        """Return two frames of what is shown, the second telling where leading limbs go; somebody dances or rests."""
        motion = self._motions[str(shown.motion)]
        if shown.arrival < 1.0:
            return _arriving(self.rest(support_of(motion)), motion, shown)
        if self._held:
            return frames_with_before(motion, shown.moment)
        ahead = self._ahead.get(str(shown.motion))
        if ahead is not None:
            return ahead.at(shown.moment)
        return motion.at(np.array([shown.moment, shown.moment + AHEAD_COUNTS]))

    def dancer(self, shown: Shown, frames: Frames) -> list[Mark]:
        """Return the figure of these frames as it is shown."""
        motion = self._motions[str(shown.motion)]
        return figure_marks(frames, self.camera(shown), motion, came=self._held)

    def camera(self, shown: Shown) -> Camera:
        """Return the camera of a moment; before another motion begins at once, it is on its way to look at that."""
        now = self.rig(str(shown.motion), shown.passage.view).at(shown.moment)
        then, beat = shown.then, shown.beat
        if not shown.gone or then is None or then.count is None or then.motion is None or beat is None:
            return now
        begins = float(then.count.moment)
        target = self.rig(then.motion, shown.passage.view).at(begins)
        turn_deg = (then.facing_deg - beat.facing_deg + 180.0) % 360.0 - 180.0
        here = self._place(str(shown.motion), self._motions[str(shown.motion)].counts)
        there = self._place(then.motion, begins)
        return moved(now, target, turn_deg=turn_deg, here=here, there=there, share=shown.gone)

    def _place(self, name: str, moment: float) -> Place:
        """Where the dancer's middle is over the floor (forward, right)."""
        x, _, z = self._motions[name].at(np.array([moment])).points_m[0, JOINT["pelvis"]].tolist()
        return x, z

    def resting(self, kind: FigureKind, box: Box) -> list[Mark]:
        """Return the figure at rest, facing the viewer, in a box of the page."""
        motion = self.rest("chair" if kind == "seated" else "free")
        rig = rig_for(motion, box, view="mirror")
        floor = floor_marks(rig, width=box[2] - box[0], bottom=box[3] + 14)
        return [*floor, *figure_marks(motion.at(np.zeros(2)), rig.at(0.0), motion, travels=False)]

    def facing(self, shown: Shown) -> tuple[float, float]:
        """Return where the dancer looks on this count in the room, and how far she turns until the next [degrees]."""
        beat = shown.beat
        if beat is None or shown.motion is None:
            return 0.0, 0.0
        if beat.count is None or beat.motion is None:
            return float(beat.facing_deg), 0.0
        motion = self._motions[beat.motion]
        moments = (float(beat.count.moment), min(float(beat.count.moment) + 1.0, motion.counts))
        places = np.arange(len(motion.facing_deg)) / motion.per_count
        now, then = np.interp(moments, places, motion.facing_deg)
        turn = float(then - now)
        return beat.facing_deg + float(now), turn if abs(turn) >= LEAST_TURN_DEG else 0.0


def _arriving(rest: Motion, motion: Motion, shown: Shown) -> Frames:
    """Two frames on the way from rest to the first pose, the second a little later."""
    first, still = motion.at(np.full(2, shown.moment)), rest.at(np.zeros(2))
    share = np.clip(np.array([shown.arrival, shown.arrival + AHEAD_COUNTS * (shown.arrival > 0)]), 0.0, 1.0)
    gone = 10 * share**3 - 15 * share**4 + 6 * share**5
    points = still.points_m + gone[:, None, None] * (first.points_m - still.points_m)
    bearing = still.bearing + gone[:, None] * (first.bearing - still.bearing)
    return Frames(points, bearing, first.active, first.hands)
