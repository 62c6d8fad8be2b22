"""Instruments made of arithmetic: waves, filtered saws, bells, plucked strings, toy chips, samples; and drum machines.

Sound is mono float32 at ``RATE_HZ``. An instrument is a function of a pitch and a length; notes that are alike are made
once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from band import Played
    from numpy.random import Generator
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]
    Instrument = Callable[[int, float], Samples]

RATE_HZ = 22_050
TABLE = 2048
LOW_DRUMS = ("kick", "bassdrum", "tumba", "lowbongo", "lowtom")
NOISY_DRUMS = ("snare", "clap", "timbale", "slap", "snare2", "lowtimbale")
RINGING_DRUMS = {
    "tom": 110, "conga": 260, "bongo": 380, "block": 800, "claves": 2400, "rim": 1600, "bell": 560, "hightom": 190,
    "agogo": 900, "lowagogo": 660, "lowblock": 600, "cup": 1200, "tri2": 3000,
}  # fmt: skip
LONG_DRUMS = {"open": 0.2, "crash": 0.35, "ride": 0.25, "china": 0.35, "splash": 0.25, "ride2": 0.25}


def hz_of(pitch: float) -> float:
    """Return the frequency of a MIDI pitch."""
    return float(440 * 2 ** ((pitch - 69) / 12))


def table(weights: NDArray[np.float64], *, phases: NDArray[np.float64] | None = None) -> Samples:
    """Return one turn of a wave with these partials, loudest 1."""
    k = np.arange(1, len(weights) + 1)
    spectrum = np.zeros(TABLE // 2 + 1, complex)
    spectrum[k] = weights * np.exp(1j * (phases if phases is not None else np.full(len(k), -np.pi / 2)))
    wave = np.fft.irfft(spectrum)
    return (wave / (np.abs(wave).max() + 1e-9)).astype(np.float32)


def turns(wave: Samples, hz: float, n: int, *, start: float = 0.0) -> Samples:
    """Return n samples of a wave at a frequency."""
    return wave[((np.arange(n) * (hz / RATE_HZ) + start) * TABLE).astype(np.int64) & (TABLE - 1)]


def shaped(x: Samples, attack_s: float, decay_s: float, *, release_s: float = 0.02) -> Samples:
    """Return sound under an envelope."""
    t = np.arange(len(x), dtype=np.float32) / np.float32(RATE_HZ)
    return (
        x
        * np.minimum(1, t / np.float32(attack_s))
        * np.exp(-t / np.float32(decay_s))
        * np.minimum(1, (t[-1] - t) / np.float32(release_s))
    )


def wavy(rng: Generator, player: str) -> Instrument:
    """Return an instrument of one drawn wave."""
    fall, odd = rng.uniform(0.6, 2.2), rng.random() < 0.25
    most = 5 if player == "bass" else int(rng.integers(3, 14))
    weights = rng.uniform(0.3, 1, most) * np.arange(1.0, most + 1) ** -fall
    weights[1::2] *= not odd
    wave = table(weights)
    attack = float(rng.choice([0.002, 0.008, 0.02, 0.06])) if player != "bass" else 0.005
    decay, apart = float(rng.choice([0.15, 0.4, 1.0, 8.0])), float(rng.choice([0.0, 0.0, 0.004]))

    def made(pitch: int, seconds: float) -> Samples:
        n = max(300, round(seconds * RATE_HZ))
        x = turns(wave, hz_of(pitch), n)
        if apart:
            x = np.float32(0.5) * (x + turns(wave, hz_of(pitch) * (1 + apart), n))
        return shaped(x, attack, decay)

    return made


def filtered(rng: Generator, player: str) -> Instrument:
    """Return saws or pulses, several out of tune, behind a filter that closes."""
    pulse, duty = rng.random() < 0.4, rng.uniform(0.1, 0.5)
    voices = 1 if player == "bass" else int(rng.choice([1, 2, 3, 5]))
    apart = rng.normal(0, 0.004, voices)
    attack = float(rng.choice([0.002, 0.005, 0.03])) if player != "pad" else float(rng.uniform(0.05, 0.6))
    decay = float(rng.choice([0.12, 0.3, 0.8, 6.0])) if player != "pad" else 8.0
    close, low, sharp = float(rng.choice([0.05, 0.12, 0.4, 3.0])), rng.uniform(1.5, 8), rng.uniform(0.0, 2.0)
    starts = rng.random(voices)
    kept: dict[int, tuple[Samples, Samples]] = {}

    def waves(pitch: int) -> tuple[Samples, Samples]:
        octave = pitch // 6
        if octave not in kept:
            most = int(np.clip(RATE_HZ / 2.2 / hz_of(octave * 6 + 6), 1, 120))
            k = np.arange(1.0, most + 1)
            bright = 1 / k if not pulse else np.sin(np.pi * k * duty) / k
            dull = bright / (1 + (k / low) ** 4) + sharp * bright * np.exp(-((k - low) ** 2))
            kept[octave] = table(bright), table(dull)
        return kept[octave]

    def made(pitch: int, seconds: float) -> Samples:
        n = max(300, round(seconds * RATE_HZ))
        bright, dull = waves(pitch)
        fade = np.exp(-np.arange(n, dtype=np.float32) / np.float32(close * RATE_HZ))
        x = np.zeros(n, np.float32)
        for cents, start in zip(apart, starts, strict=True):
            hz = hz_of(pitch) * (1 + cents)
            d = turns(dull, hz, n, start=start)
            x += d + fade * (turns(bright, hz, n, start=start) - d)
        return shaped(x / np.float32(np.sqrt(voices)), attack, decay)

    return made


def bells(rng: Generator, _player: str) -> Instrument:
    """Return one wave that bends another (frequency modulation)."""
    ratio = float(rng.choice([0.5, 1, 1, 2, 3, 1.41, 3.5, 7]))
    deep, fall = rng.uniform(0.5, 6), float(rng.choice([0.05, 0.2, 0.8, 4.0]))
    attack, decay = float(rng.choice([0.002, 0.01, 0.05])), float(rng.choice([0.2, 0.6, 1.5, 8.0]))

    def made(pitch: int, seconds: float) -> Samples:
        n = max(300, round(seconds * RATE_HZ))
        t = np.arange(n, dtype=np.float32) / np.float32(RATE_HZ)
        turn = np.float32(2 * np.pi * hz_of(pitch)) * t
        bent = np.sin(turn + np.float32(deep) * np.exp(-t / np.float32(fall)) * np.sin(np.float32(ratio) * turn))
        return shaped(bent.astype(np.float32), attack, decay)

    return made


def plucked(rng: Generator, _player: str) -> Instrument:
    """Return a plucked string: a burst that goes round and grows dull."""
    keep, soft = float(rng.uniform(0.975, 0.998)), int(rng.integers(1, 4))
    seed = int(rng.integers(1 << 30))

    def made(pitch: int, seconds: float) -> Samples:
        n = max(300, round(seconds * RATE_HZ))
        size = max(8, int(RATE_HZ / hz_of(pitch)))
        burst = np.random.default_rng(seed).uniform(-1, 1, size).astype(np.float32)
        for _ in range(soft):
            burst = np.float32(0.5) * (burst + np.roll(burst, 1))
        loss = np.float32(keep ** (size / 100))
        rounds = int(n * size * hz_of(pitch) / RATE_HZ / size) + 2
        rows = np.empty((rounds, size), np.float32)
        for k in range(rounds):
            rows[k] = burst
            burst = loss * np.float32(0.5) * (burst + np.roll(burst, 1))
        spots = (np.arange(n) * (size * hz_of(pitch) / RATE_HZ)).astype(np.int64)
        return shaped(rows.ravel()[np.minimum(spots, rounds * size - 1)], 0.001, 8.0)

    return made


def chip(rng: Generator, player: str) -> Instrument:
    """Return a toy's sound: pulses or a stepped triangle, steps of volume, and chords played one note after another."""
    duty = float(rng.choice([0.125, 0.25, 0.5]))
    stairs = player == "bass" and rng.random() < 0.7
    fall, lively = float(rng.choice([0.1, 0.25, 0.6, 5.0])), rng.random() < 0.5

    def made(pitch: int, seconds: float) -> Samples:
        n = max(300, round(seconds * RATE_HZ))
        t = np.arange(n) / RATE_HZ
        bend = 0.15 * np.clip((t - 0.25) / 0.1, 0, 1) * np.sin(2 * np.pi * 6 * t) if lively else 0.0
        turn = np.cumsum(440 * 2 ** ((pitch + bend - 69) / 12) * np.ones(n)) / RATE_HZ % 1
        x = np.floor(np.abs(turn * 4 - 2) * 7.5) / 7.5 - 1 if stairs else np.where(turn < duty, 0.8, -0.8)
        volume = np.floor(15 * np.exp(-np.floor(t * 50) / 50 / fall)) / 15
        return (x * volume * np.minimum(1, (t[-1] - t) / 0.004)).astype(np.float32)

    return made


