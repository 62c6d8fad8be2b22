"""Hands sampled once a motion, told in the frames of what they lie on; and brought into the room for frames that moved.

Where both keys of a moment are told in one frame, all but the turning past a third direction is done before that frame
is known.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.figure.minjerk import bump, share
from softshoe.figure.motion import HAND_SHAPES
from softshoe.figure.reach import dot, unit
from softshoe.figure.skeleton import column, placed
from softshoe.figure.tracks import spans

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from numpy.typing import NDArray

    from softshoe.figure.motion import FloatArray
    from softshoe.figure.pose import HandKey

    Frame = tuple[FloatArray, FloatArray]
    Rows = NDArray[np.bool_]

PARENTS = ("trunk", "shoulder", "hang", "thigh", "other thigh", "foot", "support")
WAYS = ("fingers", "palm", "elbow")
PAST = {"fingers": (1.0, 0.1, 0.3), "palm": (0.2, -0.4, -1.0), "elbow": (-0.4, -0.9, 0.6)}  # right hand; design values
ROUND_FROM = 0.3  # directions whose cosine is less turn past a third one; design value


class Way(NamedTuple):
    """A direction between two keys (n, 3): where it comes from and goes to, each in its own frame."""

    begin: FloatArray
    end: FloatArray


class Hand(NamedTuple):
    """Palm points and the ways of fingers, palm and elbow (n, 3) in the room."""

    point: FloatArray
    fingers: FloatArray
    palm: FloatArray
    elbow: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class HandTrack:
    """One hand at n moments: the frames (n,) it comes from and goes to, as indexes of ``PARENTS``; its point and three
    ways (n, 3) in these frames; the share of the way gone (n,); what rounds the way, in the trunk's frame (n, 3)."""

    last: NDArray[np.intp]
    now: NDArray[np.intp]
    way: FloatArray
    bulge: FloatArray
    point: Way
    fingers: Way
    palm: Way
    elbow: Way

    def rows(self, rows: Rows) -> HandTrack:
        """Return these moments alone."""
        point, *ways = (
            Way(one.begin[rows], one.end[rows]) for one in (self.point, self.fingers, self.palm, self.elbow)
        )
        return HandTrack(self.last[rows], self.now[rows], self.way[rows], self.bulge[rows], point, *ways)

    def on(self, parent: str) -> Rows:
        """Tell (n,) where the hand is told in this frame."""
        one = PARENTS.index(parent)
        rows: Rows = (self.last == one) | (self.now == one)
        return rows

    def share_of(self, parent: str) -> FloatArray:
        """Return how much (n,) the hand is in this frame, 0 to 1."""
        one = PARENTS.index(parent)
        shares: FloatArray = (self.last == one) * (1 - self.way) + (self.now == one) * self.way
        return shares


def hand_shapes(hands: Sequence[Sequence[HandKey]], moments: FloatArray) -> FloatArray:
    """Return (n, hands, 3): the shapes a hand comes from and goes to, as indexes of ``HAND_SHAPES``, and the share of
    its way; fingers open and close while the hand goes."""
    made = []
    for keys in hands:
        index, time = spans([k.start for k in keys], [k.end for k in keys], moments)
        shapes = np.array([float(HAND_SHAPES.index(k.shape)) for k in keys])
        made.append(np.stack([shapes[np.maximum(index - 1, 0)], shapes[index], share(time)], axis=-1))
    return np.stack(made, axis=1)


def hand_track(keys: Sequence[HandKey], moments: FloatArray, *, side: float) -> HandTrack:
    """Return one hand at all moments; ``side`` is 1 for the right hand, -1 mirrors."""
    index, time = spans([k.start for k in keys], [k.end for k in keys], moments)
    last = np.maximum(index - 1, 0)
    parent = np.array([PARENTS.index(k.parent) for k in keys])
    mirror = np.array([1.0, 1.0, side])

    def both(name: str, length: Callable[[FloatArray], FloatArray]) -> Way:
        values = length(np.array([getattr(k, name) for k in keys]) * mirror)
        return Way(values[last], values[index])

    bulge = (np.array([k.bulge for k in keys]) * mirror)[index] * column(bump(time))
    ways = (both(name, unit) for name in WAYS)
    return HandTrack(parent[last], parent[index], share(time), bulge, both("point", np.asarray), *ways)


def in_room(track: HandTrack, frames: Mapping[str, Frame], *, side: float) -> Hand:
    """Return the hand in the room. ``frames`` are origins (n, 3) and axes (n, 3, 3) by the name of the parent."""
    trunk = frames["trunk"][1]
    first, then = _chosen(track.last, frames), _chosen(track.now, frames)
    way = column(track.way)
    begin, end = placed(*first, track.point.begin), placed(*then, track.point.end)
    point = begin + (end - begin) * way + placed(np.zeros(3), trunk, track.bulge)
    turned = []
    for name in WAYS:
        begin, end = (placed(np.zeros(3), f[1], w) for f, w in zip((first, then), getattr(track, name), strict=True))
        turned.append(_turning(begin, end, way, trunk, np.array(PAST[name]) * np.array([1.0, 1.0, side])))
    return Hand(point, *turned)


def _chosen(parent: NDArray[np.intp], frames: Mapping[str, Frame]) -> Frame:
    """Return the origins and axes of the frame that each moment has."""
    used = np.unique(parent)
    origin, axes = frames[PARENTS[used[0]]]
    if len(used) == 1:
        return origin, axes
    origin, axes = origin.copy(), axes.copy()
    for one in used[1:].tolist():
        rows = parent == one
        origin[rows], axes[rows] = frames[PARENTS[one]][0][rows], frames[PARENTS[one]][1][rows]
    return origin, axes


def _turning(begin: FloatArray, end: FloatArray, way: FloatArray, trunk: FloatArray, past: FloatArray) -> FloatArray:
    """Return the directions (n, 3) between two of length one; what turns right round goes past a third one, told in the
    trunk's frame, never through nothing."""
    turned: FloatArray = begin + (end - begin) * way
    round_ = (ROUND_FROM - dot(begin, end)) / (1 + ROUND_FROM)
    rows = np.flatnonzero((round_[:, 0] > 0) & (way[:, 0] > 0) & (way[:, 0] < 1))
    if len(rows):
        third = placed(np.zeros(3), trunk[rows], np.broadcast_to(past, (len(rows), 3)))
        along = unit(end[rows] - begin[rows])
        aside = third - dot(third, along) * along
        turned[rows] += aside * np.minimum(round_[rows], 1.0) * 4 * way[rows] * (1 - way[rows])
    return turned
