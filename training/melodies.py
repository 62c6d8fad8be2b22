"""Chords and tunes by grammar, as people compose them, and chords that fit a tune that is given.

Chords are degrees of the scale, 0 the tonic. A tune is a list of (beat, beats, step of the scale); upbeats lie under 0.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.random import Generator

    Note = tuple[float, float, int]
    Chords = list[tuple[int, ...]]

# From a chord to those that follow it, in the order of degrees 0 to 6.
FOLLOWS = (
    (0.08, 0.12, 0.07, 0.26, 0.24, 0.18, 0.05),
    (0.10, 0.03, 0.04, 0.10, 0.60, 0.08, 0.05),
    (0.08, 0.12, 0.02, 0.34, 0.10, 0.32, 0.02),
    (0.32, 0.12, 0.05, 0.04, 0.36, 0.08, 0.03),
    (0.50, 0.05, 0.05, 0.14, 0.04, 0.20, 0.02),
    (0.08, 0.24, 0.10, 0.30, 0.24, 0.02, 0.02),
    (0.50, 0.03, 0.12, 0.20, 0.10, 0.05, 0.00),
)
# How much of a bar goes by before the chord changes: bars a chord, or parts of a bar.
PACES = ((1.0, 0.5), (2.0, 0.16), (0.5, 0.2), (4.0, 0.06), (0.25, 0.03), (0.75, 0.05))
SHAPES = ("abab", "abac", "aaab", "abcd", "aabb", "abcb", "aabc", "abbc")


def grammar_chords(rng: Generator, bars: int, metre: int) -> Chords:
    """Return chords by bars: one that leads on to the next, a close at the end, a half close in the middle."""
    pace = float(rng.choice([p for p, _ in PACES], p=[w for _, w in PACES]))
    four = [_walked(rng, 4, pace, metre, close) for close in ((4,), (0,))]
    how = rng.random()
    if how < 0.3:  # four bars that come again
        four[1] = list(four[0])
        four[rng.integers(2)][-1] = ((4,), (0,), (3,))[int(rng.integers(3))]
    elif how < 0.5:
        four[1][:2] = four[0][:2]
    found = four[0] + four[1]
    return [found[k % 8] for k in range(bars)]


def _walked(rng: Generator, bars: int, pace: float, metre: int, close: tuple[int, ...]) -> Chords:
    chord = 0 if rng.random() < 0.75 else int(rng.choice([3, 5, 1, 4]))
    found: Chords = []
    for bar in range(bars):
        if pace >= 1:
            found.append((chord,))
            if (bar + 1) % pace == 0:
                chord = int(rng.choice(7, p=FOLLOWS[chord]))
            continue
        parts = 2 if pace in (0.5, 0.75) and metre == 4 else metre
        if pace == 0.75 and bar % 2 == 0:
            parts = 1
        own = []
        for _ in range(parts):
            own.append(chord)
            chord = int(rng.choice(7, p=FOLLOWS[chord]))
        found.append(tuple(own))
    if rng.random() < 0.8:
        last = found[-1]
        found[-1] = (*last[:-1], *close) if len(last) > 1 and rng.random() < 0.5 else close
    return found


def fitting(rng: Generator, tune: list[Note], bars: int, metre: int, *, minor: bool) -> Chords:
    """Return chords for a tune, one or two a bar: those whose notes it dwells on, in an order that leads on."""
    parts = 2 if metre == 4 and rng.random() < 0.5 else 1
    n = bars * parts
    size = metre / parts
    gain = np.zeros((n, 7))
    for at, beats, step in tune:
        k = int(at // size)
        if 0 <= k < n:
            weight = min(beats, 2.0) * (1.6 if at % size == 0 else 1.0 if at % 1 == 0 else 0.6)
            for degree in range(7):
                gain[k, degree] += weight * {0: 1.0, 2: 0.9, 4: 0.7}.get((step - degree) % 7, -0.6)
    likes = np.array([0.9, 0.1, 0.0, 0.6, 0.9, 0.3, 0.5 if minor else -1.2])
    gain += 0.5 * likes
    gain[-1] += np.array([2.0, -1, -1, -1, 0.3, -1, -1])
    steps = np.log(np.array(FOLLOWS) + 0.02) * 0.5
    steps[np.diag_indices(7)] = np.log(0.3) * 0.5
    best, came = gain[0] + np.array([1.0, 0, 0, 0.2, 0.2, 0, 0]), []
    for k in range(1, n):
        ways = best[:, None] + steps
        came.append(ways.argmax(axis=0))
        best = ways.max(axis=0) + gain[k]
    path = [int(best.argmax())]
    for back in reversed(came):
        path.append(int(back[path[-1]]))
    path.reverse()
    return [tuple(dict.fromkeys(path[k * parts : (k + 1) * parts])) if parts == 1 or path[2 * k] == path[2 * k + 1]
            else (path[2 * k], path[2 * k + 1]) for k in range(bars)]  # fmt: skip


class Composer:
    """The habits of one song's tunes: how dense, how syncopated, how they repeat, where they begin."""

    def __init__(self, rng: Generator, metre: int, grid: int) -> None:
        self.rng, self.metre = rng, metre
        self.grid = 3 if grid == 3 else int(rng.choice([2, 2, 4]))
        self.dense = float(rng.uniform(0.3, 1.0))
        self.off = float(rng.choice([0.15, 0.5, 1.1], p=[0.5, 0.3, 0.2]))  # liking for places off the beat
        self.one = float(rng.choice([0.95, 0.75, 0.25], p=[0.55, 0.3, 0.15]))  # a note on the first of a bar
        self.upbeats = float(rng.choice([0.0, 0.5, 1.0], p=[0.4, 0.2, 0.4]))
        self.cell = int(rng.choice([1, 2, 2]))  # bars a motif lasts
        self.leap = float(rng.choice([1.0, 1.6, 2.6]))

    def rhythm(self, beats: int) -> list[tuple[float, float]]:
        """Return (beat, beats) of notes in so many beats."""
        rng, places = self.rng, []
        for k in range(beats * self.grid):
            at = k / self.grid
            inside, part = at % self.metre, at % 1
            if part == 0:
                odds = (
                    self.one
                    if inside == 0
                    else (0.75 if inside == self.metre / 2 else 0.6) * min(1.0, self.dense + 0.3)
                )
            elif abs(part - 0.5) < 0.01:
                odds = (0.25 + 0.35 * self.off) * self.dense
            else:
                odds = (
                    (0.1 + 0.15 * self.off) * self.dense
                    if self.grid != 3
                    else (0.5 if part > 0.5 else 0.3) * self.dense
                )
            if rng.random() < odds:
                places.append(at)
        ends = [*places[1:], float(beats)][: len(places)]
        return [(a, min(b - a, float(rng.choice([1.0, 2.0, 4.0]))) * (0.5 if rng.random() < 0.06 else 1.0))
                for a, b in zip(places, ends, strict=True)]  # fmt: skip

    def tune(self, chords: Chords) -> list[Note]:
        """Return a tune over chords by bars: motifs that come again, moved or changed, long notes at the ends."""
        rng, metre, cell = self.rng, self.metre, self.cell
        shape = str(rng.choice(SHAPES))
        motifs: dict[str, tuple[list[tuple[float, float]], np.ndarray]] = {}
        found: list[Note] = []
        step, bars = int(rng.integers(0, 8)), len(chords)
        for number, first in enumerate(range(0, bars, cell)):
            letter = shape[number % 4] if cell > 1 else shape[(number // 2) % 4] + "ab"[number % 2]
            if letter not in motifs:
                lines = self.rhythm(cell * metre)
                motifs[letter] = (lines, np.rint(rng.normal(0, self.leap, len(lines) + 1)).astype(int))
            lines, moves = motifs[letter]
            for k, (at, beats) in enumerate(lines):
                bar = first + int(at // metre)
                if bar >= bars:
                    break
                step = int(np.clip(step + moves[k], -4, 12))
                if at % 1 == 0 and (at % metre in (0.0, metre / 2) or beats >= 1.5 or rng.random() < 0.3):
                    step = near(step, chords[bar], (at % metre) / metre)
                found.append((first * metre + at, beats, step))
        return self.closed(found, chords)

    def closed(self, found: list[Note], chords: Chords) -> list[Note]:
        """Return a tune with longer notes where its halves end, and upbeats to its halves."""
        rng, metre = self.rng, self.metre
        for bar in range(3, len(chords), 4):
            if rng.random() < 0.25:
                continue
            start, long = bar * metre, float(rng.choice([metre / 2, metre - 1, metre]))
            until = (bar + 1) * metre
            found = [n for n in found if not start <= n[0] < until]
            last = max((n[2] for n in found if n[0] < start), default=4)
            found.append((float(start), long, near(last, chords[bar], 0.0)))
        for bar in range(0, len(chords), 4):
            if rng.random() < self.upbeats:
                count, each = int(rng.integers(1, 4)), float(rng.choice([0.5, 0.5, 1.0, 1 / self.grid]))
                to = next((n[2] for n in sorted(found) if n[0] >= bar * metre), 4)
                found = [n for n in found if not bar * metre - count * each <= n[0] < bar * metre]
                rise = int(rng.choice([-1, 1, 1]))
                found += [(bar * metre - (count - k) * each, each, to - rise * (count - k)) for k in range(count)]
        found.sort()
        return [(a, min(b, c - a) if c > a else b, s) for (a, b, s), c in
                zip(found, [*(n[0] for n in found[1:]), np.inf], strict=True)]  # fmt: skip


def near(step: int, chord: tuple[int, ...], place: float) -> int:
    """Return the note of the chord at a place of the bar (0 to 1) that lies nearest to a step."""
    degree = chord[min(len(chord) - 1, int(place * len(chord)))]
    return min((degree + t for t in (-14, -12, -10, -7, -5, -3, 0, 2, 4, 7, 9, 11, 14)), key=lambda t: abs(t - step))


def strains(rng: Generator, tune: dict[str, Any], metre: int) -> list[tuple[Chords, list[Note]]]:
    """Return the strains of a printed tune, each with chords that fit, a short one twice."""
    found = []
    for part in tune["strains"]:
        beats = part["beats"]
        notes = [(float(a), float(b), int(s)) for a, b, s in part["notes"]]
        chords = fitting(rng, notes, beats // metre, metre, minor=tune["mode"] in (1, 2))
        for _ in range(2 if beats < 8 * metre else 0):
            if beats < 8 * metre:
                notes = notes + [(a + beats, b, s) for a, b, s in notes if a >= 0 or beats + a >= 0]
                chords, beats = chords + chords, 2 * beats
        found.append((chords, sorted(notes)))
    return found
