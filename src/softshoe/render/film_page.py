"""The painter: pages kept from count to count, the dancer and her feet drawn anew, and the boxes that changed."""

from __future__ import annotations

from dataclasses import replace
from math import floor
from typing import TYPE_CHECKING

from softshoe.render import screen
from softshoe.render.film_cast import Cast
from softshoe.render.film_edition import Edition
from softshoe.render.film_inset import Inset
from softshoe.render.film_layer import Desk, Ground, Layer, inks_of
from softshoe.render.film_pose import Pose, pose_after
from softshoe.render.film_reuse import ROOM_BYTES, Again, Room
from softshoe.render.look import colours_of, in_guise
from softshoe.render.screen_card import card_marks
from softshoe.render.screen_rail import rail_of
from softshoe.render.stage_box import even, sized

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from softshoe.figure.motion import Motion
    from softshoe.render.film_layer import Patch
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage import Mark
    from softshoe.render.stage_box import Even
    from softshoe.teach.lesson import Lesson

ROUND_STAGE, ABOVE_STAGE = 36.0, 18.0  # how far the dancer's box reaches beyond the box that holds her at rest


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
        scale = self._scale = min(width / layout.width, height / layout.height)
        pages = 2 if self._edition.guise.page == "both" else 1
        desk, room = Desk(width, height, inks_of(pages)), Room(ROOM_BYTES * pages)
        self._ground = Ground(desk, scale, paper=colours_of(self._edition.guise)["paper"])
        left, top, right, _ = layout.stage
        stage = (left - ROUND_STAGE, top - ABOVE_STAGE, right + ROUND_STAGE, layout.band_top - 4)
        self._stage, self._feet = (
            Layer(desk, self._ground.pixels, within, scale, room)
            for box in (stage, layout.inset)
            if (within := even(sized(box, scale), self._ground.within)) is not None
        )
        self._painted: tuple[object, ...] | None = None
        self._turned: object = None
        self._turn_deg = 0.0
        self._pose: Pose | None = None
        self._again = Again()

    def expect(self, shown: Iterable[Shown]) -> None:
        """Told everything that will be painted, in its order: what comes again is then drawn once."""
        coming = [_held(one) if self._edition.held else one for one in shown]
        self._again.expect(coming)
        for one in coming:
            if one.motion is not None and one.arrival >= 1.0:
                self._cast.expect(one.motion, one.moment)

    def paint(self, shown: Shown) -> list[Patch]:
        """Paint what is shown; return what changed, in the order it is laid; nothing when all stands as it stood."""
        if self._edition.held:
            shown = _held(shown)
        page = shown.page, shown.motion
        turned, kept = page != self._turned, self._again.begin(shown) if shown.motion is not None else None
        if (page, shown.moment, shown.arrival) == self._painted:
            return []
        self._painted = page, shown.moment, shown.arrival
        with in_guise(self._edition.guise):
            patches = self._turn(shown) if turned else []
            self._turned = page
            if shown.motion is None:
                self._pose = None
                return self._over(patches, self._stage.drawn([], stale=_boxes(patches)), [])
            return self._danced(shown, kept, patches, turned=turned)

    def _danced(self, shown: Shown, kept: Pose | None, below: list[Patch], *, turned: bool) -> list[Patch]:
        """Lay the dancer, and her feet from above, over what changed below them."""
        pose, before = kept or self._posed(shown), self._pose
        self._pose = pose
        self._again.keep(shown, pose)
        patches = below
        if turned or pose is not before:
            patches = [*below, *self._dancer(shown, pose, below)]
            patches += self._feet_of(shown, pose, patches)
        if (over := self._again.over(shown)) is not None:
            self._stage.forget(over)
            self._feet.forget(over)
        return patches

    def _posed(self, shown: Shown) -> Pose:
        return pose_after(self._cast.frames(shown), self._cast.camera(shown), self._pose, scale=self._scale)

    def _dancer(self, shown: Shown, pose: Pose, below: list[Patch]) -> list[Patch]:
        def marks() -> list[Mark]:
            return self._cast.dancer(shown, pose.frames(self._cast.frames(shown)))

        return self._stage.shown(pose, (), marks, stale=_boxes(below), again=self._again.comes(shown))

    def _feet_of(self, shown: Shown, pose: Pose, below: list[Patch]) -> list[Patch]:
        """Her feet from above, as she is drawn."""

        def marks() -> list[Mark]:
            bearing = (float(pose.bearing[0]), float(pose.bearing[1]))
            return self._inset.live(shown, pose.points_m, bearing, self._turn_deg)

        more = floor(shown.moment + 1e-6), self._turn_deg, shown.beat.facing_deg if shown.beat is not None else 0
        again = self._again.comes(shown, facing=True)
        return self._feet.shown(pose, more, marks, stale=_boxes(below), again=again)

    def _over(self, ground: list[Patch], dancer: list[Patch], feet: list[Mark]) -> list[Patch]:
        """Lay the feet from above over page and dancer."""
        patches = [*ground, *dancer]
        return [*patches, *self._feet.drawn(feet, stale=_boxes(patches))]

    def _turn(self, shown: Shown) -> list[Patch]:
        """Draw a new page, as far as it differs."""
        _, self._turn_deg = self._cast.facing(shown)
        first = self._turned is None
        marks = self._card(shown) if shown.motion is None else self._furniture(shown, shown.motion)
        return self._ground.drawn(marks, stale=[self._ground.within] if first else [])

    def _furniture(self, shown: Shown, name: str) -> list[Mark]:
        layout = self._layout
        view, bottom = shown.passage.view, layout.band_top - 8
        floor = self._cast.floor(name, view, width=layout.floor_width, bottom=bottom)
        inset = self._inset.still(shown)
        return [*floor, *inset, *screen.page_marks(shown, layout, counts=self._counts, rail=self._rail)]

    def _card(self, shown: Shown) -> list[Mark]:
        marks, free = card_marks(shown, self._layout, counts=self._counts)
        return [*marks, *(self._cast.resting(shown.passage.figure, free) if free is not None else [])]


def _boxes(patches: list[Patch]) -> list[Even]:
    return [patch.box for patch in patches]


def _held(shown: Shown) -> Shown:
    """What is shown while poses are held: the pose of the count that began, and a view that never moves."""
    beat = shown.beat
    moment = shown.moment
    if beat is not None and beat.motion == shown.motion and beat.count is not None:
        moment = float(beat.count.moment)
    return replace(shown, moment=moment, arrival=float(shown.arrival >= 1.0), then=None, gone=0.0)
