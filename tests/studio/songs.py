"""A song made for the tests of the studio: clicks of a known tempo, as a file."""

from __future__ import annotations

import io
import wave

import numpy as np

RATE_HZ = 22_050


def song_wav(*, bpm: float = 100.0, seconds: float = 40.0, first_s: float = 0.5) -> bytes:
    """Four clicks a bar, the first of each lower and louder, as a WAV file of one channel."""
    samples = np.zeros(round(seconds * RATE_HZ))
    at = np.arange(round(0.06 * RATE_HZ)) / RATE_HZ
    for number, start_s in enumerate(np.arange(first_s, seconds - 1.0, 60.0 / bpm)):
        loud, pitch_hz = (0.9, 180.0) if number % 4 == 0 else (0.5, 700.0)
        place = round(start_s * RATE_HZ)
        samples[place : place + len(at)] += loud * np.sin(2 * np.pi * pitch_hz * at) * np.exp(-60 * at)
    out = io.BytesIO()
    with wave.open(out, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE_HZ)
        file.writeframes((samples * 32_000).astype("<i2").tobytes())
    return out.getvalue()
