"""The leader's own voice: words recorded once, one after the other with pauses, cut apart and used as a voice.

The recording is cut at its pauses; each piece is told by a recogniser and by its place, trimmed, set to the level of
every other voice, and its vowel found. Words that were not recorded are left to another voice.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING

import numpy as np

from softshoe.errors import MusicError
from softshoe.render.stretch import slowed
from softshoe.render.voice import RATE_HZ, Spoken, evened, trimmed
from softshoe.render.voice_aligner import aligned_vowel_s
from softshoe.render.voice_heard import heard_as, told_apart
from softshoe.render.voice_onsets import loud_vowel_s
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.render.band import Samples
    from softshoe.render.voice import Voice

FRAME_S = 0.01
INSIDE_S = 0.15  # a silence this short belongs to a word ("eigh-t")
SHORTEST_S = 0.08
UNDER_PEAK_DB, OVER_FLOOR_DB = 32.0, 9.0
CLIPPED = 0.985  # of full scale
QUIET_ROOM_DB = 25.0  # words should stand this far above the room; a good headset reaches 40
BETWEEN_WORDS_S, BETWEEN_PHRASES_S = 0.03, 0.12
FADE_S = 0.008


@dataclass(frozen=True, slots=True)
class WordFound:
    """A word of the recording: where it stands, its sound, and how far it stands above the room. [s, dB]"""

    word: str
    at_s: float
    spoken: Spoken
    above_room_db: float
    clipped: bool


@dataclass(frozen=True, slots=True)
class RecordedVoice:
    """Words by their sound, alone or joined; everything else by ``otherwise``."""

    recorded: Mapping[str, Spoken]
    otherwise: Voice

    @property
    def name(self) -> str:
        """Tells this recording from every other."""
        digest = sha256()
        for word, spoken in sorted(self.recorded.items()):
            digest.update(word.encode() + spoken.samples.tobytes())
        return f"recorded {digest.hexdigest()[:16]} {self.otherwise.name}"

    def say(self, words: str, *, pace: float) -> Spoken:
        """Return recorded words, hastened where they must be; what holds any other word comes from the other voice."""
        asked = words.casefold().replace("&", "and").strip(" .,!").split()
        known = [self.recorded.get(word.strip(",.;!")) for word in asked]
        pieces = [spoken for spoken in known if spoken is not None]
        if not pieces or len(pieces) < len(known):
            return self.otherwise.say(words, pace=pace)
        spoken = joined(pieces, [word.endswith((",", ".", ";")) for word in asked])
        if pace == 1.0:
            return spoken
        return Spoken(slowed(spoken.samples[None, :], RATE_HZ, pace=pace)[0], spoken.vowel_s / pace)


def joined(pieces: Sequence[Spoken], pauses: Sequence[bool]) -> Spoken:
    """Return words one after the other, with a short breath where ``pauses`` says so; the first vowel is the beat's."""
    if len(pieces) == 1:
        return pieces[0]
    size = round(FADE_S * RATE_HZ)
    sounds = []
    for piece, pause in zip(pieces, pauses, strict=True):
        x = piece.samples.copy()
        fade = np.linspace(0, 1, min(size, len(x)), dtype=np.float32)
        x[: len(fade)] *= fade
        x[len(x) - len(fade) :] *= fade[::-1]
        sounds += [x, np.zeros(round((BETWEEN_PHRASES_S if pause else BETWEEN_WORDS_S) * RATE_HZ), np.float32)]
    return Spoken(np.concatenate(sounds[:-1]), pieces[0].vowel_s)


def words_to_record() -> tuple[str, ...]:
    """Return the words in the order in which they are to be said: the counts twice, then the cue words."""
    return tuple(row["words"] for row in table("voice/words"))


def counts_to_record() -> frozenset[str]:
    """Return the counts: without them there is no voice."""
    return frozenset(row["words"] for row in table("voice/words") if row["kind"] == "count")


