"""The sound of a lesson: the song at the lesson's pace, or a plain rhythm, with the spoken counts and cues over it.

Everything is (2, n) float32 at 44,100 Hz, n the lesson's length. The song is slowed first and the voice laid over it at
the lesson's own seconds, so words are never stretched. The whole is set to -16 LUFS, true peaks under -1.5 dBTP.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from softshoe.render.groove import Pulse, Style, groove
from softshoe.render.loudness import set_level
from softshoe.render.mix import speech_over, ticks_over
from softshoe.render.sound import speech, ticks
from softshoe.render.stretch import slowed
from softshoe.render.track_file import write_track
from softshoe.render.voice import RATE_HZ, Voice, WordBank

if TYPE_CHECKING:
    from softshoe.render.band import Samples
    from softshoe.teach.lesson import Lesson

SoundKind = Literal["song", "groove", "voice"]
Song = tuple["Samples", int]

CUT_FADE_S = 2.0

__all__ = ["Song", "SoundKind", "lesson_sound", "music_of", "write_track"]


def lesson_sound(
    lesson: Lesson, *, song: Song | None, voice: Voice | WordBank | None, sound: SoundKind = "song"
) -> Samples:
    """Return the sound of a lesson, (2, n) float32 at 44,100 Hz.

    song : samples (channels, n) float32 and rate in hertz, or None.
    voice : who says the cues; a WordBank keeps its words from lesson to lesson; None: woodblock ticks for the counts.
    sound : "song" plays the song where the lesson has it, and the plain rhythm on counts without it;
        "groove" plays the plain rhythm on every numbered count; "voice" neither.

    Raises WorkbenchError when the voice can't speak.
    """
    out = music_of(lesson, song=song, sound=sound)
    if voice is None:
        ticks_over(out, ticks(lesson.cues, length_s=lesson.length_s), RATE_HZ)
    else:
        bank = voice if isinstance(voice, WordBank) else WordBank(voice)
        said = speech(lesson.cues, bank, length_s=lesson.length_s)
        speech_over(out, said.samples, RATE_HZ, spoken=said.spoken)
    set_level(out, RATE_HZ)
    return out


def music_of(lesson: Lesson, *, song: Song | None, sound: SoundKind) -> Samples:
    """Return what plays under the voice, before any level is set."""
    if sound == "groove" or (sound == "song" and song is None):
        pulses = pulses_of(lesson)
        return groove(pulses, style=style_of(pulses), length_s=lesson.length_s, swing=lesson.swing)
    if sound == "song" and song is not None and lesson.song_start_s is not None:
        out = song_part(song, start_s=lesson.song_start_s, pace=lesson.pace, length_s=lesson.length_s)
        played_s = song[0].shape[-1] / song[1] / lesson.pace
        alone = [p for p in pulses_of(lesson) if not 0 <= p.at_s - lesson.song_start_s < played_s]
        if alone:
            out += groove(alone, style=style_of(alone), length_s=lesson.length_s)
        return out
    return np.zeros((2, round(lesson.length_s * RATE_HZ)), np.float32)


def pulses_of(lesson: Lesson) -> list[Pulse]:
    """Return the counts on which the plain rhythm plays: those with a number (not "&")."""
    beats = [beat for passage in lesson.passages for beat in passage.beats if beat.label.isdecimal()]
    return [Pulse(beat.at_s, beat.step_s, int(beat.label)) for beat in beats]


def style_of(pulses: list[Pulse]) -> Style:
    """Return the style by how far the numbers go: sixes and threes are a waltz."""
    return "waltz" if pulses and max(pulse.number for pulse in pulses) in (3, 6) else "straight"


def song_part(song: Song, *, start_s: float, pace: float, length_s: float, fade_s: float = CUT_FADE_S) -> Samples:
    """Return the song at a pace, its second 0 on the lesson's second ``start_s``, cut to the lesson with a fade.

    Only the part that is heard is slowed, so its times are measured from where it is heard.
    """
    samples, rate_hz = stereo(song)
    first = max(0, round(-start_s * pace * rate_hz))
    last = min(samples.shape[1], round((length_s - start_s) * pace * rate_hz))
    out = np.zeros((2, round(length_s * RATE_HZ)), np.float32)
    if last <= first:
        return out
    played = slowed(samples[:, first:last], rate_hz, pace=pace)
    at = max(0, round(start_s * RATE_HZ))
    room = min(played.shape[1], out.shape[1] - at)
    out[:, at : at + room] = played[:, :room]
    if last < samples.shape[1] and fade_s:
        fade = min(room, round(fade_s * RATE_HZ))
        out[:, at + room - fade : at + room] *= np.linspace(1, 0, fade, dtype=np.float32)
    return out


def stereo(song: Song) -> Song:
    """Return a song as two channels at 44,100 Hz."""
    samples, rate_hz = np.atleast_2d(np.asarray(song[0], np.float32)), song[1]
    if samples.shape[0] != 2:
        samples = np.broadcast_to(samples.mean(0), (2, samples.shape[1]))
    if rate_hz == RATE_HZ:
        return samples, RATE_HZ
    import soxr

    return np.asarray(soxr.resample(samples.T, rate_hz, RATE_HZ), np.float32).T, RATE_HZ
