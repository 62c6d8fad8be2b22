"""A voice to listen to: words on a steady beat, a click on each, so that an ear can tell whether they sit on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.track_file import write_track
from softshoe.render.voice import RATE_HZ, WordBank

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from softshoe.render.band import Samples
    from softshoe.render.voice import Voice

COUNTS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
BEAT_S = 0.6
CLICK_HZ, CLICK_S, CLICK_LEVEL = 1_600.0, 0.03, 0.25


def write_sample(voice: Voice, words: Sequence[str] | None, path: Path) -> None:
    """Write the words, one a beat, or the eight counts twice. Raises OutputError when the file can't be written."""
    said = tuple(words) if words else COUNTS * 2
    write_track(sample(voice, said), RATE_HZ, path, title="A voice to listen to")


def sample(voice: Voice, words: Sequence[str]) -> Samples:
    """Return the words with their vowels on the clicks: (2, n) float32 at ``RATE_HZ``; long words get two beats."""
    bank = WordBank(voice)
    spoken = [bank.fitting(word, room_s=2 * BEAT_S) for word in words]
    beats, at = [], 1
    for one in spoken:
        beats.append(at)
        at += 1 if one.length_s <= BEAT_S else 2
    out = np.zeros(round((at + 1) * BEAT_S * RATE_HZ) + RATE_HZ, np.float32)
    click = _click()
    for beat, one in zip(beats, spoken, strict=True):
        start = round((beat * BEAT_S - one.vowel_s) * RATE_HZ)
        out[start : start + len(one.samples)] += one.samples
        on = round(beat * BEAT_S * RATE_HZ)
        out[on : on + len(click)] += click
    return np.repeat(np.clip(out, -1, 1)[None, :], 2, axis=0)


def _click() -> Samples:
    t = np.arange(round(CLICK_S * RATE_HZ)) / RATE_HZ
    return (CLICK_LEVEL * np.sin(2 * np.pi * CLICK_HZ * t) * np.exp(-t * 150)).astype(np.float32)
