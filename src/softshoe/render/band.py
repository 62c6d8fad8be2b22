"""A small band made of arithmetic: every instrument is a few sine waves or a little shaped noise.

An instrument takes a note and gives mono float32 at ``RATE_HZ``, peak near 1 at full strength, beginning on the note's
second and ending in silence. ``played`` lays the notes of a list on their seconds, places the instruments from left to
right, adds a little room, and gives (2, n) float32. The same notes give the same samples every time.
"""

from __future__ import annotations

from functools import cache
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from softshoe.render.score import Note

Samples = np.ndarray[tuple[int, ...], np.dtype[np.float32]]

RATE_HZ = 44_100

# instrument: level in dB, place from -1 (left) to 1 (right), share sent to the room
STAGE: dict[str, tuple[float, float, float]] = {
    "reed": (-15.0, 0.06, 0.24),
    "second_reed": (-21.0, -0.22, 0.26),
    "strum": (-9.5, -0.38, 0.16),
    "organ": (-17.5, 0.34, 0.25),
    "bass": (-11.5, 0.0, 0.02),
    "kick": (-9.0, 0.0, 0.03),
    "snare": (-12.0, 0.05, 0.18),
    "hat": (-19.5, 0.3, 0.05),
    "shaker": (-18.5, -0.42, 0.08),
    "crash": (-18.5, 0.22, 0.2),
    "block": (-12.0, 0.0, 0.12),
    "low_block": (-12.0, 0.0, 0.12),
}


def hertz(pitch: float) -> float:
    """Return the frequency of a MIDI number. [Hz]"""
    return float(440.0 * 2.0 ** ((pitch - 69.0) / 12.0))


def clock(length_s: float) -> Samples:
    """Return the seconds of each sample of a sound."""
    return np.arange(max(1, round(length_s * RATE_HZ)), dtype=np.float32) / np.float32(RATE_HZ)


def shaped(x: Samples, *, attack_s: float, release_s: float) -> Samples:
    """Return the sound with a smooth beginning and end (raised cosines)."""
    out = x.copy()
    rise, fall = min(len(x), round(attack_s * RATE_HZ)), min(len(x), round(release_s * RATE_HZ))
    if rise:
        out[:rise] *= (0.5 - 0.5 * np.cos(np.pi * np.arange(rise) / rise)).astype(np.float32)
    if fall:
        out[-fall:] *= (0.5 + 0.5 * np.cos(np.pi * np.arange(1, fall + 1) / fall)).astype(np.float32)
    return out


def reed(note: Note) -> Samples:
    """A soft reed: a few falling partials that bloom after the attack, with a gentle late vibrato."""
    t, hz = clock(note.length_s * 0.96), hertz(note.pitches[0])
    vibrato = 0.0035 * np.clip((t - 0.25) / 0.4, 0, 1) * np.sin(2 * np.pi * 4.8 * t)
    phase = 2 * np.pi * hz * (t + np.cumsum(vibrato, dtype=np.float64) / RATE_HZ)
    bloom = 1 - np.exp(-t / 0.05)
    x = np.sin(phase) + 0.42 * np.sin(2 * phase)
    x += bloom * (0.30 * np.sin(3 * phase) + 0.12 * np.sin(4 * phase) + 0.07 * np.sin(5 * phase))
    x *= 0.72 + 0.28 * np.exp(-t / 0.12)
    return shaped((x / 1.55).astype(np.float32), attack_s=0.014, release_s=0.07)


def pluck(hz: float, length_s: float, *, brightness: float, ring_s: float) -> Samples:
    """One plucked string: partials by where it is plucked (a fifth of its length), the high ones dying first."""
    t = clock(length_s)
    out = np.zeros(len(t), np.float32)
    for n in range(1, 9):
        if n * hz > 6000:
            break
        strength = brightness ** (n - 1) * abs(np.sin(np.pi * n / 5.0)) / n
        out += (strength * np.sin(2 * np.pi * n * hz * t) * np.exp(-t * (0.6 + 0.4 * n) / ring_s)).astype(np.float32)
    return shaped(out, attack_s=0.002, release_s=0.05)


