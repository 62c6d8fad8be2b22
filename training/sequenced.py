# ruff: noqa: E501, RUF005 -- tables of patterns
"""Music as people write it down part by part at a computer or on paper, and as bands play it: the plain middle.

A genre is a table: drums, basses and chords that people expect of it. Nearly always the low drum and the bass say where
a bar begins, and the snare, the chords after the beat or a ride say where the beats are; riffs of one, two or four bars
come again with the chords, the last bar of four or eight is turned or filled, a crash opens the next. Some genres have no
drums at all: broken chords, strings that repeat, oom-pah. Now and then a part is another genre's, or an odd one that leans
between the beats while the others keep the bar. Letters are those of ``styles.py``; ``|`` parts the choices.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from pieces import RANKS, Line, Piece, _Loom
from styles import (
    ACCORDION,
    BASS,
    BELLS,
    BRASS,
    CLEAN,
    DIRTY,
    DRUM_KEYS,
    FOLK,
    GUITAR,
    ORGAN,
    PADS,
    PIANO,
    PIPES,
    REEDS,
    STABS,
    STRINGS,
    SYNTH_BASS,
    SYNTH_LEAD,
    VOICES,
)

if TYPE_CHECKING:
    from numpy.random import Generator


@dataclass(frozen=True)
class Genre:
    """What people expect of one kind of music."""

    bpm: tuple[float, float]
    low: str  # patterns of the low drum
    high: str  # of snare, clap, rim
    light: str  # of cymbals and shakers
    bass: str  # kinds of bass, by name
    comp: str  # patterns of chords
    players: dict[str, tuple[int, ...]]  # programs of bass, comp, lead
    grid: int = 4
    metre: int = 4
    swing: tuple[float, float] = (0.5, 0.5)
    drums: float = 0.95  # likelihood of drums
    kit: tuple[str, str, str] = ("kick", "snare", "hat")
    riff: float = 0.3  # likelihood of a riff in another part
    runs: float = 0.3  # of broken chords
    electronic: float = 0.0
    crunch: float = 0.0


def _players(bass: tuple[int, ...], comp: tuple[int, ...], lead: tuple[int, ...]) -> dict[str, tuple[int, ...]]:
    return {"bass": bass, "comp": comp, "lead": lead}


ROCK_LOW = "x.......x.......|x.....x.x.......|x.......x.x.....|x..x....x.......|x.....x...x.....|x.x.......x.....|x......xx.x.....|x.......x......."
BACK = "....x.......x...|....x.......x...|....x.......x...|....x.......x..x|....x..g....x...|....x.......x.x."
EIGHTHS = "x.x.x.x.x.x.x.x.|x.o.x.o.x.o.x.o.|x...x...x...x...|xxxxxxxxxxxxxxxx|xoxoxoxoxoxoxoxo"
SMALL = PIANO + STRINGS + ORGAN + GUITAR
GENRES: dict[str, Genre] = {
    "rock": Genre((88, 168), ROCK_LOW, BACK, EIGHTHS, "roots eighths kick riff", "X.......|X...X...|xxxxxxxx|x.xxx.xx|X..X..X.|x.x.x.x.",
                  _players(BASS, DIRTY + CLEAN + ORGAN, DIRTY + SYNTH_LEAD + VOICES + REEDS), riff=0.5, crunch=0.4),
    "slow_rock": Genre((58, 92), ROCK_LOW, BACK, "x.x.x.x.x.x.x.x.|xoxoxoxoxoxoxoxo", "roots long kick", "X.......|X...X...|x.x.x.x.",
                       _players(BASS, PIANO + CLEAN, VOICES + REEDS + STRINGS + DIRTY), runs=0.6, crunch=0.2),
    "metal": Genre((96, 172), "x.x.x.x.x.x.x.x.|x..xx..xx..xx..x|x.xxx.xxx.xxx.xx|xxxxxxxxxxxxxxxx|" + ROCK_LOW, BACK, "x...x...x...x...|x.x.x.x.x.x.x.x.",
                   "gallop eighths riff sixteenths", "X.......|x.xxx.xx|xxxxxxxx|X.X.X.X.", _players(BASS, DIRTY, DIRTY + SYNTH_LEAD), riff=0.6, crunch=0.9),
    "funk": Genre((84, 122), "x..x..x...x.....|x.....x..xx.....|x.x....x..x..x..|x.......x..x..x.|x.xx....x.x.....", "....x..g.g..x..g|....x.......x...|....x..x.g..x...",
                  "xxxxxxxxxxxxxxxx|x.x.x.x.x.x.x.x.|xoxxxoxxxoxxxoxx", "riff funk kick octaves", "..x...x...x...x.|x..x..x.........|....x.......x...|..xx..x...xx..x.|x.......|.x.x..x.",
                  _players(BASS + SYNTH_BASS, CLEAN + ORGAN + PIANO + (7,), BRASS + REEDS + ORGAN), riff=0.55, runs=0.15),
    "pop": Genre((84, 140), ROCK_LOW + "|x...x...x...x...", BACK, EIGHTHS + "|..x...x...x...x.", "roots eighths kick octaves", "X.......|X...X...|xxxxxxxx|..x...x.|x..x..x.|X.......",
                 _players(BASS + SYNTH_BASS, SMALL + PADS, SYNTH_LEAD + VOICES + PIPES + BELLS), runs=0.5, electronic=0.35),
    "ballad": Genre((54, 84), "x.......x.......|x.....x.x.......|x.........x.....", BACK + "|........x.......", "x.x.x.x.x.x.x.x.|xoxoxoxoxoxoxoxo", "long roots two", "X.......|X...X...|xxxxxxxx|X.......",
                    _players(BASS, PIANO + GUITAR + STRINGS, VOICES + PIPES + REEDS + STRINGS), drums=0.6, runs=0.8),
    "boogie": Genre((96, 172), "x...x...|x.x.x.x.|x..ox..o", "..x...x.", "x.xox.xo|xoxoxoxo|x.x.x.x.", "boogie walk", "..x...x.|x.x.x.x.|.x.x.x.x|x..x....|X.......",
                    _players(BASS + (0,), PIANO + GUITAR + ORGAN, REEDS + GUITAR + PIANO + BRASS), swing=(0.54, 0.67)),
    "twist": Genre((112, 176), "x...x...x...x...|x.....x.x.....x.|x.......x.......", "....x.......x...|....x.x.....x...|..x...x...x...x.", EIGHTHS, "boogie walk eighths", "..x...x.|x.x.x.x.|xxxxxxxx|X.......",
                   _players(BASS, GUITAR + PIANO, REEDS + GUITAR + ORGAN)),
    "jazz": Genre((92, 172), "o.o.o.o.|x.......|x...x...", "...g...g|..o...o.|........", "x.xox.xo|x.xxx.xx|x.x.x.x.", "walk walk two", "x..x....|...x..x.|.x....x.|X.......|X...X...|x..x..x.",
                  _players((32, 32, 35, 43), PIANO + (26,), BRASS + REEDS + (11,)), swing=(0.58, 0.68), kit=("kick", "snare", "ride"), riff=0.15, runs=0.05),
    "bossa": Genre((100, 150), "x.....x.x.....x.|x..xx..xx..xx..x", "x.....x.....x...x.....x...x.....|x..x..x....x.x..", "x.x.x.x.x.x.x.x.|xoxoxoxoxoxoxoxo", "bossa two", "x..x..x.|x.x..x.x|.x.x..x.|X..X....",
                   _players((32, 33), GUITAR + PIANO, PIPES + REEDS + (24, 11)), kit=("kick", "rim", "shaker"), riff=0.1),
    "latin": Genre((88, 130), "x..x..x...x.....|x..x....x..x....|x...x...x...x...|......x.......x.", "..x...x...x...x.|x..x..x.|....x.......x...|x..x..x...x.x...", "x...x...x...x...|x.x.x.x.x.x.x.x.|x.xxx.xxx.xxx.xx", "tumbao bossa riff", "x.xx.xx.|x..x..x.|.x.xx.x.|..x...x.|xx.xx.xx",
                   _players(BASS, PIANO + GUITAR, BRASS + PIPES + ACCORDION), kit=("conga", "timbale", "bell"), riff=0.5),
    "ragtime": Genre((76, 132), "x...x...", "..x...x.", "x.x.x.x.", "oompah oompah octaves2", "..x...x.|..x...x.|..x...xx",
                     _players((0, 58, 32, 70), PIANO + (3,) + BRASS, (0, 3, 71, 56, 105)), drums=0.3, riff=0.1, runs=0.05),
    "march": Genre((96, 138), "x...x...|x.......|x...x...", "..x...x.|x.xxx.xxx.xxx.xx|oxoxoxox|x..xx..xx.x.xxxx|..xx..xx", "x...x...|x.......|x.x.x.x.", "oompah two roots", "..x...x.|.x.x.x.x|X...X...|..x...x.",
                   _players((58, 57, 70, 43), BRASS + STRINGS + REEDS, BRASS + PIPES + REEDS), drums=0.75, kit=("bassdrum", "snare", "crash"), riff=0.15),
    "polka": Genre((92, 140), "x...x...x...x...|x...x...|x.......x.......", "..x...x...x...x.|..x...x...x...x.", "..x...x...x...x.|x.x.x.x.x.x.x.x.", "two roots oompah", ".x.x.x.x|.x.x.x.x|.xx..xx.",
                   _players((58, 32, 33), ACCORDION + PIANO + GUITAR, ACCORDION + REEDS + FOLK), riff=0.1),
    "film": Genre((66, 156), "x.......x.......|x...............|x.......x...x...|x..x..x.x.x.x.x.", "............x...|....x.......x...|................", "x...............|x.......x.......|x.x.x.x.x.x.x.x.", "long roots eighths pedal", "X.......|X...X...|xxxxxxxx|xoxoxoxo|x.xxx.xx|xoooxoooxoooxooo",
                  _players(STRINGS + (42, 43, 57), STRINGS + BRASS + VOICES, STRINGS + BRASS + PIPES + VOICES + (60, 68)), drums=0.5, kit=("bassdrum", "snare", "crash"), runs=0.55, riff=0.4),
    "classical": Genre((60, 156), "x.......", "........", "x.......", "two long roots pedal", "X.......|X...X...|xxxxxxxx|.x.x.x.x|x.x.x.x.|..x...x.|.xxx.xxx",
                       _players(STRINGS + (42, 43, 70, 0), STRINGS + PIANO + (6, 46), PIPES + STRINGS + REEDS + PIANO + (68, 40)), drums=0.06, kit=("bassdrum", "snare", "triangle"), runs=0.75, riff=0.15),
    "techno_pop": Genre((112, 148), "x...x...x...x...", "....x.......x...|................|....x.......x..x", "..x...x...x...x.|x.x.x.x.x.x.x.x.|xxxxxxxxxxxxxxxx|xxoxxxoxxxoxxxox", "octaves off sixteenths riff eighths", "X.......|..x...x.|x..x..x.|x..x..x..x..x.x.|.x.x.x.x",
                        _players(SYNTH_BASS, SYNTH_LEAD + STABS + PADS, SYNTH_LEAD + BELLS), runs=0.7, electronic=1.0, kit=("kick", "clap", "hat")),
    "chip": Genre((96, 172), "x...x...x...x...|x.......x.......|x.....x.x.......|x..x..x.x.......", BACK, "x.x.x.x.x.x.x.x.|..x...x...x...x.|xxxxxxxxxxxxxxxx|x...x...x...x...", "octaves eighths roots riff gallop", "X.......|x.x.x.x.|.x.x.x.x|x..x..x.|xxxxxxxx",
                  _players(SYNTH_BASS, SYNTH_LEAD + PADS, SYNTH_LEAD), runs=0.8, riff=0.4, electronic=1.0),
    "module": Genre((96, 168), "x...x...x...x...|x.......x.......|x.x.......xx....|x.....x...x.....|x..x......x.....|x...x...x...x...", "....x.......x...|....x..x.x..x...|....x..g.g..x.g.", "x.x.x.x.x.x.x.x.|xxxxxxxxxxxxxxxx|..x...x...x...x.|x.xxx.xxx.xxx.xx", "octaves eighths riff long off", "X.......|X...X...|x..x..x.|x..x..x..x..x.x.|.x.x.x.x|xxxxxxxx",
                    _players(SYNTH_BASS + BASS, PADS + STRINGS + STABS + PIANO, SYNTH_LEAD + PIPES + BELLS), runs=0.6, riff=0.55, electronic=0.8),
    "swing_hop": Genre((72, 104), "x.......x.x.....|x..x....x.......|x.....x...x.....|x.......xx......", "....x.......x...|....x..g....x...", "x.x.x.x.x.x.x.x.|xxxxxxxxxxxxxxxx", "riff kick long", "X.......|x.......|..x...x.|x..x....", _players(BASS + SYNTH_BASS, PIANO + ORGAN + PADS + (11,), SYNTH_LEAD + REEDS + VOICES + PIANO), riff=0.5, electronic=0.5),
    "blues": Genre((54, 116), "x.....x.....|x..x..x..x..|x....xx.....", "...x.....x..|...x.....x..|...x.....x.x", "xxxxxxxxxxxx|x.xx.xx.xx.x|x..x..x..x..", "boogie3 walk3 roots3", "xxxxxxxxxxxx|..x..x..x..x|X...........|x..x..x..x..|x.xx.xx.xx.x", _players(BASS, GUITAR + PIANO + ORGAN, GUITAR + (22, 29) + REEDS + VOICES), grid=3, runs=0.35),
    "jig": Genre((84, 128), "x.....x.....|x..x..x..x..", "...x.....x..|..x..x..x..x|x.xx.xx.xx.x", "x.xx.xx.xx.x|xxxxxxxxxxxx", "roots3 walk3 two3", "x..x..x..x..|..x..x..x..x|x.xx.xx.xx.x|X...........", _players(BASS + (42,), GUITAR + PIANO + ACCORDION, FOLK + PIPES + ACCORDION), grid=3, drums=0.6, kit=("bassdrum", "snare", "shaker")),
    "waltz": Genre((84, 172), "x.....|x.....|x.....|x..o..", "..x.x.|..o.o.|....x.|......", "x.x.x.|..x.x.|x.....|xxxxxx", "one1 walk1 roots1", "..x.x.|..x.x.|..x.x.|x.x.x.|X.....|.xxxxx", _players(BASS + (58, 43, 0), SMALL + ACCORDION, STRINGS + PIPES + REEDS + ACCORDION + VOICES), metre=3, drums=0.6, runs=0.35, riff=0.1),
    "slow_waltz": Genre((56, 100), "x...........|x.....x.....|x.........x.", "....x...x...|........x...|............", "x.x.x.x.x.x.|x...x...x...|xxxxxxxxxxxx", "one1 roots1 walk1", "X.....|x.x.x.|X...X.|xxxxxx", _players(BASS + (43, 0), PIANO + STRINGS + GUITAR, VOICES + STRINGS + PIPES + REEDS), metre=3, drums=0.5, runs=0.75),
    # for testing alone
    "ska": Genre((100, 164), "x.......x.......|........x.......|x...x...x...x...", "....x.......x...|........x.......", "..x...x...x...x.|x.x.x.x.x.x.x.x.", "walk riff roots", ".x.x.x.x|.x.x.x.x|.xx..xx.", _players(BASS, GUITAR + ORGAN, BRASS + REEDS)),
    "tango": Genre((104, 136), "x.......|x..x..x.|x...x...", "x.x.x.xx|x..x..x.|........", "x.x.x.x.|........", "roots two tresillo", "x.x.x.x.|x.x.x.xx|X.......|x..x..x.", _players((43, 32, 0), ACCORDION + PIANO + STRINGS, ACCORDION + STRINGS + (40,)), drums=0.35, kit=("bassdrum", "snare", "triangle")),
    "surf": Genre((128, 176), "x.......x.......|x.....x.x.......|x...x...x...x...", "....x.x.....x...|....x.......x...|....x.x.....x.x.", EIGHTHS, "riff boogie eighths", "x.x.x.x.|..x...x.|X.......|xxxxxxxx", _players(BASS, CLEAN + GUITAR, CLEAN + ORGAN + REEDS), riff=0.5),
    "music_box": Genre((72, 150), "x.......", "........", "x.......", "long roots two", "X.......|x.......|x.x.x.x.", _players((0, 46, 11, 12), BELLS + (46, 0), BELLS + PIPES), drums=0.05, runs=1.0),
}  # fmt: skip
UNSEEN = ("ska", "tango", "surf", "music_box")
RUNS = ("0123", "012", "0121", "01232123", "0212", "0213", "01230123", "012321", "0246", "3210", "01", "0234321")
STROKES = {"x": 1.0, "X": 1.0, "o": 0.6, "g": 0.35}
WALKS = ("0246", "0234", "0424", "0135", "0765", "0242", "0456", "0210")
BOOGIES = ("00224455", "02456542", "00774466", "04040404", "04546454", "00445544", "02450245")


def crossed(rng: Generator, genre: Genre) -> Genre:
    """Return the genre; in two songs of five some of its parts are those of others of its metre and grid."""
    if rng.random() > 0.4:
        return genre
    near = [g for n, g in GENRES.items() if n not in UNSEEN and (g.metre, g.grid) == (genre.metre, genre.grid)]
    parts = [part for part in ("low", "high", "light", "bass", "comp", "players") if rng.random() < 0.4]
    return replace(genre, **{part: getattr(near[int(rng.integers(len(near)))], part) for part in parts})


class _Written:
    """One song: its genre, its loom, and what all its parts agree on."""

    def __init__(self, rng: Generator, genre: Genre) -> None:
        self.rng, self.genre = rng, genre
        self.loom = _Loom(rng, genre.metre, genre.grid)
        self.metre = genre.metre
        self.drummed = bool(rng.random() < genre.drums)
        self.fills = int(rng.choice([2, 4, 4, 8, 8]))  # bars from one fill to the next
        self.filled = float(rng.choice([0.0, 0.5, 1.0]))
        self.crash = bool(rng.random() < 0.5)
        self.touch = float(rng.choice([0.4, 0.7, 0.95]))
        self.kick: list[float] = [0.0]
        self.odd = str(
            rng.choice(["", "low", "high", "bass", "comp", "turned"], p=[0.76, 0.07, 0.04, 0.05, 0.05, 0.03])
        )

    def one_of(self, text: str, parts: str = "|") -> str:
        """Return one of the choices in a text."""
        these = text.split(parts)
        return these[int(self.rng.integers(len(these)))]

    def hits(self, text: str) -> list[tuple[float, float]]:
        """Return (beat, strength) of a pattern that lasts a bar, or two when it is longer than sixteenths."""
        bars = 2 if len(text) > 4 * self.metre else 1
        return [(k * bars * self.metre / len(text), STROKES[c]) for k, c in enumerate(text) if c != "."]

    def over(self, text: str, bars: int) -> list[tuple[float, float]]:
        """Return a pattern again and again over so many bars."""
        size = self.metre * (2 if len(text) > 4 * self.metre else 1)
        return [(b + at, x) for b in range(0, bars * self.metre, size) for at, x in self.hits(text)]

    def drum(self, name: str, hits: list[tuple[float, float]], bars: int) -> Line:
        """Return the line of a drum."""
        hits = sorted(dict(hits).items())
        strokes = tuple((at, 0.3, (0,), x) for at, x in hits if at < bars * self.metre)
        return Line(name, bars, strokes)

    def kit(self) -> list[Line]:
        """Return the drums over eight bars: now and then another bar, a fill at the end of two, four or eight."""
        genre, rng, bars = self.genre, self.rng, 8
        low, high, light = (self.over(self.one_of(x), bars) for x in (genre.low, genre.high, genre.light))
        other = self.over(self.one_of(genre.low), 2)
        if self.odd in ("low", "high"):  # it is silent, or its rhythm is uneven
            odd = (
                [(b * self.metre + a, 1.0) for a in self.loom.cell() for b in range(bars)] if rng.random() < 0.6 else []
            )
            low, high = (odd, high) if self.odd == "low" else (low, odd)
        if self.odd == "turned" and self.metre == 4:  # the snare comes between the beats: a kit twice as quick
            high = [(b + 0.5 if genre.grid != 3 else b + 2 / 3, 1.0) for b in range(bars * 4)]
        if rng.random() < 0.4:  # every second or fourth bar has another low drum
            each = int(rng.choice([2, 4]))
            turned = [b for b in range(bars) if b % each == each - 1]
            low = [(at, x) for at, x in low if at // self.metre not in turned]
            low += [(b * self.metre + at, x) for b in turned for at, x in other if at < self.metre]
        self.kick = sorted({at for at, _ in low if at < 2 * self.metre}) or [0.0]
        names = [str(n) for n in genre.kit]
        if names[2] == "hat" and rng.random() < 0.35:
            names[2] = str(rng.choice(["ride", "open", "shaker", "tamb", "crash", "pedal", "cabasa"]))
        if rng.random() < 0.12:
            names[0] = str(rng.choice(["bassdrum", "tom", "lowtom", "conga", "tumba", "lowbongo", "timbale"]))
        if names[1] == "snare" and rng.random() < 0.2:
            names[1] = str(rng.choice(["clap", "rim", "snare2", "tamb"]))
        toms: list[tuple[float, float, str]] = []
        for bar in range(self.fills - 1, bars, self.fills):
            if rng.random() < self.filled:
                size = float(rng.choice([0.5, 1.0, 1.0, 2.0]))
                start = (bar + 1) * self.metre - size
                step = 1 / 3 if genre.grid == 3 else float(rng.choice([0.25, 0.25, 0.5]))
                high, light = ([h for h in these if not start <= h[0] < start + size] for these in (high, light))
                names_of = ("snare", "hightom", "tom", "lowtom") if rng.random() < 0.6 else ("snare",)
                at = np.arange(start, start + size - 1e-6, step)
                toms += [(float(a), 0.7 + 0.3 * k / len(at), names_of[k * len(names_of) // len(at)])
                         for k, a in enumerate(at) if rng.random() < 0.9]  # fmt: skip
        lines = [self.drum(n, h, bars) for n, h in zip(names, (low, high, light), strict=True) if h]
        lines += [self.drum(n, [(a, x) for a, x, own in toms if own == n], bars) for n in {t[2] for t in toms}]
        if self.crash:
            every = max(4, self.fills)
            lines.append(self.drum("crash", [(b * self.metre, 0.9) for b in range(0, bars, every)], bars))
        if rng.random() < 0.25:
            name = str(rng.choice(["tamb", "shaker", "conga", "clap", "bell", "cabasa", "bongo"]))
            lines.append(self.drum(name, self.over(self.one_of(genre.light + "|" + genre.high), bars), bars))
        return [x for x in lines if x.strokes and rng.random() > 0.04]

    def figure(self, bars: int, most: float) -> list[float]:
        """Return a riff's beats over so many bars: on the first, then likelier the stronger the place is."""
        rng, grid = self.rng, self.genre.grid
        half, found = max(1, grid // 2), [0.0]
        for k in range(1, bars * self.metre * grid):
            p = 0.35 if k % (self.metre * grid) == 0 else 0.0
            p += (
                0.55
                if k % grid == 0
                else 0.45
                if grid != 3 and k % half == 0
                else 0.45
                if k % 3 == 2 and grid == 3
                else 0.16
            )
            if rng.random() < p * most:
                found.append(k / grid)
        return found

    def bass(self) -> Line:
        """Return a bass of one of the genre's kinds."""
        rng, loom, metre = self.rng, self.loom, self.metre
        kind = self.one_of(self.genre.bass, " ")
        if self.odd == "bass":
            return loom.line("bass", loom.cell(), loom.bass_steps(), touch=self.touch)
        touch = self.touch
        step, roots = 0.5, [(0,)]
        if kind in ("boogie", "boogie3", "walk", "walk3", "walk1"):
            text = self.one_of("|".join(BOOGIES if kind.startswith("boogie") else WALKS))
            at = loom.every(0.5 if kind == "boogie" else 1.0)
            if kind == "boogie3":
                at = [b + p for b in range(metre) for p in (0.0, 2 / 3)]
            two = [b * metre + a for b in range(2) for a in at]
            return loom.line("bass", two, [(int(c),) for c in (text * 2)[: len(at)] * 2], bars=2, touch=touch)
        if kind in ("riff", "funk", "tumbao", "bossa", "tresillo", "kick", "gallop"):
            bars = int(rng.choice([1, 2, 2, 4]))
            at = self.figure(bars, float(rng.uniform(0.6, 1.3)))
            if kind == "tumbao":
                bars, at = 2, [0.0, 1.5, 3.0, 5.5, 7.0]
            elif kind == "bossa":
                bars, at = 1, [0.0, 1.5, 2.0, 3.5]
            elif kind == "tresillo":
                bars, at = 1, [0.0, 1.5, 2.0, 3.0] if rng.random() < 0.5 else [0.0, 1.5, 3.0]
            elif kind == "gallop":
                bars, at = 1, [b + p for b in range(metre) for p in (0.0, 0.5, 0.75)]
            elif kind == "kick":
                bars, at = 2, list(self.kick)
            steps = [(int(s),) for s in rng.choice([0, 0, 0, 0, 4, 7, -3, 2, 6, 5], size=len(at))]
            steps = [(0,) if a % metre == 0 or kind == "gallop" else s for a, s in zip(at, steps, strict=True)]
            return loom.line("bass", at, steps, bars=bars, touch=touch)
        if kind in ("two", "two3", "oompah", "bossa2", "one1"):
            at = [0.0] if kind == "one1" else [0.0, 2.0]
            return loom.line(
                "bass", at, ((0,), (-3 if rng.random() < 0.6 else 4,)), touch=0.5 if kind == "oompah" else touch
            )
        if kind in ("octaves", "octaves2"):
            step = 0.5 if kind == "octaves" or rng.random() < 0.5 else 1.0
            roots = [(0,), (7,)]
        elif kind == "off":
            return loom.line("bass", loom.every(1.0, 0.5), ((0,),), touch=touch)
        elif kind == "long":
            at = [0.0] if rng.random() < 0.7 or metre == 3 else [0.0, 2.0]
            return loom.line("bass", at, ((0,),), touch=1.0)
        elif kind in ("roots", "roots3", "roots1", "pedal"):
            step = 1.0
        elif kind == "sixteenths":
            step = 0.25
        loud = (1.0, 0.75) if rng.random() < 0.5 else (1.0,)
        return loom.line("bass", loom.every(step), roots, touch=touch, loud=loud)

    def comp(self) -> Line:
        """Return the chords: a pattern of the genre over one bar, or over two of which the second differs."""
        one, two = self.one_of(self.genre.comp), self.one_of(self.genre.comp)
        bars = 2 if self.rng.random() < 0.35 else 1
        held = "X" in one
        if self.odd == "comp":
            return self.loom.line("comp", self.loom.cell(), self.loom.chord(), touch=self.touch)
        hits = [
            (b * self.metre + at, x)
            for b, text in ((0, one), (1, two))[:bars]
            for at, x in self.hits(text)
            if at < self.metre
        ]
        hits = sorted(dict(hits).items()) or [(0.0, 1.0)]
        player = "comp" if not held or self.rng.random() < 0.6 else "pad"
        return self.loom.line(player, [a for a, _ in hits], self.loom.chord(), bars=bars, loud=[x for _, x in hits],
                              touch=1.0 if held else 0.45, low=int(self.rng.choice([48, 52, 55])))  # fmt: skip

    def run(self) -> Line:
        """Return broken chords that begin anew with each bar, or with each beat."""
        rng, grid = self.rng, self.genre.grid
        step = (
            1 / 3
            if grid == 3
            else float(rng.choice([0.25, 0.25, 0.5, 0.5] if self.genre.bpm[1] < 140 else [0.25, 0.5, 0.5, 0.5]))
        )
        n = round(self.metre / step)
        text = self.one_of("|".join(RUNS))
        turn = [(RANKS[int(text[k % len(text)]) % 6],) for k in range(n)]
        lean = float(rng.choice([0.0, 0.2, 0.4]))
        loud = [1.0 - lean * (k * step % 1 > 0) for k in range(n)]
        return self.loom.line("broken", self.loom.every(step), turn, loud=loud, low=int(rng.choice([48, 55, 60, 67])))

    def riff(self) -> Line:
        """Return a figure of two or four bars in another part, its last bar turned."""
        rng = self.rng
        bars = int(rng.choice([1, 2, 2, 4]))
        once = self.figure(max(1, bars // 2), float(rng.uniform(0.5, 1.1)))
        size = max(1, bars // 2) * self.metre
        last = self.figure(max(1, bars // 2), float(rng.uniform(0.5, 1.1))) if rng.random() < 0.5 else once
        at = once if bars == 1 else once + [size + a for a in last]
        steps = [(int(s),) for s in rng.choice([0, 2, 4, 4, 7, 5, 1, 9], size=len(once))]
        steps[0] = (int(rng.choice([0, 2, 4, 7])),)
        more = [(int(s),) for s in rng.choice([0, 2, 4, 4, 7, 5, 1, 9], size=len(last))]
        return self.loom.line("second", at, steps if bars == 1 else steps + (more if last is not once else steps), bars=bars,
                              touch=self.touch, low=int(rng.choice([55, 60, 67])), loud=(0.8,))  # fmt: skip

    def lines(self, kit: list[Line], bass: Line) -> tuple[Line, ...]:
        """Return the parts of one kind of section."""
        rng, genre, found = self.rng, self.genre, [*kit, bass]
        if rng.random() < 0.88 or not genre.runs:
            found.append(self.comp())
        if rng.random() < genre.runs:
            found.append(self.run())
        if rng.random() < genre.riff:
            found.append(self.riff())
        if rng.random() < 0.3:
            found.append(self.loom.line("pad", [0.0], ((0, 2, 4),), touch=1.0))
        return tuple(x for x in found if x.strokes)


def sequenced(rng: Generator, genre: Genre) -> Piece:
    """Return the lines of a song: verse and chorus each with their own parts, a bridge, an intro of a few of them."""
    own = _Written(rng, crossed(rng, genre))
    kits = [own.kit() for _ in range(2)] if own.drummed else [[], []]
    own.loom.follows = True
    basses = [own.bass(), own.bass()]
    verse = own.lines(kits[0], basses[0])
    chorus = verse if rng.random() < 0.25 else own.lines(kits[int(rng.random() < 0.4)], basses[int(rng.random() < 0.4)])
    bridge = chorus if rng.random() < 0.4 else own.lines(kits[1] if rng.random() < 0.6 else [], basses[1])
    intro = tuple(x for x in verse if x.player in DRUM_KEYS or rng.random() < 0.8) or verse
    cloths = dict.fromkeys("va", verse) | dict.fromkeys("cp", chorus) | {"b": bridge, "i": bridge, "o": intro}
    return Piece(cloths, 0.5 if genre.grid != 3 and rng.random() < 0.06 else 0.0)


def programs(rng: Generator, genre: Genre) -> dict[str, int]:
    """Return who plays: those of the genre, now and then any instrument."""
    one = lambda these: int(rng.choice(these))  # noqa: E731
    comp, lead = genre.players["comp"], genre.players["lead"]
    found = {"bass": one(genre.players["bass"]), "comp": one(comp), "comp2": one(comp), "lead": one(lead), "lead2": one(lead),
             "pad": one(STRINGS + PADS + VOICES), "broken": one(comp + BELLS), "second": one(lead + comp)}  # fmt: skip
    return {p: int(rng.integers(0, 112)) if rng.random() < 0.06 and p != "bass" else x for p, x in found.items()}
