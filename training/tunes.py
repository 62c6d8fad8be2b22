"""Songs as plans: form, chords and melodies, drawn from a random generator; some tunes are printed ones.

Beats are counted from the first beat of the song. A section is one phrase: its eights (sixes in three) begin anew with
it, and beats added to its end belong to it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

import numpy as np
from grooves import drawn
from loops import Loops, loops
from melodies import Composer, grammar_chords, strains
from pieces import PIECED_BPM, Piece, piece, players_of
from sequenced import GENRES, UNSEEN, Genre, programs, sequenced
from styles import HELD_OUT, STYLES, Style
from textures import composed

if TYPE_CHECKING:
    from numpy.random import Generator

MAJOR, MINOR, DORIAN, MIXED = (
    (0, 2, 4, 5, 7, 9, 11),
    (0, 2, 3, 5, 7, 8, 10),
    (0, 2, 3, 5, 7, 9, 10),
    (0, 2, 4, 5, 7, 9, 10),
)
SCALES = (MAJOR, MINOR, DORIAN, MIXED)
LOOPED = 0.09  # share of all songs that are put together from parts, where composers have a hand in it
PIECED = 0.11  # share of all songs whose parts are cut from one cloth
SEQUENCED = 0.38  # share of all songs written part by part in a genre
LOOPED_BPM = {2: (72.0, 172.0), 3: (54.0, 132.0), 4: (60.0, 146.0)}  # by what beats are parted in
TRIPLETS = ("ballad_128", "jig", "soul_68")  # styles whose beats are in threes
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
    "vuccvucc",
    "uccwucc",
    "ccwuccb",
    "vvccvvcc",
    "abacaba",
    "vcvcic",
    "wvucvuc",
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
    fill: str  # "", "roll", "stop", "bass", "drop", "hit"
    lift: int = 0  # semitones above the song's key
    sparse: bool = False  # long chords and a stroke now and then
    build: bool = False  # rises towards the next section
    struck: bool = False  # the band only strikes the first beat of each bar
    tempo: float = 1.0  # against the song's tempo
    hold: float = 1.0  # how much longer its last beat lasts
    slowing: bool = False  # its last bar slows down
    other: bool = False  # other players have tune and chords
    led: bool = True  # somebody has the tune


@dataclass(frozen=True)
class Plan:
    """A whole song to be played."""

    seed: int
    style: str
    ways: Style
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
    opening_kind: str = "free"  # what is heard before the beat: "free" playing, "talk", "crowd", "noise"
    count_kind: str = "sticks"  # who counts in: "sticks", "voice", "hat"
    crowd: bool = False  # clapping at the end
    made: bool = False  # accompanied as composed music is
    loops: Loops | None = None  # put together from parts that come again
    piece: Piece | None = None  # its parts are cut from one cloth
    players: dict[str, int] = field(default_factory=dict)  # programs that differ from those of the style
    upbeats: int = 0  # beats of the tune before the first section that are its own


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


def pushed(rng: Generator, note: tuple[float, float, int]) -> tuple[float, float, int]:
    """Return a note of a tune, now and then sung half a beat early."""
    at, beats, step = note
    if at >= 1 and at % 1 == 0 and rng.random() < 0.3:
        return at - 0.5, beats + 0.5, step
    return note


def intro_of(rng: Generator, metre: int, *, none: float = 0.0) -> list[int]:
    """Return the lengths of intro sections in beats, often one, sometimes none: more often so by a share ``none``."""
    eight = 2 * metre
    if none and rng.random() < none:
        return []
    return [[], [eight], [2 * eight], [4 * eight], [2 * eight, 2 * eight], [4 * eight, 2 * eight]][
        int(rng.choice(6, p=[0.1, 0.13, 0.36, 0.31, 0.05, 0.05]))
    ]


class _Writer:
    def __init__(self, rng: Generator, style: str, ways: Style, longest_s: float, bpm: float, made: _Made) -> None:
        self.rng, self.style, self.made = rng, ways, made
        self.metre = self.style.metre
        self.most_beats = longest_s * bpm / 60
        self.materials: dict[str, tuple[list[tuple[int, ...]], list[tuple[float, float, int]]]] = {}
        self.parts: dict[str, dict[str, bool]] = {}
        self.bars = int(rng.choice([8, 8, 8, 8, 8, 16, 4, 12], p=[0.2, 0.2, 0.2, 0.2, 0.04, 0.08, 0.03, 0.05]))
        self.crash, self.fill = rng.choice([0.0, 0.4, 0.9]), rng.choice([0.15, 0.5, 0.9])
        self.pickups = rng.random() < 0.35
        self.bare = rng.random() < self.style.bare
        self.extra_odds = rng.choice([0.0, 0.12, 0.3], p=[0.5, 0.35, 0.15])
        self.bars_odd = rng.random() < 0.04
        self.syncopes = float(rng.choice([0.0, 0.5, 1.0], p=[0.5, 0.2, 0.3]))
        self.alone = rng.random() < self.style.alone
        self.drums_alone = self.alone and style == "circle_drums"
        self.tempo, self.steps = 1.0, float(rng.choice([0.0, 0.15, 0.5], p=[0.88, 0.09, 0.03]))
        self.holds = float(rng.choice([0.0, 0.1], p=[0.92, 0.08]))
        self.electronic = rng.random() < self.style.electronic
        if made.strains:
            self.bars, self.bars_odd = 8, False
        if (self.electronic and made.draw < 0.9) or (made.strains and made.draw < 0.8):
            self.extra_odds, self.bars_odd = 0.0, False
        if made.written and not made.sequenced and made.draw < 0.2:
            self.holds = 0.3
        if made.sequenced and made.draw < 0.7:
            self.extra_odds, self.bars_odd, self.steps = 0.0, False, self.steps * (made.draw < 0.2)
        self.layered = made.written or (self.electronic and made.draw < 0.6)

    def parts_of(self, kind: str) -> dict[str, bool]:
        """Return who plays in sections of a kind, where parts come and go from section to section."""
        if kind not in self.parts:
            rng = self.made.rng
            odds = {"drums": 0.75, "bass": 0.86, "comp": 0.82, "led": 0.85}
            plays = {name: bool(rng.random() < p) for name, p in odds.items()}
            if plays["bass"] + plays["comp"] + plays["led"] < 2 and not (plays["drums"] and rng.random() < 0.5):
                plays |= {"bass": True, "comp": True}
            self.parts[kind] = plays
        return self.parts[kind]

    def material(self, kind: str) -> tuple[list[tuple[int, ...]], list[tuple[float, float, int]]]:
        rng = self.rng
        if kind not in self.materials and self.made.strains:
            own = self.made.strains
            self.materials[kind] = own["vcb".find(kind) % len(own) if kind in "vcb" else 0]
        if kind not in self.materials and self.made.composer:
            chords = (
                degrees(str(rng.choice(PROGRESSIONS)))
                if rng.random() < 0.3
                else grammar_chords(self.made.rng, 12 if self.bars == 12 else 8, self.metre)
            )
            self.materials[kind] = (chords, self.made.composer.tune(chords))
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
        chords, tune = self.material({"p": "b", "i": "v", "u": "b", "w": "v"}.get(kind, kind))
        bars = -(-beats // metre)
        extra = 0
        if how.get("extra") and rng.random() < self.extra_odds:
            extra = int(rng.choice([metre, metre, 2, 2 * metre] if metre == 4 else [3, 3, 6]))
        loud = {"c": 1.0, "b": 0.8, "v": 0.85, "a": 0.9, "p": 0.85, "i": 0.85, "w": 0.55, "u": 0.8}.get(
            kind, 0.8
        ) ** float(rng.uniform(0.3, 2.0))
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
        fill = (
            str(rng.choice(["roll", "roll", "roll", "stop", "bass", "drop", "hit"])) if rng.random() < self.fill else ""
        )
        if rng.random() < self.syncopes:
            keep = [pushed(rng, note) for note in keep]
        alone = self.alone
        sparse = kind == "w" or bool(how.get("sparse"))
        layers = int(how.get("layers", {"c": 2, "v": 1, "a": 1, "b": 1}.get(kind, 0)))
        plays = dict.fromkeys(("drums", "bass", "comp", "led"), True)
        if self.layered and kind not in "owu":
            plays = self.parts_of(kind)
            drums *= plays["drums"]
        return Section(
            kind, beats + extra, extra, tuple(full), tuple(keep) if sung and kind != "w" else (),
            drums=0.0 if alone and not self.drums_alone else drums,
            bass=not alone and plays["bass"] and bool(how.get("bass", not (kind == "b" and rest < 0.12))),
            comp=not self.drums_alone and plays["comp"] and bool(how.get("comp", True)),
            layers=0 if alone else layers, loud=float(loud),
            crash=bool(rng.random() < self.crash), fill=fill, sparse=sparse, build=kind == "u",
            struck=bool(kind in "va" and rng.random() < 0.02), tempo=self.tempo_of(),
            hold=float(rng.uniform(1.3, 3)) if rng.random() < self.holds else 1.0,
            slowing=bool(rng.random() < self.holds), led=plays["led"],
            other=kind in self.made.others,
        )  # fmt: skip

    def tempo_of(self) -> float:
        """Return the tempo of the next section: most often the song's, sometimes a little or much other."""
        rng = self.rng
        if self.steps and rng.random() < self.steps:
            self.tempo *= float(np.exp(rng.normal(0, 0.04))) if self.steps < 0.4 else float(rng.uniform(0.8, 1.25))
            self.tempo = float(np.clip(self.tempo, 0.75, 1.33))
            if self.steps >= 0.4:
                self.steps = 0.0  # another song follows only once
        return self.tempo

    def intro(self) -> list[Section]:
        rng, found = self.rng, []
        if rng.random() < (0.2 if self.electronic else 0.05):  # a long opening with few strokes
            found.append(
                self.section(
                    "w", 2 * self.metre * int(rng.choice([2, 4, 4, 8])), drums=0.0, quiet=True, sparse=True, layers=1
                )
            )
        if self.electronic and rng.random() < 0.25:  # the drums alone, then more and more
            for step in range(int(rng.integers(1, 3))):
                found.append(
                    self.section(
                        "o",
                        8 * self.metre,
                        drums=1.0,
                        bass=step > 0,
                        comp=step > 0 and rng.random() < 0.5,
                        quiet=True,
                        layers=0,
                    )
                )
            return found
        for beats in intro_of(rng, self.metre, none=0.35 * self.made.written):
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
            beats = unit // 2 if kind in "piuw" and rng.random() < 0.5 and unit % (4 * self.metre) == 0 else unit
            if self.bars_odd and rng.random() < 0.3:
                beats = self.metre * int(rng.choice([5, 6, 7, 9, 10]))
            pieces = [beats // 2, beats // 2] if beats >= 16 * self.metre else [beats]  # sixteen bars are two phrases
            for part in pieces:
                found.append(self.section(kind, part, extra=True))
                total += found[-1].beats
        return found, first


class _Made:
    """What a song owes to composers: a printed tune, tunes and chords by grammar, accompaniment as it is written."""

    def __init__(
        self, seed: int, share: float, printed: tuple[dict[str, Any], ...], *, only_genres: bool = False
    ) -> None:
        self.rng = rng = np.random.default_rng([seed, 4])
        self.draw = float(rng.random()) if share else 1.0
        way = float(rng.random())
        if only_genres:
            share = 0.17
            way = share + LOOPED + PIECED
        self.accompanied = way < share
        self.looped = bool(share) and not self.accompanied and way < share + LOOPED
        self.pieced = bool(share) and share + LOOPED <= way < share + LOOPED + PIECED
        plain = share + LOOPED + PIECED
        self.sequenced = bool(share) and plain <= way < plain + SEQUENCED
        self.written = self.accompanied or self.pieced or self.sequenced
        self.genre: Genre | None = None
        self.tune = None
        if printed and share and rng.random() < (0.4 if self.written else 0.03 if self.looped else 0.12):
            wanted = str(rng.choice(["6/8", "3/4", "2/4", "C"], p=[0.2, 0.25, 0.2, 0.35]))
            self.tune = own[int(rng.integers(len(own)))] if (own := _of_way(printed, wanted)) else None
        self.metre = self.tune["metre"] if self.tune else 3 if rng.random() < 0.2 else 4
        self.grid = self.tune["grid"] if self.tune else 3 if self.metre == 4 and rng.random() < 0.22 else 4
        self.strains: list[Any] = []
        self.composer: Composer | None = None
        self.by_grammar = bool(share) and (self.written or bool(rng.random() < 0.4))
        self.others = (
            str(rng.choice(["", "c", "b", "cb", "a", "iv"], p=[0.35, 0.2, 0.15, 0.15, 0.1, 0.05])) if share else ""
        )

    def of_genre(self, unseen: bool) -> tuple[str, Style]:
        """Return a way to play for a song written in a genre that goes with its metre and grid."""
        rng = self.rng
        names = [n for n, g in GENRES.items() if (n in UNSEEN) == unseen]
        own = [n for n in names if (GENRES[n].metre, GENRES[n].grid == 3) == (self.metre, self.grid == 3)]
        if not self.tune or not own:
            own, self.tune = names, None
        name = own[int(rng.integers(len(own)))]
        genre = self.genre = GENRES[name]
        self.metre, self.grid = genre.metre, genre.grid
        style = replace(
            composed(rng, genre.metre, genre.grid), bpm=genre.bpm, swing=genre.swing, bare=0.0,
            electronic=genre.electronic, crunch=genre.crunch,
        )  # fmt: skip
        return f"sequenced {name}", style

    def styled(self, name: str, style: Style, *, unseen: bool = False) -> tuple[str, Style]:
        """Return the way to play: the one given, unless a tune or a composer asks for another."""
        rng = self.rng
        if self.accompanied:
            name, style = f"composed {self.metre} {self.grid}", composed(rng, self.metre, self.grid)
        elif self.looped:
            self.grid = self.grid if self.grid == 3 else int(rng.choice([2, 4, 4]))
            name, style = f"loops {self.metre} {self.grid}", composed(rng, self.metre, self.grid)
            style = replace(style, electronic=0.45, bpm=LOOPED_BPM[self.grid])
        elif self.pieced:
            self.grid = self.grid if self.grid == 3 else int(rng.choice([2, 4, 4]))
            name, style = f"piece {self.metre} {self.grid}", composed(rng, self.metre, self.grid)
            style = replace(style, electronic=float(rng.random() < 0.35), bpm=PIECED_BPM[self.grid], bare=0.0)
        elif self.sequenced:
            name, style = self.of_genre(unseen)
        elif self.tune:
            own = [n for n, s in STYLES.items() if s.metre == self.metre and (n in TRIPLETS) == (self.grid == 3)]
            own = [n for n in own if n not in HELD_OUT and STYLES[n].electronic < 1]
            name = own[int(rng.integers(len(own)))]
            style = STYLES[name]
        if self.tune:
            self.strains = [s for s in strains(rng, self.tune, self.metre) if len(s[0]) == 8]
        if self.by_grammar and not self.strains:
            three = name in TRIPLETS or (any(len(line) % 12 == 0 for line in style.bass) and style.metre == 4)
            self.composer = Composer(rng, style.metre, 3 if three else 4)
        return name, style


def _of_way(printed: tuple[dict[str, Any], ...], wanted: str) -> list[dict[str, Any]]:
    return [t for t in printed if t["way"].startswith(wanted)]


def plan(
    seed: int,
    *,
    styles: tuple[str, ...],
    longest_s: float = 140.0,
    drawn_share: float = 0.0,
    composed_share: float = 0.0,
    printed: tuple[dict[str, Any], ...] = (),
    unseen: bool = False,
) -> Plan:
    """Return the song of a seed in one of the styles, or, as often as ``drawn_share``, in one drawn for it alone.

    composed_share : how often it is accompanied as composed music is; where it is 0, no composer has a hand in it
    printed : tunes of ``printed.tunes``
    unseen : all songs are in the genres that no training song has
    """
    rng = np.random.default_rng(seed)
    name = styles[int(rng.integers(len(styles)))]
    style = STYLES[name]
    if rng.random() < drawn_share:
        name, style = f"drawn {seed}", drawn(np.random.default_rng([seed, 3]))
    made = _Made(seed, composed_share, printed, only_genres=unseen)
    name, style = made.styled(name, style, unseen=unseen)
    bpm = float(np.exp(rng.uniform(*np.log(style.bpm))))
    if made.strains:
        bpm = min(bpm, float(rng.uniform(110, 144)))
    sections, first = _Writer(rng, name, style, float(rng.uniform(50, longest_s)), bpm, made).song()
    lifted = len(sections) - int(rng.integers(1, 3)) if rng.random() < 0.15 else len(sections)
    lift = int(rng.choice([1, 2, 2, 3]))
    sections = [replace(s, lift=lift * int(i >= lifted)) for i, s in enumerate(sections)]
    opening = rng.random() < 0.14
    click = rng.random() < 0.1
    parts = (
        loops(np.random.default_rng([seed, 5]), style.metre, made.grid, tuple(sections), first) if made.looped else None
    )
    cloth = piece(np.random.default_rng([seed, 11]), style.metre, made.grid) if made.pieced else None
    exact = made.genre is not None and rng.random() < 0.75  # as a machine plays what was written
    if made.genre is not None:
        cloth = sequenced(np.random.default_rng([seed, 11]), made.genre)
    upbeats = 0
    if sections[0].melody and not click and (made.written or made.strains):
        upbeats = min(style.metre - 1, int(np.ceil(-min(0.0, sections[0].melody[0][0]))))
    mode = int(rng.choice(4, p=[0.55, 0.27, 0.09, 0.09]))
    scale = SCALES[made.tune["mode"] if made.tune else mode]
    return Plan(
        seed=seed, style=name, ways=style, bpm=bpm, metre=style.metre,
        scale=scale, key=int(rng.integers(12)), sections=tuple(sections),
        first_section=first,
        count_in=int(rng.choice([style.metre, 2 * style.metre])) if click else 0,
        pickup=upbeats or (0 if click or rng.random() > 0.2 else int(rng.integers(1, style.metre))),
        upbeats=upbeats, loops=parts, piece=cloth,
        players=programs(np.random.default_rng([seed, 12]), made.genre) if made.genre is not None
        else players_of(np.random.default_rng([seed, 12])) if made.pieced else {},
        opening_s=float(rng.choice([rng.uniform(2, 10), rng.uniform(8, 30)], p=[0.75, 0.25])) if opening else 0.0,
        silence_s=float(rng.choice([0.02, 0.3, 1.0, 2.5, 6.0], p=[0.3, 0.3, 0.2, 0.15, 0.05])) * float(rng.random()),
        ending=str(rng.choice(["hold", "cold", "fade", "slowing"], p=[0.4, 0.15, 0.3, 0.15])),
        drift=float(rng.choice([0.0, 0.006, 0.015, 0.03, 0.06], p=[0.5, 0.2, 0.17, 0.09, 0.04])) * (not exact),
        late_ms=0.3 if exact else float(rng.choice([1, 5, 9, 14, 22], p=[0.25, 0.25, 0.25, 0.18, 0.07])),
        swing=float(rng.uniform(*style.swing)),
        opening_kind=str(rng.choice(["free", "talk", "crowd", "noise"], p=[0.5, 0.22, 0.18, 0.1])),
        count_kind=str(rng.choice(["sticks", "voice", "hat"], p=[0.4, 0.35, 0.25])),
        crowd=bool(rng.random() < 0.06),
        made=made.by_grammar or made.written or made.looped or bool(made.strains),
    )  # fmt: skip
