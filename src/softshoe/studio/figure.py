"""The dancing figure for a page: the marks of films, frame by frame, as numbers that a canvas draws.

A picture is 360 by 420; a frame is a list of marks in the order they are drawn, each [kind, fill, ink, width, numbers…]
(fill and ink: places in ``colours``, -1 for none; widths and places in tenths of a unit).
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from softshoe.studio.failing import MissingError
from softshoe.studio.reading import dance_of
from softshoe.studio.table import Way

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.figure.motion import Motion, Stance
    from softshoe.render.picture_camera import Rig
    from softshoe.render.stage import Mark
    from softshoe.studio.asking import Asked
    from softshoe.teach.lesson import View

    Row = list[Any]

WIDE, HIGH = 360, 420
BOX = (14.0, 10.0, WIDE - 14.0, HIGH - 28.0)
A_COUNT = 8  # frames a count
MOST_COUNTS = 128
TENTHS = 10


@lru_cache(maxsize=8)
def motion_of(words: str) -> Motion:
    """Return the motion of one wall of the dance of these words; raises FigureError where it can't be danced."""
    from softshoe.dance.footwork import wall_events
    from softshoe.figure.move import move

    dance = dance_of(words)
    stance: Stance = "seated" if dance.seated else "standing"
    return move(wall_events(dance), counts=float(max(1, dance.counts)), stance=stance, loop=True)


@lru_cache(maxsize=16)
def _rig(words: str, view: View) -> Rig:
    from softshoe.render.picture_camera import rig_for

    return rig_for(motion_of(words), BOX, view=view, follow=1.0)


@lru_cache(maxsize=64)
def frames(words: str, first: int, last: int, view: View) -> dict[str, Any]:
    """Return the frames of the dance of these words, as ``frames_of``."""
    return frames_of(motion_of(words), _rig(words, view), first, last)


def frames_of(motion: Motion, rig: Rig, first: int, last: int) -> dict[str, Any]:
    """Return the frames from one moment to another [counts from 0], ``A_COUNT`` a count, both ends kept."""
    import numpy as np

    from softshoe.render.picture import AHEAD_COUNTS, figure_marks
    from softshoe.render.picture_ground import floor_marks

    last = min(last, round(motion.counts))
    colours: list[str] = []
    drawn = []
    for k in range((last - first) * A_COUNT + 1):
        at = first + k / A_COUNT
        pair = motion.at(np.array([at, at + AHEAD_COUNTS]))
        drawn.append(rows(figure_marks(pair, rig.at(at), motion), colours))
    floor = rows(floor_marks(rig, width=WIDE * 0.94, bottom=HIGH - 8.0), colours)
    return {"wide": WIDE, "high": HIGH, "first": first, "last": last, "a_count": A_COUNT, "counts": motion.counts,
            "floor": floor, "frames": drawn, "colours": colours}  # fmt: skip


def rows(marks: Iterable[Mark], colours: list[str]) -> list[Row]:
    """Return marks as rows of numbers; colours that are new are added to the list."""
    return [_row(mark, colours) for mark in marks]


def _row(mark: Mark, colours: list[str]) -> Row:
    from softshoe.render.stage import Arc, Capsule, Circle, Line, Polygon, arc_points, capsule_points

    match mark:
        case Polygon():
            return ["p", *_paint(mark.fill, mark.ink, mark.width, colours), *_flat(mark.points)]
        case Capsule():
            return ["p", *_paint(mark.fill, mark.ink, mark.width, colours), *_flat(capsule_points(mark))]
        case Circle():
            place = _tenths(mark.x), _tenths(mark.y), _tenths(mark.r)
            return ["c", *_paint(mark.fill, mark.ink, mark.width, colours), *place]
        case Line():
            return ["l", *_paint(None, mark.ink, mark.width, colours), *_flat(mark.points)]
        case Arc():
            points = arc_points(mark.x, mark.y, mark.r, start_deg=mark.start_deg, end_deg=mark.end_deg, steps=24)
            return ["l", *_paint(None, mark.ink, mark.width, colours), *_flat(points)]
        case _:
            paint = _paint(mark.ink, None, 0.0, colours)
            return ["t", *paint, _tenths(mark.x), _tenths(mark.y), mark.size, mark.words]


def _paint(fill: str | None, ink: str | None, width: float, colours: list[str]) -> tuple[int, int, int]:
    return _colour(fill, colours), _colour(ink if width else None, colours), _tenths(width)


def _colour(colour: str | None, colours: list[str]) -> int:
    if colour is None:
        return -1
    if colour not in colours:
        colours.append(colour)
    return colours.index(colour)


def _tenths(number: float) -> int:
    return round(TENTHS * number)


def _flat(points: Iterable[tuple[float, float]]) -> list[int]:
    return [_tenths(number) for point in points for number in point]


def shown(asked: Asked) -> dict[str, Any]:
    """Return the frames of some counts of the dance: the query says which, at which stroke."""
    draft = asked.desk.draft(asked.dance)
    at, first, last = (number_in(asked.query.get(name, ""), name) for name in ("at", "first", "last"))
    if not 0 <= at <= len(draft.strokes) or not 0 <= first < last <= first + MOST_COUNTS:
        raise MissingError("the figure", "these counts can't be shown", "there are no such counts",
                           "load the page again")  # fmt: skip
    view: View = "behind" if asked.query.get("view") == "behind" else "mirror"
    words = draft.words(at)
    if first >= dance_of(words).counts:
        raise MissingError("the figure", "these counts can't be shown", "the dance is shorter", "load the page again")
    return frames(words, first, last, view)


def number_in(said: str, name: str) -> int:
    """Return a number of an address; raises MissingError where it is none."""
    if not said.isascii() or not said.isdecimal() or len(said) > 6:
        raise MissingError("the figure", f"“{name}” is missing", "the address has a slip in it", "load the page again")
    return int(said)


WAYS = (Way("figure", shown),)
