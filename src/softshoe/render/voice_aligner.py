"""Listening for a known word's first vowel: a speech recogniser told the word (pocketsphinx, offline), 10 ms steps.

Good to some 20 ms on most words; a word that begins with its vowel is found up to 50 ms early, because the silence
before it is counted in.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from softshoe.render.band import Samples

HEARD_HZ = 16_000
PAD_S = 0.25
VOWELS = frozenset(("AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"))


def aligned_vowel_s(x: Samples, rate_hz: int, word: str, *, which: int = 0) -> float | None:
    """Return where vowel number ``which`` of a word begins, None where the recogniser is missing or at a loss. [s]

    x : the word alone, mono; silence around it does no harm. word : in the recogniser's dictionary of English.
    """
    try:
        import pocketsphinx

        decoder = pocketsphinx.Decoder(samprate=HEARD_HZ, lm=None, loglevel="FATAL")
        decoder.set_align_text(word)
        for phones in (False, True):  # first the word, then the speech sounds in it
            if phones:
                decoder.set_alignment()
            decoder.start_utt()
            decoder.process_raw(pcm(x, rate_hz), full_utt=True)
            decoder.end_utt()
        starts = [phone.start / 100 for part in decoder.get_alignment() for phone in part if phone.name in VOWELS]
        return float(starts[which] - PAD_S)
    except (ImportError, RuntimeError, TypeError, IndexError):  # not installed, not in the dictionary, nothing aligned
        return None


def pcm(x: Samples, rate_hz: int) -> bytes:
    """Return a word as the recogniser wants it: 16-bit numbers, half as loud as can be, silence around it."""
    import soxr

    heard = soxr.resample(x / max(float(np.abs(x).max()), 1e-9) * 0.5, rate_hz, HEARD_HZ)
    return bytes((np.pad(heard, round(PAD_S * HEARD_HZ)) * 32767).astype("<i2").tobytes())
