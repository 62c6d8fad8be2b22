"""What is heard in one part of the lesson, as the practice tracks have it: the voice over the plain rhythm.

It is said in a process of its own, once; the words it takes are kept for the tracks and films that follow.
"""

from __future__ import annotations

import hashlib
import json
import threading
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.files import folder_for
from softshoe.studio.alone import done_alone
from softshoe.studio.failing import MissingError

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from softshoe.jobs.step import Step
    from softshoe.studio.desk import Desk
    from softshoe.teach.lesson import Lesson

KEPT = 60
EARLY_S = 0.3  # a count's sound may begin so much before its moment
_ONE_BY_ONE = threading.Lock()


def part_of(lesson: Lesson, number: int) -> Lesson:
    """Return one part of a lesson as a lesson of its own, its first second 0; raises MissingError."""
    if not 0 <= number < len(lesson.passages):
        raise MissingError("this part of the lesson", "it is not there", f"the lesson has {len(lesson.passages)} parts",
                           "load the page again")  # fmt: skip
    one = lesson.passages[number]
    from_s = one.start_s
    beats = tuple(replace(beat, at_s=beat.at_s - from_s) for beat in one.beats)
    cues = tuple(
        replace(cue, at_s=cue.at_s - from_s)
        for cue in lesson.cues if from_s - EARLY_S <= cue.at_s < one.end_s - EARLY_S
    )  # fmt: skip
    part = replace(one, start_s=0.0, end_s=one.end_s - from_s, beats=beats)
    return replace(lesson, length_s=part.end_s, passages=(part,), cues=cues, captions=(), song_start_s=None)


def spoken_file(desk: Desk, part: Lesson) -> Path:
    """Return the sound of a part, made unless it is there; raises WorkbenchError."""
    from softshoe.jobs.step import Step
    from softshoe.render.voice_own import the_voice
    from softshoe.teach.document import lesson_json

    doc = json.dumps(lesson_json(part), sort_keys=True)
    name = hashlib.sha256(f"{the_voice().name}\n{doc}".encode()).hexdigest()[:32]
    path = desk.home / "studio" / "said" / f"{name}.wav"
    folder_for(path.parent)
    with _ONE_BY_ONE:
        if not path.is_file():
            done_alone(Step("say", "Saying this part", say, {"lesson": doc}, (), (path,)))
            _only_the_newest(path.parent)
    return path


def say(step: Step, _: Callable[[float], None]) -> None:
    """Say a part: the work of the process. Raises WorkbenchError."""
    from softshoe.render.track import lesson_sound, write_track
    from softshoe.render.voice import RATE_HZ
    from softshoe.render.voice_own import the_voice
    from softshoe.teach.document import lesson_from_json

    part = lesson_from_json(json.loads(step.settings["lesson"]))
    samples = lesson_sound(part, song=None, voice=the_voice() if part.cues else None, sound="groove")
    write_track(samples, RATE_HZ, step.leaves[0], title=part.title)


def _only_the_newest(folder: Path) -> None:
    every = sorted(folder.glob("*.wav"), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in every[KEPT:]:
        old.unlink(missing_ok=True)