def sampled(rng: Generator, recorded: Instrument) -> Instrument:
    """Return another instrument as a coarse sample, played faster or slower for each pitch."""
    base, rate = int(rng.choice([48, 55, 60, 67])), float(rng.choice([6_000, 8_363, 11_025, 16_000]))
    x = recorded(base, float(rng.uniform(0.5, 2.0)))
    step = RATE_HZ / rate
    coarse = x[(np.arange(int(len(x) / step)) * step).astype(np.int64)]
    coarse = np.round(coarse / (np.abs(coarse).max() + 1e-9) * 100) / np.float32(100)
    loop = rng.random() < 0.5 and len(coarse) > 2000

    def made(pitch: int, seconds: float) -> Samples:
        n = max(300, round(seconds * RATE_HZ))
        spots = np.arange(n) * (hz_of(pitch) / hz_of(base) / step)
        if loop:
            half = len(coarse) // 2
            spots = np.where(spots < len(coarse), spots, half + (spots - half) % (len(coarse) - half))
        inside = spots < len(coarse)
        x = coarse[np.minimum(spots, len(coarse) - 1).astype(np.int64)] * inside
        return shaped(x.astype(np.float32), 0.0005, 8.0, release_s=0.004)

    return made


ENGINES: dict[str, Callable[[Generator, str], Instrument]] = {
    "wavy": wavy, "filtered": filtered, "bells": bells, "plucked": plucked, "chip": chip,
}  # fmt: skip


