"""Layers of a film's page: what was drawn is kept, and only the boxes in which marks changed are drawn anew.

A layer lies over another's finished pixels. Its marks are compared with those drawn before, one by one in their order;
round those that differ boxes are drawn, with every mark that reaches into them and nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import zip_longest
from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.film_colours import film_colour, planes_of
from softshoe.render.look import channels, typeface
from softshoe.render.stage import scaled
from softshoe.render.stage_box import around, box_of, even, inside, joined, meet
from softshoe.render.stage_pixels import Canvas

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.render.film_colours import Pixels, Planes
    from softshoe.render.stage import Mark
    from softshoe.render.stage_box import Box, Even

    Reaching = tuple[Mark, Box]

STEP_PX = 64  # canvases are as wide and high as a whole number of these, so that a few of them do for all boxes


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """A piece of picture in film colours (``film_colours``), and where its corner lies [px]; all numbers are even."""

    left: int
    top: int
    planes: Planes

    @property
    def box(self) -> Even:
        """Left, top, right, bottom [px]."""
        high, wide = self.planes[0].shape
        return self.left, self.top, self.left + wide, self.top + high


@dataclass(slots=True)
class Desk:
    """The canvases that the layers of one page share: a box of the page is drawn on the least that holds it."""

    width: int
    height: int
    _canvases: dict[tuple[int, int], Canvas] = field(default_factory=dict)

    def drawn(self, box: Even, under: Pixels, marks: Iterable[Mark]) -> Pixels:
        """Return the box (even, inside the page) with these marks over what lies under it on the page."""
        wide = min(-(-(box[2] - box[0]) // STEP_PX) * STEP_PX, self.width)
        high = min(-(-(box[3] - box[1]) // STEP_PX) * STEP_PX, self.height)
        left, top = min(box[0], self.width - wide), min(box[1], self.height - high)
        if (wide, high) not in self._canvases:
            self._canvases[wide, high] = Canvas(wide, high, typeface(), ink=film_colour)
        canvas = self._canvases[wide, high]
        canvas.move(left, top)
        canvas.lay(np.ascontiguousarray(under[top : top + high, left : left + wide]))
        canvas.draw(marks)
        return canvas.pixels()[box[1] - top : box[3] - top, box[0] - left : box[2] - left]


class Layer:
    """Marks over other pixels of the page, inside one box of it."""

    def __init__(self, desk: Desk, under: Pixels, within: Even, scale: float) -> None:
        """``under``: the page (height, width, 4) that this layer lies over, as it stands at any time."""
        self.within, self._desk, self._under, self._scale = within, desk, under, scale
        self._given: list[Mark] = []
        self._sized: list[Reaching] = []
        self._laid: Even | None = None

    def drawn(self, marks: Sequence[Mark], *, stale: Iterable[Even] = ()) -> list[Patch]:
        """Return what changed, now that the layer has these marks; ``stale``: boxes in which other things changed."""
        if not (marks or self._given or self._laid):
            return []
        known, sized = self._sized, []
        changed: list[Box | Even] = [box for box in stale if meet(box, self.within)]
        if self._laid is not None:
            changed.append(self._laid)
        for k, (mark, before) in enumerate(zip_longest(marks, self._given)):
            if mark is not None and (mark is before or mark == before):
                sized.append(known[k])
                continue
            if before is not None:
                changed.append(known[k][1])
            if mark is not None:
                sized.append(self._reaching(mark))
                changed.append(sized[k][1])
        self._given, self._sized, self._laid = list(marks), sized, None
        return [patch for box in self.apart(changed) if (patch := self._patch(box, sized)) is not None]

    def apart(self, changed: list[Box | Even]) -> list[Box | Even]:
        """Return the boxes to draw for all that changed: here one, for what moves hangs together."""
        return [around(changed)] if changed else []

    def whole(self, marks: Sequence[Mark]) -> Patch | None:
        """Return these marks as one piece of picture, without laying it; None where nothing of them is seen."""
        sized = [self._reaching(mark) for mark in marks]
        return self._patch(around([reach for _, reach in sized]), sized) if sized else None

    def laid(self, patch: Patch, *, stale: Iterable[Even] = ()) -> list[Patch]:
        """Lay a whole piece of picture (``whole``) instead of what the layer had; return what changed."""
        gone: list[Even] = [box for box in stale if meet(box, self.within)]
        gone += [] if self._laid is None else [self._laid]
        if self._sized and (before := even(around([reach for _, reach in self._sized]), self.within)) is not None:
            gone.append(before)
        self._given, self._sized, self._laid = [], [], patch.box
        bare = (self._patch(box, []) for box in gone if not inside(box, patch.box))
        return [*(one for one in bare if one is not None), patch]

    def _reaching(self, mark: Mark) -> Reaching:
        drawn = mark if self._scale == 1.0 else scaled(mark, self._scale)
        return drawn, box_of(drawn, typeface())

    def _patch(self, box: Box | Even, sized: list[Reaching]) -> Patch | None:
        within = even(box, self.within)
        if within is None:
            return None
        pixels = self._desk.drawn(within, self._under, [mark for mark, reach in sized if meet(reach, within)])
        self.took(within, pixels)
        return Patch(within[0], within[1], planes_of(pixels))

    def took(self, box: Even, pixels: Pixels) -> None:
        """Told what was drawn into a box; a layer that others lie over keeps it."""


class Ground(Layer):
    """The lowest layer: its pixels are kept, for others lie over them; what changes on it lies far apart."""

    def __init__(self, desk: Desk, scale: float, *, paper: str) -> None:
        blank = np.full((desk.height, desk.width, 4), (*channels(film_colour(paper)), 255), np.uint8)
        super().__init__(desk, blank, (0, 0, desk.width, desk.height), scale)
        self.pixels = blank.copy()

    def apart(self, changed: list[Box | Even]) -> list[Box | Even]:
        """Return boxes that cover all that changed and do not meet."""
        return joined(changed)

    def took(self, box: Even, pixels: Pixels) -> None:
        """Keep what was drawn."""
        self.pixels[box[1] : box[3], box[0] : box[2]] = pixels
