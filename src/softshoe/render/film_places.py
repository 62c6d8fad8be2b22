"""Where dancers stand who are filmed side by side: in one row, or those who stand behind and between those who sit.

Every dancer has as much room as her own arms, feet and chair really take, next to what her neighbour takes at the same
moment; all are drawn in one scale. Lengths are metres as they are seen from the front, true at the dancer's middle.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from softshoe.figure.motion import JOINT
from softshoe.figure.supports import bars

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.figure.motion import FloatArray, Motion
    from softshoe.render.picture_camera import Box, Rig

HAND_M, APART_M, HAIR_M = 0.09, 0.10, 0.16  # beyond the joints; between two dancers; over the crown
RISE_M = 0.86  # how far behind, on the picture higher, the second row stands: over the arms of those who sit
LOW = ("hip", "knee", "ankle", "heel", "toe", "ball")


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """How far one reaches to the left and the right of her middle at every sample, and so her legs alone (with what
    she holds); how high and how low she reaches at most."""

    left: FloatArray
    right: FloatArray
    legs: float
    high: float
    low: float


def reach_of(motion: Motion, rig: Rig) -> Reach:
    """Measure a motion on its picture, where what is nearer is larger."""
    left, right, high, low, legs = [], [], [], [], 0.0
    ends = [end for bar in bars(motion.chair) for end in (bar.start, bar.end)] if motion.chair is not None else []
    joints = [JOINT[f"{side}_{name}"] for side in ("left", "right") for name in LOW]
    for k, points in enumerate(motion.frames.points_m):
        camera = replace(rig.at(k / motion.per_count), scale=1.0, centre_x=0.0, floor_y=0.0)
        held = np.array(ends).reshape(-1, 3)
        spots = camera.project(np.concatenate([points, points[[JOINT["crown"]]] + [0.0, HAIR_M, 0.0], held]))
        left.append(-float(spots[:, 0].min()) + HAND_M)
        right.append(float(spots[:, 0].max()) + HAND_M)
        high.append(-float(spots[:, 1].min()))
        low.append(float(spots[:, 1].max()) + HAND_M / 2)
        below = np.abs(np.concatenate([spots[joints, 0], spots[len(points) + 1 :, 0]]))
        legs = max(legs, float(below.max()) + HAND_M)
    return Reach(np.array(left), np.array(right), legs, max(high), max(low))


@dataclass(frozen=True, slots=True)
class Places:
    """One scale [px a metre], and for each dancer where her middle stands on the page: x, and y of the floor there."""

    scale: float
    at: tuple[tuple[float, float], ...]


def places(reaches: Sequence[Reach], seated: Sequence[bool], box: Box, *, largest: float) -> Places:
    """Return the places in a box of the page: two rows where that draws them larger, else one."""
    one = _one_row(reaches, box, largest)
    front = [k for k, sits in enumerate(seated) if sits]
    back = [k for k, sits in enumerate(seated) if not sits]
    if not back or len(back) >= len(front):
        return one
    two = _two_rows(reaches, front, back, box, largest)
    return two if two.scale > one.scale else one


def _apart(one: Reach, other: Reach, between: float = 0.0) -> float:
    """How far two middles must be apart so that nothing meets at any moment they share."""
    shared = min(len(one.right), len(other.left))
    return float((one.right[:shared] + other.left[:shared]).max()) + APART_M + between


def _row(reaches: Sequence[Reach], gaps: list[float]) -> tuple[list[float], float]:
    """Middles from the row's left end, and its whole length [m]."""
    start = float(reaches[0].left.max())
    middles = [start + sum(gaps[:k]) for k in range(len(reaches))]
    return middles, middles[-1] + float(reaches[-1].right.max())


def _one_row(reaches: Sequence[Reach], box: Box, largest: float) -> Places:
    left, top, right, bottom = box
    gaps = [_apart(a, b) for a, b in pairwise(reaches)]
    middles, long = _row(reaches, gaps)
    high, low = max(r.high for r in reaches), max(r.low for r in reaches)
    scale = min((right - left) / long, (bottom - top) / (high + low), largest)
    start = (left + right - long * scale) / 2
    return Places(scale, tuple((start + scale * x, bottom - low * scale) for x in middles))


def _two_rows(reaches: Sequence[Reach], front: list[int], back: list[int], box: Box, largest: float) -> Places:
    """Those in ``back`` stand in the gaps of those in ``front``, from the left."""
    left, top, right, bottom = box
    sit, stand = [reaches[k] for k in front], [reaches[k] for k in back]
    gaps = [_apart(a, b) for a, b in pairwise(sit)]
    gaps = [max(gap, _apart(sit[k], sit[k + 1], 2 * stand[k].legs)) if k < len(stand) else gap
            for k, gap in enumerate(gaps)]  # fmt: skip
    for k in range(len(stand) - 1):  # the middles of two who stand lie half a gap and half the next one apart
        short = _apart(stand[k], stand[k + 1]) - (gaps[k] + gaps[k + 1]) / 2
        gaps[k], gaps[k + 1] = gaps[k] + max(short, 0.0), gaps[k + 1] + max(short, 0.0)
    middles, long = _row(sit, gaps)
    between = [middles[k] + (float(sit[k].right.max()) - float(sit[k + 1].left.max()) + gaps[k]) / 2
               for k in range(len(stand))]  # fmt: skip
    low = max(r.low for r in sit)
    high = max(*(r.high for r in sit), *(r.high + RISE_M for r in stand))
    scale = min((right - left) / long, (bottom - top) / (high + low), largest)
    start, floor = (left + right - long * scale) / 2, bottom - low * scale
    at = {k: (start + scale * x, floor) for k, x in zip(front, middles, strict=True)}
    at |= {k: (start + scale * x, floor - RISE_M * scale) for k, x in zip(back, between, strict=True)}
    return Places(scale, tuple(at[k] for k in sorted(at)))
