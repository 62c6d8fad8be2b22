"""How long sound takes: CPU seconds and greatest memory, for a practice track of three and a half minutes.

    python benchmarks/sound.py

Each line is one step; the limit for the whole track, file included, is 12 CPU seconds and 500 MiB.
"""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from softshoe.render.demo_song import demo_song, demo_truth
from softshoe.render.groove import Pulse, groove
from softshoe.render.loudness import set_level
from softshoe.render.loudness_meter import measure
from softshoe.render.stretch import slowed
from softshoe.render.track import lesson_sound, write_track
from softshoe.render.voice import RATE_HZ, HibariVoice, WordBank
from softshoe.teach.lesson import Beat, Cue, Lesson, Passage

if TYPE_CHECKING:
    from collections.abc import Callable

WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
PACE = 0.63
T = TypeVar("T")


def memory_mib() -> float:
    """The greatest memory so far; macOS counts bytes, Linux kilobytes."""
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / (1 << 20 if sys.platform == "darwin" else 1 << 10)


def timed(what: str, work: Callable[[], T]) -> T:
    start = time.process_time()
    result = work()
    print(f"{what:44s} {time.process_time() - start:6.2f} s CPU   {memory_mib():5.0f} MiB")
    return result


def practice() -> Lesson:
    """The demo song at 63 %, every beat counted: 3 min 32 s."""
    start_s, step_s = 5.0, 0.6 / PACE
    at_s = [start_s + beat_s / PACE for beat_s in demo_truth()["beats"]]
    beats = tuple(Beat(t, step_s, str(k % 8 + 1), "wall") for k, t in enumerate(at_s))
    cues = tuple(Cue(t, step_s - 0.15, WORDS[k % 8], "count") for k, t in enumerate(at_s))
    length_s = start_s + 132.0 / PACE
    return Lesson(
        "Bench", length_s, (Passage("Track", 0, length_s, "seated", "mirror", beats),), cues, (), start_s, PACE
    )


def main() -> None:
    song = timed("demo song, 131 s", demo_song)
    lesson = practice()
    bank = WordBank(HibariVoice())
    timed("eight words, engine loaded", lambda: [bank.fitting(word, room_s=0.8) for word in WORDS])
    sound = timed(
        f"track of {lesson.length_s:.0f} s, counts over the song", lambda: lesson_sound(lesson, song=song, voice=bank)
    )
    with tempfile.TemporaryDirectory() as folder:
        timed("its mp3", lambda: write_track(sound, RATE_HZ, Path(folder) / "track.mp3", title="Bench"))
    timed("  of these: the song slowed", lambda: slowed(song[0], song[1], pace=PACE))
    timed("  of these: loudness and true peak", lambda: measure(sound, RATE_HZ))
    timed("  of these: level set, limiter", lambda: set_level(sound, RATE_HZ))
    pulses = [Pulse(beat.at_s, beat.step_s, int(beat.label)) for beat in lesson.passages[0].beats]
    timed("the plain rhythm instead", lambda: groove(pulses, style="straight", length_s=lesson.length_s))


if __name__ == "__main__":
    main()
