"""What is heard, measured on files: counts against the beat, loudness and peak, speech over music, stretched clicks.

    python benchmarks/heard.py [--quick]

For songs of 70 to 140 counts a minute and paces of 70, 85 and 100 %, practice tracks are written as mp3 and read again:

- voice alone: where the vowel of every spoken count begins, against its beat. A word that begins with a consonant is
  measured by a forced alignment (pocketsphinx, steps of 10 ms), “eight”, which begins with its vowel, by its sound.
- whole tracks: loudness and true peak by a second meter (libebur128 through pyebur128, taken where it is installed),
  else by that of FFmpeg; speech over music by the parts from which the track was mixed, in windows of four seconds.
- clicks on the beat of a made song, slowed to 60 … 120 %, against where they belong, and how steep they are left.
"""

from __future__ import annotations

import argparse
import tempfile
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.demo_song import demo_song
from softshoe.render.loudness_meter import integrated_lufs, measure
from softshoe.render.mix import CENTRE_LU, duck
from softshoe.render.sound import speech
from softshoe.render.stretch import slowed
from softshoe.render.track import lesson_sound, music_of, write_track
from softshoe.render.voice import RATE_HZ, WordBank, standard_voice
from softshoe.render.voice_aligner import aligned_vowel_s
from softshoe.teach.lesson import Beat, Cue, Lesson, Passage

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.render.band import Samples

WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
COUNTS = 32
ONSET_S, GAP_S = 0.1, 0.04


def counted(per_min: float, *, pace: float = 1.0) -> Lesson:
    """A track of 32 counts, each spoken, at so many counts a minute slowed to a pace."""
    step_s = 60 / per_min / pace
    at_s = [2.0 + k * step_s for k in range(COUNTS)]
    beats = tuple(Beat(t, step_s, str(k % 8 + 1), "m") for k, t in enumerate(at_s))
    room_s = max(0.2, step_s - ONSET_S - GAP_S)
    cues = tuple(Cue(t, room_s, WORDS[k % 8], "count") for k, t in enumerate(at_s))
    length_s = at_s[-1] + step_s + 1.0
    passage = Passage("Track", 0.0, length_s, "seated", "mirror", beats)
    return Lesson("Bench", length_s, (passage,), cues, (), 0.0, pace)


def read_again(samples: Samples, folder: str) -> NDArray[np.float32]:
    """The sound as an mp3 gives it back: (2, n)."""
    import av

    path = Path(folder) / "track.mp3"
    write_track(samples, RATE_HZ, path, title="Bench")
    with av.open(str(path)) as box:
        return np.concatenate([frame.to_ndarray() for frame in box.decode(audio=0)], axis=1)


def off_ms(sound: NDArray[np.float32], cue: Cue, step_s: float) -> float | None:
    """How far behind its beat the vowel of a spoken count begins; None where the measure is at a loss."""
    before = min(0.25, 0.45 * step_s)
    start = round((cue.at_s - before) * RATE_HZ)
    piece = sound[0, start : start + round(step_s * RATE_HZ)]
    if cue.words == "eight":
        frame = RATE_HZ // 200
        power = np.convolve(piece**2, np.ones(frame) / frame, "same")
        soft = np.flatnonzero(power[: np.argmax(power)] < 0.05 * power.max())
        return 1000 * (float(soft[-1] if len(soft) else 0) / RATE_HZ - before)
    found = aligned_vowel_s(piece, RATE_HZ, cue.words)
    return None if found is None else 1000 * (found - before)


def onsets(folder: str, tempos: tuple[int, ...]) -> None:
    bank = WordBank(standard_voice())
    every: list[float] = []
    lost = 0
    print("spoken counts against the beat [ms]      counts   median |.|     95 %    worst")
    for per_min in tempos:
        for pace in (0.7, 0.85, 1.0):
            lesson = counted(per_min, pace=pace)
            sound = read_again(lesson_sound(lesson, song=None, voice=bank, sound="voice"), folder)
            step_s = lesson.passages[0].beats[0].step_s
            found = [off_ms(sound, cue, step_s) for cue in lesson.cues]
            told = np.abs([ms for ms in found if ms is not None])
            lost += sum(ms is None for ms in found)
            every += told.tolist()
            print(f"  {per_min:3d} a minute at {pace:4.0%}                     {len(told):4d}   {np.median(told):8.1f}"
                  f"   {np.percentile(told, 95):8.1f} {told.max():8.1f}")  # fmt: skip
    print(f"  all ({lost} not measured)                       {len(every):4d}   {np.median(every):8.1f}"
          f"   {np.percentile(every, 95):8.1f} {max(every):8.1f}")  # fmt: skip