def strum(note: Note) -> Samples:
    """A strummed chord: the strings follow each other by 9 ms."""
    ring_s = 0.9 if note.length_s > 1.0 else 0.28
    out = np.zeros(round((note.length_s + 0.05) * RATE_HZ) + 1, np.float32)
    for k, pitch in enumerate(note.pitches):
        x = pluck(hertz(pitch), note.length_s, brightness=0.85, ring_s=ring_s)
        at = round(0.009 * k * RATE_HZ)
        out[at : at + len(x)] += x[: len(out) - at]
    return out / np.float32(0.62 * len(note.pitches))


def organ(note: Note) -> Samples:
    """A soft organ chord with a slow swell between its pipes."""
    t = clock(note.length_s + 0.08)
    x = np.zeros(len(t), np.float64)
    for k, pitch in enumerate(note.pitches):
        phase = 2 * np.pi * hertz(pitch) * t
        swell = 1 + 0.06 * np.sin(2 * np.pi * (0.9 + 0.13 * k) * t)
        x += swell * (np.sin(phase) + 0.35 * np.sin(2 * phase) + 0.12 * np.sin(3 * phase))
    return shaped((x / (1.2 * len(note.pitches))).astype(np.float32), attack_s=0.06, release_s=0.12)


def bass(note: Note) -> Samples:
    """A round plucked bass."""
    t, hz = clock(note.length_s), hertz(note.pitches[0])
    ring_s = 0.45 if note.length_s < 1.5 else 1.1
    phase = 2 * np.pi * hz * t
    x = np.sin(phase) * np.exp(-t / ring_s) + 0.38 * np.sin(2 * phase) * np.exp(-t / (0.5 * ring_s))
    x += 0.16 * np.sin(3 * phase) * np.exp(-t / 0.08)
    return shaped((x / 1.2).astype(np.float32), attack_s=0.006, release_s=0.06)


@cache
def noise(length_s: float, low_hz: float, high_hz: float) -> Samples:
    """Return steady noise between two frequencies, with soft edges, rms 1; always the same."""
    n = len(clock(length_s))
    spectrum = np.fft.rfft(np.random.default_rng(17).standard_normal(n))
    hz = np.fft.rfftfreq(n, 1 / RATE_HZ)
    spectrum *= 1 / np.sqrt(1 + (low_hz / np.maximum(hz, 1)) ** 6) / np.sqrt(1 + (hz / high_hz) ** 6)
    x = np.fft.irfft(spectrum, n)
    return np.asarray(x / np.sqrt(np.mean(x * x)), np.float32)


def kick(_: Note) -> Samples:
    """A soft bass drum: a tone that falls from 130 to 52 Hz."""
    t = clock(0.26)
    phase = 2 * np.pi * (52 * t + 78 * 0.028 * (1 - np.exp(-t / 0.028)))
    x = np.sin(phase) * np.exp(-t / 0.085)
    return shaped(x.astype(np.float32), attack_s=0.0015, release_s=0.05)


def snare(_: Note) -> Samples:
    """A snare played with brushes: a short tone under a breath of noise."""
    t = clock(0.22)
    x = 0.30 * noise(0.22, 900, 6500) * np.exp(-t / 0.055) + 0.45 * np.sin(2 * np.pi * 185 * t) * np.exp(-t / 0.045)
    return shaped(x.astype(np.float32), attack_s=0.002, release_s=0.04)


def hat(_: Note) -> Samples:
    """A closed cymbal, short and soft."""
    t = clock(0.09)
    x = 0.4 * noise(0.09, 5500, 10500) * np.exp(-t / 0.022)
    return shaped(x.astype(np.float32), attack_s=0.001, release_s=0.02)


def shaker(_: Note) -> Samples:
    """A shaker: noise that swells for 20 ms and falls."""
    t = clock(0.12)
    swell = (t / 0.02) * np.exp(1 - t / 0.02) * np.cos(np.pi * t / 0.24)
    return np.asarray(0.4 * noise(0.12, 3500, 9000) * swell, np.float32)


