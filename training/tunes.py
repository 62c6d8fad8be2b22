"""Songs as plans: form, chords and melodies, all drawn from a random generator; nothing is taken from existing tunes.

Beats are counted from the first beat of the song. A section is one phrase: its eights (sixes in three) begin anew with
it, and beats added to its end belong to it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from styles import STYLES

if TYPE_CHECKING:
    from numpy.random import Generator

MAJOR, MINOR = (0, 2, 4, 5, 7, 9, 11), (0, 2, 3, 5, 7, 8, 10)
# Eight bars of chord degrees, 0 the tonic; two in a bar are joined by a stroke.
PROGRESSIONS = (
    "0 0 3 3 4 4 0 0", "0 5 3 4 0 5 3 4", "0 4 5 3 0 4 5 3", "5 3 0 4 5 3 0 4", "0 3 0 4 0 3 0/4 0", "0 0 0 4 4 4 4 0",
    "3 4 0 5 3 4 0 0", "1 4 0 0 1 4 0 0", "0 5 1 4 0 5 1 4", "0 3 4 3 0 3 4 4", "0 0 3 3 0 0 4 4",
    "0/4 5/2 3/0 3/4 0/4 5/2 3/0 4",
    "3 3 0 0 3 3 4 4", "5 4 3 4 5 4 3 3", "0 6 3 0 0 6 3 4", "0 2 3 4 0 2 3 4", "0 0 4 4 5 5 3 3", "3 0 4 5 3 0 4 4",
    "0 0 0 0 0 0 0 0", "0 3 0 3 0 3 4 0", "5 5 1 1 4 4 0 0", "0/5 1/4 0/5 1/4 0/5 1/4 0/3 0", "0 4 0 4 3 0 4 0",
)  # fmt: skip
BLUES = "0 0 0 0 3 3 0 0 4 3 0 4"
CELLS_4 = (
    "1 1 1 1", "2 1 1", "1.5 .5 1 1", "1 .5 .5 1 1", ".5 .5 1 .5 .5 1", "2 2", "1 1 2", ".5 .5 .5 .5 1 1", "1.5 1.5 1",
    "3 1",
    "r1 1 1 1", "r.5 .5 .5 .5 1 1", "1 r1 1 1", ".75 .75 .5 .75 .75 .5", "1.5 .5 1.5 .5", "r2 1 1", "1 .5 1 .5 1",
)  # fmt: skip
CELLS_3 = ("1 1 1", "2 1", "1.5 .5 1", "1 .5 .5 1", "3", ".5 .5 .5 .5 1", "1 2", "r1 1 1", ".5 .5 1 1")
ENDS_4, ENDS_3 = ("2 r2", "3 r1", "4", "1 1 2", "1 r3"), ("3", "2 r1", "1 2")
FORMS = (
    "vvcvcbc",
    "vcvcbcc",
    "aabaaba",
    "vcvcvc",
    "aabbaabb",
    "vvbvvbv",
    "vcbvcb",
    "aaaaaa",
    "vpcvpcbc",
    "vcic",
    "vviv",
)


@dataclass(frozen=True)
class Section:
    """One phrase of a song: ``beats`` with its extra counts in them, and how it is played."""

    kind: str
    beats: int
    extra: int
    chords: tuple[tuple[int, ...], ...]  # degrees, by bars
    melody: tuple[tuple[float, float, int], ...]  # (beat in the section, beats, scale step)
    drums: float  # 0 none, 1 all
    bass: bool
    comp: bool
    layers: int  # more players
    loud: float
    crash: bool
    fill: str  # "", "roll", "stop", "bass"
    lift: int = 0  # semitones above the song's key


@dataclass(frozen=True)
class Plan:
    """A whole song to be played."""

    seed: int
    style: str
    bpm: float
    metre: int
    scale: tuple[int, ...]
    key: int
    sections: tuple[Section, ...]
    first_section: int  # the dance begins with it
    count_in: int  # clicks before the first section
    pickup: int  # beats of tune before the first section
    opening_s: float  # free music without a beat
    silence_s: float
    ending: str  # "hold", "cold", "fade", "slowing"
    drift: float
    late_ms: float
    swing: float


def degrees(text: str) -> list[tuple[int, ...]]:
    """Return chord degrees by bars."""
    return [tuple(int(d) for d in bar.split("/")) for bar in text.split()]


def rhythm(text: str) -> list[tuple[float, bool]]:
    """Return (beats, sounds) of a written rhythm."""
    return [(float(word.lstrip("r")), not word.startswith("r")) for word in text.split()]


def melody(
    rng: Generator, chords: list[tuple[int, ...]], metre: int, *, repeat: str, pickup: bool
) -> list[tuple[float, float, int]]:
    """Return a tune over bars: motifs of two bars that come again, chord notes on strong beats, rests at the ends."""
    cells, ends = (CELLS_4, ENDS_4) if metre == 4 else (CELLS_3, ENDS_3)
    busy = rng.choice(cells, size=3)
    motifs = {letter: [str(rng.choice(busy)) for _ in range(2)] for letter in "abc"}
    shapes = {letter: rng.integers(-2, 3, size=24) for letter in "abc"}
    found: list[tuple[float, float, int]] = []
    step = int(rng.integers(2, 7))
    for bar, chord in enumerate(chords):
        letter = repeat[(bar // 2) % len(repeat)]
        text = str(rng.choice(ends)) if bar % 4 == 3 else motifs[letter][bar % 2]
        at, k = float(bar * metre), 8 * (bar % 2)
        for beats, sounds in rhythm(text):
            if sounds:
                place = at - bar * metre
                step = int(np.clip(step + shapes[letter][k % 24], -3, 11))
                if place in (0.0, metre / 2):
                    tones = [chord[int(place / metre * len(chord))] + t for t in (-7, -5, -3, 0, 2, 4, 7, 9, 11)]
                    step = min(tones, key=lambda t: abs(t - step))
                found.append((at, beats, step))
            at, k = at + beats, k + 1
    if pickup:
        found = [(-1.0, 0.5, step - 1), (-0.5, 0.5, step), *found]
    return found


def intro_of(rng: Generator, metre: int) -> list[int]:
    """Return the lengths of intro sections in beats, often one, sometimes none."""
    eight = 2 * metre
    return [[], [eight], [2 * eight], [4 * eight], [2 * eight, 2 * eight], [4 * eight, 2 * eight]][
        int(rng.choice(6, p=[0.1, 0.13, 0.36, 0.31, 0.05, 0.05]))
    ]


class _Writer:
    def __init__(self, rng: Generator, style: str, longest_s: float, bpm: float) -> None:
        self.rng, self.style = rng, STYLES[style]
        self.metre = self.style.metre
        self.most_beats = longest_s * bpm / 60
        self.materials: dict[str, tuple[list[tuple[int, ...]], list[tuple[float, float, int]]]] = {}
        self.bars = int(rng.choice([8, 8, 8, 8, 8, 16, 4, 12], p=[0.2, 0.2, 0.2, 0.2, 0.04, 0.08, 0.03, 0.05]))
        self.crash, self.fill = rng.choice([0.0, 0.4, 0.9]), rng.choice([0.15, 0.5, 0.9])
        self.pickups = rng.random() < 0.35
        self.bare = rng.random() < self.style.bare
        self.extra_odds = rng.choice([0.0, 0.12, 0.3], p=[0.5, 0.35, 0.15])

    def material(self, kind: str) -> tuple[list[tuple[int, ...]], list[tuple[float, float, int]]]:
        rng = self.rng
        if kind not in self.materials:
            text = BLUES if self.bars == 12 else str(rng.choice(PROGRESSIONS))
            chords = degrees(text)
            if rng.random() < 0.15:
                chords = [chords[i // 2] for i in range(8)]
            if rng.random() < 0.5 and len(chords) == 8:
                chords[-1] = (4,) if rng.random() < 0.6 else (0,)
            tune = melody(
                rng,
                chords,
                self.metre,
                repeat=str(rng.choice(["aaba", "abac", "aabb", "abab", "aaab", "abcb"])),
                pickup=self.pickups,
            )
            self.materials[kind] = (chords, tune)
        return self.materials[kind]

    def section(self, kind: str, beats: int, **how: object) -> Section:
        rng, metre = self.rng, self.metre
        chords, tune = self.material({"p": "b", "i": "v"}.get(kind, kind))
        bars = -(-beats // metre)
        extra = 0
        if how.get("extra") and rng.random() < self.extra_odds:
            extra = int(rng.choice([metre, metre, 2, 2 * metre] if metre == 4 else [3, 3, 6]))
        loud = {"c": 1.0, "b": 0.8, "v": 0.85, "a": 0.9, "p": 0.85, "i": 0.85}.get(kind, 0.8) ** float(
            rng.uniform(0.3, 2.0)
        )
        rest = float(rng.random())
        drums = (
            0.0
            if self.bare
            else float(how.get("drums", 0.0 if kind in "bi" and rest < 0.3 else rng.choice([0.7, 1.0, 1.0])))
        )
        sung = kind != "i" and not how.get("quiet")
        full = [tuple(chords[(k + (0 if bars >= 4 else 4)) % len(chords)]) for k in range(bars + -(-extra // metre))]
        keep = [(a, d, s) for a, d, s in tune if a < beats and a + d <= beats + 1e-6]
        if beats > metre * len(chords):
            keep += [(a + metre * len(chords), d, s) for a, d, s in keep if a >= 0 and a + metre * len(chords) < beats]
        if rng.random() < 0.3:  # a variation: some notes move by a step
            keep = [(a, d, s + int(rng.integers(-1, 2)) if rng.random() < 0.25 else s) for a, d, s in keep]
        fill = str(rng.choice(["roll", "roll", "stop", "bass"])) if rng.random() < self.fill else ""
        return Section(
            kind, beats + extra, extra, tuple(full), tuple(keep) if sung else (), drums,
            bass=bool(how.get("bass", not (kind == "b" and rest < 0.12))), comp=bool(how.get("comp", True)),
            layers=int(how.get("layers", {"c": 2, "v": 1, "a": 1, "b": 1}.get(kind, 0))), loud=float(loud),
            crash=bool(rng.random() < self.crash), fill=fill,
        )  # fmt: skip

    def intro(self) -> list[Section]:
        rng, found = self.rng, []
        for beats in intro_of(rng, self.metre):
            drums = float(rng.choice([0.0, 0.5, 1.0], p=[0.4, 0.2, 0.4]))
            bass = bool(rng.random() < 0.6) or drums > 0
            found.append(
                self.section(
                    "o",
                    beats,
                    drums=drums,
                    bass=bass,
                    comp=rng.random() < 0.9 or not bass,
                    quiet=rng.random() < 0.75,
                    layers=0,
                )
            )
        return found

    def song(self) -> tuple[list[Section], int]:
        rng = self.rng
        found = self.intro()
        first, total = len(found), sum(s.beats for s in found)
        unit = self.bars * self.metre
        for place, kind in enumerate(str(rng.choice(FORMS)) * 3):
            if total > self.most_beats and place > 2:
                break
            beats = unit // 2 if kind in "pi" and rng.random() < 0.5 and unit % (4 * self.metre) == 0 else unit
            pieces = [beats // 2, beats // 2] if beats >= 16 * self.metre else [beats]  # sixteen bars are two phrases
            for piece in pieces:
                found.append(self.section(kind, piece, extra=True))
                total += found[-1].beats
        return found, first


def plan(seed: int, *, styles: tuple[str, ...], longest_s: float = 150.0) -> Plan:
    """Return the song of a seed in one of the styles."""
    rng = np.random.default_rng(seed)
    name = styles[int(rng.integers(len(styles)))]
    style = STYLES[name]
    bpm = float(np.exp(rng.uniform(*np.log(style.bpm))))
    sections, first = _Writer(rng, name, float(rng.uniform(60, longest_s)), bpm).song()
    lifted = len(sections) - int(rng.integers(1, 3)) if rng.random() < 0.15 else len(sections)
    sections = [replace(s, lift=2 * int(i >= lifted)) for i, s in enumerate(sections)]
    opening = rng.random() < 0.12
    click = rng.random() < 0.1
    return Plan(
        seed=seed, style=name, bpm=bpm, metre=style.metre,
        scale=MAJOR if rng.random() < 0.7 else MINOR, key=int(rng.integers(12)), sections=tuple(sections),
        first_section=first,
        count_in=int(rng.choice([style.metre, 2 * style.metre])) if click else 0,
        pickup=0 if click or rng.random() > 0.2 else int(rng.integers(1, style.metre)),
        opening_s=float(rng.uniform(3, 12)) if opening else 0.0,
        silence_s=float(rng.choice([0.02, 0.3, 1.0, 2.5])) * float(rng.random()),
        ending=str(rng.choice(["hold", "cold", "fade", "slowing"], p=[0.4, 0.15, 0.3, 0.15])),
        drift=float(rng.choice([0.0, 0.006, 0.015, 0.03], p=[0.5, 0.2, 0.2, 0.1])),
        late_ms=float(rng.choice([1, 5, 9, 14])),
        swing=float(rng.uniform(*style.swing)),
    )  # fmt: skip
