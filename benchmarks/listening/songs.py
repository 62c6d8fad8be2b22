"""The sets of the benchmark: two generators that no training song comes from, and sounds that have no beat."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from bandstand import Known
from bandstand import song as bandstand_song

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / folder) for folder in ("src", "tests", "benchmarks")]

SETS = {
    "bandstand": "Bandstand: a generator of the benchmark alone",
    "small": "the small synthesiser of the tests, on which the rules were made",
}
TEST_SEED, CALIBRATION_SEED = 700_000, 800_000  # apart from every other seed of the project


def known(kind: str, number: int) -> Known:
    """Return a song of a set."""
    if kind == "bandstand":
        return bandstand_song(number)
    from listening import any_recipe

    from music.songs_made import made

    song = made(any_recipe(number))
    r = song.recipe
    phrases = song.phrases[song.phrases >= song.first_count - 0.01]
    bpm = 60 / float(np.median(np.diff(song.beats)))
    mono = song.sound.samples.mean(axis=0)
    return Known(
        r.style, mono, r.metre, bpm, song.beats, song.downbeats, song.eights, phrases, song.first_count, 44_100
    )


def beatless(number: int) -> np.ndarray:
    """Return 40 s of sound without a beat, at 22 050 Hz: talk-like bursts, gusts, drones, strokes at uneven times."""
    rng = np.random.default_rng([number, 91])
    rate, n = 22_050, 40 * 22_050
    out = np.zeros(n)
    kind = number % 4
    at = 0.2
    while at < 39:
        m = int(rng.uniform(0.06, 0.4 if kind < 2 else 2.5) * rate)
        t = np.arange(m) / rate
        hz = rng.uniform(90, 260)
        tone = sum(np.sin(2 * np.pi * hz * j * t * (1 + 0.05 * t)) / j for j in range(1, 10))
        wave = {0: tone, 1: rng.standard_normal(m), 2: rng.standard_normal(m) * rng.random(), 3: tone}[kind]
        i = int(at * rate)
        out[i : i + m] += (np.hanning(m) * wave)[: n - i]
        at += m / rate * rng.uniform(0.2, 1.2) + float(rng.exponential(0.3 if kind < 2 else 0.8))
    return (0.4 * out / np.abs(out).max() + 10 ** rng.uniform(-5, -3) * rng.standard_normal(n)).astype(np.float32)
