"""Voices made of arithmetic: a singer with vowels that glide and consonants, a choir, a talker, a crowd.

Sound is mono float32 at ``RATE_HZ``.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np
from synths import RATE_HZ, TABLE

if TYPE_CHECKING:
    from band import Played
    from numpy.random import Generator
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]

FORMANTS = {
    "a": (800, 1200, 2600),
    "e": (450, 1900, 2500),
    "i": (300, 2200, 3000),
    "o": (450, 850, 2600),
    "u": (330, 750, 2400),
    "E": (600, 1700, 2450),
    "A": (650, 1050, 2500),
    "y": (300, 1650, 2300),
    "@": (500, 1450, 2450),
}
VOWELS = "".join(FORMANTS)


@cache
def vowel_table(vowel: str, octave: int, size: int, breath: int) -> Samples:
    """Return one turn of a sung vowel for pitches near ``octave`` (in sixths), with few enough partials for it.

    size : of the head, in percent; breath : how fast high partials fall, in tenths
    """
    hz = 440 * 2 ** ((octave * 4 + 2 - 69) / 12)
    most = max(1, int(9000 / hz))
    k = np.arange(1, most + 1)
    f = k * hz
    peaks = sum(
        g * np.exp(-0.5 * ((f - c * size / 100) / (70 + 0.06 * c)) ** 2)
        for c, g in zip(FORMANTS[vowel], (1, 0.6, 0.35), strict=True)
    )
    spectrum = np.zeros(TABLE // 2 + 1, complex)
    spectrum[k] = (0.02 + peaks) / k ** (breath / 10) * np.exp(1j * k * k * 0.3)
    wave = np.fft.irfft(spectrum)
    return (wave / np.abs(wave).max()).astype(np.float32)


def consonant(rng: Generator, m: int) -> Samples:
    """Return a hiss, a burst, or a hum of m samples."""
    kind = rng.random()
    noise = rng.standard_normal(m)
    if kind < 0.4:
        return (0.4 * np.diff(noise, prepend=0.0) * np.hanning(m)).astype(np.float32)
    if kind < 0.7:
        return (0.8 * noise * np.exp(-np.arange(m) / (0.006 * RATE_HZ))).astype(np.float32)
    return (0.3 * np.convolve(noise, np.ones(6) / 6, "same") * np.hanning(m)).astype(np.float32)


def note_of(rng: Generator, pitch: float, before: float, n: int, who: tuple[int, int, float, float]) -> Samples:
    """Return one sung syllable: it glides in from the note before, its vowel moves, a vibrato comes late."""
    size, breath, deep, vibrato_hz = who
    t = np.arange(n, dtype=np.float32) / np.float32(RATE_HZ)
    away = before - pitch if before and abs(before - pitch) < 8 else -1.0
    glide = away * np.exp(-t / np.float32(rng.uniform(0.02, 0.07)))
    vibrato = np.float32(deep) * np.clip((t - 0.2) / 0.3, 0, 1) * np.sin(np.float32(2 * np.pi * vibrato_hz) * t)
    turn = np.cumsum(440 * 2 ** ((pitch + glide + vibrato - 69) / 12)) / RATE_HZ
    spots = (turn * TABLE).astype(np.int64) & (TABLE - 1)
    octave = int(pitch) // 4
    one, two = (vowel_table(str(rng.choice(list(VOWELS))), octave, size, breath) for _ in range(2))
    move = np.clip((t - rng.uniform(0, 0.2)) / rng.uniform(0.05, 0.4), 0, 1)
    x = one[spots] + move * (two[spots] - one[spots])
    return (
        x
        * np.minimum(1, t / np.float32(rng.uniform(0.012, 0.07)))
        * np.minimum(1, (t[-1] - t) / np.float32(0.05) + np.float32(1e-3))
    )


def sung(rng: Generator, notes: list[Played], length_s: float) -> Samples:
    """Return a singer of made-up syllables, who drags or hurries a little, now and then doubled."""
    out = np.zeros(round(length_s * RATE_HZ) + RATE_HZ, np.float32)
    low = 12 if rng.random() < 0.5 else 0
    who = (
        int(rng.choice([88, 94, 100, 108, 116])),
        int(rng.choice([3, 6, 9])),
        float(rng.uniform(0.05, 0.4)),
        float(rng.uniform(4.6, 6.2)),
    )
    lazy, loose = float(rng.uniform(-0.005, 0.06)), float(rng.choice([0.008, 0.015, 0.03]))
    many = int(rng.choice([1, 1, 1, 2, 3]))
    consonants = float(rng.choice([0.2, 0.6, 0.9]))
    for copy in range(many):
        before = 0.0
        for note in sorted(notes, key=lambda x: x.at_s):
            n = max(600, round(note.length_s * RATE_HZ * rng.uniform(0.75, 1.0)))
            pitch = note.pitch - low + rng.normal(0, 0.08 + 0.1 * copy)
            x = note_of(rng, pitch, before, n, who)
            lead = 0
            if rng.random() < consonants:
                lead = int(rng.uniform(0.02, 0.1) * RATE_HZ)
                x = np.concatenate([np.zeros(lead, np.float32), x])
                x[: lead + 400] += consonant(rng, lead + 400)
            at = round((note.at_s + lazy + rng.normal(0, loose)) * RATE_HZ) - lead
            if 0 <= at < len(out) - len(x):
                out[at : at + len(x)] += (0.35 * note.strength / np.sqrt(many) * x).astype(np.float32)
            before = float(pitch)
    return out[: round(length_s * RATE_HZ)]


def talked(rng: Generator, n: int, *, base: float | None = None) -> Samples:
    """Return n samples of somebody who talks: uneven syllables, phrases that fall, pauses."""
    out = np.zeros(n, np.float32)
    base = base or float(rng.uniform(43, 62))
    who = (int(rng.choice([88, 100, 114])), 6, 0.0, 5.0)
    at, fall = 0.05, 0.0
    while at < n / RATE_HZ - 0.5:
        m = int(rng.uniform(0.07, 0.3) * RATE_HZ)
        x = note_of(rng, base + fall + rng.normal(0, 1.5), base + fall + 2, m, who)
        i = int(at * RATE_HZ)
        if rng.random() < 0.6:
            k = min(m, int(rng.uniform(0.02, 0.1) * RATE_HZ))
            x[:k] += consonant(rng, k)
        piece = out[i : i + m]
        piece += x[: len(piece)]
        fall = fall - 0.4 if rng.random() < 0.9 else float(rng.uniform(0, 5))
        at += m / RATE_HZ + float(rng.choice([0.0, 0.03, 0.1, 0.5, 1.2], p=[0.5, 0.2, 0.15, 0.1, 0.05]))
    return out


def word(rng: Generator, seconds: float) -> Samples:
    """Return one spoken word, as in counting in."""
    m = int(max(0.1, seconds) * RATE_HZ)
    x = note_of(rng, float(rng.uniform(45, 62)), 0.0, m, (100, 6, 0.0, 5.0))
    k = min(m, int(0.05 * RATE_HZ))
    x[:k] += consonant(rng, k)
    return x


def crowd(rng: Generator, n: int) -> Samples:
    """Return n samples of people who clap, each at their own time, and murmur."""
    rate = float(rng.uniform(30, 200))
    spots = np.flatnonzero(rng.random(n) < rate / RATE_HZ)
    claps = np.zeros(n, np.float32)
    claps[spots] = rng.exponential(1.0, len(spots))
    m = int(0.02 * RATE_HZ)
    stroke = rng.standard_normal(m) * np.exp(-np.arange(m) / (0.004 * RATE_HZ))
    size = 1 << int(np.ceil(np.log2(n + m)))
    x = np.fft.irfft(np.fft.rfft(claps, size) * np.fft.rfft(stroke, size), size)[:n]
    x += 0.3 * np.std(x) * np.convolve(rng.standard_normal(n), np.ones(8) / 8, "same")
    swell = np.interp(
        np.arange(n),
        np.arange(0, n + RATE_HZ, RATE_HZ),
        rng.uniform(0.4, 1, n // RATE_HZ + 2)[: len(np.arange(0, n + RATE_HZ, RATE_HZ))],
    )
    return (x * swell / (np.abs(x).max() + 1e-9)).astype(np.float32)
