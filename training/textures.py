# ruff: noqa: E501 -- tables of patterns
"""How composed music is accompanied: basses, chords and broken chords that people write, for any metre and grid.

The letters are those of ``styles.py``; basses also have ``t`` the tonic of the key, ``2 4 7`` other steps above the root.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from grooves import drums, stabs
from styles import (
    ACCORDION,
    BASS,
    BELLS,
    BRASS,
    CLEAN,
    DIRTY,
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
    Style,
)

if TYPE_CHECKING:
    from numpy.random import Generator

BASSES = {
    "4": {
        "two": "r...5...|r...r...|r...3...|r...8...|r...6...|r...5..a",
        "walk": "r.3.5.3.|r.5.8.5.|r.2.3.5.|r.8.7.5.|r.3.5.a.|r.r.r.r.|r.5.3.5.",
        "quick": "r8r8r8r8|r3568653|r5858585|rrrrrrrr|r5r5r5r5|r3535353|rr33556a|r2345432",
        "long": "r.......|r.....5.|r.....a.|r......a|r-------",
        "lilt": "r..r5...|r..5..8.|r..r..5.|r..58.5.|r..rr.5.|r..5r..5|r..8..5.|r..r..r.",
        "late": "..r...5.|..r.r.r.|....r.5.|.r.r5.3.|.r.r.r.r|..r...r.|...r..5.|....r...",
        "pedal": "t.......|t...t...|tttttttt|t.t.t.t.|t..t..t.",
        "across": "r..r..r..r..r.r.|r..r..r.r..r..r.|r..r..r.|..r..r..r..r..r.|r.....r.....r...|r..5..r..5..r.5.",
        "run": "r2343234r2343234|r.rrr.rrr.rrr.rr|r583r583r583r583|r8r8r8r8r8r8r8r8",
    },
    "12": {
        "two": "r.....5.....|r.....r.....|r.....8.....",
        "walk": "r..5..8..5..|r..r..5..5..|r..3..5..3..|r..2..3..5..",
        "quick": "r35835r35835|r.35.8r.35.8|r.rr.r5.55.5|rrrrrrrrrrrr",
        "late": "..r..r..5..5|...r.....5..",
        "pedal": "t...........|t..t..t..t..",
    },
    "3": {
        "one": "r.....|r-----|r....a|r.....",
        "two": "r...5.|r.5.5.|r.5.3.|r...r.|r..5..",
        "walk": "r.3.5.|r.5.8.|r.2.3.|r.r.r.",
        "quick": "r35853|r5r5r5|rrrrrr|r23432",
        "late": "..r.5.|....r.|..r.r.",
        "across": "r.......5.......r.......|r.......r.......r.......|r...r...r...",
        "pedal": "t.....|t.t.t.",
    },
}
CHORDS = {
    "4": {
        "held": "X.......|X...X...|X.......|X.....X.|X..X....",
        "beats": "X.X.X.X.|x.x.x.x.|x.o.x.o.",
        "after": "..x...x.|..x.x.x.|.x.x.x.x|..xx..xx|.x..x..x|..X...X.|..xo..xo",
        "charm": "x..x....|x..x..x.|...x...x|x.xx.xx.|x..x.x..|....x...|..X.....",
        "even": "xxxxxxxx|xoxoxoxo|x.xxx.xxx.xxx.xx|xoooxoooxoooxooo|xx.xxx.x",
        "few": "x.......|........|......x.|x.....x.|......xx",
        "across": "x..x..x..x..x.x.|x..x..x.|.x..x..x|x..x..x..x..x..x|X.....X.....X...",
    },
    "12": {
        "held": "X...........|X.....X.....", "after": "...x.....x..|..x..x..x..x|.xx.xx.xx.xx",
        "even": "xxxxxxxxxxxx|xooxooxooxoo|x.xx.xx.xx.x", "beats": "X..X..X..X..",
    },
    "3": {
        "held": "X.....|X...X.|X.....", "after": "..x.x.|..x.x.|..xox.|....x.|..X...", "even": "xxxxxx|xoxoxo|x.xxxx",
        "beats": "x.x.x.|X.X.X.", "late": "...x..|..x..x|.x.x.x",
        "across": "X.......X.......X.......|x.......x.......x.......|x...x...x...", "few": "x.....|......",
    },
}  # fmt: skip
# Chord notes from low to high; two octaves of them.
BROKEN = {
    "4": "02120212|0212021202120212|01230123|0123012301230123|01232123|0123456543210123|0.121.12|0.2.1.2.|00120012|02132132|0246|0120120120120120|012012012012|01201201|0123401234012340|0.12.12.|01230...|01.201.2",
    "12": "012012012012|012321012321|021021021021|0.20.20.20.2|012345012345|0..1..2..1..",
    "3": "012121|012321|012345|0.1.2.|02121.|021212|012.12|021021021021|012345654321",
}
LEADS = (
    VOICES
    + PIPES
    + REEDS
    + BRASS
    + FOLK
    + STRINGS
    + PIANO
    + GUITAR
    + BELLS
    + SYNTH_LEAD
    + ORGAN
    + ACCORDION
    + (6, 46, 68, 69, 79)
)
COMPS = PIANO + PIANO + STRINGS + GUITAR + ORGAN + CLEAN + BRASS + ACCORDION + PADS + (6, 46, 45, 48, 60, 11)
LOWS = BASS + BASS + (42, 43, 70, 58, 57, 0, 45) + SYNTH_BASS


def of(rng: Generator, table: dict[str, str]) -> str:
    """Return a pattern of a table: first a kind, then one of that kind."""
    return str(rng.choice(str(rng.choice(list(table.values()))).split("|")))


def bass_of(rng: Generator, kind: str) -> str:
    """Return a bass: written above, or a riff drawn note by note."""
    if rng.random() < 0.18:
        steps = {"4": 8, "12": 12, "3": 6}[kind]
        line = stabs(rng, steps, max(2, steps // 2), held=False)
        return "".join("." if c == "." else str(rng.choice(list("rrr5583672"))) for c in line)
    return of(rng, BASSES[kind])


def struck(rng: Generator, metre: int, grid: int) -> dict[str, str]:
    """Return drums of a composed piece: few strokes, a march, a kit drawn stroke by stroke, often none on the first beat."""
    steps = metre * (3 if grid == 3 else 4)
    how = rng.random()
    if how < 0.25:
        names = (
            "triangle",
            "tamb",
            "shaker",
            "hat",
            "ride",
            "block",
            "snare",
            "bassdrum",
            "tom",
            "bongo",
            "rim",
            "cabasa",
        )
        return {str(n): stabs(rng, steps, int(rng.integers(1, steps // 2 + 1)), held=False)
                for n in rng.choice(names, size=int(rng.integers(1, 4)), replace=False)}  # fmt: skip
    if how < 0.4 and metre == 4 and grid != 3:
        return {
            "bassdrum": "x...x...",
            "snare": str(rng.choice(["..x...x.", "x.xxx.xxx.xxx.xx", "oxoxoxox", "x..xx..xx.x.xxxx"])),
        }
    if how < 0.48 and how >= 0.4:  # each beat like the other
        names = rng.choice(["kick", "bassdrum", "hat", "ride", "tamb", "snare", "clap", "pedal"], size=2, replace=False)
        return {str(n): "x." * metre for n in names}
    if how < 0.56 and grid != 3:  # across the beats in threes
        lines = (
            "x..x..x..x..x.x.",
            "x..x..x.x..x..x.",
            "x..x..x...x.x...",
            "x..x..x..x..x...",
            "..x..x..x..x..x.",
            "x.x.x.x.x.x.x.x.",
        )
        names = rng.choice(
            ["kick", "snare", "tom", "hat", "ride", "conga", "bell", "rim", "shaker"], size=3, replace=False
        )
        return {str(n): str(rng.choice(lines))[: metre * 4] for n in names}
    found = drums(
        rng,
        str(rng.choice(["four", "rock", "broken", "latin", "sparse"])),
        str(rng.choice(["back", "ghosts", "half", "train", "every", "none", "tresillo"])),
        metre, grid, 1,
    )  # fmt: skip
    if rng.random() < 0.3:  # nothing low on the first beat
        for name in ("kick", "bassdrum"):
            if name in found:
                found[name] = "." + found[name][1:]
    if rng.random() < 0.08:  # all of it a beat late: the low drum has the weak beats
        found = {name: line[-len(line) // metre :] + line[: -len(line) // metre] for name, line in found.items()}
    if rng.random() < 0.15:
        found.pop("snare", None)
    if rng.random() < 0.15:
        found.pop("kick", None)
    return found


def composed(rng: Generator, metre: int, grid: int) -> Style:
    """Return a way to accompany of composed music, drawn from the tables above."""
    kind = "3" if metre == 3 else "12" if grid == 3 else "4"
    bass = tuple(bass_of(rng, kind) for _ in range(4))
    chords = tuple(of(rng, CHORDS[kind]) for _ in range(4))
    broken = tuple(str(rng.choice(BROKEN[kind].split("|"))) for _ in range(3))
    sets = tuple(struck(rng, metre, grid) for _ in range(3))
    if grid == 3:
        low, high = 54.0, 126.0
    elif any(len(line) > 8 for line in (*bass, *broken)):
        low, high = 56.0, 132.0
    else:
        low, high = (60.0, 168.0) if metre == 4 else (72.0, 176.0)
    electronic = float(rng.choice([0.0, 1.0], p=[0.8, 0.2]))
    pick = lambda these, n: tuple(int(x) for x in rng.choice(these, size=n))  # noqa: E731
    return Style(
        (low, high), sets, bass, chords, pick(COMPS + (DIRTY + STABS if electronic else ()), 3),
        pick(LEADS, 3), low=pick(LOWS, 2), broken=broken, swing=(0.5, 0.5) if rng.random() < 0.75 or grid == 3 else (0.54, 0.67),
        metre=metre, electronic=electronic, bare=0.4, crunch=0.05,
    )  # fmt: skip