def words_found(samples: Samples, rate_hz: int, *, words: Sequence[str]) -> list[WordFound]:
    """Return the words that a recording holds, in order; of a word said twice, the take whose length is the usual one.

    samples : (channels, n) float32; words : in the order in which they were to be said.

    Raises MusicError when nothing can be told apart.
    """
    mono = np.asarray(np.atleast_2d(samples).mean(0), np.float32)
    pieces = parts(mono, rate_hz)
    guesses = [heard_as(mono[a:b], rate_hz, words) for a, b in pieces]
    if not pieces or (not any(guesses) and len(pieces) != len(words)):
        raise MusicError(
            "the recorded words",
            f"{len(pieces)} words can be heard, {len(words)} were expected",
            "the recording is cut where it is silent",
            f"record again in a quiet room, with a second of silence after each: {', '.join(words)}",
        )
    room_db = _room_db(mono, rate_hz, pieces)
    takes: dict[str, list[WordFound]] = {}
    for word, place in zip(words, told_apart(guesses, words), strict=True):
        if place is not None:
            a, b = pieces[place]
            takes.setdefault(word, []).append(_found(mono[a:b], rate_hz, word, a / rate_hz, room_db))
    usual_s = float(np.median([take.spoken.length_s for some in takes.values() for take in some])) if takes else 0.0
    best = [min(some, key=lambda take: (take.clipped, abs(take.spoken.length_s - usual_s))) for some in takes.values()]
    return sorted(best, key=lambda take: take.at_s)


def _found(x: Samples, rate_hz: int, word: str, at_s: float, room_db: float) -> WordFound:
    return WordFound(word, at_s, spoken(x, rate_hz, word), _level_db(x) - room_db, bool(np.abs(x).max() >= CLIPPED))


def _room_db(x: Samples, rate_hz: int, pieces: Sequence[tuple[int, int]]) -> float:
    """Return how loud the room is where nobody speaks. [dB]"""
    silent = np.ones(len(x), bool)
    for a, b in pieces:
        silent[a:b] = False
    rest = x[silent]
    return _level_db(rest) if len(rest) > rate_hz // 10 else -100.0


def _level_db(x: Samples) -> float:
    return float(10 * np.log10(np.mean(np.square(x, dtype=np.float64)) + 1e-10)) if len(x) else -100.0


def spoken(x: Samples, rate_hz: int, word: str) -> Spoken:
    """Return one recorded word, trimmed and evened, with its vowel: by the recogniser, else by ear."""
    import soxr

    _, own = trimmed(x, rate_hz)
    samples = evened(np.asarray(soxr.resample(own, rate_hz, RATE_HZ), np.float32))
    vowel_s = aligned_vowel_s(samples, RATE_HZ, word)
    return Spoken(samples, max(0.0, loud_vowel_s(samples, RATE_HZ) if vowel_s is None else vowel_s))


def parts(x: Samples, rate_hz: int) -> list[tuple[int, int]]:
    """Return the first and last sample of everything that sounds, parted by silences, with a little room around it."""
    frame = round(FRAME_S * rate_hz)
    size = len(x) // frame
    if not size:
        return []
    level = 10 * np.log10(np.mean(x[: size * frame].reshape(size, frame) ** 2, axis=1) + 1e-10)
    floor, peak = float(np.percentile(level, 10)), float(level.max())
    sounding = np.flatnonzero(level > max(peak - UNDER_PEAK_DB, floor + OVER_FLOOR_DB))
    breaks = np.flatnonzero(np.diff(sounding) > INSIDE_S / FRAME_S)
    firsts = sounding[np.concatenate([[0], breaks + 1])] if len(sounding) else sounding
    lasts = sounding[np.concatenate([breaks, [-1]])] if len(sounding) else sounding
    return [
        (max(0, (a - 4) * frame), (b + 6) * frame)
        for a, b in zip(firsts.tolist(), lasts.tolist(), strict=True)
        if (b - a) * FRAME_S >= SHORTEST_S
    ]
