"""Taps brought to the beat: a hand is early or late by much the same all the way, and so is the press that says “now”.

All taps are moved together, never by so much that another place between two beats would be meant: whoever taps off the
beat keeps it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.songmap import Said

MOST_S, MOST_BEATS, STEP_S = 0.2, 0.22, 0.01
LEAVE = 0.1  # how much plainer the beats must be when the taps are moved as far as may be


def late_s(taps_s: tuple[float, ...], beat: NDArray[np.float64], frames_hz: float) -> float:
    """Return by how much the taps lie behind what sounds like beats; early ones lie behind by less than 0. [s]

    beat : how much sounds like a beat, frame by frame, shape (n,)
    """
    taps = np.array(taps_s)
    usual = float(np.median(np.diff(taps)))
    most = min(MOST_S, MOST_BEATS * usual)
    moves = np.arange(-most, most + STEP_S / 2, STEP_S)
    near = np.interp((taps[None] - moves[:, None]) * frames_hz, np.arange(len(beat)), beat)
    top = float(beat.max()) or 1.0
    return float(moves[(near.mean(axis=1) / top - LEAVE * (moves / most) ** 2).argmax()])


def in_place(said: Said, beat: NDArray[np.float64], frames_hz: float) -> Said:
    """Return what was said, with taps, and ones that were tapped, where the hand meant them."""
    if len(said.taps_s) < 2 or len(beat) == 0:
        return said
    late = late_s(said.taps_s, beat, frames_hz)
    taps = tuple(t - late for t in said.taps_s if t > late)
    ones = tuple(max(0.0, one - late) if one in said.taps_s else one for one in said.ones_s)
    return replace(said, taps_s=taps, ones_s=ones) if len(taps) > 1 else said
