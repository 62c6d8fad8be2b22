"""The demo song: made by our own band from our own score, so that a first try needs nobody's recording."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from softshoe.render.score import demo_score, landmarks, notes

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.render.band import Samples

PEAK = 0.8


def demo_song() -> tuple[Samples, int]:
    """Return the demo song as (2, n) float32, peak at 0.8, and its rate in hertz. The same samples every time."""
    import numpy as np

    from softshoe.render.band import RATE_HZ, played

    score = demo_score()
    samples = played(notes(score), length_s=score.length_s)
    samples *= np.float32(PEAK / np.abs(samples).max())
    return samples, RATE_HZ


def demo_truth() -> dict[str, Any]:
    """Return the song's beats, downbeats, eights, phrases, first count and end from its score. [s]"""
    return landmarks(demo_score())


def write_demo_song(path: Path) -> None:
    """Write the demo song as FLAC (or what the name's ending says: .flac, .wav, .mp3), whole or not at all."""
    from softshoe.render.track_file import write_track

    samples, rate_hz = demo_song()
    write_track(samples, rate_hz, path, title=demo_score().title)
