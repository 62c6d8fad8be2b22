"""Versions of one dance side by side in one film: the same counts at the same moment, each dancer with her name.

Silent: it is for showing a class that all of them dance the same dance. Where each of them stands: ``film_places``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.files import folder_for, whole
from softshoe.render.encode import FilmFile
from softshoe.render.film_colours import film_colour, planes_of
from softshoe.render.film_places import places, reach_of
from softshoe.render.look import in_guise, palette, typeface
from softshoe.render.look_signs import ring
from softshoe.render.picture import AHEAD_COUNTS, figure_marks
from softshoe.render.picture_camera import rig_for
from softshoe.render.picture_ground import floor_marks
from softshoe.render.stage import Polygon, Text
from softshoe.render.stage_pixels import Canvas

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from softshoe.figure.motion import Motion
    from softshoe.render.film_places import Reach
    from softshoe.render.look import Guise
    from softshoe.render.picture_camera import Rig, Seen
    from softshoe.render.stage import Mark
    from softshoe.render.stage_pixels import Pixels

WIDTH, HEIGHT = 1280, 720
EDGE = 20.0
BOX = (EDGE, 76.0, WIDTH - EDGE, 600.0)
LARGEST = 230.0  # pixels a metre
FLOOR_M = 1.1  # how wide a dancer's floor is
RATE_HZ, FPS = 48000, 25
NAME_SIZES, NAME_GAP = (26, 24, 22, 20), 14.0


@dataclass(frozen=True, slots=True, eq=False)
class Dancer:
    """One of those side by side: her name, her motion, her guise."""

    name: str
    motion: Motion
    guise: Guise


def together(
    dancers: Sequence[Dancer],
    path: Path,
    *,
    title: str,
    counts_per_min: float,
    words: Callable[[int], str],
    metre: int = 8,
    view: Seen = "mirror",
) -> None:
    """Write a film of several dancers of the same counts, from left to right.

    ``words`` gives what is danced on a whole count (from 1); ``metre`` is how many counts the ring has.
    Raises OutputError when the file can't be written.
    """
    counts = min(dancer.motion.counts for dancer in dancers)
    frames = round(counts * 60.0 / counts_per_min * FPS)
    stage = Together(dancers, view=view)
    folder_for(path.parent)
    with whole(path) as part:
        silence = np.zeros((2, round(frames / FPS * RATE_HZ)), np.float32)
        out = FilmFile([part], width=WIDTH, height=HEIGHT, fps=FPS, sound=(silence, RATE_HZ))
        try:
            for frame in range(frames):
                moment = frame / FPS * counts_per_min / 60.0
                count = int(moment) + 1
                head = [*_head(title, words(count)), *_ring(count, metre)]
                out.see(planes_of(stage.pixels(moment, head)))
                out.show()
            out.close()
        except BaseException:
            out.abandon()
            raise


class Together:
    """The dancers of one film and their cameras; all of them in one scale."""

    def __init__(self, dancers: Sequence[Dancer], *, view: Seen = "mirror") -> None:
        self._dancers = tuple(dancers)
        rigs = [rig_for(d.motion, BOX, view=view, follow=1.0) for d in dancers]
        reaches = [reach_of(d.motion, rig) for d, rig in zip(dancers, rigs, strict=True)]
        self.places = places(reaches, [d.motion.stance == "seated" for d in dancers], BOX, largest=LARGEST)
        self._rigs = [
            replace(rig, camera=replace(rig.camera, scale=self.places.scale, centre_x=x, floor_y=y))
            for rig, (x, y) in zip(rigs, self.places.at, strict=True)
        ]
        self._order = sorted(range(len(dancers)), key=lambda k: self.places.at[k][1])
        self._canvas = Canvas(WIDTH, HEIGHT, typeface(), ink=film_colour)
        self._floor = self._blank(reaches)

    def _blank(self, reaches: Sequence[Reach]) -> Pixels:
        corners = ((0.0, 0.0), (float(WIDTH), 0.0), (float(WIDTH), float(HEIGHT)), (0.0, float(HEIGHT)))
        marks: list[Mark] = [Polygon(corners, palette()["paper"])]
        scale, names = self.places.scale, [dancer.name for dancer in self._dancers]
        rows = [(y, y + reach.low * scale) for (_, y), reach in zip(self.places.at, reaches, strict=True)]
        lows = [max(low for other, low in rows if other == y) for y, _ in rows]
        for rig, low in zip(self._rigs, lows, strict=True):
            marks += floor_marks(rig, width=FLOOR_M * scale, bottom=low + 4)
        size = _name_size(names, [x for x, _ in self.places.at])
        for name, (x, _), low in zip(names, self.places.at, lows, strict=True):
            marks.append(Text(x, low + size + 4, name, size, palette()["ink"], bold=True, anchor="middle"))
        self._canvas.draw(marks)
        return self._canvas.pixels().copy()

    def pixels(self, moment: float, head: list[Mark]) -> Pixels:
        """Return the picture of a moment [counts from 0] in film colours, shape (720, 1280, 4)."""
        self._canvas.lay(self._floor)
        for k in self._order:  # who stands farther off first
            self._canvas.draw(self.dancer(self._dancers[k], self._rigs[k], moment))
        self._canvas.draw(head)
        return self._canvas.pixels()

    def dancer(self, dancer: Dancer, rig: Rig, moment: float) -> list[Mark]:
        """Return one dancer at a moment."""
        frames = dancer.motion.at(np.array([moment, moment + AHEAD_COUNTS]))
        with in_guise(dancer.guise):
            return figure_marks(frames, rig.at(moment), dancer.motion, travels=False)


def _name_size(names: Sequence[str], middles: Sequence[float]) -> int:
    """One size for all names, the largest at which no two of them would meet in a row."""
    face, order = typeface(), sorted(range(len(names)), key=lambda k: middles[k])
    for size in NAME_SIZES:
        halves = [face.width(names[k], size=size, bold=True) / 2 for k in order]
        places_ = [middles[k] for k in order]
        pairs = zip(places_, places_[1:], halves, halves[1:], strict=False)
        if all(x1 - x0 >= a + b + NAME_GAP for x0, x1, a, b in pairs):
            break
    return size


def _head(title: str, words: str) -> list[Mark]:
    colours = palette()
    return [
        Text(EDGE + 20, 54, title, 32, colours["ink"], bold=True),
        Text(EDGE + 20, 676, words, 34, colours["ink"]),
    ]


def _ring(count: int, metre: int) -> list[Mark]:
    done = (count - 1) % metre + 1
    return ring(WIDTH - 84.0, 68.0, 46.0, counts=metre, done=done, label=str(done), thick=10.0)
