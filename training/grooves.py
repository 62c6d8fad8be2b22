"""Ways to play that no table holds: a groove drawn stroke by stroke from what is likely at each place of the bar."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
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

# Likelihood of a bass drum on each sixteenth of a bar in four.
KICKS = {
    "four": (1, 0, 0, 0.04, 1, 0, 0.08, 0.04, 1, 0, 0, 0.04, 1, 0, 0.1, 0.06),
    "rock": (1, 0, 0.08, 0.12, 0.06, 0, 0.35, 0.15, 0.7, 0, 0.45, 0.12, 0.05, 0, 0.2, 0.1),
    "broken": (1, 0, 0.35, 0.1, 0.05, 0.05, 0.3, 0.3, 0.15, 0.05, 0.7, 0.25, 0.05, 0.1, 0.2, 0.15),
    "latin": (0.8, 0, 0, 0.7, 0.3, 0, 0.3, 0.2, 0.7, 0, 0, 0.6, 0.3, 0, 0.3, 0.2),
    "sparse": (1, 0, 0, 0, 0, 0, 0.1, 0, 0.5, 0, 0.1, 0, 0, 0, 0.05, 0),
}
SNARES = {
    "back": (0, 0, 0, 0, 1, 0, 0, 0.06, 0, 0.06, 0, 0, 1, 0, 0.05, 0.08),
    "ghosts": (0, 0.1, 0.05, 0.1, 1, 0, 0.1, 0.4, 0, 0.4, 0.05, 0.2, 1, 0, 0.15, 0.3),
    "half": (0, 0, 0, 0, 0, 0, 0, 0.06, 1, 0, 0, 0, 0, 0, 0.1, 0.1),
    "train": (0.5, 0.5, 0.6, 0.5, 1, 0.5, 0.6, 0.5, 0.5, 0.5, 0.6, 0.5, 1, 0.5, 0.6, 0.5),
    "every": (0, 0, 0.9, 0, 0.2, 0, 0.9, 0, 0, 0, 0.9, 0, 0.2, 0, 0.9, 0),
    "none": (0,) * 16,
    "tresillo": (0, 0, 0, 1, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 1, 0),
}
TURNS = "x..x..x...x..x..", "x..x..x.", "x..x...x..x.x...", "x.xx.xx.", "..xx..xx", "x.x.xx.x", "xooxxoox", "x..xx..x"


def drawn_line(rng: Generator, odds: tuple[float, ...], *, soft: float = 0.15) -> str:
    """Return a line with a stroke where chance wants one."""
    out = []
    for p in odds:
        sure = p > 0.75
        out.append(("x" if sure or rng.random() > soft else "o") if rng.random() < p else ".")
        if out[-1] != "." and not sure and rng.random() < 0.4:
            out[-1] = str(rng.choice(["o", "g"]))
    return "".join(out)


def stabs(rng: Generator, steps: int, most: int, *, held: bool) -> str:
    """Return a rhythm of a few strokes at drawn places; the first is likelier."""
    weights = np.array([3.0 if k == 0 else 1.5 if k % 2 == 0 else 1.0 for k in range(steps)])
    places = rng.choice(steps, size=int(rng.integers(1, most + 1)), replace=False, p=weights / weights.sum())
    letters = ["."] * steps
    for place in places:
        letters[place] = "X" if held else str(rng.choice(["x", "x", "o"]))
    return "".join(letters)


def bass_line(rng: Generator, kick: str, beats: int, grid: int) -> str:
    """Return a bass: with the bass drum, even, off the beat, walking, or at drawn places."""
    steps = len(kick)
    kind = str(rng.choice(["kick", "even", "off", "two", "walk", "drawn", "long"]))
    notes = list("rrrrr58563a")
    if kind == "kick":
        return "".join(
            "." if c == "." else ("r" if k == 0 or rng.random() < 0.75 else str(rng.choice(notes)))
            for k, c in enumerate(kick)
        )
    if kind == "even":
        each = str(rng.choice(["r", "r", "r8", "rr5", "rrr8"]))
        step = 2 if grid == 4 and rng.random() < 0.75 else 1
        return "".join(each[(k // step) % len(each)] if k % step == 0 else "." for k in range(steps))
    if kind == "off":
        return "".join("r" if k % grid == grid // 2 else "." for k in range(steps))
    if kind == "two":
        return "".join(
            ("r" if k % (2 * beats * grid // 2) == 0 else "5") if k % (2 * grid) == 0 else "." for k in range(steps)
        )
    if kind == "walk":
        walk = str(rng.choice(["r356", "r35a", "r565", "r53a", "r386"]))
        return "".join(walk[(k // grid) % 4] if k % grid == 0 else "." for k in range(steps))
    if kind == "long":
        return "r" + "." * (steps - 1)
    line = stabs(rng, steps, max(2, steps // 4), held=False)
    line = "r" + line[1:] if rng.random() < 0.85 else line
    return "".join("." if c == "." else ("r" if k == 0 else str(rng.choice(notes))) for k, c in enumerate(line))


def hats(rng: Generator, steps: int, grid: int) -> dict[str, str]:
    """Return the cymbals: eighths, sixteenths, off the beat, on it, or turning."""
    kind = str(rng.choice(["eighths", "all", "off", "beats", "turn", "none"], p=[0.32, 0.2, 0.18, 0.12, 0.1, 0.08]))
    name = str(
        rng.choice(
            ["hat", "hat", "hat", "ride", "shaker", "tamb", "open", "crash", "cabasa"],
            p=[0.2, 0.2, 0.2, 0.12, 0.08, 0.06, 0.06, 0.05, 0.03],
        )
    )
    half = max(1, grid // 2)
    if kind == "none":
        return {}
    if kind == "off":
        return {
            "open" if rng.random() < 0.5 else "hat": "".join("x" if k % grid == half else "." for k in range(steps))
        }
    if kind == "beats" or name == "crash":
        return {name: "".join("x" if k % grid == 0 else "." for k in range(steps))}
    if kind == "turn":
        turn = str(rng.choice(TURNS))
        return {
            name: "".join(
                turn[(k * 8 // steps) if len(turn) == 8 and steps <= 16 else k % len(turn)] for k in range(steps)
            )
        }
    every = 1 if kind == "all" else (half if grid != 3 else 1)
    accents = rng.random() < 0.5
    return {
        name: "".join(("x" if not accents or k % grid == 0 else "o") if k % every == 0 else "." for k in range(steps))
    }


def threes(line: str) -> str:
    """Return a line in sixteenths as one in triplets: the second and third of a group become the last."""
    out = []
    for k in range(0, len(line), 4):
        a, b, c, d = line[k : k + 4]
        late = next((x for x in (c, d, b) if x != "."), ".")
        out.append(a + "." + late)
    return "".join(out)


def in_three(line: str) -> str:
    """Return three beats of a line of four."""
    return line[: len(line) * 3 // 4]


def drums(rng: Generator, kind: str, snare: str, metre: int, grid: int, span: int) -> dict[str, str]:
    """Return one set of drum lines over ``span`` bars."""
    lines: dict[str, list[str]] = {"kick": [], "snare": []}
    first: list[str] = []
    for bar in range(span):
        if bar and rng.random() < 0.4:
            pair = first
        else:
            pair = [drawn_line(rng, KICKS[kind], soft=0.1), drawn_line(rng, SNARES[snare])]
            first = first or pair
        for name, line in zip(("kick", "snare"), pair, strict=True):
            if metre == 3:
                line = (
                    ("x" + "".join(c if rng.random() < 0.3 else "." for c in line[1:12]))
                    if name == "kick"
                    else waltz_snare(rng)
                )
            elif grid == 3:
                line = threes(line)
            lines[name].append(line)
    found = {name: "".join(parts) for name, parts in lines.items()}
    steps = len(found["kick"])
    found |= hats(rng, steps, 3 if grid == 3 and metre == 4 else 4)
    if rng.random() < 0.35:
        name = str(rng.choice(["conga", "bongo", "tamb", "shaker", "clap", "claves", "bell", "block", "tom", "rim"]))
        if rng.random() < 0.5:
            found[name] = drawn_line(rng, tuple(rng.choice([0.0, 0.1, 0.3, 0.9], size=steps, p=[0.4, 0.2, 0.2, 0.2])))
        else:
            found[name] = stabs(rng, steps, max(2, steps // 4), held=False)
    if rng.random() < 0.35:
        found[str(rng.choice(["clap", "rim", "tamb"]))] = found.pop("snare")
    return {name: line for name, line in found.items() if set(line) - {"."}}


def waltz_snare(rng: Generator) -> str:
    """Return a snare in three: on two and three, on three, on two, or nowhere."""
    return str(
        rng.choice(["....x...x...", "........x...", "....o...o...", "....x.......", "............", "....x..gx..g"])
    )


def drawn(rng: Generator) -> Style:
    """Return a way to play that was never written down."""
    metre = 3 if rng.random() < 0.14 else 4
    grid = 3 if metre == 4 and rng.random() < 0.15 else 4
    span = int(rng.choice([1, 2, 2]))
    kind = str(rng.choice(list(KICKS), p=[0.3, 0.3, 0.2, 0.12, 0.08]))
    snare = str(rng.choice(list(SNARES), p=[0.42, 0.2, 0.08, 0.06, 0.06, 0.1, 0.08]))
    sets = tuple(drums(rng, kind, snare, metre, grid, span) for _ in range(2))
    sets = tuple(s or {"kick": "x" + "." * (metre * grid - 1)} for s in sets)
    beats, steps = metre * span, metre * grid * span
    kicks = [s.get("kick", "x" + "." * (steps - 1)) for s in sets]
    bass = tuple(bass_line(rng, k, beats, grid) for k in (*kicks, kicks[0]))
    eighths = steps if grid == 3 else 2 * beats
    chords = []
    for _ in range(3):
        how = str(rng.choice(["held", "drawn", "off", "even", "few"]))
        if how == "held":
            chords.append(("X" + "." * (eighths // span - 1)) * span)
        elif how == "off":
            chords.append(
                "".join("x" if k % (3 if grid == 3 else 2) else "." for k in range(eighths))
                if grid != 3
                else "..x" * beats
            )
        elif how == "even":
            chords.append("".join(str(rng.choice(["x", "x", "o", "x"])) for _ in range(eighths)))
        elif how == "few":
            chords.append(stabs(rng, 4 * beats if grid == 4 else eighths, 3 * span, held=rng.random() < 0.4))
        else:
            chords.append(stabs(rng, eighths, 4 * span, held=rng.random() < 0.3))
    digits = [str(rng.integers(4)) for _ in range(int(rng.choice([4, 6, 8]) if grid == 4 else 6))]
    each = max(1, (4 * beats if rng.random() < 0.6 and grid == 4 else eighths))
    broken = "".join(digits[k % len(digits)] for k in range(each))
    electronic = float(rng.choice([0.0, 0.3, 1.0], p=[0.4, 0.2, 0.4]))
    comp = PIANO + CLEAN + GUITAR + ORGAN + (DIRTY + PADS if electronic < 1 else STABS + PADS + SYNTH_LEAD)
    lead = VOICES + REEDS + BRASS + PIPES + FOLK + GUITAR + STRINGS if electronic < 1 else SYNTH_LEAD + VOICES + BELLS
    if rng.random() < 0.1:
        comp, lead = ACCORDION, ACCORDION + FOLK
    low, high = ((62, 100) if grid == 3 else (84, 176)) if metre == 4 else (84, 165)
    if grid == 4 and metre == 4 and any(c != "." for s in sets for line in s.values() for c in line[1::2]):
        low, high = (66, 138) if kind != "four" else (96, 140)
    swing = (0.5, 0.5) if grid == 3 or rng.random() < 0.7 else (0.54, 0.68)
    return Style(
        (float(low), float(high)),
        sets,
        bass,
        tuple(chords),
        comp,
        lead,
        low=BASS + SYNTH_BASS if electronic else BASS,
        broken=(broken,),
        swing=swing,
        metre=metre,
        electronic=electronic,
        bare=0.08,
        span=span,
    )