def second_meter(sound: NDArray[np.float32]) -> tuple[float, float, str]:
    """Loudness [LUFS], true peak [dBTP], and whose meter it is."""
    try:
        pyebur128 = import_module("pyebur128")
    except ImportError:
        now = measure(sound, RATE_HZ)
        return now.lufs, now.peak_dbtp, "FFmpeg"
    both = pyebur128.MeasurementMode.MODE_I | pyebur128.MeasurementMode.MODE_TRUE_PEAK
    meter = pyebur128.R128State(2, RATE_HZ, both)
    meter.add_frames(np.ascontiguousarray(sound.T).ravel(), sound.shape[1])
    peak = max(pyebur128.get_true_peak(meter, channel) for channel in (0, 1))
    return pyebur128.get_loudness_global(meter), 20 * np.log10(peak), "libebur128"


def levels(folder: str) -> None:
    bank, song = WordBank(standard_voice()), demo_song()
    print("\ntracks read again from mp3               LUFS    dBTP   speech over music, least and usual of 4 s [LU]")
    for sound in ("song", "groove", "voice"):
        for pace in (0.7, 1.0):
            lesson = counted(100, pace=pace)
            now = read_again(lesson_sound(lesson, song=song, voice=bank, sound=sound), folder)  # type: ignore[arg-type]
            lufs, peak, whose = second_meter(now)
            over = speech_over(lesson, song, bank, sound)
            print(f"  {sound:6s} at {pace:4.0%} ({whose:10s})         {lufs:6.2f}  {peak:6.2f}   {over}")


def speech_over(lesson: Lesson, song: tuple[Samples, int], bank: WordBank, sound: str) -> str:
    if sound == "voice":
        return "no music"
    music = music_of(lesson, song=song, sound=sound)  # type: ignore[arg-type]
    said = speech(lesson.cues, bank, length_s=lesson.length_s)
    duck(music, RATE_HZ, speech_lufs=integrated_lufs(said.samples[None], RATE_HZ) + CENTRE_LU, spoken=said.spoken)
    both = np.repeat(said.samples[None], 2, axis=0)
    window = 4 * RATE_HZ
    starts = range(2 * RATE_HZ, both.shape[1] - window, window)
    over = [integrated_lufs(both[:, a : a + window], RATE_HZ) - integrated_lufs(music[:, a : a + window], RATE_HZ)
            for a in starts]  # fmt: skip
    return f"{min(over):.1f}  {np.median(over):.1f}"


def clicks() -> None:
    """A song of clicks on every half second over a soft chord, at several paces."""
    t = np.arange(40 * RATE_HZ) / RATE_HZ
    chord = sum(0.03 * np.sin(2 * np.pi * hz * t) for hz in (196.0, 247.0, 294.0))
    at = np.arange(1.0, 39.0, 0.5)
    click = 0.8 * np.exp(-np.arange(RATE_HZ // 50) / 60) * np.random.default_rng(1).standard_normal(RATE_HZ // 50)
    for second in at:
        chord[round(second * RATE_HZ) : round(second * RATE_HZ) + len(click)] += click
    song = np.tile(chord.astype(np.float32), (2, 1))
    print("\nclicks on a chord, slowed                median     95 %    worst [ms]   rise [ms]")
    for pace in (0.6, 0.7, 0.85, 1.0, 1.2):
        x = np.abs(np.diff(slowed(song, RATE_HZ, pace=pace)[0]))
        found = np.array([_click(x, second / pace) for second in at])
        off, rise = np.abs(found[:, 0]), found[:, 1]
        print(f"  {pace:4.0%}                               {np.median(off):8.2f} {np.percentile(off, 95):8.2f}"
              f" {off.max():8.2f}     {np.median(rise):8.2f}")  # fmt: skip


def _click(x: NDArray[np.float32], second: float) -> tuple[float, float]:
    """How far off a click is, and how long its rise takes. [ms]"""
    around = round(0.05 * RATE_HZ)
    middle = round(second * RATE_HZ)
    level = np.convolve(x[middle - around : middle + around], np.ones(22) / 22, "same")
    high, low = np.argmax(level >= 0.9 * level.max()), np.argmax(level >= 0.1 * level.max())
    half = np.argmax(level >= 0.5 * level.max())
    return 1000 * (half - around) / RATE_HZ, 1000 * (high - low) / RATE_HZ


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="one tempo only")
    quick = parser.parse_args().quick
    with tempfile.TemporaryDirectory() as folder:
        onsets(folder, (100,) if quick else (70, 90, 100, 112, 126, 140))
        levels(folder)
    clicks()


if __name__ == "__main__":
    main()
