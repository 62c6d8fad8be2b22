"""A lesson as a film: cards while nobody dances, the dancer on every count, sound beside it."""

from __future__ import annotations

import math
from contextlib import ExitStack
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.errors import OutputError
from softshoe.files import folder_for, whole
from softshoe.render.encode import FilmFile
from softshoe.render.film_edition import Edition
from softshoe.render.film_page import Painter
from softshoe.render.screen_time import Schedule

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from softshoe.figure.motion import Motion
    from softshoe.render.encode_sound import Sound
    from softshoe.teach.lesson import Lesson

FRAMES_A_TELL = 50


def film(
    lesson: Lesson,
    motions: Mapping[str, Motion],
    sound: Sound,
    path: Path,
    *,
    width: int = 1280,
    height: int = 720,
    fps: int = 25,
    edition: Edition | None = None,
    contrast: Path | None = None,
    progress: Callable[[float], None] | None = None,
) -> None:
    """Write the lesson as an mp4 film, whole or not at all.

    motions : the motion of every name the lesson's beats use.
    sound : samples of shape (2, n) from -1 to 1 and their rate [Hz], silence fills what they lack; or another film of
        this lesson, whose sound is taken as it is.
    width, height : even; of a tall edition, the sides change places. Other proportions than 16 to 9 leave paper at the
        edges. [px]
    edition : who dances, on which page, moving or held; None is the plain film.
    contrast : where the same film in high contrast is made beside it: what both share is drawn once.
    progress : told the share done, 0 to 1, about every two seconds of film.

    Raises OutputError when the file can't be written or a motion is missing. Of its length only what is shown
    when stays in memory.
    """
    _complete(lesson, motions, path)
    edition = edition or Edition()
    if edition.layout.height > edition.layout.width:
        width, height = height, width
    if contrast is not None:
        edition = replace(edition, guise=replace(edition.guise, page="both"))
    folder_for(path.parent)
    with ExitStack() as stack:
        parts = [stack.enter_context(whole(one)) for one in (path, contrast) if one is not None]
        out = FilmFile(parts, width=width, height=height, fps=fps, sound=sound)
        try:
            out.chapters([(p.start_s, p.end_s, p.title) for p in lesson.passages if p.end_s > p.start_s])
            _shoot(
                out,
                Schedule(lesson, fps=fps),
                Painter(lesson, motions, width=width, height=height, edition=edition),
                progress,
            )
            out.close()
        except BaseException:
            out.abandon()
            raise
    if progress is not None:
        progress(1.0)


def _shoot(out: FilmFile, schedule: Schedule, painter: Painter, progress: Callable[[float], None] | None) -> None:
    frames = max(1, math.ceil(schedule.lesson.length_s * out.fps - 1e-6))
    shown = [schedule.at(k / out.fps) for k in range(frames)]
    painter.expect(shown)
    for k, one in enumerate(shown):
        for patch in painter.paint(one):
            out.see(*patch.planes, left=patch.left, top=patch.top)
        out.show()
        if progress is not None and k % FRAMES_A_TELL == 0:
            progress(k / frames)


def _complete(lesson: Lesson, motions: Mapping[str, Motion], path: Path) -> None:
    missing = {b.motion for p in lesson.passages for b in p.beats if b.motion is not None} - set(motions)
    if missing or not lesson.passages:
        what = f"nobody dances {', '.join(sorted(missing))}" if missing else "the lesson is empty"
        raise OutputError(str(path), "the film can't be made", what, "make the lesson and its motions again")
