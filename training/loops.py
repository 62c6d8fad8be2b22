"""Music put together from parts that come again and again, as people write it part by part at a computer.

Each part has an instrument or a drum of its own, a rhythm of one, two or four bars, and notes that follow the chords or
do not. Parts come in and leave at the seams of the song. Nothing says that the low drum has the first beat: any drum
may have any rhythm, rhythms may run across the beats in threes, and most parts may share one that is not even. The bars
are told by the chords, by what comes again and by when parts come in.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from styles import BELLS, DRUM_KEYS, PADS, STRINGS, VOICES
from textures import COMPS, LEADS, LOWS

if TYPE_CHECKING:
    from band import _Band
    from numpy.random import Generator
    from tunes import Section

    Stroke = tuple[float, float, int, float]  # beat in the part, beats, step above the chord or the key, strength

RHYTHMS = {"even": 0.18, "threes": 0.15, "spread": 0.18, "drawn": 0.17, "cell": 0.12, "weak": 0.1, "dense": 0.1}
UNEVEN = {"threes": 0.4, "spread": 0.2, "drawn": 0.3, "dense": 0.1}  # for a rhythm that all parts share
RANKS = (0, 2, 4, 7, 9, 11, 14)
DRUMS = tuple(DRUM_KEYS)
LOUD_DRUMS = ("kick", "snare", "bassdrum", "clap", "tom", "open", "crash", "snare2", "hightom", "lowtom")
CYCLES = ("0", "0 4", "0 6", "0 3", "0 5", "0 0 3 4", "0 5 3 4", "0 6 5 6", "0 3 0 4", "0 2 3 4", "5 3 0 4", "0 0 0 4",
          "0 1 0 4", "3 4 0 0", "0 0 6 6", "0 5 6 4", "0 0 0 0 3 3 4 4", "0 0 5 5 3 3 4 4",
          "0 4 5 2 3 0 3 4")  # fmt: skip


@dataclass(frozen=True)
class Loop:
    """One part: who plays it, how many bars it lasts, its strokes."""

    player: str
    bars: int
    strokes: tuple[Stroke, ...]
    low: int  # the register of step 0; for drums nothing
    follows: bool  # steps count from the chord, not from the key
    chord: tuple[int, ...] = (0,)  # steps that sound together


@dataclass(frozen=True)
class Loops:
    """All parts of a song; where each comes in, section by section; the chords of verses and of choruses, by bars."""

    parts: tuple[Loop, ...]
    enters: tuple[dict[int, int], ...]  # for each section: number of a part, and the beat on which it comes in
    cycles: tuple[tuple[int, ...], tuple[int, ...]]
    programs: dict[str, int]
    sung: bool

    def degree(self, section: Section, bar: int) -> int:
        """Return the chord of a bar of a section."""
        cycle = self.cycles[section.kind in "cb"]
        return cycle[bar % len(cycle)]


class _Rhythms:
    """The rhythms of one song. In half of the songs most parts share one that is not even, and some fill its gaps."""

    def __init__(self, rng: Generator, metre: int, grid: int) -> None:
        self.rng, self.metre, self.grid = rng, metre, grid
        self.shared = rhythm(rng, metre, grid, UNEVEN) if rng.random() < 0.5 else []
        self.share = float(rng.uniform(0.4, 0.95))

    def bar(self, beats: int) -> list[float]:
        """Return a rhythm of so many beats."""
        rng = self.rng
        if self.shared and rng.random() < self.share:
            found = [k + at for k in range(0, beats, self.metre) for at in self.shared]
            how = rng.random()
            if how < 0.2:
                steps = {round(at * self.grid) for at in found}
                return [k / self.grid for k in range(beats * self.grid) if k not in steps] or found
            return [at for at in found if rng.random() < 0.75] or found if how < 0.35 else found
        return rhythm(rng, beats, self.grid, RHYTHMS)


def rhythm(rng: Generator, beats: int, grid: int, kinds: dict[str, float]) -> list[float]:
    """Return the beats on which something sounds in so many beats, each beat parted in ``grid``."""
    steps = beats * grid
    how = str(rng.choice(list(kinds), p=list(kinds.values())))
    half = max(1, grid // 2)
    if how == "even":
        step = int(rng.choice([1, half, grid, grid, 2 * grid]))
        first = int(rng.integers(step)) if rng.random() < 0.35 else 0
        found = list(range(first, steps, step))
    elif how == "threes":
        step = 3 * (half if grid == 4 and rng.random() < 0.5 else 1)
        until = int(rng.choice([steps, max(step, steps // 2)]))
        found = [base + k for base in range(0, steps, until) for k in range(0, until, step)]
        if rng.random() < 0.4:  # the last one shorter: 3 3 2, 3 3 3 3 4
            found = [k for k in found if until - k % until >= 2]
    elif how == "spread":
        count = int(rng.integers(2, max(3, steps * 2 // 3)))
        turn = int(rng.integers(steps)) if rng.random() < 0.3 else 0
        found = sorted({(k * steps // count + turn) % steps for k in range(count)})
    elif how == "cell":
        size = grid * int(rng.choice([1, 2]))
        cell = [k for k in range(size) if rng.random() < (0.7 if k == 0 else 0.45)] or [0]
        found = [base + k for base in range(0, steps, size) for k in cell if base + k < steps]
        if rng.random() < 0.4:
            found = [k for k in found if k < steps - size or rng.random() < 0.5]
    elif how == "dense":
        found = [k for k in range(steps) if rng.random() < 0.72]
    elif how == "weak":
        found = list(range(grid, steps, 2 * grid))
        found += [k for k in range(steps) if rng.random() < 0.06]
    else:
        odds = np.array([1.0 if k % (2 * grid) == 0 else 0.7 if k % grid == 0 else 0.45 if k % half == 0 else 0.2
                         for k in range(steps)])  # fmt: skip
        found = [k for k in range(steps) if rng.random() < odds[k] * rng.uniform(0.3, 1.0)]
    return [k / grid for k in sorted(set(found)) or [0]]


def again(rhythms: _Rhythms, beats: int, times: int) -> list[float]:
    """Return a rhythm several times over, the last time sometimes changed."""
    once = rhythms.bar(beats)
    found = [k * beats + at for k in range(times) for at in once]
    if times > 1 and rhythms.rng.random() < 0.5:
        turn = (times - 1) * beats
        other = rhythms.bar(beats)
        found = [at for at in found if at < turn] + [turn + at for at in other]
    return found


def strokes(rng: Generator, at: list[float], end: float, touch: float, steps: list[int]) -> tuple[Stroke, ...]:
    """Return strokes on given beats; each lasts a share ``touch`` of the time to the next."""
    gaps = np.diff([*at, end])
    lean = float(rng.choice([0.0, 0.25, 0.5]))
    found = []
    for k, (beat, gap) in enumerate(zip(at, gaps, strict=True)):
        loud = 1.0 - lean * (rng.random() if beat % 1 else 0.0)
        found.append((beat, max(0.1, float(gap) * touch), steps[k % len(steps)], float(loud)))
    return tuple(found)


def walked(rng: Generator, count: int) -> list[int]:
    """Return steps of a tune that walks and leaps."""
    step, found = int(rng.choice([0, 2, 4, 7])), []
    for _ in range(count):
        found.append(step)
        step = int(np.clip(step + rng.choice([-3, -2, -1, -1, 0, 1, 1, 2, 4, -4]), -5, 11))
    return found


def drum(rhythms: _Rhythms, name: str) -> Loop:
    """Return the part of one drum."""
    rng, metre = rhythms.rng, rhythms.metre
    bars = int(rng.choice([1, 1, 2, 4]))
    size = metre * (2 if bars == 2 and rng.random() < 0.5 else 1)
    at = again(rhythms, size, bars * metre // size)
    how = rng.random()
    if name in ("kick", "bassdrum") and how < 0.35:  # most people do begin a bar with it
        at = sorted({0.0, *at})
    elif how < 0.5:  # each beat like the other
        at = [float(b) for b in range(bars * metre)]
    return Loop(name, bars, strokes(rng, at, bars * metre, 0.5, [0]), 0, follows=False)


def pitched(rhythms: _Rhythms, player: str) -> Loop:
    """Return the part of an instrument: a bass, chords, broken chords, a turn of notes, long notes."""
    rng, metre, grid = rhythms.rng, rhythms.metre, rhythms.grid
    bars = int(rng.choice([1, 1, 2, 2, 4]))
    touch = float(rng.choice([0.3, 0.6, 0.95]))
    follows = bool(rng.random() < 0.75)
    if player == "bass":
        at = again(rhythms, metre, bars)
        steps = [int(x) for x in rng.choice([0, 0, 0, 0, 4, -3, 7, 2, 5, 6], size=int(rng.integers(1, 9)))]
        steps[0] = 0 if rng.random() < 0.85 else steps[0]
        return Loop(player, bars, strokes(rng, at, bars * metre, touch, steps), int(rng.choice([24, 28, 33])), follows)
    if player == "pad":
        every = metre * int(rng.choice([1, 1, 2]))
        at = [float(b) for b in range(0, max(every, bars * metre), every)]
        wide = max(bars, every // metre)
        return Loop(player, wide, strokes(rng, at, wide * metre, 1.0, [0]), 55, follows=True, chord=(0, 2, 4))
    if player in ("comp", "comp2"):
        at = again(rhythms, metre, bars)
        chord = ((0, 2, 4), (0, 4, 7), (2, 4, 6), (0, 4))[int(rng.integers(4))]
        found = strokes(rng, at, bars * metre, touch, [0])
        return Loop(player, bars, found, int(rng.choice([45, 50, 55])), follows=True, chord=chord)
    if player == "broken":
        step = 1 / (grid if rng.random() < 0.6 else max(1, grid // 2) if grid != 3 else 3)
        at = [float(x) for x in np.arange(0, metre * bars - 1e-6, step)]
        turn = [RANKS[int(k)] for k in rng.integers(0, 5, int(rng.choice([3, 3, 4, 4, 4, 5, 6, 8])))]
        if rng.random() < 0.6:  # the turn begins anew with each bar
            n = round(metre / step)
            steps = [turn[k % n % len(turn)] for k in range(n)]
        else:
            steps = turn
        return Loop(player, bars, strokes(rng, at, bars * metre, touch, steps), int(rng.choice([48, 55, 60])), follows)
    at = again(rhythms, metre, bars)
    found = strokes(rng, at, bars * metre, touch, walked(rng, len(at)))
    return Loop(player, bars, found, int(rng.choice([48, 55, 60, 67])), follows)


def seams(rng: Generator, parts: tuple[Loop, ...], sections: tuple[Section, ...], first: int) -> list[dict[int, int]]:
    """Return for each section which parts play: more and more of them, now and then only a few."""
    order = [int(k) for k in rng.permutation(len(parts))]
    count, found = int(rng.integers(1, 3)), []
    gone: set[int] = set()
    for number, section in enumerate(sections):
        if number:
            count += int(rng.choice([0, 1, 1, 2])) + (number == first) * int(rng.integers(1, 4))
        if rng.random() < 0.3:
            gone = {int(k) for k in rng.choice(len(parts), size=int(rng.integers(1, 3)))}
        playing = [k for k in order[: max(1, count)] if k not in gone] or order[:1]
        if number > first and rng.random() < 0.12:
            playing = [int(k) for k in rng.choice(order, size=min(len(order), 3), replace=False)]
        half = section.beats // 2 if section.beats % 2 == 0 and section.beats >= 16 else 0
        late = rng.random() < (0.4 if number <= first else 0.12)
        found.append({k: half if late and playing.index(k) == len(playing) - 1 and len(playing) > 1 else 0
                      for k in playing})  # fmt: skip
    return found


def loops(rng: Generator, metre: int, grid: int, sections: tuple[Section, ...], first: int) -> Loops:
    """Return the parts of a song."""
    many = int(rng.choice([0, 1, 2, 3, 4, 5, 6], p=[0.08, 0.1, 0.16, 0.2, 0.2, 0.16, 0.1]))
    names = list(rng.choice(DRUMS, size=many, replace=False))
    if names and rng.random() < 0.75:
        names[0] = str(rng.choice(LOUD_DRUMS[:4]))
    pool = ("bass", "comp", "broken", "pad", "second", "comp2", "lead2", "lead")
    odds = np.array([0.85, 0.6, 0.6, 0.4, 0.6, 0.35, 0.4, 0.25])
    players = [p for p, o in zip(pool, odds, strict=True) if rng.random() < o] or ["bass", "second"]
    rhythms = _Rhythms(rng, metre, grid)
    parts = tuple(drum(rhythms, str(n)) for n in names) + tuple(pitched(rhythms, p) for p in players)
    cycles = tuple(tuple(int(d) for d in str(rng.choice(CYCLES)).split()) for _ in range(2))
    if rng.random() < 0.5:
        cycles = (cycles[0], cycles[0])
    programs = {p: int(rng.choice({"bass": LOWS, "pad": PADS + STRINGS + VOICES, "broken": COMPS + BELLS + LEADS,
                                   "comp": COMPS, "comp2": COMPS}.get(p, LEADS))) for p in pool}  # fmt: skip
    if rng.random() < 0.25:  # any instrument for anything
        programs |= {p: int(rng.integers(0, 112)) for p in players if rng.random() < 0.5}
    sung = "lead" not in players and bool(rng.random() < 0.65)
    return Loops(parts, tuple(seams(rng, parts, sections, first)), (cycles[0], cycles[1]), programs, sung)


def play(band: _Band, section: Section, start: int, number: int, quiet_from: float) -> None:
    """Play the parts of a section that begins on beat ``start``; drums stop for a fill, and all of them for a stop."""
    own, metre = band.plan.loops, band.plan.metre
    assert own is not None
    for k, enters in own.enters[number].items():
        part = own.parts[k]
        drum = part.player in DRUM_KEYS
        until = quiet_from if drum or section.fill == "stop" else section.beats
        for first in range(0, section.beats, part.bars * metre):
            for at, beats, step, loud in part.strokes:
                place = first + at
                if not enters <= place < until:
                    continue
                if drum:
                    band.add(part.player, start + place, 0.3, 0, loud * section.loud)
                    continue
                degree = own.degree(section, int(place // metre)) if part.follows else 0
                for n, more in enumerate(part.chord):
                    pitch = band.tone(degree + step + more, section.lift, part.low)
                    band.add(part.player, start + place, beats, pitch, (0.85 - 0.05 * n) * loud * section.loud)
