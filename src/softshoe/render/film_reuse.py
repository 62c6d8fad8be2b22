"""Pictures of the dancer that come again: kept until their last time, so that a wall is drawn once and shown six times.

A film knows what it will show. A moment of a motion that comes again, seen by the same camera, is the same picture; it
is kept in film colours with what lay under it, as long as there is room.
"""

from __future__ import annotations

import zlib
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable

    from softshoe.render.film_colours import Pixels
    from softshoe.render.film_layer import Patch
    from softshoe.render.film_pose import Pose
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage_box import Even

ROOM_BYTES = 128 * 2**20
FINE = 3  # shares of a way are told apart by so many decimals


@dataclass(frozen=True, slots=True, eq=False)
class Kept:
    """The dancer's whole picture, the pose it shows, and what lay under it when it was made."""

    patch: Patch
    pose: Pose
    under: int


class Shelf:
    """The kept pictures of one film."""

    def __init__(self) -> None:
        self._times: Counter[Hashable] = Counter()
        self._kept: dict[Hashable, Kept] = {}
        self._bytes = 0

    def expect(self, shown: Iterable[Shown]) -> None:
        """Told everything that will be shown, each time it will be."""
        self._times = Counter(_moment(one) for one in shown if one.motion is not None)

    def take(self, shown: Shown) -> Kept | None:
        """Return the kept picture of this moment, if there is one; after its last time it is let go."""
        moment = _moment(shown)
        self._times[moment] -= 1
        found = self._kept.get(moment)
        if found is not None and self._times[moment] <= 0:
            del self._kept[moment]
            self._bytes -= _size(found)
        return found

    def wants(self, shown: Shown) -> bool:
        """Tell whether this moment comes again and there is room for its picture."""
        return self._times[_moment(shown)] > 0 and self._bytes < ROOM_BYTES

    def keep(self, shown: Shown, picture: Kept) -> None:
        """Keep a picture for the next time."""
        before = self._kept.get(_moment(shown))
        self._bytes += _size(picture) - (_size(before) if before is not None else 0)
        self._kept[_moment(shown)] = picture


def mark_of(under: Pixels, box: Even) -> int:
    """Return a number that tells what lies under a box: equal for equal pixels."""
    left, top, right, bottom = box
    return zlib.crc32(np.ascontiguousarray(under[top:bottom, left:right]).data)


def _moment(shown: Shown) -> Hashable:
    """What the dancer's picture rests on."""
    way = (
        (shown.then.motion, shown.then.count, round(shown.gone, FINE), _turn(shown))
        if shown.gone and shown.then
        else ()
    )
    return shown.motion, shown.passage.view, round(shown.moment, FINE), round(shown.arrival, FINE), way


def _turn(shown: Shown) -> float:
    return shown.then.facing_deg - shown.beat.facing_deg if shown.then and shown.beat else 0.0


def _size(kept: Kept) -> int:
    return sum(plane.nbytes for plane in kept.patch.planes)
