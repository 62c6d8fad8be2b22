"""The leader's own voice: sixteen words recorded once, one after the other with pauses, cut apart and used as a voice.

The recording is cut at its pauses; each word is trimmed, set to the level of every other voice, and its vowel found.
Words that were not recorded are left to another voice.
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
from softshoe.render.voice_onsets import loud_vowel_s

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.render.band import Samples
    from softshoe.render.voice import Voice

NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
SIXTEEN = (*NUMBERS, "and", "ready", "hold", "touch", "right", "left", "forward", "back")
FRAME_S = 0.01
INSIDE_S = 0.15  # a silence this short belongs to a word ("eigh-t")
SHORTEST_S = 0.08
UNDER_PEAK_DB, OVER_FLOOR_DB = 32.0, 9.0


@dataclass(frozen=True, slots=True)
class RecordedVoice:
    """Words by their sound, everything else by ``otherwise``."""

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
        """Return a recorded word, hastened where it must be; other words from the other voice."""
        spoken = self.recorded.get(words.casefold().strip(" .,!"))
        if spoken is None:
            return self.otherwise.say(words, pace=pace)
        if pace == 1.0:
            return spoken
        return Spoken(slowed(spoken.samples[None, :], RATE_HZ, pace=pace)[0], spoken.vowel_s / pace)


def recorded_voice(
    samples: Samples, rate_hz: int, *, otherwise: Voice, words: Sequence[str] = SIXTEEN
) -> RecordedVoice:
    """Return the voice of a recording of some words, said in their order with a pause after each.

    samples : (channels, n) float32.

    Raises MusicError when the pauses do not part the recording into as many words.
    """
    mono = np.asarray(np.atleast_2d(samples).mean(0), np.float32)
    pieces = parts(mono, rate_hz)
    if len(pieces) != len(words):
        raise MusicError(
            "the recorded words",
            f"{len(pieces)} words can be heard, {len(words)} were expected",
            "the recording is cut where it is silent",
            f"record again in a quiet room, with a second of silence after each: {', '.join(words)}",
        )
    return RecordedVoice(
        {word: spoken(mono[a:b], rate_hz, word) for word, (a, b) in zip(words, pieces, strict=True)}, otherwise
    )


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
