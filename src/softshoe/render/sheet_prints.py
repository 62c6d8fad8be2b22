"""Footprints of a section on the printed floor map: where each foot lands, with its counts, and the way between."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.dance.feet import Foot
from softshoe.render.look import palette
from softshoe.render.look_signs import foot_print, letter
from softshoe.render.picture_floor import SIDES, ghost_marks, print_at
from softshoe.render.sheet_rows import local_label
from softshoe.render.stage import Capsule, Line, Mark, Point, Polygon, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Event
    from softshoe.dance.dance import Section
    from softshoe.figure.motion import FloatArray, Motion
    from softshoe.render.picture_floor import FloorView

SAME_M, SAME_DEG = 0.07, 25.0  # prints of one foot nearer than this are one print
LOADED_COUNTS = 0.4  # how long after the contact a foot has the weight it will have
STANDS = 0.25  # a foot bears from this share on
LABEL, LETTER_WIDE, PLATE_R = 16, 0.56, 10.5
MOST_LABELS = 4
PATH_M = 0.15  # a way shorter than this is no way
PRINT = 0.95  # of the length of a shoe


@dataclass(frozen=True, slots=True, eq=False)
class Print:
    """One foot set down: which, on which counts of the section, how much it bears, the body at that moment (n, 3)."""

    side: str
    labels: tuple[str, ...]
    bears: float
    points: FloatArray

    @property
    def place(self) -> tuple[float, float, float]:
        """Forward, right [m], and where the toe points [degrees]."""
        return print_at(self.points, self.side)


def landed(events: Sequence[Event], section: Section, motion: Motion) -> list[Print]:
    """Return every print of a section, those of one foot on one place joined."""
    found: list[Print] = []
    for event in events:
        foot = event.action.foot
        if foot is None:
            continue
        moment = max(0.0, float(event.action.at.moment))
        points = motion.at(np.array([moment])).points_m[0]
        loaded = motion.at(np.array([min(moment + LOADED_COUNTS, motion.counts)])).bearing[0]
        label, _ = local_label(event.action.at, section.start)
        for side in SIDES if foot is Foot.BOTH else (foot.word,):
            bears = float(loaded[SIDES.index(side)])
            _add(found, Print(side, (label,), 1.0 if bears >= STANDS else 0.0, points))
    return found


def _add(found: list[Print], new: Print) -> None:
    for k, old in enumerate(found):
        near = math.dist(old.place[:2], new.place[:2]) < SAME_M
        alike = abs((old.place[2] - new.place[2] + 180) % 360 - 180) < SAME_DEG
        if old.side == new.side and near and alike:
            found[k] = replace(old, labels=(*old.labels, *new.labels), bears=max(old.bears, new.bears))
            return
    found.append(new)


def rested(motion: Motion, first: float) -> FloatArray:
    """Return the body as it stands before a section begins, shape (n, 3)."""
    if first >= 1.0:
        points: FloatArray = motion.at(np.array([first - 0.6])).points_m[0]
        return points
    from softshoe.figure.move import move

    support = motion.chair.kind if motion.chair is not None else "free"
    resting: FloatArray = move((), counts=1.0, stance=motion.stance, support=support).frames.points_m[0]
    return resting


def path_marks(way_m: FloatArray, view: FloorView) -> list[Mark]:
    """Return the way of the dancer's middle (n, 2), with a head where it ends; nothing where she stays."""
    if len(way_m) < 2 or float(np.ptp(way_m, axis=0).max()) < PATH_M:
        return []
    accent = palette()["accent"]
    points = [view.at(x, z) for x, z in way_m.tolist()]
    thin = [points[0], *(p for p, q in zip(points[1:], points, strict=False) if math.dist(p, q) > 0.2), points[-1]]
    return [Line(tuple(thin), accent, 2.4), *_head(thin, accent)]


def _head(points: Sequence[Point], ink: str) -> list[Mark]:
    end = points[-1]
    back = next((p for p in reversed(points) if math.dist(p, end) > 8.0), points[0])
    t = math.atan2(end[1] - back[1], end[0] - back[0])
    corners = [(end[0] + 4 * math.cos(t), end[1] + 4 * math.sin(t))]
    corners += [(end[0] - 11 * math.cos(t + way), end[1] - 11 * math.sin(t + way)) for way in (0.5, -0.5)]
    return [Polygon(tuple(corners), ink)]


def print_marks(prints: Sequence[Print], start: FloatArray, view: FloorView) -> list[Mark]:
    """Return the prints over the outlines of where the section begins, each with its counts on a plate."""
    marks, size = ghost_marks(start, view), PRINT * view.foot_px
    for one in prints:
        (x, y), toe_deg = view.at(*one.place[:2]), one.place[2]
        marks += foot_print(x, y, size, side=one.side, bears=one.bears, toe_deg=toe_deg, bar=False, plate=False)
    for one in prints:
        heel = _along(one, view, -0.34 * size)
        marks += letter(*heel, max(0.15 * size, 7.5), side=one.side, filled=one.bears > 0)
    taken: list[_Plate] = []
    for one in prints:
        plate = _plate(one, view, size, taken)
        taken.append(plate)
        marks += plate.marks(palette()[one.side])
    return marks


def _along(one: Print, view: FloorView, far: float) -> Point:
    """The page point so far from a print's middle towards its toe."""
    (x, y), turn = view.at(*one.place[:2]), math.radians(one.place[2])
    return x + far * math.sin(turn), y - far * math.cos(turn)


@dataclass(frozen=True, slots=True)
class _Plate:
    """The counts of a print on their plate, from ``left`` to ``right`` at the height ``y``."""

    words: str
    left: float
    right: float
    y: float

    def meets(self, other: _Plate) -> bool:
        """Tell whether two plates lie over each other."""
        aside = self.left - PLATE_R < other.right + PLATE_R and other.left - PLATE_R < self.right + PLATE_R
        return aside and abs(self.y - other.y) < 2 * PLATE_R

    def marks(self, ink: str) -> list[Mark]:
        """The plate in the side's colour, the counts in ink."""
        colours = palette()
        shape = Capsule(self.left, self.y, PLATE_R, self.right, self.y, PLATE_R, colours["paper"], ink, 2.0)
        middle = (self.left + self.right) / 2
        words = Text(middle, self.y + 0.36 * LABEL, self.words, LABEL, colours["ink"], anchor="middle", face="count")
        return [shape, words]


def _plate(one: Print, view: FloorView, size: float, taken: Sequence[_Plate]) -> _Plate:
    """The plate over the ball of the foot, long ones reaching outward; moved along it where another lies there."""
    more = len(one.labels) > MOST_LABELS
    words = ", ".join(one.labels[: MOST_LABELS - 1] if more else one.labels) + (" …" if more else "")
    long = max(0.0, LETTER_WIDE * LABEL * len(words) - PLATE_R)
    turn = math.radians(one.place[2] + (90.0 if one.side == "right" else -90.0))
    to_right = math.sin(turn) >= -0.3
    tried = []
    for share in (0.24, 0.02, 0.46, 0.68, -0.2):
        x, y = _along(one, view, share * size)
        tried.append(_Plate(words, x, x + long, y) if to_right else _Plate(words, x - long, x, y))
    return next((plate for plate in tried if not any(plate.meets(other) for other in taken)), tried[0])
