"""The painter: pages kept from count to count, the dancer drawn anew, and the box of the page that changed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.render import screen
from softshoe.render.film_cast import Cast
from softshoe.render.look import typeface
from softshoe.render.picture_ground import floor_marks
from softshoe.render.screen_card import card_marks
from softshoe.render.stage import scaled
from softshoe.render.stage_pixels import Canvas

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.figure.motion import Motion
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage import Mark
    from softshoe.render.stage_pixels import Pixels
    from softshoe.teach.lesson import Lesson

FLOOR_WIDTH = screen.STAGE[2] - screen.STAGE[0] + 60
FIGURE_BOX = (screen.STAGE[0] - 40, 62.0, screen.STAGE[2] + 40, screen.BAND_TOP - 4)


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """A piece of picture and where its corner lies [px]; pixels (height, width, 4), R G B A."""

    left: int
    top: int
    pixels: Pixels


class Painter:
    """Paints what is shown and says what changed since the last time."""

    def __init__(self, lesson: Lesson, motions: Mapping[str, Motion], *, width: int, height: int) -> None:
        self._cast, self._counts = Cast(motions, screen.STAGE), screen.counts_of(lesson)
        self._walls = screen.walls_of(lesson)
        self._scale = min(width / screen.WIDTH, height / screen.HEIGHT)
        self._face = typeface()
        self._page = Canvas(width, height, self._face)
        self._left, self._top, right, bottom = _even_box(FIGURE_BOX, self._scale, width, height)
        self._stage = Canvas(right - self._left, bottom - self._top, self._face, left=self._left, top=self._top)
        self._blank = self._under = self._page.pixels()
        self._floor: Pixels = self._stage.pixels()
        self._painted: tuple[object, ...] | None = None
        self._turned: object = None

    def paint(self, shown: Shown) -> tuple[Patch, ...]:
        """Paint what is shown; return what changed, in the order it is laid; nothing when all stands as it stood."""
        page = shown.page, shown.motion
        if (page, shown.moment, shown.arrival) == self._painted:
            return ()
        self._painted = page, shown.moment, shown.arrival
        patches = (self._turn(shown),) if page != self._turned else ()
        self._turned = page
        if shown.motion is None:
            return patches
        self._stage.lay(self._floor)
        self._draw(self._stage, self._cast.dancer(shown))
        return (*patches, Patch(self._left, self._top, self._stage.pixels()))

    def _turn(self, shown: Shown) -> Patch:
        """Draw a new page, and keep of it what lies under the dancer."""
        self._page.lay(self._blank)
        self._draw(self._page, self._card(shown) if shown.motion is None else self._furniture(shown, shown.motion))
        self._under = self._page.pixels()
        rows, columns = self._floor.shape[:2]
        self._floor = self._under[self._top : self._top + rows, self._left : self._left + columns].copy()
        return Patch(0, 0, self._under)

    def _furniture(self, shown: Shown, name: str) -> list[Mark]:
        rig = self._cast.rig(name, shown.passage.view)
        floor = floor_marks(rig, width=FLOOR_WIDTH, bottom=screen.BAND_TOP - 8)
        facing = self._cast.facing(shown)
        return [*floor, *screen.page_marks(shown, self._face, counts=self._counts, walls=self._walls, facing=facing)]

    def _card(self, shown: Shown) -> list[Mark]:
        marks, free = card_marks(shown, self._face, counts=self._counts)
        return [*marks, *(self._cast.resting(shown.passage.figure, free) if free is not None else [])]

    def _draw(self, canvas: Canvas, marks: list[Mark]) -> None:
        canvas.draw(marks if self._scale == 1.0 else [scaled(mark, self._scale) for mark in marks])


def _even_box(
    box: tuple[float, float, float, float], scale: float, width: int, height: int
) -> tuple[int, int, int, int]:
    """The box in whole pixels of the page, even as the film's colours want it."""
    left, top, right, bottom = (value * scale for value in box)
    low = 2 * math.floor(left / 2), 2 * math.floor(top / 2)
    high = 2 * math.ceil(right / 2), 2 * math.ceil(bottom / 2)
    return max(low[0], 0), max(low[1], 0), min(high[0], width), min(high[1], height)
