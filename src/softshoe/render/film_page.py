"""The painter: pages kept from count to count, the dancer drawn anew, and the box of the page that changed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from softshoe.render import screen
from softshoe.render.look import typeface
from softshoe.render.picture import AHEAD_COUNTS, figure_marks, floor_marks
from softshoe.render.picture_camera import rig_for
from softshoe.render.stage import scaled
from softshoe.render.stage_pixels import Canvas

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy as np
    from numpy.typing import NDArray

    from softshoe.figure.motion import Motion
    from softshoe.render.encode import Box
    from softshoe.render.picture_camera import Rig
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage import Mark
    from softshoe.teach.lesson import Lesson, View

FLOOR_WIDTH = screen.STAGE[2] - screen.STAGE[0] + 60
FIGURE_BOX = (screen.STAGE[0] - 40, 62.0, screen.STAGE[2] + 40, screen.BAND_TOP - 4)


class Painter:
    """Paints what is shown and says what changed since the last time."""

    def __init__(self, lesson: Lesson, motions: Mapping[str, Motion], *, width: int, height: int) -> None:
        self._motions, self._counts = motions, screen.counts_of(lesson)
        self._walls = screen.walls_of(lesson)
        self._scale = min(width / screen.WIDTH, height / screen.HEIGHT)
        self._face = typeface()
        self._canvas = Canvas(width, height, self._face)
        self._blank = self._canvas.pixels()
        self._under = self._blank
        self._rigs: dict[tuple[str, View], Rig] = {}
        self._page: object = None
        self._pose: tuple[str | None, float] | None = None
        self._box = self._figure_box(width, height)

    def pixels(self) -> NDArray[np.uint8]:
        """Return the picture as it stands, shape (height, width, 4), R G B A."""
        return self._canvas.pixels()

    def paint(self, shown: Shown) -> Box | None:
        """Paint what is shown; return the box that changed [px], or None when nothing did."""
        page, pose = (shown.page, shown.motion), (shown.motion, shown.moment)
        if page == self._page and pose == self._pose:
            return None
        turned = page != self._page
        if turned:
            self._turn_page(shown)
        self._page, self._pose = page, pose
        self._canvas.lay(self._under)
        if shown.motion is not None:
            self._draw(self._dancer(shown.motion, shown.moment, shown.passage.view))
        return (0, 0, self._canvas.width, self._canvas.height) if turned else self._box

    def _turn_page(self, shown: Shown) -> None:
        self._canvas.lay(self._blank)
        if shown.motion is None:
            self._draw(screen.card_marks(shown, self._face, counts=self._counts))
        else:
            rig = self._rig(shown.motion, shown.passage.view)
            self._draw(floor_marks(rig, width=FLOOR_WIDTH, bottom=screen.BAND_TOP - 8))
            self._draw(screen.page_marks(shown, self._face, counts=self._counts, walls=self._walls))
        self._under = self._canvas.pixels()

    def _dancer(self, name: str, moment: float, view: View) -> list[Mark]:
        import numpy as np

        motion = self._motions[name]
        both = motion.at(np.array([moment, moment + AHEAD_COUNTS]))
        return figure_marks(both, self._rig(name, view).at(moment), motion)

    def _rig(self, name: str, view: View) -> Rig:
        if (name, view) not in self._rigs:
            self._rigs[name, view] = rig_for(self._motions[name], screen.STAGE, view=view)
        return self._rigs[name, view]

    def _draw(self, marks: list[Mark]) -> None:
        self._canvas.draw(marks if self._scale == 1.0 else [scaled(mark, self._scale) for mark in marks])

    def _figure_box(self, width: int, height: int) -> Box:
        left, top, right, bottom = (value * self._scale for value in FIGURE_BOX)
        even = [2 * math.floor(left / 2), 2 * math.floor(top / 2), 2 * math.ceil(right / 2), 2 * math.ceil(bottom / 2)]
        return max(even[0], 0), max(even[1], 0), min(even[2], width), min(even[3], height)
