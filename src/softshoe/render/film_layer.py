"""Layers of a film's page: what was drawn is kept, and only the boxes in which marks changed are drawn anew.

A layer lies over another's finished pixels. Its marks are compared with those drawn before, one by one in their order;
round those that differ boxes are drawn, with every mark that reaches into them and nothing else. Where one picture
follows another as it did before, the pieces that changed then are laid again.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.film_colours import film_colour, planes_of
from softshoe.render.film_reuse import Room
from softshoe.render.look import channels, of_page, typeface
from softshoe.render.stage import scaled
from softshoe.render.stage_box import around, box_of, even, joined, meet
from softshoe.render.stage_pixels import Canvas, strokes

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterable, Sequence

    from softshoe.render.film_colours import Pixels, Planes
    from softshoe.render.stage import Mark
    from softshoe.render.stage_box import Box, Even
    from softshoe.render.stage_pixels import Stroke

    Reaching = tuple[tuple[list[Stroke], ...], Box]

LOOKED_AT = 5  # a mark that was made anew is looked for among so many of those before
STEP_PX = 64  # canvases are as wide and high as a whole number of these, so that a few of them do for all boxes


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """A piece of picture in film colours (``film_colours``), once for each page, and where its corner lies [px]; all
    numbers are even."""

    left: int
    top: int
    planes: tuple[Planes, ...]

    @property
    def box(self) -> Even:
        """Left, top, right, bottom [px]."""
        high, wide = self.planes[0][0].shape
        return self.left, self.top, self.left + wide, self.top + high

    def kept(self) -> Patch:
        """The same piece, free of the canvas that it was drawn on."""
        free = [tuple(np.ascontiguousarray(plane) for plane in planes) for planes in self.planes]
        return Patch(self.left, self.top, tuple((bright, blue, red) for bright, blue, red in free))

    @property
    def size(self) -> int:
        """How many bytes it takes."""
        return sum(plane.size for planes in self.planes for plane in planes)


@dataclass(slots=True, eq=False)
class _Way:
    """How one picture became another: the pieces that changed, and what lay under them."""

    patches: list[Patch]
    under: int
    turned: int


@dataclass(slots=True, eq=False)
class _Picture:
    """What a layer shows: its marks as they were given, their strokes and boxes, the ways it was come to."""

    given: list[Mark]
    sized: list[Reaching] = field(default_factory=list)
    ways: dict[_Picture, _Way] = field(default_factory=dict)


@dataclass(slots=True)
class Desk:
    """The canvases that the layers of one page share: a box of the page is drawn on the least that holds it, once for
    each of ``inks``, which make film colours of marks'."""

    width: int
    height: int
    inks: tuple[Callable[[str], str], ...] = (film_colour,)
    _canvases: dict[tuple[int, int], Canvas] = field(default_factory=dict)

    def drawn(self, box: Even, under: Sequence[Pixels], marks: Iterable[Reaching]) -> list[Pixels]:
        """Return the box (even, inside the page) with what of these marks reaches into it over what lies under it on
        the page, in each ink."""
        wide = min(-(-(box[2] - box[0]) // STEP_PX) * STEP_PX, self.width)
        high = min(-(-(box[3] - box[1]) // STEP_PX) * STEP_PX, self.height)
        left, top = min(box[0], self.width - wide), min(box[1], self.height - high)
        if (wide, high) not in self._canvases:
            self._canvases[wide, high] = Canvas(wide, high, typeface())
        canvas = self._canvases[wide, high]
        canvas.move(left, top)
        left_, top_, right_, bottom_ = box
        reaching = [
            made
            for made, reach in marks
            if reach[0] < right_ and left_ < reach[2] and reach[1] < bottom_ and top_ < reach[3]
        ]
        found = []
        for k, page in enumerate(under):
            canvas.lay(np.ascontiguousarray(page[top : top + high, left : left + wide]))
            for made in reaching:
                canvas.stroke(made[k])
            found.append(canvas.pixels()[box[1] - top : box[3] - top, box[0] - left : box[2] - left])
        return found


class Layer:
    """Marks over other pixels of the page, inside one box of it."""

    def __init__(
        self, desk: Desk, under: Sequence[Pixels], within: Even, scale: float, room: Room | None = None
    ) -> None:
        """``under``: the page (height, width, 4) in each ink that this layer lies over, as it stands at any time."""
        self.within, self._desk, self._under, self._scale = within, desk, under, scale
        self._room = room or Room()
        self._now, self._turned = _Picture([]), 0
        self._kept: dict[Hashable, dict[Hashable, _Picture]] = {}

    def drawn(self, marks: Sequence[Mark], *, stale: Iterable[Even] = ()) -> list[Patch]:
        """Return what changed, now that the layer has these marks; ``stale``: boxes in which other things changed."""
        boxes = self._seen(stale)
        return self._change(_Picture(list(marks)), boxes) if marks or self._now.given else []

    def shown(
        self,
        pose: Hashable,
        more: Hashable,
        marks: Callable[[], Sequence[Mark]],
        *,
        stale: Iterable[Even] = (),
        again: bool,
    ) -> list[Patch]:
        """Return what changed, now that the layer shows a picture known by its pose and what more it rests on.

        ``marks`` are asked for where the picture is not known; ``again``: it will be shown again."""
        known, boxes = self._kept.get(pose, {}).get(more), self._seen(stale)
        picture = known or _Picture(list(marks()))
        if known is None and again:
            self._kept.setdefault(pose, {})[more] = picture
        elif known is not None:
            boxes = [box for box in boxes if any(meet(reach, box) for _, reach in known.sized)]
        before, way = self._now, picture.ways.get(self._now)
        if way is not None and not boxes and self._stands(way):
            self._now = picture
            return way.patches
        patches = self._change(picture, boxes)
        if again and not boxes and way is None:
            self._keep(picture, before, patches)
        return patches

    def forget(self, pose: Hashable) -> None:
        """Let go of the pictures of a pose."""
        for picture in self._kept.pop(pose, {}).values():
            self._room.free += sum(patch.size for way in picture.ways.values() for patch in way.patches)
            picture.ways.clear()

    def _keep(self, picture: _Picture, before: _Picture, patches: list[Patch]) -> None:
        size = sum(patch.size for patch in patches)
        if size <= self._room.free:
            self._room.free -= size
            picture.ways[before] = _Way([patch.kept() for patch in patches], self._beneath(patches), self._turned)

    def _seen(self, stale: Iterable[Even]) -> list[Even]:
        boxes = [box for box in stale if meet(box, self.within)]
        self._turned += bool(boxes)
        return boxes

    def _stands(self, way: _Way) -> bool:
        """Tell whether the same lies under these pieces as when they were drawn."""
        if way.turned != self._turned and self._beneath(way.patches) != way.under:
            return False
        way.turned = self._turned
        return True

    def _beneath(self, patches: list[Patch]) -> int:
        """A number that tells what lies under some pieces, read in every second row."""
        found = 0
        for page in self._under:
            for left, top, right, bottom in (patch.box for patch in patches):
                found = zlib.crc32(np.ascontiguousarray(page[top:bottom:2, left:right]).data, found)
        return found

    def _change(self, picture: _Picture, stale: list[Even]) -> list[Patch]:
        """Show another picture: draw round all marks that differ from those shown before."""
        before, self._now = self._now, picture
        same = places_before(picture.given, before.given)
        if not picture.sized:
            picture.sized = [
                self._reaching(mark) if k is None else before.sized[k]
                for mark, k in zip(picture.given, same, strict=True)
            ]
        changed: list[Box | Even] = [*stale]
        changed += [reach for (_, reach), k in zip(picture.sized, same, strict=True) if k is None]
        stayed = set(same)
        changed += [reach for k, (_, reach) in enumerate(before.sized) if k not in stayed]
        return [patch for box in self.apart(changed) if (patch := self._patch(box, picture.sized)) is not None]

    def apart(self, changed: list[Box | Even]) -> list[Box | Even]:
        """Return the boxes to draw for all that changed: here one, for what moves hangs together."""
        return [around(changed)] if changed else []

    def _reaching(self, mark: Mark) -> Reaching:
        drawn = mark if self._scale == 1.0 else scaled(mark, self._scale)
        return tuple(strokes(drawn, typeface(), ink) for ink in self._desk.inks), box_of(drawn, typeface())

    def _patch(self, box: Box | Even, sized: list[Reaching]) -> Patch | None:
        within = even(box, self.within)
        if within is None:
            return None
        pixels = self._desk.drawn(within, self._under, sized)
        self.took(within, pixels)
        return Patch(within[0], within[1], tuple(map(planes_of, pixels)))

    def took(self, box: Even, pixels: Sequence[Pixels]) -> None:
        """Told what was drawn into a box; a layer that others lie over keeps it."""


def places_before(marks: Sequence[Mark], before: Sequence[Mark]) -> list[int | None]:
    """For each mark the place of the same one among those before, None where there is none; in the order of both, so
    that round what is not in both nothing changed."""
    places = dict(zip(map(id, before), range(len(before)), strict=True))
    same = list(map(places.get, map(id, marks)))
    beyond = 0
    for i, k in enumerate(same):
        if k is None:
            k = _equal(marks[i], before, beyond)
        elif k < beyond:
            k = None
        same[i] = k
        beyond = beyond if k is None else k + 1
    return same


def _equal(mark: Mark, before: Sequence[Mark], first: int) -> int | None:
    """Where the next few marks have one that was made anew and is the same."""
    for k in range(first, min(first + LOOKED_AT, len(before))):
        if before[k] == mark:
            return k
    return None


class Ground(Layer):
    """The lowest layer: its pixels are kept, for others lie over them; what changes on it lies far apart."""

    def __init__(self, desk: Desk, scale: float, *, paper: str) -> None:
        blank = [np.full((desk.height, desk.width, 4), (*channels(ink(paper)), 255), np.uint8) for ink in desk.inks]
        super().__init__(desk, blank, (0, 0, desk.width, desk.height), scale)
        self.pixels = [page.copy() for page in blank]

    def apart(self, changed: list[Box | Even]) -> list[Box | Even]:
        """Return boxes that cover all that changed and do not meet."""
        return joined(changed)

    def took(self, box: Even, pixels: Sequence[Pixels]) -> None:
        """Keep what was drawn."""
        for page, drawn in zip(self.pixels, pixels, strict=True):
            page[box[1] : box[3], box[0] : box[2]] = drawn


def inks_of(pages: int) -> tuple[Callable[[str], str], ...]:
    """Return what makes film colours for one page, or for the plain one and that of high contrast."""
    both = tuple(lambda colour, page=page: film_colour(of_page(colour, page)) for page in range(pages))
    return both if pages > 1 else (film_colour,)
