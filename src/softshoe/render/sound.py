"""Spoken cues laid on their seconds: counts and cues by their stressed vowel, remarks by their start."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.band import added
from softshoe.render.voice import RATE_HZ, Spoken, WordBank

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.render.band import Samples
    from softshoe.teach.lesson import Cue

EDGE_S = 0.012
ONE = ("one", "1")


@dataclass(frozen=True, slots=True)
class Speech:
    """Everything said: mono float32 at 44,100 Hz, and the (start, end) of each saying in seconds."""

    samples: Samples
    spoken: tuple[tuple[float, float], ...]


def speech(cues: Iterable[Cue], bank: WordBank, *, length_s: float) -> Speech:
    """Say the cues; one longer than its room is said as fast as it goes, one that would begin before the track is cut.

    Raises WorkbenchError when the voice can't speak.
    """
    out, spoken = np.zeros(round(length_s * RATE_HZ), np.float32), []
    for cue in sorted(cues, key=lambda cue: cue.at_s):
        words = bank.fitting(cue.words, room_s=cue.room_s)
        if len(words.samples):
            start_s = onset_s(cue, words)
            lay(out, words.samples, start_s)
            spoken.append((max(0.0, start_s), min(length_s, start_s + words.length_s)))
    return Speech(out, tuple(spoken))


def onset_s(cue: Cue, words: Spoken) -> float:
    """Return where the sound of a cue has to begin. [s]"""
    return cue.at_s if cue.voice == "remark" else cue.at_s - words.vowel_s


def lay(out: Samples, x: Samples, start_s: float) -> None:
    """Lay words on a track; a beginning cut by the start of the track is softened."""
    at = round(start_s * RATE_HZ)
    if at < 0:
        x = x[-at:].copy()
        edge = min(len(x), round(EDGE_S * RATE_HZ))
        x[:edge] *= np.linspace(0, 1, edge, dtype=np.float32)
        at = 0
    added(out, x, at, 1.0)


def ticks(cues: Iterable[Cue], *, length_s: float) -> Samples:
    """Return a soft woodblock for each spoken count, lower on one, peak about 1; cues and remarks stay unsaid."""
    from softshoe.render.band import INSTRUMENTS
    from softshoe.render.score import Note

    out = np.zeros(round(length_s * RATE_HZ), np.float32)
    block = {name: INSTRUMENTS[name](Note(name, 0.0, 0.0)) for name in ("block", "low_block")}
    for cue in cues:
        if cue.voice == "count":
            added(out, block["low_block" if cue.words in ONE else "block"], round(cue.at_s * RATE_HZ), 1.0)
    return out
