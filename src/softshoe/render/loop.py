"""A section that goes round without a seam: its end flows into its beginning, in music, words and level.

Three rounds are made, each with the words and beats of its neighbours around it, and the middle one is kept: what
begins before its first beat or rings on behind its last is there already. A song is cut on the counts, and its end
passes over into what the song played before the first.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.groove import groove
from softshoe.render.loudness import set_level
from softshoe.render.mix import speech_over, ticks_over
from softshoe.render.sound import speech, ticks
from softshoe.render.track import SoundKind, pulses_of, song_part, style_of
from softshoe.render.voice import RATE_HZ, Voice, WordBank

if TYPE_CHECKING:
    from softshoe.render.band import Samples
    from softshoe.render.track import Song
    from softshoe.teach.lesson import Lesson

ROUNDS = 3
SEAM_S = 0.03


def loop_sound(
    lesson: Lesson, *, song: Song | None, voice: Voice | None, sound: SoundKind = "groove", times: int = 1
) -> Samples:
    """Return a lesson as a round that may be played again and again, ``times`` over: (2, n) float32 at 44,100 Hz.

    song, voice, sound : as in ``track.lesson_sound``.
    """
    size = round(lesson.length_s * RATE_HZ)
    rounds = _rounds(lesson, size / RATE_HZ)
    if sound == "song" and song is not None:
        out = np.tile(seamless(song, lesson, size), ROUNDS)
    elif sound == "voice":
        out = np.zeros((2, ROUNDS * size), np.float32)
    else:
        pulses = pulses_of(rounds)
        out = groove(pulses, style=style_of(pulses), length_s=rounds.length_s, swing=lesson.swing)[:, : ROUNDS * size]
    if voice is None:
        ticks_over(out, ticks(rounds.cues, length_s=rounds.length_s)[: out.shape[1]], RATE_HZ)
    else:
        said = speech(rounds.cues, WordBank(voice), length_s=rounds.length_s)
        speech_over(out, said.samples[: out.shape[1]], RATE_HZ, spoken=said.spoken)
    set_level(out, RATE_HZ)
    return np.tile(out[:, size : 2 * size], times)


def _rounds(lesson: Lesson, length_s: float) -> Lesson:
    """The lesson three times over, one after the other."""
    cues, passages = [], []
    for at in range(ROUNDS):
        cues += [replace(cue, at_s=cue.at_s + at * length_s) for cue in lesson.cues]
        for passage in lesson.passages:
            beats = tuple(replace(beat, at_s=beat.at_s + at * length_s) for beat in passage.beats)
            passages.append(replace(passage, beats=beats))
    return replace(lesson, length_s=ROUNDS * length_s, passages=tuple(passages), cues=tuple(cues))


def seamless(song: Song, lesson: Lesson, size: int) -> Samples:
    """Return the song under a lesson, ``size`` samples, whose end passes over into its beginning."""
    seam = min(round(SEAM_S * RATE_HZ), size // 4)
    start_s = (lesson.song_start_s or 0.0) + seam / RATE_HZ
    x = song_part(song, start_s=start_s, pace=lesson.pace, length_s=(size + seam) / RATE_HZ, fade_s=0.0)
    x = np.pad(x, ((0, 0), (0, max(0, size + seam - x.shape[1]))))[:, : size + seam]
    before, out = x[:, :seam], x[:, seam:].copy()
    rise = np.sin(np.linspace(0, np.pi / 2, seam, dtype=np.float32)) ** 2
    out[:, size - seam :] = out[:, size - seam :] * (1 - rise) + before * rise
    return out
