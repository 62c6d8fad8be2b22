"""From notes to sound: sound fonts for most players, arithmetic for drum machines and singing, then studio and room.

Sound is mono float32 at ``RATE_HZ``.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
from band import PLAYERS, drum_key

if TYPE_CHECKING:
    from band import Played, Score
    from numpy.random import Generator
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]

RATE_HZ = 22_050
LEVELS = {"bass": 1.0, "comp": 0.75, "lead": 0.95, "pad": 0.5, "broken": 0.6, "second": 0.6}
KITS = (0, 8, 16, 24, 25, 32, 40)
FORMANTS = {
    "a": (800, 1200, 2600),
    "e": (450, 1900, 2500),
    "i": (300, 2200, 3000),
    "o": (450, 850, 2600),
    "u": (330, 750, 2400),
}
TABLE = 2048


@cache
def font(path: str) -> Any:
    """Return a synthesiser with a sound font loaded."""
    import tinysoundfont

    synth = tinysoundfont.Synth(gain=-8, samplerate=RATE_HZ)
    synth.sfload(path)
    return synth


def choose(synth: Any, channel: int, bank: int, programs: list[int]) -> None:
    """Give a channel the first of the programs that the font has."""
    for program in programs:
        try:
            synth.program_select(channel, 0, bank, program, bank == 128)
        except RuntimeError:
            continue
        return


def by_font(synth: Any, notes: list[tuple[float, float, int, int, float]], length_s: float) -> Samples:
    """Return notes (second, seconds, channel, key, strength) as the font plays them."""
    events = sorted(
        [(at, 1, channel, key, strength) for at, _, channel, key, strength in notes]
        + [(at + length, 0, channel, key, 0.0) for at, length, channel, key, _ in notes]
    )
    synth.sounds_off()
    out = np.zeros(round(length_s * RATE_HZ), np.float32)
    done = 0
    for at, on, channel, key, strength in events:
        here = min(len(out), max(done, round(at * RATE_HZ)))
        if here > done:
            stereo = np.frombuffer(bytes(synth.generate(here - done)), np.float32)
            out[done:here] = 0.5 * (stereo[::2] + stereo[1::2])
            done = here
        if on:
            synth.noteon(channel, int(np.clip(key, 0, 127)), int(np.clip(strength * 105, 1, 127)))
        else:
            synth.noteoff(channel, int(np.clip(key, 0, 127)))
    if done < len(out):
        stereo = np.frombuffer(bytes(synth.generate(len(out) - done)), np.float32)
        out[done:] = 0.5 * (stereo[::2] + stereo[1::2])
    synth.sounds_off()
    return out


def falling(n: int, decay_s: float) -> Samples:
    """Return an envelope that falls from 1."""
    return np.exp(-np.arange(n) / (decay_s * RATE_HZ)).astype(np.float32)


def machine_drum(rng: Generator, name: str) -> Samples:
    """Return one stroke of a drum machine, its sound drawn at random."""
    n = int(0.5 * RATE_HZ)
    t = np.arange(n) / RATE_HZ
    noise = rng.standard_normal(n)
    bright = np.diff(noise, prepend=0.0)
    if name in ("kick", "bassdrum", "tumba", "lowbongo"):
        low, drop = rng.uniform(40, 65), rng.uniform(30, 200)
        fall = rng.uniform(0.01, 0.05)
        body = np.sin(2 * np.pi * (low * t + drop * fall * (1 - np.exp(-t / fall)))) * np.exp(
            -t / rng.uniform(0.06, 0.25)
        )
        return (1.1 * np.tanh(rng.uniform(1, 3) * body) + 0.1 * bright * np.exp(-t / 0.004)).astype(np.float32)
    if name in ("snare", "clap", "timbale", "slap"):
        decay = rng.uniform(0.05, 0.16)
        ring = rng.uniform(0, 0.6) * np.sin(2 * np.pi * rng.uniform(160, 260) * t) * np.exp(-t / 0.06)
        burst = (
            sum((np.exp(-np.maximum(t - d, 0) / 0.006) * (t >= d) for d in (0.0, 0.011, 0.022)), np.zeros(n))
            if name == "clap"
            else 0
        )
        return (0.35 * noise * (np.exp(-t / decay) + burst) * 0.7 + ring).astype(np.float32)
    if name in ("tom", "conga", "bongo", "block", "claves", "rim", "bell"):
        hz = {"tom": 110, "conga": 260, "bongo": 380, "block": 800, "claves": 2400, "rim": 1600, "bell": 560}[
            name
        ] * rng.uniform(0.8, 1.25)
        return (
            0.5 * np.sin(2 * np.pi * hz * t) * np.exp(-t / (0.12 if hz < 500 else 0.03))
            + 0.1 * noise * np.exp(-t / 0.005)
        ).astype(np.float32)
    decay = {"open": 0.2, "crash": 0.35, "ride": 0.25}.get(name, rng.uniform(0.015, 0.05))
    return (0.16 * bright * np.exp(-t / decay)).astype(np.float32)


def by_machine(rng: Generator, notes: list[Played], length_s: float) -> Samples:
    """Return the drums of a drum machine."""
    out = np.zeros(round(length_s * RATE_HZ) + RATE_HZ, np.float32)
    made: dict[str, Samples] = {}
    for note in notes:
        if note.player not in made:
            made[note.player] = machine_drum(rng, note.player) * np.float32(rng.uniform(0.6, 1.2))
        x = made[note.player]
        at = round(note.at_s * RATE_HZ)
        if at < len(out) - len(x):
            out[at : at + len(x)] += np.float32(note.strength) * x
    return out[: round(length_s * RATE_HZ)]


def timbre(rng: Generator, player: str) -> tuple[Samples, float, float, float]:
    """Return a made-up instrument: one turn of its wave, its attack, how fast it dies, and its detuning."""
    phase = 2 * np.pi * np.arange(TABLE) / TABLE
    fall, odd = rng.uniform(0.6, 2.2), rng.random() < 0.25
    most = 5 if player == "bass" else int(rng.integers(3, 14))
    wave = sum(rng.uniform(0.3, 1) * k**-fall * np.sin(k * phase) for k in range(1, most, 1 + odd))
    attack = float(rng.choice([0.002, 0.008, 0.02, 0.06])) if player != "bass" else 0.005
    decay = float(rng.choice([0.15, 0.4, 1.0, 8.0]))
    return (wave / np.abs(wave).max()).astype(np.float32), attack, decay, float(rng.choice([0.0, 0.0, 0.004]))


def by_arithmetic(rng: Generator, notes: list[Played], length_s: float, level: dict[str, float]) -> Samples:
    """Return notes played by made-up instruments."""
    out = np.zeros(round(length_s * RATE_HZ) + RATE_HZ, np.float32)
    made = {player: timbre(rng, player) for player in PLAYERS}
    kept: dict[tuple[str, int, int], Samples] = {}
    for note in notes:
        key = (note.player, note.pitch, round(note.length_s * 50))
        if key not in kept:
            wave, attack, decay, apart = made[note.player]
            n = max(300, round(note.length_s * RATE_HZ))
            t = np.arange(n) / RATE_HZ
            hz = 440 * 2 ** ((note.pitch - 69) / 12)
            x = wave[(t * hz * TABLE).astype(np.int64) & (TABLE - 1)]
            if apart:
                x = 0.5 * (x + wave[(t * hz * (1 + apart) * TABLE).astype(np.int64) & (TABLE - 1)])
            kept[key] = (x * np.minimum(1, t / attack) * np.exp(-t / decay) * np.minimum(1, (t[-1] - t) / 0.02)).astype(
                np.float32
            )
        x, at = kept[key], round(note.at_s * RATE_HZ)
        if at < len(out) - len(x):
            out[at : at + len(x)] += np.float32(0.1 * note.strength * level[note.player]) * x
    return out[: round(length_s * RATE_HZ)]


@cache
def vowel_table(vowel: str, octave: int) -> Samples:
    """Return one turn of a sung vowel for pitches of an octave, with few enough partials for it."""
    hz = 440 * 2 ** ((octave * 12 + 6 - 69) / 12)
    phase = 2 * np.pi * np.arange(TABLE) / TABLE
    wave = np.zeros(TABLE)
    for k in range(1, int(8000 / hz) + 1):
        peaks = sum(
            g * np.exp(-0.5 * ((k * hz - f) / (90 + 0.06 * f)) ** 2)
            for f, g in zip(FORMANTS[vowel], (1, 0.6, 0.3), strict=True)
        )
        wave += (0.03 + peaks) / k**0.6 * np.sin(k * phase + k * k * 0.3)
    return (wave / np.abs(wave).max()).astype(np.float32)


def sung(rng: Generator, notes: list[Played], length_s: float) -> Samples:
    """Return a wordless singer: vowels that glide into each note, with consonants of noise and a late vibrato."""
    out = np.zeros(round(length_s * RATE_HZ) + RATE_HZ, np.float32)
    before = 0.0
    deep = 12 if rng.random() < 0.5 else 0
    lazy = float(rng.uniform(0.0, 0.05))
    for note in sorted(notes, key=lambda x: x.at_s):
        n = max(200, round(note.length_s * RATE_HZ))
        t = np.arange(n) / RATE_HZ
        pitch = note.pitch - deep
        glide = (before - pitch if before and abs(before - pitch) < 8 else -1.0) * np.exp(-t / rng.uniform(0.02, 0.06))
        vibrato = 0.25 * np.clip((t - 0.2) / 0.3, 0, 1) * np.sin(2 * np.pi * 5.4 * t)
        hz = 440 * 2 ** ((pitch + glide + vibrato - 69) / 12)
        phase = np.cumsum(hz) / RATE_HZ
        x = vowel_table(str(rng.choice(list("aeiou"))), int(pitch) // 12)[
            (phase * TABLE).astype(np.int64) & (TABLE - 1)
        ]
        attack = rng.uniform(0.015, 0.07)
        x = x * np.minimum(1, t / attack) * np.minimum(1, (t[-1] - t) / 0.05 + 1e-3)
        if rng.random() < 0.6:
            m = min(n, int(rng.uniform(0.02, 0.09) * RATE_HZ))
            x[:m] += 0.5 * np.diff(rng.standard_normal(m), prepend=0.0) * np.hanning(m)
        at = max(0, round((note.at_s + lazy + rng.normal(0, 0.012)) * RATE_HZ))
        if at < len(out) - n:
            out[at : at + n] += (0.35 * note.strength * x).astype(np.float32)
        before = float(pitch)
    return out[: round(length_s * RATE_HZ)]


def convolved(x: Samples, echo: Samples) -> Samples:
    """Return x with an echo, as long as x."""
    size = 1 << int(np.ceil(np.log2(len(x) + len(echo))))
    return np.fft.irfft(np.fft.rfft(x, size) * np.fft.rfft(echo, size), size)[: len(x)].astype(np.float32)


def pumped(x: Samples, kicks: list[float], deep: float, back_s: float) -> Samples:
    """Return music ducked under the bass drum."""
    gain = np.ones(len(x), np.float32)
    shape = (1 - deep * np.exp(-np.arange(int(3 * back_s * RATE_HZ)) / (back_s * RATE_HZ))).astype(np.float32)
    for kick in kicks:
        at = round(kick * RATE_HZ)
        piece = gain[at : at + len(shape)]
        np.minimum(piece, shape[: len(piece)], out=piece)
    return x * gain


def played(score: Score, rng: Generator, fonts: tuple[str, ...], *, made_up: float = 0.25) -> Samples:
    """Return the score as sound, its room and studio drawn at random.

    made_up : likelihood that made-up instruments play instead of the sound font
    """
    synth = font(fonts[int(rng.integers(len(fonts)))])
    arithmetic = rng.random() < made_up
    for channel, player in enumerate(PLAYERS):
        choose(synth, channel, 0, [score.programs[player], 0])
    choose(synth, 9, 128, [int(rng.choice(KITS)), 0])
    level = {p: LEVELS[p] * float(rng.uniform(0.55, 1.25)) for p in PLAYERS}
    octave = int(rng.choice([-12, 0, 0, 0, 12])) if not score.sung else 0
    tonal = [n for n in score.notes if n.player in PLAYERS and not (score.sung and n.player in ("lead", "second"))]
    drums = [n for n in score.notes if n.player not in PLAYERS]
    if arithmetic:
        music = by_arithmetic(rng, tonal, score.length_s, level)
    else:
        plain = [
            (
                n.at_s,
                n.length_s,
                PLAYERS.index(n.player),
                n.pitch + octave * (n.player == "lead"),
                n.strength * level[n.player],
            )
            for n in tonal
        ]
        music = by_font(synth, plain, score.length_s)
    if score.electronic or arithmetic:
        beat = 0.22 * by_machine(rng, drums, score.length_s)
    else:
        beat = by_font(synth, [(n.at_s, n.length_s, 9, drum_key(n.player), n.strength) for n in drums], score.length_s)
    if score.electronic and rng.random() < 0.7:
        music = pumped(music, score.kicks, float(rng.uniform(0.3, 0.9)), float(rng.uniform(0.06, 0.2)))
    if score.electronic and rng.random() < 0.4:
        music = swept(music, rng)
    if score.sung:
        voice = sung(rng, [n for n in score.notes if n.player in ("lead", "second")], score.length_s)
        music = music + voice * np.float32(rng.uniform(0.5, 1.6) * loudness(music) / max(1e-6, loudness(voice)))
    balance = float(rng.uniform(0.45, 1.6)) * loudness(music) / max(1e-6, loudness(beat))
    return studio(music + np.float32(balance) * beat, score, rng)


def loudness(x: Samples) -> float:
    """Return the root mean square of what sounds."""
    return float(np.sqrt(np.mean(x * x)) + 1e-9)


def swept(x: Samples, rng: Generator) -> Samples:
    """Return music under a filter that opens and closes over some bars: dull and clear mixed."""
    kernel = np.hanning(41).astype(np.float32)
    dull = np.convolve(x, kernel / kernel.sum(), "same").astype(np.float32)
    turn = 0.5 + 0.5 * np.sin(2 * np.pi * np.arange(len(x)) / RATE_HZ / rng.uniform(8, 40) + rng.uniform(0, 6))
    return (dull + turn.astype(np.float32) * (x - dull)).astype(np.float32)


def studio(x: Samples, score: Score, rng: Generator) -> Samples:
    """Return the mix after drive, room, squeezing, noise and fade."""
    x = x / np.float32(4 * loudness(x))
    if rng.random() < 0.25:
        drive = float(rng.uniform(1, 4))
        x = np.tanh(drive * x) / np.float32(np.tanh(drive))
    if rng.random() < 0.5:
        n = int(rng.uniform(0.2, 1.2) * RATE_HZ)
        echo = (rng.standard_normal(n) * falling(n, n / RATE_HZ / 5)).astype(np.float32)
        echo *= np.float32(rng.uniform(0.1, 0.6)) / np.sqrt(np.sum(echo**2))
        echo[0] += 1
        x = convolved(x, echo)
    if rng.random() < 0.4:  # squeezed: loudness over 0.2 s made more alike
        power = np.sqrt(np.convolve(x * x, np.ones(441, np.float32) / 441, "same")[:: RATE_HZ // 50] + 1e-6)
        gain = np.interp(
            np.arange(len(x)), np.arange(len(power)) * (RATE_HZ // 50), power ** -float(rng.uniform(0.2, 0.6))
        )
        x = x * gain.astype(np.float32)
    if score.fade:
        t = np.arange(len(x)) / RATE_HZ
        x = x * np.clip((score.fade[1] - t) / (score.fade[1] - score.fade[0]), 0, 1).astype(np.float32)
    if rng.random() < 0.35:
        x = x + (rng.standard_normal(len(x)) * loudness(x) * 10 ** rng.uniform(-3, -1.1)).astype(np.float32)
    return (0.5 * x / max(1e-9, float(np.abs(x).max()))).astype(np.float32)
