"""What happens to sound after it is played: drive, echo, rooms, squeezing, pumping, filters, records, small speakers.

Sound is mono float32 at ``RATE_HZ``.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from scipy.signal import butter, sosfilt
from synths import RATE_HZ

if TYPE_CHECKING:
    from numpy.random import Generator
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]

STEP = 110  # samples between two looks of a compressor at the loudness


def loudness(x: Samples) -> float:
    """Return the root mean square of what sounds."""
    return float(np.sqrt(np.mean(x * x)) + 1e-9)


def passed(x: Samples, low_hz: float = 0.0, high_hz: float = 0.0, *, order: int = 2) -> Samples:
    """Return sound between two frequencies; 0 leaves an end open."""
    if low_hz and high_hz:
        sos = butter(order, [low_hz, high_hz], "bandpass", fs=RATE_HZ, output="sos")
    else:
        sos = butter(order, low_hz or high_hz, "highpass" if low_hz else "lowpass", fs=RATE_HZ, output="sos")
    return sosfilt(sos.astype(np.float32), x).astype(np.float32)


def convolved(x: Samples, echo: Samples) -> Samples:
    """Return x with an echo, as long as x; done in pieces, so that one size of transform serves."""
    size = 1 << 17
    step = size - len(echo) + 1
    far = np.fft.rfft(echo, size)
    out = np.zeros(len(x) + size, np.float32)
    for first in range(0, len(x), step):
        out[first : first + size] += np.fft.irfft(np.fft.rfft(x[first : first + step], size) * far, size).astype(
            np.float32
        )
    return out[: len(x)]


def room(rng: Generator, x: Samples, longest_s: float = 2.2) -> Samples:
    """Return sound in a room, small or large."""
    n = int(np.exp(rng.uniform(np.log(0.15), np.log(longest_s))) * RATE_HZ)
    echo = (rng.standard_normal(n) * np.exp(-np.arange(n) / (n / 5))).astype(np.float32)
    echo = passed(echo, high_hz=float(rng.uniform(2500, 9000)), order=1)
    echo *= np.float32(rng.uniform(0.1, 0.8)) / np.sqrt(np.sum(echo**2))
    echo[0] += 1
    return convolved(x, echo)


def echoes(x: Samples, gap_s: float, back: float, wet: float) -> Samples:
    """Return sound repeated at even times, softer each time."""
    out, gap, much = x.copy(), round(gap_s * RATE_HZ), wet
    for k in range(1, 7):
        if much < 0.03 or k * gap >= len(x):
            break
        out[k * gap :] += np.float32(much) * x[: -k * gap]
        much *= back
    return out


def driven(rng: Generator, x: Samples) -> Samples:
    """Return guitars through an amplifier that is too loud."""
    x = passed(x, low_hz=float(rng.uniform(80, 200)), order=1)
    drive = float(np.exp(rng.uniform(np.log(2), np.log(40))))
    y = np.tanh(x * np.float32(drive / (3 * loudness(x))) + np.float32(rng.uniform(0, 0.3)))
    return passed(y.astype(np.float32), 70.0, float(rng.uniform(3000, 6500)), order=2)


def squeezed(x: Samples, strength: float, attack_s: float, release_s: float) -> Samples:
    """Return sound with loud moments turned down, quickly down and slowly up again."""
    n = len(x) // STEP
    level = np.abs(x[: n * STEP]).reshape(n, STEP).max(axis=1)
    up, down = (float(np.exp(-STEP / RATE_HZ / s)) for s in (attack_s, release_s))
    found, now = np.empty(n + 1, np.float32), 0.0
    for i, here in enumerate(level.tolist()):
        k = up if here > now else down
        now = k * now + (1 - k) * here
        found[i] = now
    found[n] = now
    threshold = 0.5 * float(np.percentile(found, 80)) + 1e-6
    gain = (np.maximum(found, threshold) / threshold) ** np.float32(-strength)
    return x * np.interp(np.arange(len(x)), np.arange(n + 1) * STEP, gain).astype(np.float32)


def pumped(x: Samples, kicks: list[float], deep: float, back_s: float) -> Samples:
    """Return music ducked under the bass drum."""
    gain = np.ones(len(x), np.float32)
    shape = (1 - deep * np.exp(-np.arange(int(3 * back_s * RATE_HZ)) / (back_s * RATE_HZ))).astype(np.float32)
    for kick in kicks:
        at = round(kick * RATE_HZ)
        piece = gain[at : at + len(shape)]
        np.minimum(piece, shape[: len(piece)], out=piece)
    return x * gain


def gated(rng: Generator, x: Samples, beats: NDArray[np.float64]) -> Samples:
    """Return long sound cut into a rhythm of sixteenths that comes again each bar."""
    steps = np.array(rng.choice([0.1, 1.0, 1.0], size=int(rng.choice([8, 16]))), np.float32)
    at = np.interp(np.arange(0, len(beats) - 1, 0.25), np.arange(len(beats)), beats)
    gain = np.full(len(x), 1.0, np.float32)
    for k, (a, b) in enumerate(pairwise(at.tolist())):
        gain[int(a * RATE_HZ) : int(b * RATE_HZ)] = steps[k % len(steps)]
    return x * np.convolve(gain, np.ones(200, np.float32) / 200, "same")


def swept(x: Samples, rng: Generator) -> Samples:
    """Return music under a filter that opens and closes over some bars: dull and clear mixed."""
    dull = passed(x, high_hz=float(rng.uniform(250, 900)))
    turn = 0.5 + 0.5 * np.sin(2 * np.pi * np.arange(len(x)) / RATE_HZ / rng.uniform(6, 60) + rng.uniform(0, 6))
    return (dull + np.clip(1.4 * turn - 0.2, 0, 1).astype(np.float32) * (x - dull)).astype(np.float32)


def opened(x: Samples, spans: list[tuple[float, float]], rng: Generator) -> Samples:
    """Return music whose filter opens through each build-up."""
    for start, end in spans:
        a, b = int(start * RATE_HZ), min(len(x), int(end * RATE_HZ))
        if b - a > 2000:
            dull = passed(x[a:b], high_hz=float(rng.uniform(200, 600)))
            ramp = np.linspace(0, 1, b - a, dtype=np.float32) ** 2
            x[a:b] = dull + ramp * (x[a:b] - dull)
    return x


def old_record(rng: Generator, x: Samples) -> Samples:
    """Return sound as an old record gives it: narrow, hissing, crackling."""
    x = passed(x, float(rng.uniform(80, 300)), float(rng.uniform(2800, 6000)), order=1)
    spots = np.flatnonzero(rng.random(len(x)) < rng.uniform(2, 25) / RATE_HZ)
    x[spots] += (rng.standard_normal(len(spots)) * 4 * loudness(x)).astype(np.float32)
    return x + (
        passed(rng.standard_normal(len(x)).astype(np.float32), low_hz=1000, order=1)
        * loudness(x)
        * rng.uniform(0.01, 0.1)
    ).astype(np.float32)


def small_speaker(rng: Generator, x: Samples) -> Samples:
    """Return sound as a telephone or a small speaker gives it."""
    x = passed(x, float(rng.uniform(150, 500)), float(rng.uniform(3000, 9000)))
    return np.tanh(x / np.float32(loudness(x) * rng.uniform(1.5, 5))).astype(np.float32)


def finished(rng: Generator, x: Samples, fade: tuple[float, float] | None) -> Samples:
    """Return the mix after studio, room and medium."""
    x = x / np.float32(4 * loudness(x))
    if rng.random() < 0.45:
        x = squeezed(
            x,
            float(rng.uniform(0.2, 0.9)),
            float(rng.uniform(0.001, 0.03)),
            float(np.exp(rng.uniform(np.log(0.04), np.log(0.6)))),
        )
        x = x / np.float32(4 * loudness(x))
    if rng.random() < 0.3:
        drive = float(rng.uniform(1, 6))
        x = np.tanh(drive * x) / np.float32(np.tanh(drive))
    if rng.random() < 0.4:
        x = room(rng, x, 1.5)
    medium = rng.random()
    if medium < 0.05:
        x = old_record(rng, x)
    elif medium < 0.1:
        x = small_speaker(rng, x)
    if fade:
        t = np.arange(len(x)) / RATE_HZ
        x = x * np.clip((fade[1] - t) / (fade[1] - fade[0]), 0, 1).astype(np.float32)
    if rng.random() < 0.3:
        x = x + (rng.standard_normal(len(x)) * loudness(x) * 10 ** rng.uniform(-3, -1.1)).astype(np.float32)
    return (0.5 * x / max(1e-9, float(np.abs(x).max()))).astype(np.float32)
