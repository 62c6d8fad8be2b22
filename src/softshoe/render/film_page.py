"""The painter: pages kept from count to count, the dancer and her feet drawn anew, and the boxes that changed."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.render import screen
from softshoe.render.film_cast import Cast
from softshoe.render.film_edition import Edition
from softshoe.render.film_inset import Inset
from softshoe.render.look import in_guise, palette, typeface
from softshoe.render.picture_arrows import LEADS
from softshoe.render.picture_ground import floor_marks
from softshoe.render.screen_card import card_marks
from softshoe.render.screen_rail import rail_of
from softshoe.render.stage import Polygon, scaled
from softshoe.render.stage_pixels import Canvas

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.figure.motion import FloatArray, Frames, Motion
    from softshoe.render.picture_camera import Box
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage import Mark
    from softshoe.render.stage_pixels import Pixels
    from softshoe.teach.lesson import Lesson

SEEN_PX, SEEN_BEARING = 0.75, 0.06  # what moves or fills less since it was drawn last is not drawn anew
ROUND_STAGE, ABOVE_STAGE = 36.0, 18.0  # how far the dancer's box reaches beyond the box that holds her at rest


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """A piece of picture and where its corner lies [px]; pixels (height, width, 4), R G B A."""

    left: int
    top: int
    pixels: Pixels


class _Window:
    """A box of the page that is drawn anew again and again, over what lies under it."""

    def __init__(self, box: Box, scale: float, page: tuple[int, int]) -> None:
        self.left, self.top, right, bottom = _even_box(box, scale, *page)
        self._canvas = Canvas(right - self.left, bottom - self.top, typeface(), left=self.left, top=self.top)
        self._scale = scale
        self._under: Pixels = self._canvas.pixels()

    def keep(self, page: Pixels) -> None:
        """Take what lies under the box from a whole page."""
        rows, columns = self._under.shape[:2]
        self._under = page[self.top : self.top + rows, self.left : self.left + columns].copy()

    def drawn(self, marks: list[Mark]) -> Patch:
        """Return the box with these marks over what lies under them."""
        self._canvas.lay(self._under)
        self._canvas.draw(_sized(marks, self._scale))
        return Patch(self.left, self.top, self._canvas.pixels())


class Painter:
    """Paints what is shown and says what changed since the last time."""

    def __init__(
        self,
        lesson: Lesson,
        motions: Mapping[str, Motion],
        *,
        width: int,
        height: int,
        edition: Edition | None = None,
    ) -> None:
        self._edition = edition or Edition()
        layout = self._layout = self._edition.layout
        self._cast = Cast(motions, layout.stage, held=self._edition.held, follow=layout.follow)
        self._counts = screen.counts_of(lesson)
        self._inset = Inset(motions, layout.inset)
        self._rail = rail_of(lesson)
        self._scale = min(width / layout.width, height / layout.height)
        self._page = Canvas(width, height, typeface())
        left, top, right, _ = layout.stage
        stage = (left - ROUND_STAGE, top - ABOVE_STAGE, right + ROUND_STAGE, layout.band_top - 4)
        self._stage, self._feet = (_Window(box, self._scale, (width, height)) for box in (stage, layout.inset))
        with in_guise(self._edition.guise):
            paper = Polygon(((0, 0), (width, 0), (width, height), (0, height)), palette()["paper"])
            self._page.draw([paper])
        self._blank = self._page.pixels()
        self._painted: tuple[object, ...] | None = None
        self._turned: object = None
        self._turn_deg = 0.0
        self._drawn: FloatArray | None = None

    def paint(self, shown: Shown) -> tuple[Patch, ...]:
        """Paint what is shown; return what changed, in the order it is laid; nothing when all stands as it stood."""
        if self._edition.held:
            shown = _held(shown)
        page = shown.page, shown.motion
        if (page, shown.moment, shown.arrival) == self._painted:
            return ()
        self._painted = page, shown.moment, shown.arrival
        with in_guise(self._edition.guise):
            turned = page != self._turned
            patches = (self._turn(shown),) if turned else ()
            self._turned = page
            frames = self._cast.frames(shown)
            if frames is None or (self._as_before(shown, frames) and not turned):
                return patches
            return (*patches, *self._moving(shown, frames))

    def _as_before(self, shown: Shown, frames: Frames) -> bool:
        """Tell whether nobody could see a difference to what was drawn last: no joint has moved, no shoe filled."""
        spots = self._cast.camera(shown).project(frames.points_m[0])[:, :2] * self._scale
        state = np.concatenate([spots.ravel(), frames.bearing[0] * SEEN_PX / SEEN_BEARING, frames.active[0] > LEADS])
        if self._drawn is not None and float(np.abs(state - self._drawn).max()) < SEEN_PX:
            return True
        self._drawn = state
        return False

    def _moving(self, shown: Shown, frames: Frames) -> tuple[Patch, Patch]:
        bearing = (float(frames.bearing[0, 0]), float(frames.bearing[0, 1]))
        feet = self._inset.live(shown, frames.points_m[0], bearing, self._turn_deg)
        return self._stage.drawn(self._cast.dancer(shown, frames)), self._feet.drawn(feet)

    def _turn(self, shown: Shown) -> Patch:
        """Draw a new page, and keep of it what lies under the dancer and her feet."""
        _, self._turn_deg = self._cast.facing(shown)
        self._page.lay(self._blank)
        marks = self._card(shown) if shown.motion is None else self._furniture(shown, shown.motion)
        self._page.draw(_sized(marks, self._scale))
        page = self._page.pixels()
        for window in (self._stage, self._feet):
            window.keep(page)
        return Patch(0, 0, page)

    def _furniture(self, shown: Shown, name: str) -> list[Mark]:
        layout = self._layout
        rig = self._cast.rig(name, shown.passage.view)
        floor = floor_marks(rig, width=layout.floor_width, bottom=layout.band_top - 8)
        inset = self._inset.still(shown)
        return [*floor, *inset, *screen.page_marks(shown, layout, counts=self._counts, rail=self._rail)]

    def _card(self, shown: Shown) -> list[Mark]:
        marks, free = card_marks(shown, self._layout, counts=self._counts)
        return [*marks, *(self._cast.resting(shown.passage.figure, free) if free is not None else [])]


def _held(shown: Shown) -> Shown:
    """What is shown while poses are held: the pose of the count that began, and a view that never moves."""
    beat = shown.beat
    moment = shown.moment
    if beat is not None and beat.motion == shown.motion and beat.count is not None:
        moment = float(beat.count.moment)
    return replace(shown, moment=moment, arrival=float(shown.arrival >= 1.0), then=None, gone=0.0)


def _sized(marks: list[Mark], scale: float) -> list[Mark]:
    return marks if scale == 1.0 else [scaled(mark, scale) for mark in marks]


def _even_box(box: Box, scale: float, width: int, height: int) -> tuple[int, int, int, int]:
    """The box in whole pixels of the page, even as the film's colours want it."""
    left, top, right, bottom = (value * scale for value in box)
    low = 2 * math.floor(left / 2), 2 * math.floor(top / 2)
    high = 2 * math.ceil(right / 2), 2 * math.ceil(bottom / 2)
    return max(low[0], 0), max(low[1], 0), min(high[0], width), min(high[1], height)
