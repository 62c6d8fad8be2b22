"""Versions of one dance side by side in one film: the same counts at the same moment, each dancer with her name.

Silent: it is for showing a class that all of them dance the same dance.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.files import folder_for, whole
from softshoe.render.encode import FilmFile
from softshoe.render.look import palette, typeface
from softshoe.render.look_signs import ring
from softshoe.render.picture import AHEAD_COUNTS, figure_marks
from softshoe.render.picture_camera import rig_for
from softshoe.render.picture_ground import floor_marks
from softshoe.render.stage import Text
from softshoe.render.stage_pixels import Canvas

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from softshoe.figure.motion import Motion
    from softshoe.render.picture_camera import Rig
    from softshoe.render.stage import Mark

WIDTH, HEIGHT = 1280, 720
TOP, FLOOR, EDGE = 96.0, 560.0, 16.0
SCALE, AIM_UP = 212.0, 58.0  # pixels a metre; how far above its edge the floor's middle lies
RATE_HZ, FPS = 48000, 25
NAMES = 26


def together(
    motions: Mapping[str, Motion],
    path: Path,
    *,
    title: str,
    counts_per_min: float,
    words: Callable[[int], str],
    metre: int = 8,
) -> None:
    """Write a film of several motions of the same counts, by their names, from left to right.

    ``words`` gives what is danced on a whole count (from 1); ``metre`` is how many counts the ring has.
    Raises OutputError when the file can't be written.
    """
    counts = min(motion.counts for motion in motions.values())
    frames = round(counts * 60.0 / counts_per_min * FPS)
    stage = Together(motions)
    folder_for(path.parent)
    with whole(path) as part:
        silence = np.zeros((2, round(frames / FPS * RATE_HZ)), np.float32)
        out = FilmFile(part, width=WIDTH, height=HEIGHT, fps=FPS, sound=silence, rate_hz=RATE_HZ)
        try:
            for frame in range(frames):
                moment = frame / FPS * counts_per_min / 60.0
                count = int(moment) + 1
                head = [*_head(title, words(count)), *_ring(count, metre)]
                out.see(stage.pixels(moment, head), left=0, top=0)
                out.show()
            out.close()
        except BaseException:
            out.abandon()
            raise


class Together:
    """The dancers of one film and their cameras; all of them in one scale."""

    def __init__(self, motions: Mapping[str, Motion]) -> None:
        self._motions = dict(motions)
        wide = (WIDTH - 2 * EDGE) / len(self._motions)
        boxes = [(EDGE + k * wide + 6, TOP, EDGE + (k + 1) * wide - 6, FLOOR) for k in range(len(self._motions))]
        self._boxes = boxes
        rigs = [
            rig_for(m, box, view="mirror", follow=1.0) for m, box in zip(self._motions.values(), boxes, strict=True)
        ]
        self._rigs = [_in_scale(rig, (box[0] + box[2]) / 2) for rig, box in zip(rigs, boxes, strict=True)]
        self._canvas = Canvas(WIDTH, HEIGHT, typeface())
        self._floor = self._blank()

    def _blank(self) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
        marks: list[Mark] = []
        for box, rig, name in zip(self._boxes, self._rigs, self._motions, strict=True):
            marks += floor_marks(rig, width=box[2] - box[0], bottom=FLOOR + 14)
            marks.append(
                Text((box[0] + box[2]) / 2, FLOOR + 52, name, NAMES, palette()["ink"], bold=True, anchor="middle")
            )
        self._canvas.draw(marks)
        return self._canvas.pixels().copy()

    def pixels(self, moment: float, head: list[Mark]) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
        """Return the picture of a moment [counts from 0], shape (720, 1280, 4)."""
        self._canvas.lay(self._floor)
        marks: list[Mark] = []
        for motion, rig in zip(self._motions.values(), self._rigs, strict=True):
            marks += self._dancer(motion, rig, moment)
        self._canvas.draw([*marks, *head])
        return self._canvas.pixels()

    def _dancer(self, motion: Motion, rig: Rig, moment: float) -> list[Mark]:
        frames = motion.at(np.array([moment, moment + AHEAD_COUNTS]))
        return figure_marks(frames, rig.at(moment), motion, travels=False)


def _in_scale(rig: Rig, middle: float) -> Rig:
    """Return the camera in the one scale of all, its dancer over the middle of her place."""
    return replace(rig, camera=replace(rig.camera, scale=SCALE, centre_x=middle, floor_y=FLOOR - AIM_UP))


def _head(title: str, words: str) -> list[Mark]:
    colours = palette()
    return [
        Text(EDGE + 20, 54, title, 32, colours["ink"], bold=True),
        Text(EDGE + 20, 676, words, 34, colours["ink"]),
    ]


def _ring(count: int, metre: int) -> list[Mark]:
    done = (count - 1) % metre + 1
    return ring(WIDTH - 84.0, 70.0, 46.0, counts=metre, done=done, label=str(done), thick=10.0)