def by_instrument(made: Instrument, notes: list[Played], length_s: float) -> Samples:
    """Return notes played by one instrument."""
    out = np.zeros(round(length_s * RATE_HZ) + RATE_HZ, np.float32)
    kept: dict[tuple[int, int], Samples] = {}
    for note in notes:
        key = (note.pitch, round(note.length_s * 25))
        if key not in kept:
            kept[key] = made(note.pitch, max(0.04, key[1] / 25))
        x, at = kept[key], round(note.at_s * RATE_HZ)
        if 0 <= at < len(out) - len(x):
            out[at : at + len(x)] += np.float32(0.1 * note.strength) * x
    return out[: round(length_s * RATE_HZ)]


def machine_drum(rng: Generator, name: str) -> Samples:
    """Return one stroke of a drum machine, its sound drawn at random."""
    n = int(0.5 * RATE_HZ)
    t = np.arange(n) / RATE_HZ
    noise = rng.standard_normal(n)
    bright = np.diff(noise, prepend=0.0)
    if name in LOW_DRUMS:
        low, drop, fall = rng.uniform(38, 70), rng.uniform(20, 220), rng.uniform(0.008, 0.05)
        body = np.sin(2 * np.pi * (low * t + drop * fall * (1 - np.exp(-t / fall)))) * np.exp(
            -t / rng.uniform(0.05, 0.3)
        )
        click = rng.uniform(0, 0.25) * bright * np.exp(-t / 0.004)
        return (1.1 * np.tanh(rng.uniform(1, 5) * body) + click).astype(np.float32)
    if name in NOISY_DRUMS:
        decay = rng.uniform(0.04, 0.22)
        ring = rng.uniform(0, 0.7) * np.sin(2 * np.pi * rng.uniform(150, 280) * t) * np.exp(-t / rng.uniform(0.03, 0.1))
        burst = sum((np.exp(-np.maximum(t - d, 0) / 0.006) * (t >= d) for d in (0.0, 0.011, 0.022)), np.zeros(n))
        hiss = noise if rng.random() < 0.6 else bright
        return (0.25 * hiss * (np.exp(-t / decay) + burst * (name == "clap")) + ring).astype(np.float32)
    if name in RINGING_DRUMS:
        hz = RINGING_DRUMS[name] * rng.uniform(0.75, 1.3)
        body = np.sin(2 * np.pi * hz * t * (1 + 0.2 * np.exp(-t / 0.03))) * np.exp(
            -t / (rng.uniform(0.08, 0.25) if hz < 500 else 0.03)
        )
        return (0.5 * body + 0.1 * noise * np.exp(-t / 0.005)).astype(np.float32)
    decay = LONG_DRUMS.get(name, rng.uniform(0.012, 0.06))
    metal = sum(np.sign(np.sin(2 * np.pi * hz * t)) for hz in rng.uniform(2000, 7500, 4)) / 4
    mixed = bright + (rng.random() < 0.4) * (metal - bright) * rng.uniform(0.3, 1)
    return (0.16 * mixed * np.exp(-t / decay)).astype(np.float32)


def by_machine(rng: Generator, notes: list[Played], length_s: float, *, coarse: bool = False) -> Samples:
    """Return the drums of a drum machine; coarse ones have few steps and a low rate."""
    out = np.zeros(round(length_s * RATE_HZ) + RATE_HZ, np.float32)
    made: dict[str, Samples] = {}
    for note in notes:
        if note.player not in made:
            x = machine_drum(rng, note.player) * np.float32(rng.uniform(0.6, 1.2))
            if coarse:
                step = int(rng.choice([2, 2, 3]))
                x = np.repeat(np.round(x[::step] * 20) / np.float32(20), step)[: len(x)]
            made[note.player] = x
        x = made[note.player]
        at = round(note.at_s * RATE_HZ)
        if 0 <= at < len(out) - len(x):
            out[at : at + len(x)] += np.float32(note.strength) * x
    return out[: round(length_s * RATE_HZ)]
