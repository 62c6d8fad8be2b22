"""What the colour of the music, beat by beat, says of its bars and phrases: chords, timbre, loudness and repetition.

Rows are beats: row i is the mean from beat i to the next.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from softshoe.music.bars import Evidence, standard
from softshoe.music.beats import at_beats

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.engine import Pulse

    FloatArray = NDArray[np.float64]

FLOOR_DB = -50.0


@dataclass(frozen=True, slots=True, eq=False)
class Beatwise:
    """Colour by beats: ``harmony`` (n, 24), ``timbre`` (n, k) in decibels, ``loud_db`` (n,)."""

    harmony: FloatArray
    timbre: FloatArray
    loud_db: FloatArray


def beatwise(pulse: Pulse, beats_s: FloatArray) -> Beatwise:
    """Return the mean colour of each beat."""
    if len(beats_s) == 0:
        return Beatwise(np.zeros((0, 24)), np.zeros((0, pulse.timbre.shape[1])), np.zeros(0))
    usual = float(np.median(np.diff(beats_s))) if len(beats_s) > 1 else 0.5
    edges = np.append(beats_s, beats_s[-1] + usual) * pulse.colour_hz
    return Beatwise(
        _means(pulse.harmony, edges),
        _means(np.maximum(pulse.timbre, FLOOR_DB), edges),
        _means(np.maximum(pulse.loud_db, FLOOR_DB)[:, None], edges)[:, 0],
    )


def _means(rows: FloatArray, edges: FloatArray) -> FloatArray:
    """Return means of rows between edges that may fall within a row."""
    sums = np.concatenate([np.zeros((1, rows.shape[1])), np.cumsum(rows, axis=0)])
    x = np.arange(len(sums), dtype=np.float64)
    edges = np.clip(edges + 0.5, 0, len(rows))  # row i is heard around i, from half a row before it
    low = np.minimum(edges.astype(int), len(rows) - 1)
    part = (edges - x[low])[:, None]
    at = sums[low] * (1 - part) + sums[low + 1] * part
    return np.asarray(np.diff(at, axis=0) / np.maximum(np.diff(edges), 1e-6)[:, None])


def _before_after(rows: FloatArray, width: int) -> tuple[FloatArray, FloatArray]:
    """Return the mean of ``width`` rows before each row, and of as many from it on; near the ends both are shorter."""
    n = len(rows)
    sums = np.concatenate([np.zeros((1, rows.shape[1])), np.cumsum(rows, axis=0)])
    i = np.arange(n)
    wide = np.minimum(width, np.minimum(i, n - i))
    share = np.maximum(1, wide)[:, None]
    before = (sums[i] - sums[i - wide]) / share
    after = (sums[i + wide] - sums[i]) / share
    before[0] = after[0] = rows[0]
    weight = np.sqrt(wide / width)[:, None]  # short stretches differ by chance: draw both towards their middle
    middle = 0.5 * (before + after)
    return middle + weight * (before - middle), middle + weight * (after - middle)


def _turned(rows: FloatArray, width: int) -> FloatArray:
    """Return 1 minus the cosine between what was before and what comes after."""
    before, after = _before_after(rows, width)
    length = np.linalg.norm(before, axis=1) * np.linalg.norm(after, axis=1)
    same = (before * after).sum(axis=1) / np.maximum(length, 1e-9)
    return np.asarray(np.where(length > 1e-9, 1 - same, 0.0))


def bar_evidence(pulse: Pulse, beats_s: FloatArray, colour: Beatwise) -> FloatArray:
    """Return standard scores for a bar that begins at each beat: new chord, new bass note, bass drum, no back beat."""
    if len(beats_s) < 2:
        return np.zeros(len(beats_s))
    chord = standard(_turned(colour.harmony[:, :12], 2)) + 0.5 * standard(_turned(colour.harmony[:, :12], 1))
    bass = standard(_turned(colour.harmony[:, 12:], 1))
    low = standard(at_beats(pulse.low, pulse.frames_hz, beats_s))
    snap = standard(at_beats(pulse.snap, pulse.frames_hz, beats_s))
    return standard(chord + 0.8 * bass + 0.7 * low - 0.45 * snap)


def phrase_evidence(pulse: Pulse, beats_s: FloatArray, colour: Beatwise, metre: int) -> FloatArray:
    """Return scores for a phrase that begins at each beat, about 3 at a plain one.

    Each beat is held against the beats that have its place in the bars around it.
    """
    n = len(beats_s)
    if n < 4 * metre:
        return np.zeros(n)
    if pulse.phrase is not None:
        return 3 * at_beats(pulse.phrase, pulse.frames_hz, beats_s)
    timbre = np.column_stack([colour.timbre, colour.loud_db])
    total = np.zeros(n)
    for bars, weight in ((1, 0.5), (2, 0.9), (4, 0.9)):
        before, after = _before_after(timbre, bars * metre)
        total += weight * _odd(np.sqrt(((after - before) ** 2).mean(axis=1)), metre, least=1.0)
        total += 0.3 * weight * _odd((after - before)[:, -1], metre, least=1.5)
    total += 0.5 * _odd(_turned(colour.harmony, 4 * metre), metre, least=0.04)
    total += 0.8 * _odd(_new_story(colour, width=2 * metre), metre, least=0.03)
    total += 0.9 * _odd(_crash(colour), metre, least=1.5)
    total += 0.6 * _odd(_fill(pulse, beats_s), metre, least=0.05)
    return np.asarray(np.clip(0.6 * total, -1.5, 4.0))


def _odd(x: FloatArray, metre: int, *, least: float) -> FloatArray:
    """Return how far x stands above its neighbours of the same place in the bar, in deviations or in ``least``."""
    away = 3 * metre
    wide = np.pad(x, away, constant_values=np.nan)
    beside = [wide[away + k * metre : away + k * metre + len(x)] for k in (-3, -2, -1, 1, 2, 3)]
    rest = x - np.nanmean(beside, axis=0)
    return np.asarray(np.clip(rest / max(float(rest.std()), least), -2.5, 4.0))


def _fill(pulse: Pulse, beats_s: FloatArray) -> FloatArray:
    """Return how busy the drums are in the beat before each beat."""
    edges = np.rint(beats_s * pulse.frames_hz).astype(int)
    sums = np.cumsum(np.pad(pulse.snap, (1, 0)))
    edges = np.clip(edges, 0, len(sums) - 1)
    busy = np.diff(sums[edges]) / np.maximum(1, np.diff(edges))
    return np.concatenate([[float(busy.mean())], busy])


def _crash(colour: Beatwise) -> FloatArray:
    """Return how much louder the highest bands are at each beat than at the four beats before and after."""
    top = colour.timbre[:, -3:].mean(axis=1, keepdims=True)
    before, after = _before_after(top, 4)
    return np.asarray((top - 0.5 * (before + after))[:, 0])


def _new_story(colour: Beatwise, *, width: int) -> FloatArray:
    """Return where the delays change after which the song repeats itself: a phrase begins there (time-lag novelty)."""
    rows = np.concatenate([colour.harmony, (colour.timbre - colour.timbre.mean(axis=0)) / 20], axis=1)
    wide = np.concatenate([np.roll(rows, -k, axis=0) for k in range(-2, 2)], axis=1)
    wide = wide - wide.mean(axis=0)
    unit = wide / np.maximum(np.linalg.norm(wide, axis=1, keepdims=True), 1e-9)
    same = np.maximum(0, unit @ unit.T) ** 2
    n = len(same)
    lagged = same[np.arange(n)[:, None], (np.arange(n)[:, None] + np.arange(n)[None, :]) % n]
    before, after = _before_after(lagged, width)
    return np.asarray(np.sqrt(((after - before) ** 2).mean(axis=1)))


def evidence(pulse: Pulse, beats_s: FloatArray, colour: Beatwise, metre: int) -> Evidence:
    """Return all that speaks for bars and phrases in a metre."""
    return Evidence(bar_evidence(pulse, beats_s, colour), phrase_evidence(pulse, beats_s, colour, metre))
