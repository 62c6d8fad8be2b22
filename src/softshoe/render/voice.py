"""A voice that says words, each with the moment its stressed vowel begins.

A ``Voice`` gives any words at a pace (1 its own, 1.4 as fast as stays clear) as mono float32 at ``RATE_HZ``, trimmed of
silence, all words equally loud. A word is felt on the beat by the vowel of its first stressed syllable, so that second
is kept with the word. ``WordBank`` says each (words, pace) once and finds the slowest pace that fits a room.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Protocol

import numpy as np

from softshoe.errors import SettingError

if TYPE_CHECKING:
    from typing import Any

    from softshoe.render.band import Samples
    from softshoe.render.voice_cache import WordsKept
    from softshoe.render.voice_onsets import VowelClock

RATE_HZ = 44_100
PACES = (1.0, 1.1, 1.2, 1.3, 1.4)
LEVEL = 0.1  # rms of the sounding part of every word
SAID_AS = {"&": "and", "a": "uh", "+": "and", "e": "ee"}


@dataclass(frozen=True, slots=True)
class Spoken:
    """Words as sound: mono float32 at ``RATE_HZ``; ``vowel_s`` is where the first stressed vowel begins. [s]"""

    samples: Samples
    vowel_s: float

    @property
    def length_s(self) -> float:
        """Seconds from the first sound to the last."""
        return len(self.samples) / RATE_HZ


SILENCE = Spoken(np.zeros(0, np.float32), 0.0)


class Voice(Protocol):
    """Whoever says the words. ``name`` tells voices (and their versions) apart, for words kept on disk."""

    @property
    def name(self) -> str:
        """Voice, engine and version."""
        ...

    def say(self, words: str, *, pace: float) -> Spoken:
        """Return the words, trimmed; equal words at equal pace give equal samples."""
        ...


@dataclass(slots=True)
class HibariVoice:
    """The voice that comes with the workbench: American English, made on this machine, the same every time.

    Nothing is loaded before the first word that is not kept from an earlier run. ``kept`` None keeps nothing on disk.
    """

    kept: WordsKept | None = None
    _engine: Any = field(default=None, repr=False)
    _clock: VowelClock | None = field(default=None, repr=False)

    @property
    def name(self) -> str:
        """Engine and version."""
        return f"hibari {installed_version()} {RATE_HZ}"

    def say(self, words: str, *, pace: float) -> Spoken:
        """Return the words, from disk where they were said before. Raises SettingError without an engine."""
        if self.kept and (known := self.kept.found(self.name, words, pace)):
            return known
        spoken = self._made(words, pace)
        if self.kept:
            self.kept.keep(self.name, words, pace, spoken)
        return spoken

    def _made(self, words: str, pace: float) -> Spoken:
        import soxr

        from softshoe.render.voice_onsets import loud_vowel_s

        text = said(words)
        if not any(map(str.isalnum, text)):
            return SILENCE
        engine, clock = self._ready()
        raw = np.asarray(engine(text, seed=0, speed=pace), np.float32)
        if not np.any(raw):
            return SILENCE
        start, x = trimmed(raw, engine.sample_rate)
        vowel_s = clock.vowel_s(text, pace=pace) if clock else None
        vowel_s = loud_vowel_s(x, engine.sample_rate) if vowel_s is None else vowel_s - start / engine.sample_rate
        samples = np.asarray(soxr.resample(x, engine.sample_rate, RATE_HZ), np.float32)
        return Spoken(evened(samples), max(0.0, vowel_s))

    def _ready(self) -> tuple[Any, VowelClock | None]:
        if self._engine is None:
            from softshoe.render.voice_onsets import vowel_clock

            self._engine = loaded_engine()
            self._clock = vowel_clock(self._engine)
        return self._engine, self._clock


@cache
def installed_version() -> str:
    """Return the version of the speech engine, or "none"."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("hibari-tts")
    except PackageNotFoundError:
        return "none"


def loaded_engine() -> Any:
    """Load the speech engine; raises SettingError when it is not there or does not start."""
    try:
        from hibari import Hibari

        return Hibari()
    except (ImportError, OSError, RuntimeError) as wrong:
        raise SettingError(
            "the voice",
            "the spoken voice could not be started",
            f"its engine is missing or damaged ({wrong})",
            "install the workbench again, or ask for tracks without a voice: counts are then soft woodblock ticks",
        ) from wrong


def standard_voice() -> HibariVoice:
    """Return the voice of the workbench, which keeps what it said in the cache folder of this computer's user."""
    from softshoe.render.voice_cache import WordsKept, words_folder

    return HibariVoice(WordsKept(words_folder()))


def said(words: str) -> str:
    """Return words as the engine should read them: signs become words, and a full stop ends the breath.

    >>> said("&"), said("vine right"), said("Ready?")
    ('and.', 'vine right.', 'Ready?')
    """
    text = " ".join(SAID_AS.get(word, word) for word in words.split()).replace("&", "and")
    return text if text.endswith((".", "!", "?")) else text.rstrip(",;: ") + "."


def trimmed(x: Samples, rate_hz: int) -> tuple[int, Samples]:
    """Return where the sound starts (in samples) and the sound without its silence, its end faded over 10 ms."""
    loud = np.flatnonzero(np.abs(x) > 0.02 * np.abs(x).max())
    start, stop = max(0, int(loud[0]) - rate_hz // 100), min(len(x), int(loud[-1]) + rate_hz // 50)
    out = x[start:stop].copy()
    fade = min(len(out), rate_hz // 100)
    out[-fade:] *= np.linspace(1, 0, fade, dtype=np.float32)
    return start, out


def evened(x: Samples) -> Samples:
    """Return the word with an rms of ``LEVEL`` in its sounding part, its peaks under 0.9, in 16-bit steps.

    The steps are those in which words are kept on disk: a word said and a word found again are the same.
    """
    frame = RATE_HZ // 50
    power = np.array([np.mean(x[k : k + frame] ** 2) for k in range(0, len(x), frame)])
    sounding = power[power > 0.01 * power.max()]
    gain = LEVEL / np.sqrt(np.mean(sounding))
    steps = np.rint(x * (32767 * min(gain, 0.9 / np.abs(x).max())))
    return np.asarray(steps / 32767, np.float32)


@dataclass(slots=True)
class WordBank:
    """The words of one voice, each (words, pace) said once and kept in memory."""

    voice: Voice
    _said: dict[tuple[str, float], Spoken] = field(default_factory=dict, repr=False)

    def at_pace(self, words: str, pace: float) -> Spoken:
        """Return the words at a pace."""
        if (words, pace) not in self._said:
            self._said[words, pace] = self.voice.say(words, pace=pace)
        return self._said[words, pace]

    def fitting(self, words: str, *, room_s: float) -> Spoken:
        """Return the words at the slowest pace that fits the room, at the fastest when none does. [s]"""
        for pace in PACES:
            spoken = self.at_pace(words, pace)
            if spoken.length_s <= room_s:
                break
        return spoken
