"""The tempo as it goes through a song, from its beats: a few points, and the same in words."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]
    Curve = tuple[tuple[float, float], ...]

SPAN_BEATS = 8  # tempo is taken over so many beats: single beats differ by what players do on purpose
CALM = 9  # middle of so many such spans: a held bar is no change of tempo
PAUSE = 1.3  # one beat so much longer than another within a span: a pause, or the seam of a medley
STEADY = 0.02  # changes of less than this share are not told
NEAR = 0.012  # the curve keeps within this share of what was heard
JUMP_S, JUMP = 9.0, 0.04  # a change of this share within this time is another tempo, not a drift


def tempo_curve(beats_s: Sequence[float]) -> Curve:
    """Return points (second, beats a minute), first and last at the first and last beat; () for fewer than 4 beats.

    >>> tempo_curve([0.5 * k for k in range(33)])
    ((0.0, 120.0), (16.0, 120.0))
    """
    beats = np.asarray(beats_s, dtype=np.float64)
    if len(beats) < 4:
        return ()
    span = min(SPAN_BEATS, len(beats) - 1)
    whole = _whole(np.diff(beats), span)
    at = 0.5 * (beats[span:] + beats[:-span])[whole]
    bpm = _calm(60 * span / (beats[span:] - beats[:-span])[whole])
    usual = float(np.median(bpm))
    low, high = np.percentile(bpm, [3, 97])
    if high / low - 1 < STEADY:
        return _points(beats[[0, -1]], np.array([usual, usual]))
    at[0], at[-1] = beats[0], beats[-1]
    kept = sorted(_corners(at, bpm, 0, len(at) - 1, NEAR * usual) | {0, len(at) - 1})
    return _points(at[kept], bpm[kept])


def _points(at: FloatArray, bpm: FloatArray) -> Curve:
    return tuple((round(float(t), 2), round(float(v), 1)) for t, v in zip(at, bpm, strict=True))


def _whole(gaps: FloatArray, span: int) -> NDArray[np.bool_]:
    """Return which spans have no pause in them; all of them when hardly any is without."""
    rows = np.lib.stride_tricks.sliding_window_view(gaps, span)
    whole = np.asarray(rows.max(axis=1) < PAUSE * rows.min(axis=1))
    return whole if whole.sum() > 1 else np.ones(len(rows), dtype=bool)


def _calm(x: FloatArray) -> FloatArray:
    """Return the middle of the values around each, so that a single odd place does not show."""
    wide = np.pad(x, CALM // 2, mode="edge")
    return np.asarray(np.median(np.lib.stride_tricks.sliding_window_view(wide, CALM), axis=1))


def _corners(at: FloatArray, bpm: FloatArray, first: int, last: int, near: float) -> set[int]:
    """Return the places where a curve of straight lines must bend to keep within ``near`` of the values."""
    if last - first < 2:
        return set()
    line = np.interp(at[first : last + 1], at[[first, last]], bpm[[first, last]])
    away = np.abs(bpm[first : last + 1] - line)
    worst = first + int(away.argmax())
    if away.max() <= near or worst in (first, last):
        return set()
    return {worst} | _corners(at, bpm, first, worst, near) | _corners(at, bpm, worst, last, near)


def tempo_words(curve: Curve) -> str:
    """Return the curve in words.

    >>> tempo_words(((0.0, 112.0), (200.0, 112.0))), tempo_words(((0.0, 108.0), (200.0, 114.0)))
    ('steady at 112', 'drifts from 108 to 114')
    >>> tempo_words(((0.0, 96.0), (100.0, 96.2), (104.0, 128.0), (200.0, 128.0)))
    'changes at 1:42 from 96 to 128'
    """
    if not curve:
        return "not known"
    values = [bpm for _, bpm in curve]
    low, high = min(values), max(values)
    if high / low - 1 < STEADY:
        return f"steady at {values[0]:.0f}"
    jumps = [
        (0.5 * (a[0] + b[0]), a[1], b[1])
        for a, b in pairwise(curve)
        if b[0] - a[0] < JUMP_S and abs(b[1] / a[1] - 1) > JUMP
    ]
    if jumps:
        at, before, after = max(jumps, key=lambda jump: abs(jump[2] - jump[1]))
        more = "" if len(jumps) == 1 else f", and {len(jumps) - 1} more"
        return f"changes at {int(at // 60)}:{int(at % 60):02d} from {before:.0f} to {after:.0f}{more}"
    first, last = values[0], values[-1]
    if abs(last / first - 1) > 0.5 * (high / low - 1):
        return f"drifts from {first:.0f} to {last:.0f}"
    return f"wanders between {low:.0f} and {high:.0f}"
