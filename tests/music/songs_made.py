"""Songs made here, of which everything is known: a small synthesiser for the tests of listening.

Each song is a list of parts, each so many beats long; every part has its own chords, instruments and loudness. The
arrangements are ours and plain: drums, bass, chords, a lead line. Nothing in them comes from a recording.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from softshoe.music.audio import Sound

RATE = 22_050
FloatArray = NDArray[np.float64]
MAJOR = np.array([0, 4, 7])
MINOR = np.array([0, 3, 7])
CHORDS = {
    "C": (0, MAJOR), "G": (7, MAJOR), "F": (5, MAJOR), "Am": (9, MINOR), "Dm": (2, MINOR), "Em": (4, MINOR),
    "D": (2, MAJOR), "Bb": (10, MAJOR),
}  # fmt: skip


@dataclass(frozen=True)
class Part:
    """So many beats of music: chords one a bar, and who plays."""

    beats: int
    chords: tuple[str, ...]
    drums: bool = True
    bass: bool = True
    pad: bool = True
    lead: bool = False
    loud: float = 1.0
    phrase: bool = True
    fill: bool = True


@dataclass(frozen=True)
class Recipe:
    """A whole song."""

    parts: tuple[Part, ...]
    bpm: float = 112.0
    metre: int = 4
    style: str = "pop"
    first_part: int = 1
    silence_s: float = 0.5
    tail_s: float = 1.5
    drift: float = 0.0
    jitter_s: float = 0.004
    fade_s: float = 0.0
    key: int = 0
    seed: int = 1


@dataclass(frozen=True)
class Song:
    """What was made and what is true of it, seconds."""

    sound: Sound
    beats: FloatArray
    downbeats: FloatArray
    eights: FloatArray
    phrases: FloatArray
    first_count: float
    end: float
    recipe: Recipe = field(repr=False)


def _envelope(n: int, attack_s: float, decay_s: float) -> FloatArray:
    t = np.arange(n) / RATE
    return np.minimum(1, t / attack_s) * np.exp(-t / decay_s)


def _tone(midi: float, seconds: float, *, partials: tuple[float, ...], attack_s: float, decay_s: float) -> FloatArray:
    n = int(seconds * RATE)
    t = np.arange(n) / RATE
    hz = 440 * 2 ** ((midi - 69) / 12)
    wave = sum(a * np.sin(2 * np.pi * hz * (k + 1) * t) for k, a in enumerate(partials) if hz * (k + 1) < RATE / 2)
    release = np.minimum(1, (n - np.arange(n)) / (0.02 * RATE))
    return np.asarray(wave) * _envelope(n, attack_s, decay_s) * release


@lru_cache(maxsize=400)
def bass_note(midi: int, ms: int) -> FloatArray:
    return 0.5 * _tone(midi, ms / 1000, partials=(1, 0.5, 0.25, 0.12), attack_s=0.006, decay_s=0.5)


@lru_cache(maxsize=400)
def pad_note(midi: int, ms: int) -> FloatArray:
    return 0.10 * _tone(midi, ms / 1000, partials=(1, 0.6, 0.4, 0.3, 0.2), attack_s=0.03, decay_s=2.0)


@lru_cache(maxsize=400)
def lead_note(midi: int, ms: int) -> FloatArray:
    return 0.22 * _tone(midi, ms / 1000, partials=(1, 0.7, 0.6, 0.4, 0.3, 0.2, 0.1), attack_s=0.02, decay_s=0.8)


@lru_cache(maxsize=8)
def drum(name: str) -> FloatArray:
    rng = np.random.default_rng(5)
    n = int(0.35 * RATE)
    t = np.arange(n) / RATE
    noise = rng.standard_normal(n)
    if name == "kick":
        return 0.9 * np.sin(2 * np.pi * (50 * t + 8 * (1 - np.exp(-t / 0.03)))) * _envelope(n, 0.001, 0.09)
    if name == "snare":
        return 0.35 * noise * _envelope(n, 0.001, 0.07) + 0.3 * np.sin(2 * np.pi * 190 * t) * _envelope(n, 0.001, 0.05)
    if name == "crash":
        noise = rng.standard_normal(int(1.2 * RATE))
        return 0.22 * np.diff(noise, prepend=0.0) * _envelope(len(noise), 0.001, 0.4)
    return 0.16 * np.diff(noise, prepend=0.0) * _envelope(n, 0.001, 0.03)


# (drum, place in the bar in beats, strength)
GROOVES = {
    ("pop", 4): [("kick", 0, 1), ("kick", 2, 0.9), ("kick", 2.5, 0.5), ("snare", 1, 1), ("snare", 3, 1)]
    + [("hat", k / 2, 0.8 if k % 2 == 0 else 0.5) for k in range(8)],
    ("disco", 4): [("kick", k, 1) for k in range(4)] + [("snare", 1, 0.7), ("snare", 3, 0.7)]
    + [("hat", k + 0.5, 1.2) for k in range(4)],
    ("country", 4): [("kick", 0, 1), ("kick", 2, 1), ("snare", 1, 0.8), ("snare", 3, 0.8)]
    + [("hat", k, 0.5) for k in range(4)],
    ("swing", 4): [("kick", 0, 0.8), ("kick", 2, 0.6), ("snare", 1, 0.6), ("snare", 3, 0.6)]
    + [("hat", k + s, 0.7) for k in range(4) for s in (0, 2 / 3)],
    ("sixteens", 4): [("kick", 0, 1), ("kick", 0.75, 0.6), ("kick", 2.5, 0.8), ("snare", 1, 1), ("snare", 3, 1)]
    + [("hat", k / 4, 0.7 if k % 2 == 0 else 0.4) for k in range(16)],
    ("waltz", 3): [("kick", 0, 1), ("snare", 1, 0.45), ("snare", 2, 0.45)] + [("hat", k, 0.4) for k in range(3)],
}  # fmt: skip
BASS = {
    "pop": ((0, 0, 1.4), (1.5, 0, 0.5), (2, 0, 1.4)), "disco": tuple((k + 0.5, 0, 0.45) for k in range(4)),
    "country": ((0, 0, 0.9), (2, 7, 0.9)), "swing": tuple((k, (0, 4, 7, 9)[k], 0.9) for k in range(4)),
    "sixteens": ((0, 0, 0.7), (0.75, 0, 0.5), (2.5, 7, 0.7)), "waltz": ((0, 0, 1.0),),
}  # fmt: skip
SCALE = np.array([0, 2, 4, 5, 7, 9, 11])


class _Band:
    def __init__(self, recipe: Recipe) -> None:
        self.recipe = recipe
        self.rng = np.random.default_rng(recipe.seed)
        total = sum(p.beats for p in recipe.parts)
        speed = 1 + recipe.drift * np.sin(np.linspace(0, 2 * np.pi, total))
        self.beats = recipe.silence_s + np.concatenate([[0], np.cumsum(60 / (recipe.bpm * speed))])
        self.out = np.zeros(int((self.beats[-1] + recipe.tail_s + 2.5) * RATE))

    def at(self, beat: float) -> float:
        return float(np.interp(beat, np.arange(len(self.beats)), self.beats))

    def play(self, wave: FloatArray, beat: float, loud: float) -> None:
        late = self.rng.normal(0, self.recipe.jitter_s) if self.recipe.jitter_s else 0.0
        i = max(0, round((self.at(beat) + late) * RATE))
        j = min(len(self.out), i + len(wave))
        self.out[i:j] += loud * wave[: j - i]

    def ms(self, beats: float) -> int:
        return int(round(beats * 60_000 / self.recipe.bpm, -1))

    def part(self, part: Part, start: int) -> None:
        metre = self.recipe.metre
        melody = np.random.default_rng(part.beats + len(part.chords[0]) + self.recipe.seed)
        if part.drums and part.phrase and start:
            self.play(drum("crash"), start, part.loud)
        for bar, at in enumerate(range(start, start + part.beats, metre)):
            left = start + part.beats - at
            root, triad = CHORDS[part.chords[bar % len(part.chords)]]
            root += self.recipe.key
            last = part.fill and left <= metre
            self.bar(part, at, min(metre, left), root, triad, last)
            if part.lead:
                self.lead(part, at, min(metre, left), root, melody)

    def bar(self, part: Part, at: int, n: int, root: int, triad: FloatArray, last: bool) -> None:
        style, metre = self.recipe.style, self.recipe.metre
        if part.drums:
            for name, place, strength in GROOVES[(style, metre)]:
                if place < n:
                    self.play(drum(name), at + place, part.loud * strength * self.rng.uniform(0.85, 1.1))
            for k in range(4) if last else ():
                self.play(drum("snare"), at + n - 1 + k / 4, part.loud * 0.7)
        if part.bass:
            for place, up, length in BASS[style]:
                if place < n:
                    self.play(bass_note(36 + (root + up) % 12, self.ms(length)), at + place, part.loud)
        if part.pad:
            for semitone in triad:
                self.play(pad_note(60 + int(root + semitone) % 12, self.ms(n)), at, part.loud)

    def lead(self, part: Part, at: int, n: int, root: int, melody: np.random.Generator) -> None:
        place = 0.0
        while place < n:
            length = float(melody.choice([0.5, 1.0, 1.5]))
            step = int(melody.integers(0, 7))
            if melody.random() < 0.85:
                note = 67 + self.recipe.key + int(SCALE[step])
                self.play(lead_note(note, self.ms(min(length, n - place))), at + place, part.loud)
            place += length


def made(recipe: Recipe) -> Song:
    """Return the song and its truth."""
    band = _Band(recipe)
    starts = np.concatenate([[0], np.cumsum([p.beats for p in recipe.parts])]).astype(int)
    for part, start in zip(recipe.parts, starts, strict=False):
        band.part(part, int(start))
    n = int(starts[-1])
    out = band.out / max(1e-9, np.abs(band.out).max()) * 0.8
    end = float(band.beats[n])
    if recipe.fade_s:
        t = np.arange(len(out)) / RATE
        out = out * np.clip((end - t) / recipe.fade_s, 0, 1)
        end -= recipe.fade_s / 2
    else:
        out[int((end + recipe.tail_s) * RATE) :] = 0
    wide = np.repeat(np.interp(np.arange(2 * len(out)) / 2, np.arange(len(out)), out)[None], 2, axis=0)
    phrase, bars, eights = [], [], []
    for part, start in zip(recipe.parts, starts, strict=False):
        if part.phrase:
            phrase.append(int(start))
        bars += list(range(int(start), int(start) + part.beats, recipe.metre))
    for a, b in zip(phrase, [*phrase[1:], n], strict=True):
        eights += list(range(a, b, 2 * recipe.metre))
    beats = band.beats[:n]
    return Song(
        Sound(wide.astype(np.float32)), beats, beats[bars], beats[eights], beats[phrase],
        float(beats[starts[recipe.first_part]]), end, recipe,
    )  # fmt: skip


VERSE = ("C", "Am", "F", "G")
CHORUS = ("F", "G", "C", "Am")
BRIDGE = ("Dm", "G", "Em", "Am")


def common(
    *, intro: int = 16, extra: int = 0, extra_after: int = 2, rounds: int = 2, metre: int = 4, sung: int = 0
) -> tuple[Part, ...]:
    """Return intro, then verse, chorus again and again; ``extra`` beats are added to the end of one part."""
    unit = sung or (32 if metre == 4 else 24)
    parts = [Part(intro, VERSE, lead=False, loud=0.8, fill=True)]
    for _ in range(rounds):
        parts.append(Part(unit, VERSE, lead=True, loud=0.85))
        parts.append(Part(unit, CHORUS, lead=True, loud=1.0))
    if extra:
        longer = replace(parts[extra_after], fill=False)
        held = replace(longer, beats=extra, chords=(longer.chords[-1],), phrase=False, fill=True)
        parts[extra_after : extra_after + 1] = [longer, held]
    return tuple(parts)


def click_track(*, bpm: float, seconds: float, silence_s: float = 0.3) -> tuple[Sound, FloatArray]:
    """Return a plain click and the seconds of its beats."""
    beats = np.arange(silence_s, seconds - 0.2, 60 / bpm)
    out = np.zeros(int(seconds * 44_100))
    n = int(0.03 * 44_100)
    tick = np.sin(2 * np.pi * 1000 * np.arange(n) / 44_100) * np.exp(-np.arange(n) / (0.006 * 44_100))
    for beat in beats:
        i = round(beat * 44_100)
        out[i : i + n] += 0.7 * tick[: len(out) - i]
    return Sound(np.repeat(out[None], 2, axis=0).astype(np.float32)), beats