def crash(_: Note) -> Samples:
    """A cymbal that opens a phrase and fades over a second and a half."""
    t = clock(1.8)
    x = 0.32 * noise(1.8, 2800, 9500) * (0.75 * np.exp(-t / 0.42) + 0.25 * np.exp(-t / 0.06))
    return shaped(x.astype(np.float32), attack_s=0.003, release_s=0.3)


def wood(hz: float) -> Callable[[Note], Samples]:
    """Return a woodblock of a pitch: two tones that die away at once, without a click."""

    def block(_: Note) -> Samples:
        t = clock(0.14)
        x = np.sin(2 * np.pi * hz * t) * np.exp(-t / 0.028)
        x += 0.35 * np.sin(2 * np.pi * 2.42 * hz * t) * np.exp(-t / 0.012)
        return shaped((x / 1.2).astype(np.float32), attack_s=0.002, release_s=0.03)

    return block


INSTRUMENTS: dict[str, Callable[[Note], Samples]] = {
    "reed": reed,
    "second_reed": reed,
    "strum": strum,
    "organ": organ,
    "bass": bass,
    "kick": kick,
    "snare": snare,
    "hat": hat,
    "shaker": shaker,
    "crash": crash,
    "block": wood(880.0),
    "low_block": wood(587.0),
}


def added(out: Samples, x: Samples, at: int, gain: float) -> None:
    """Lay a sound on a track from a sample onward; what would fall off either end is cut."""
    x, at = x[max(0, -at) :], max(0, at)
    room = len(out) - at
    if room > 0:
        out[at : at + min(len(x), room)] += x[:room] * np.float32(gain)


@cache
def room() -> Samples:
    """Return the echo of a small hall, (2, n): noise that dies 60 dB in 0.9 s, without low rumble."""
    t = clock(0.9)
    swell = np.clip(t / 0.012, 0, 1) * np.exp(-6.9 * t / 0.9)
    left, right = noise(0.9, 250, 5200), noise(0.9, 260, 5000)[::-1]
    echo = np.stack([left * swell, right * swell])
    return np.asarray(echo / np.sqrt((echo**2).sum(1, keepdims=True)), np.float32)


@cache
def room_spectrum(size: int) -> np.ndarray[tuple[int, ...], np.dtype[np.complex64]]:
    """Return the spectrum of the room's echo, for sounds of so many samples."""
    return np.asarray(np.fft.rfft(room(), size), np.complex64)


def placed(x: Samples, name: str) -> Samples:
    """Return the sound of an instrument as it is heard from its place on the stage, with its echo: (2, n)."""
    level_db, place, send = STAGE[name]
    angle, size = (place + 1) * np.pi / 4, 1 << (len(x) + room().shape[1] - 1).bit_length()
    sides = np.sqrt(2) * np.array([np.cos(angle), np.sin(angle)])
    x = x * np.float32(10 ** (level_db / 20))
    out = np.fft.irfft(np.fft.rfft(x * np.float32(send), size) * room_spectrum(size), size)
    out[:, : len(x)] += np.outer(sides, x)
    return np.asarray(out[:, : len(x) + room().shape[1] - 1], np.float32)


def played(notes: Iterable[Note], *, length_s: float) -> Samples:
    """Return the band playing the notes, (2, n) float32, not yet set to any loudness; each different sound, and its
    echo, is made once."""
    out = np.zeros((2, round(length_s * RATE_HZ)), np.float32)
    for name, own in groupby(sorted(notes, key=lambda note: note.instrument), key=lambda note: note.instrument):
        made: dict[tuple[float, tuple[int, ...]], Samples] = {}
        for note in own:
            key = (round(note.length_s, 6) if note.pitches else 0.0, note.pitches)
            if key not in made:
                made[key] = placed(INSTRUMENTS[name](note), name)
            for side, sound in zip(out, made[key], strict=True):
                added(side, sound, round(note.at_s * RATE_HZ), note.strength)
    return out
