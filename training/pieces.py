"""Pieces written out for bands, games and village halls: bass, chords and drums of a piece are cut from one cloth.

A cloth is a way in which the parts fit each other. Few of them give the low drum or the bass the first beat: there are
rhythms of 3 + 3 + 2 in all parts, bass and drum on the weak beats, kits turned by a beat, runs in which each beat is
like the other, riffs, chugging trains, chorales, marches, broken beats, parts that answer each other. The bars are told
by the chords, by the tune and its upbeats, and by what comes again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from grooves import drums, stabs
from styles import BELLS, DRUM_KEYS

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from band import _Band
    from numpy.random import Generator
    from tunes import Section

    Stroke = tuple[float, float, tuple[int, ...], float]  # beat in the line, beats, steps above the chord, strength

PIECED_BPM = {2: (66.0, 176.0), 3: (54.0, 140.0), 4: (57.0, 150.0)}  # by what beats are parted in
# Groups of steps, by how many steps a bar has.
GROUPS = {
    8: ("332", "323", "233", "35", "53", "3311", "332", "332"),
    16: ("33433", "332332", "33334", "333322", "664", "43333", "33424", "24334", "33235", "3373", "223333", "3355"),
    6: ("33", "24", "42", "33", "1122"),
    12: ("3333", "336", "444", "33222", "22233", "2424", "4224"),
    9: ("333", "36", "2223", "3222"),
}
BASSES = {4: ((1, 3), (1, 3), (2,), (1,), (3,), (1, 2, 3), (2, 3), (0.5, 1.5, 2.5, 3.5), (1.5, 3.5), (0.5, 2.5)),
          3: ((1,), (2,), (1, 2), (0.5, 1.5, 2.5), (1.5,))}  # fmt: skip
RUNS = ("0123", "012", "0212", "01232123", "0120120", "021021", "024", "01", "0", "012321", "00120012", "3210", "0213",
        "0123454321", "0242", "012012012012012", "0312")  # fmt: skip
RANKS = (0, 2, 4, 7, 9, 11)
BROKEN_KICKS = ("x.x.......x.....", "x.....x...x.....", "x..x......xx....", "x.x....x..x.....", "x.........x..x..",
                "x..x..x...x.....", "x.....x...x..x..")  # fmt: skip
BROKEN_SNARES = ("....x..x.x..x...", "....x.......x...", "....x..x.x..x..x", "....x...x......x", "......x.....x...",
                 "....x..x....x.x.", "....x.........x.")  # fmt: skip
MARCHES = ("..x...x.", "x.xxx.xxx.xxx.xx", "oxoxoxox", "x..xx..xx.x.xxxx", "x.xxx.x.x.xxx.x.", "goxogoxogoxogoxo",
           "x...x.x.x.x.x.xx")  # fmt: skip
LOW, HIGH = ("kick", "bassdrum", "tom", "lowtom"), ("snare", "rim", "clap", "snare2", "block", "tamb", "hightom")
LIGHT = ("hat", "ride", "shaker", "tamb", "cabasa", "open", "pedal", "triangle", "bell", "guiro")


@dataclass(frozen=True)
class Line:
    """What one player or drum does in so many bars."""

    player: str
    bars: int
    strokes: tuple[Stroke, ...]
    low: int = 0  # the register; for drums nothing
    follows: bool = True  # steps count from the chord, not from the key


@dataclass(frozen=True)
class Piece:
    """The lines of each kind of section."""

    cloths: dict[str, tuple[Line, ...]]
    ahead: float  # so many beats before the bar the next chord may come


class _Loom:
    """What the cloths of one piece are woven with: metre, grid, registers, touch."""

    def __init__(self, rng: Generator, metre: int, grid: int) -> None:
        self.rng, self.metre, self.grid = rng, metre, grid
        self.steps = metre * grid
        self.touch = float(rng.choice([0.3, 0.6, 0.9, 1.0]))
        self.low, self.high = int(rng.choice([24, 28, 31, 36])), int(rng.choice([45, 50, 55, 60]))
        self.follows = bool(rng.random() < 0.9)
        self.kit = {
            "low": str(rng.choice(LOW, p=[0.6, 0.2, 0.1, 0.1])),
            "high": str(rng.choice(HIGH, p=[0.5, 0.14, 0.12, 0.08, 0.06, 0.05, 0.05])),
            "light": str(rng.choice(LIGHT)),
        }

    def some(self, p: float) -> bool:
        """Return true with a likelihood."""
        return bool(self.rng.random() < p)

    def one_of(self, these: Sequence[str]) -> str:
        """Return one of several."""
        return str(these[int(self.rng.integers(len(these)))])

    def line(self, player: str, at: Sequence[float], steps: Sequence[tuple[int, ...]], *, bars: int = 1,
             loud: Sequence[float] = (1.0,), low: int | None = None, touch: float | None = None) -> Line:  # fmt: skip
        """Return a line with strokes on given beats; steps and strengths come again in turn."""
        size = float(bars * self.metre)
        places = sorted({float(a) for a in at if 0 <= a < size})
        gaps = np.diff([*places, size + (places[0] if places else 0.0)])
        touch = self.touch if touch is None else touch
        strokes = tuple(
            (a, max(0.1, float(g) * touch), tuple(steps[k % len(steps)]), float(loud[k % len(loud)]))
            for k, (a, g) in enumerate(zip(places, gaps, strict=True))
        )
        low = (self.low if player == "bass" else self.high) if low is None else low
        return Line(player, bars, strokes, low, self.follows or player != "bass")

    def drum(self, name: str, at: Sequence[float], *, bars: int = 1, loud: Sequence[float] = (1.0,)) -> Line:
        """Return the line of a drum."""
        return self.line(self.kit.get(name, name), at, ((0,),), bars=bars, loud=loud, low=0, touch=0.5)

    def written(self, pattern: dict[str, str], turn: float = 0.0) -> list[Line]:
        """Return the lines of a written kit, all of it later by ``turn`` beats."""
        found = []
        for name, text in pattern.items():
            size = 2 * self.metre if len(text) > 4 * self.metre else self.metre
            hits = [(k * size / len(text), c) for k, c in enumerate(text) if c != "."]
            at = sorted(((a + turn) % size, {"x": 1.0, "o": 0.62, "g": 0.32}.get(c, 1.0)) for a, c in hits)
            found.append(self.line(name, [a for a, _ in at], ((0,),), bars=size // self.metre,
                                   loud=[x for _, x in at] or [1.0], low=0, touch=0.5))  # fmt: skip
        return found

    def every(self, step: float, first: float = 0.0) -> list[float]:
        """Return even places in a bar."""
        return [float(x) for x in np.arange(first, self.metre - 1e-6, step)]

    def cell(self) -> list[float]:
        """Return a bar, or two halves of one, parted in uneven groups."""
        text = self.one_of(GROUPS[self.steps]) if self.steps in GROUPS else "33"
        starts = np.cumsum([0, *(int(c) for c in text)])[:-1]
        found = [float(s) / self.grid for s in starts if s < self.steps]
        return [a for a in found if a == 0 or self.some(0.93)]

    def gaps(self, at: Sequence[float]) -> list[float]:
        """Return the half beats (thirds in triplets) on which others do not play."""
        step = 1 / 3 if self.grid == 3 else 0.5
        return [a for a in self.every(step) if all(abs(a - b) > 0.01 for b in at)]

    def bass_steps(self) -> list[tuple[int, ...]]:
        """Return what a bass plays in turn."""
        text = self.one_of(("0", "0", "04", "04", "07", "024", "0424", "0420", "07474", "0045"))
        return [({"4": -3 if self.some(0.5) else 4}.get(c, int(c)),) for c in text]

    def chord(self) -> list[tuple[int, ...]]:
        """Return the steps of a chord."""
        return [((0, 2, 4), (0, 2, 4), (0, 4), (2, 4, 7), (0, 4, 7), (0, 2, 4, 7))[int(self.rng.integers(6))]]

    def light(self) -> list[Line]:
        """Return cymbals or shakers, or none."""
        if self.some(0.35):
            return []
        step = float(self.rng.choice([1.0, 0.5, 0.5, 0.25])) if self.grid != 3 else float(self.rng.choice([1, 1 / 3]))
        off = step / 2 if step >= 1 and self.some(0.4) and self.grid != 3 else 0.0
        loud = (1.0,) if self.some(0.5) else (1.0, 0.6)
        return [self.drum("light", self.every(step, off), loud=loud)]


def uneven(loom: _Loom) -> list[Line]:
    """All parts share groups that leave out beats; some fill the gaps."""
    cell = loom.cell()
    few = [a for a in cell if loom.some(0.7)] or cell[:1]
    comp = loom.gaps(cell) if loom.some(0.3) else cell
    found = [loom.line("bass", cell if loom.some(0.7) else few, loom.bass_steps()),
             loom.line("comp", comp, loom.chord())]  # fmt: skip
    if loom.some(0.4):
        found.append(
            loom.line("broken", loom.every(1 / loom.grid), [(RANKS[int(c)],) for c in loom.one_of(RUNS) if int(c) < 6])
        )
    if loom.some(0.75):
        found.append(loom.drum("low", few if loom.some(0.5) else cell))
        back = [1.0, 3.0] if loom.metre == 4 else [1.0, 2.0]
        found.append(
            loom.drum("high", cell[1:] if loom.some(0.4) else back if loom.some(0.4) else loom.gaps(cell)[1:3])
        )
        found += loom.light()
    return found


def weak(loom: _Loom) -> list[Line]:
    """Bass and low drum have the weak beats or the places between; chords and tune tell the first."""
    places = BASSES[loom.metre]
    low = list(places[int(loom.rng.integers(len(places)))])
    if loom.grid == 3:
        low = [a if a % 1 == 0 else a // 1 + 2 / 3 for a in low]
    others = [float(b) for b in range(loom.metre) if b not in low]
    comp = others if loom.some(0.5) else [0.0] if loom.some(0.5) else [float(a) for a in low]
    bass = low if loom.some(0.6) else sorted({0.0, *low}) if loom.some(0.5) else others or low
    found = [loom.line("bass", bass, loom.bass_steps()), loom.line("comp", comp or low, loom.chord())]
    if loom.some(0.8):
        found.append(loom.drum("low", low))
        found.append(loom.drum("high", others if loom.some(0.5) else low if loom.some(0.5) else others[:1]))
        found += loom.light()
    return found


def alike(loom: _Loom) -> list[Line]:
    """Each beat is like the other: runs over chords, a bass that repeats, the same stroke on all beats."""
    step = 1 / loom.grid if loom.some(0.7) else (0.5 if loom.grid != 3 else 1 / 3)
    bars = int(loom.rng.choice([1, 1, 2]))
    run = [(RANKS[int(c)],) for c in loom.one_of(RUNS) if int(c) < 6]
    at = [b * loom.metre + a for b in range(bars) for a in loom.every(step)]
    if loom.some(0.6):  # the run begins anew with the bar
        n = round(loom.metre / step)
        run = [run[k % n % len(run)] for k in range(n)]
    found = [loom.line("broken", at, run, bars=bars)]
    if loom.some(0.75):
        found.append(loom.line("bass", loom.every(float(loom.rng.choice([1.0, 1.0, 2.0, loom.metre, 0.5]))), ((0,),)))
    if loom.some(0.35):
        found.append(loom.line("comp", loom.every(float(loom.rng.choice([1.0, loom.metre, 0.5]))), loom.chord()))
    if loom.some(0.45):
        found.append(loom.drum(str(loom.rng.choice(["low", "high", "light"])), loom.every(1.0)))
        if loom.some(0.5) and loom.grid != 3:
            found.append(loom.drum("light", loom.every(1.0, 0.5)))
    return found


def turned(loom: _Loom) -> list[Line]:
    """A kit that is played a beat, two or a half late, or double or half as quick, under parts that keep the bar."""
    kind, snare = (
        loom.one_of(("four", "rock", "rock", "broken", "latin", "sparse")),
        loom.one_of(("back", "back", "ghosts", "half")),
    )
    kit = drums(loom.rng, kind, snare, loom.metre, 3 if loom.grid == 3 else 4, 1)
    turn = float(loom.rng.choice([0.0, 1.0, 2.0, 3.0, 1.0, 0.5 if loom.grid != 3 else 0.0]))
    if loom.metre == 4 and loom.some(0.25):  # twice as quick: the snare between the beats
        kit = {name: text[: len(text) // 2 * 2 : 2] * 2 for name, text in kit.items()}
    found = loom.written(kit, turn)
    bass = loom.cell() if loom.some(0.4) else loom.every(float(loom.rng.choice([1.0, 2.0, 0.5])))
    found.append(loom.line("bass", bass, loom.bass_steps()))
    found.append(loom.line("comp", loom.cell() if loom.some(0.5) else [0.0], loom.chord()))
    return found


def riff(loom: _Loom) -> list[Line]:
    """One figure of notes in bass and others together, moved with the chords or not."""
    bars = int(loom.rng.choice([1, 2, 2]))
    text = stabs(loom.rng, loom.steps * bars, max(3, loom.steps * bars * 2 // 5), held=False)
    at = [k / loom.grid for k, c in enumerate(text) if c != "."]
    if loom.some(0.4):
        at = [b * loom.metre + a for b in range(bars) for a in loom.cell()]
    steps = [(int(s),) for s in loom.rng.choice([0, 0, 0, 2, 3, 4, 5, 6, 7, -1, -3], size=len(at))]
    steps[0] = (0,)
    found = [loom.line("bass", at, steps, bars=bars)]
    if loom.some(0.6):
        found.append(loom.line(str(loom.rng.choice(["comp", "second", "broken"])), at, steps, bars=bars))
    if loom.some(0.3):
        found.append(loom.line("pad", [0.0], ((0, 2, 4),), touch=1.0))
    if loom.some(0.7):
        found.append(loom.drum("low", at if loom.some(0.6) else loom.every(1.0), bars=bars))
        if loom.some(0.7):
            found.append(
                loom.drum(
                    "high",
                    [1.0, 3.0] if loom.metre == 4 and loom.some(0.7) else at[1::2],
                    bars=1 if loom.metre == 4 else bars,
                )
            )
        found += loom.light()
    return found


def chug(loom: _Loom) -> list[Line]:
    """A train: small strokes all through, leaning on other places than the beats."""
    step = 1 / loom.grid if loom.grid > 2 else 0.5
    at = loom.every(step)
    lean = int(loom.rng.integers(0, max(1, round(1 / step))))
    loud = [1.0 if k % round(1 / step) == lean else float(loom.rng.choice([0.35, 0.5])) for k in range(len(at))]
    found = [loom.drum(str(loom.rng.choice(["high", "light", "snare", "shaker"])), at, loud=loud)]
    low = [0.0, 2.0] if loom.metre == 4 else [0.0]
    after = [b + 1.0 for b in low] if loom.some(0.5) else loom.every(1.0, 0.5 if loom.grid != 3 else 2 / 3)
    found.append(
        loom.line("bass", low if loom.some(0.5) else loom.every(1.0) if loom.some(0.5) else at, loom.bass_steps())
    )
    found.append(loom.line("comp", after if loom.some(0.7) else at, loom.chord(), loud=(0.8,)))
    if loom.some(0.4):
        found.append(loom.drum("low", low if loom.some(0.5) else after))
    return found


def chorale(loom: _Loom) -> list[Line]:
    """Chords and bass move together in long notes."""
    at = ([0.0], [0.0], [0.0, 2.0], [0.0, float(loom.metre - 1)], [1.0], loom.every(1.0))[int(loom.rng.integers(6))]
    player = str(loom.rng.choice(["comp", "pad"]))
    found = [loom.line(player, at, loom.chord(), touch=1.0)]
    if loom.some(0.8):
        found.append(loom.line("bass", at, loom.bass_steps(), touch=1.0))
    if loom.some(0.25):
        found += loom.light()
    if loom.some(0.15):
        found.append(loom.drum("low", at))
    return found


def march(loom: _Loom) -> list[Line]:
    """Bass on the beats or every other, chords after them, a small drum between."""
    low = ([0.0, 2.0], loom.every(1.0), [0.0])[int(loom.rng.integers(3))] if loom.metre == 4 else [0.0]
    half = 0.5 if loom.grid != 3 else 2 / 3
    after = [a for a in loom.every(1.0) if a not in low] or loom.every(1.0, half)
    after = loom.every(1.0, half) if loom.some(0.4) else after
    found = [loom.line("bass", low, ((0,), (-3,)) if loom.some(0.6) else loom.bass_steps(), touch=0.6),
             loom.line("comp", after, loom.chord(), touch=0.4)]  # fmt: skip
    if loom.some(0.7):
        found.append(loom.drum("bassdrum", low if loom.some(0.7) else after))
        if loom.metre == 4 and loom.grid != 3:
            found += loom.written({"snare": loom.one_of(MARCHES)})
        else:
            found.append(loom.drum("snare", after))
    return found


def breaks(loom: _Loom) -> list[Line]:
    """A broken beat whose snare does not always come on the second, with a bass that has its own rhythm."""
    if loom.metre != 4 or loom.grid == 3:
        return turned(loom)
    kit = {
        "kick": loom.one_of(BROKEN_KICKS) + loom.one_of(BROKEN_KICKS),
        "snare": loom.one_of(BROKEN_SNARES) + loom.one_of(BROKEN_SNARES),
    }
    turn = float(loom.rng.choice([0.0, 0.0, 0.0, 2.0, 0.5]))
    found = [*loom.written(kit, turn), *loom.light()]
    found.append(loom.line("bass", [0.0] if loom.some(0.4) else loom.cell(), loom.bass_steps()))
    if loom.some(0.6):
        found.append(loom.line("pad", [0.0], ((0, 2, 4),), touch=1.0))
    if loom.some(0.5):
        found.append(
            loom.line(
                "broken",
                loom.cell() if loom.some(0.5) else loom.every(0.25),
                [(RANKS[int(c)],) for c in loom.one_of(RUNS) if int(c) < 6],
            )
        )
    return found


def answer(loom: _Loom) -> list[Line]:
    """One part plays the first half of a bar or of two, another the second."""
    bars = int(loom.rng.choice([1, 2]))
    half = bars * loom.metre / 2
    text = stabs(loom.rng, loom.steps * bars, loom.steps * bars // 2, held=False)
    at = [k / loom.grid for k, c in enumerate(text) if c != "."]
    swap = loom.some(0.35)
    one = [a for a in at if (a < half) != swap] or [half if swap else 0.0]
    two = [a for a in at if (a >= half) != swap] or [0.0 if swap else half]
    found = [loom.line("bass", one, loom.bass_steps(), bars=bars), loom.line("comp", two, loom.chord(), bars=bars)]
    if loom.some(0.6):
        found.append(loom.drum("low", one if loom.some(0.5) else two, bars=bars))
        found.append(loom.drum("high", two if loom.some(0.5) else loom.every(1.0, 1.0)[::2]))
        found += loom.light()
    return found


CLOTHS: dict[Callable[[_Loom], list[Line]], float] = {
    uneven: 0.2, weak: 0.17, alike: 0.15, turned: 0.1, riff: 0.1, chug: 0.08, chorale: 0.05, march: 0.06, breaks: 0.05,
    answer: 0.04,
}  # fmt: skip


def without_some(loom: _Loom, lines: list[Line]) -> tuple[Line, ...]:
    """Return the lines, sometimes without drums or without another part, so long as two are left."""
    kept = [x for x in lines if x.strokes]
    if loom.some(0.2):
        kept = [x for x in kept if x.player not in DRUM_KEYS] or kept
    if loom.some(0.25) and len(kept) > 2:
        kept.pop(int(loom.rng.integers(len(kept))))
    return tuple(kept)


def piece(rng: Generator, metre: int, grid: int) -> Piece:
    """Return the lines of a piece: most often two cloths, one for verses and one for choruses."""
    loom = _Loom(rng, metre, grid)
    ways, odds = list(CLOTHS), np.array(list(CLOTHS.values()))

    def woven(other: list[Line] | None = None) -> list[Line]:
        lines = ways[int(rng.choice(len(ways), p=odds / odds.sum()))](loom)
        if other and rng.random() < 0.5:  # the drums go on, the others change
            lines = [x for x in lines if x.player not in DRUM_KEYS] + [x for x in other if x.player in DRUM_KEYS]
        return lines

    verse = woven()
    chorus = verse if rng.random() < 0.3 else woven(verse)
    bridge = woven(verse) if rng.random() < 0.6 else chorus
    cloths = {kind: without_some(loom, verse) for kind in "va"} | {kind: without_some(loom, chorus) for kind in "cp"}
    cloths |= {"b": without_some(loom, bridge), "i": without_some(loom, bridge), "o": without_some(loom, verse)}
    return Piece(cloths, float(rng.choice([0.0, 0.5, 1.0], p=[0.7, 0.22, 0.08])))


def play(band: _Band, section: Section, start: int, quiet_from: float) -> None:
    """Play the lines of a section that begins on beat ``start``; drums stop for a fill, and all of them for a stop."""
    own, metre = band.plan.piece, band.plan.metre
    assert own is not None
    for line in own.cloths.get(section.kind) or own.cloths["v"]:
        drum = line.player in DRUM_KEYS
        silent = not section.drums if drum else not (section.bass if line.player == "bass" else section.comp)
        if silent:
            continue
        until = quiet_from if drum or section.fill == "stop" else section.beats
        for first in range(0, section.beats, line.bars * metre):
            for at, beats, steps, loud in line.strokes:
                place = first + at
                if place >= until:
                    continue
                if drum:
                    band.add(line.player, start + place, 0.3, 0, loud * section.loud)
                    continue
                heard = min(place + own.ahead, section.beats - 0.01) if place % metre >= metre - own.ahead else place
                degree = band.chord(section, int(heard // metre), heard % metre / metre) if line.follows else 0
                low = line.low + (2 if line.player in ("broken", "second") else 0)
                for n, step in enumerate(steps):
                    pitch = band.tone(degree + step, section.lift, low)
                    band.add(line.player, start + place, beats, pitch, (0.85 - 0.05 * n) * loud * section.loud)


def players_of(rng: Generator) -> dict[str, int]:
    """Return programs that only now and then differ from those of the style: bells and any instrument."""
    return {p: int(rng.choice(BELLS)) if rng.random() < 0.5 else int(rng.integers(0, 112))
            for p in ("broken", "second", "comp") if rng.random() < 0.12}  # fmt: skip
