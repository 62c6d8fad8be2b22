"""Sounds that are not songs: clicks at even times, and things that have no beat at all, so that none is invented."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from band import Truth
from synths import RATE_HZ, machine_drum
from voice import crowd, talked

if TYPE_CHECKING:
    from numpy.random import Generator
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]

NEVER_S = 1e5
CLICKS = ("block", "rim", "claves", "hat", "kick", "bell", "clap")
SLOW_BPM, FAST_BPM = 55.0, 165.0  # clicks slower or faster than danced to are counted twice, or every other one


def truth_of(name: str, seed: int, beats: list[float], metre: int, end: float, downs: list[float]) -> Truth:
    """Return the truth of a sound without any form."""
    first = beats[0] if beats else NEVER_S
    gap = float(np.median(np.diff(beats))) if len(beats) > 1 else 1.0
    none = np.zeros(0)
    return Truth(name, metre, 60 / gap, np.array(beats), np.array(downs), none, none, first, end, seed)


def clicks(seed: int) -> tuple[Samples, Truth]:
    """Return clicks at even times, some with a stronger one at the head of the bar."""
    rng = np.random.default_rng([seed, 5])
    bpm = float(np.exp(rng.uniform(np.log(40), np.log(220))))
    gap, length_s = 60 / bpm, float(rng.uniform(25, 90))
    at = np.arange(rng.uniform(0.05, 2.0), length_s - 0.5, gap)
    metre = int(rng.choice([3, 4]))
    accents = rng.random() < 0.35
    weak, strong = (machine_drum(rng, str(rng.choice(CLICKS))) for _ in range(2))
    t = np.arange(int(0.04 * RATE_HZ)) / RATE_HZ
    if rng.random() < 0.5:
        weak = (np.sin(2 * np.pi * rng.uniform(400, 2500) * t) * np.exp(-t / rng.uniform(0.003, 0.015))).astype(
            np.float32
        )
    out = np.zeros(int((length_s + 1) * RATE_HZ), np.float32)
    for k, second in enumerate(at):
        x = strong if accents and k % metre == 0 else weak
        i = round(second * RATE_HZ)
        out[i : i + len(x)] += x[: len(out) - i]
    out += (rng.standard_normal(len(out)) * 10 ** rng.uniform(-6, -3)).astype(np.float32)
    beats = at
    if bpm > FAST_BPM:
        beats = at[::2]
    if bpm < SLOW_BPM:
        beats = np.sort(np.concatenate([at, at[:-1] + gap / 2]))
    plain = SLOW_BPM <= bpm <= FAST_BPM
    downs = list(at[::metre]) if accents and plain else []
    return (0.5 * out).astype(np.float32), truth_of("clicks", seed, list(beats), metre if downs else 4, length_s, downs)


def syllables(rng: Generator, n: int) -> Samples:
    """Return bursts like talk: voiced or hissed, uneven, with pauses."""
    out = np.zeros(n, np.float32)
    at, base = 0.1, rng.uniform(80, 250)
    while at < n / RATE_HZ - 0.6:
        m = int(rng.uniform(0.05, 0.35) * RATE_HZ)
        hz = base * np.exp(np.linspace(*rng.normal(0, 0.15, 2), m))
        phase = 2 * np.pi * np.cumsum(hz) / RATE_HZ
        x = (
            sum(np.sin(k * phase) / k ** rng.uniform(0.6, 1.4) for k in range(1, 14))
            if rng.random() < 0.75
            else rng.standard_normal(m)
        )
        i = int(at * RATE_HZ)
        out[i : i + m] += (np.hanning(m) * x)[: n - i].astype(np.float32)
        at += m / RATE_HZ + float(rng.choice([0.0, 0.03, 0.08, 0.5, 1.0], p=[0.4, 0.2, 0.2, 0.15, 0.05]))
    return out


def gusts(rng: Generator, n: int) -> Samples:
    """Return noise that comes and goes at uneven times."""
    places = np.cumsum(rng.uniform(0.05, 1.5, n // RATE_HZ * 4))
    return (rng.standard_normal(n) * np.interp(np.arange(n) / RATE_HZ, places, rng.random(len(places)) ** 3)).astype(
        np.float32
    )


def drones(rng: Generator, n: int) -> Samples:
    """Return long tones that swell and change at uneven times."""
    t = np.arange(n) / RATE_HZ
    out = np.zeros(n)
    for _ in range(int(rng.integers(1, 5))):
        places = np.cumsum(rng.uniform(0.8, 6, n // RATE_HZ + 4))
        hz = 440 * 2 ** (int(rng.integers(-24, 13)) / 12)
        out += np.sin(2 * np.pi * hz * t) * np.interp(t, places, rng.random(len(places)))
    return out.astype(np.float32)


def strokes(rng: Generator, n: int) -> Samples:
    """Return drum strokes at uneven times."""
    out = np.zeros(n + RATE_HZ, np.float32)
    drums = [machine_drum(rng, str(d)) for d in rng.choice(["kick", "snare", "hat", "tom", "clap", "block"], 3)]
    at, mean = 0.2, rng.uniform(0.15, 3.0)
    while at < n / RATE_HZ:
        x = drums[int(rng.integers(3))]
        i = int(at * RATE_HZ)
        out[i : i + len(x)] += rng.uniform(0.2, 1) * x[: len(out) - i]
        at += float(rng.exponential(mean)) + 0.03
    return out[:n]


def beatless(seed: int) -> tuple[Samples, Truth]:
    """Return sound without a beat."""
    rng = np.random.default_rng([seed, 6])
    n = int(rng.uniform(25, 90) * RATE_HZ)
    makers = (syllables, talked, crowd, gusts, drones, strokes, lambda r, m: r.standard_normal(m).astype(np.float32))
    x = sum(
        (rng.uniform(0.2, 1) * makers[int(k)](rng, n) for k in rng.choice(7, int(rng.integers(1, 3)), replace=False)),
        np.zeros(n),
    )
    x = x + rng.standard_normal(n) * 10 ** rng.uniform(-5, -2)
    return (0.5 * x / np.abs(x).max()).astype(np.float32), truth_of("beatless", seed, [], 4, n / RATE_HZ, [])
