"""Confidence that keeps its word: of things said with 80 %, eight in ten are right.

A listener's own confidence is only in the right order. ``data/listening/calibration.csv`` says, for each listener and
part, how often what was said with so much confidence was right, measured on made songs of seeds apart
(``benchmarks/listening/calibrate.py`` writes it). Between two points the line is straight.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.music.songmap import Alternative, Confidence, Said, SongMap

PARTS = ("beats", "downbeats", "eights", "first_count", "tempo", "metre")
Points = tuple[tuple[float, float], ...]


@cache
def points_of(by: str) -> dict[str, Points]:
    """Return for each part its points (said, right), rising; nothing for a listener that was never measured."""
    found: dict[str, list[tuple[float, float]]] = {}
    for row in table("listening/calibration"):
        if row["listener"] == by:
            found.setdefault(row["part"], []).append((float(row["said"]), float(row["right"])))
    return {part: tuple(sorted(points)) for part, points in found.items()}


def on_line(x: float, points: Points) -> float:
    """Return the height of the line from (0, 0) through points; level after the last; x without points.

    >>> on_line(0.5, ((0.2, 0.2), (0.8, 0.8))), on_line(0.4, ())
    (0.5, 0.4)
    """
    if not points:
        return x
    if x <= points[0][0]:
        return points[0][1] * max(0.0, x) / points[0][0] if points[0][0] > 0 else points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x <= x1:
            return y1 if x1 == x0 else y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


def calibrated(song: SongMap, *, by: str) -> tuple[Confidence, tuple[Alternative, ...]]:
    """Return confidence and alternatives of a listener's map as shares of the time that they are right."""
    points, kept = points_of(by), settled(song.said)
    sure = song.confidence
    one = {
        part: getattr(sure, part) if part in kept else round(on_line(getattr(sure, part), points.get(part, ())), 2)
        for part in PARTS
    }
    phrases = tuple(round(on_line(p, points.get("phrases", ())), 2) for p in sure.phrases)
    if song.said.first_count_s in song.phrases_s:
        phrases = (1.0, *phrases[1:]) if song.phrases_s[0] == song.said.first_count_s else phrases
    now = replace(sure, phrases=phrases, **one)
    others = [_left(other, song, now) for other in song.alternatives]
    return now, tuple(sorted(others, key=lambda other: -other.confidence))


def settled(said: Said) -> frozenset[str]:
    """Return the parts that the listener's word settles."""
    found = set()
    if said.tempo_bpm is not None or len(said.taps_s) > 1:
        found.add("tempo")
    if len(said.taps_s) > 1:
        found.add("beats")
    if said.metre is not None:
        found.add("metre")
    if said.first_count_s is not None:
        found.add("first_count")
    return frozenset(found)


def _left(other: Alternative, song: SongMap, now: Confidence) -> Alternative:
    """Return an alternative, at most as likely as the part it differs in leaves room for."""
    if abs(other.tempo_bpm / song.tempo_bpm - 1) > 0.01:
        room = 1 - now.tempo
    elif other.metre != song.metre:
        room = 1 - now.metre
    else:
        room = 1 - now.first_count
    return replace(other, confidence=round(min(other.confidence, max(0.01, room)), 2))
