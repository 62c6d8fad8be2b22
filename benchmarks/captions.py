"""Captions against what is heard, measured on files: how far each caption begins from the sound of its first word.

    python benchmarks/captions.py FOLDER …

Each FOLDER is one that “softshoe make” has left (“--only report” will do). Its walkthrough, and its practice track at
100 and 70 %, are said by the voice alone and written as mp3; read again, every rise of energy out of a short silence is
a word's beginning, and each caption of the WebVTT file is held against the nearest. A word that follows another without
a silence has none to be found: it is counted apart.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from softshoe.jobs import media, values
from softshoe.render.captions import captions_of, read_vtt
from softshoe.render.track import lesson_sound, write_track
from softshoe.render.voice import RATE_HZ, WordBank, standard_voice

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.teach.lesson import Lesson

STEP = 220  # samples: 5 ms
LOUD, QUIET_STEPS = 0.02, 5
NEAR_S = 0.35
LIMIT_MS = 100


def onsets_s(x: NDArray[np.float32]) -> NDArray[np.float64]:
    """Where energy rises above a fiftieth of a loud moment's after at least 25 ms below it. [s]"""
    power = np.sqrt((x[: len(x) // STEP * STEP].astype(float).reshape(-1, STEP) ** 2).mean(axis=1))
    loud = power > LOUD * np.percentile(power, 99)
    quiet = np.convolve(loud, np.ones(QUIET_STEPS), "full")[: len(loud)]
    return np.flatnonzero(loud[1:] & (quiet[:-1] == 0)) * STEP / RATE_HZ + STEP / RATE_HZ


def measured(name: str, lesson: Lesson, bank: WordBank, folder: Path) -> None:
    import av

    track, written = folder / "track.mp3", folder / "track.vtt"
    write_track(lesson_sound(lesson, song=None, voice=bank, sound="voice"), RATE_HZ, track, title=name)
    written.write_text(captions_of(lesson), encoding="utf-8")
    with av.open(str(track)) as box:
        heard = onsets_s(np.concatenate([frame.to_ndarray()[0] for frame in box.decode(audio=0)]))
    cues = [cue for cue in read_vtt(written.read_text(encoding="utf-8")) if not cue.words.startswith("[")]
    off = 1000 * np.array([cue.start_s - heard[np.argmin(np.abs(heard - cue.start_s))] for cue in cues])
    found = np.abs(off) < 1000 * NEAR_S / 2
    print(f"{name:20s} {len(cues):4d} captions, {int((~found).sum())} without a silence before; begin "
          f"{np.median(np.abs(off[found])):3.0f} ms off in the median, {np.abs(off[found]).max():3.0f} at most, "
          f"{int((np.abs(off[found]) > LIMIT_MS).sum())} beyond {LIMIT_MS}")  # fmt: skip
    for cue, ms in zip(cues, off, strict=True):
        if abs(ms) > LIMIT_MS:
            print(f"    {cue.start_s:7.2f} s {ms:5.0f} ms  {cue.words!r}")


def main(folders: list[Path]) -> None:
    bank = WordBank(standard_voice())
    for folder in folders:
        dance = values.the_dance(folder)
        print(f"{dance.title}, {dance.counts} counts, {'seated' if dance.seated else 'standing'}, {dance.metre}")
        with tempfile.TemporaryDirectory() as left:
            measured("walkthrough", values.the_lesson(folder), bank, Path(left))
            shown = values.versions(dance)["seated" if dance.seated else "standing"]
            for pace in (100, 70):
                lesson = media._at_tempo(folder, shown, pace, fading=False)
                measured(f"practice at {pace} %", lesson, bank, Path(left))


if __name__ == "__main__":
    main([Path(name) for name in sys.argv[1:]])
