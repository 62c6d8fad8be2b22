"""A hand-made dancer and a hand-made lesson, so that film and picture are tried without the rooms below them."""

from __future__ import annotations

from fractions import Fraction

import numpy as np

from softshoe.dance.counts import Count
from softshoe.figure.motion import JOINT, JOINTS, Chair, Frames, Motion
from softshoe.teach.lesson import Beat, Caption, Lesson, Passage, View

PER_COUNT = 12
STEP_S = 0.5
BODY = {
    "pelvis": (0.0, 0.52, 0.0), "chest": (0.0, 0.80, 0.0), "neck": (0.0, 1.00, 0.0), "head": (0.02, 1.14, 0.0),
    "crown": (0.02, 1.25, 0.0), "nose": (0.11, 1.11, 0.0),
}  # fmt: skip
SIDE = {
    "shoulder": (0.0, 0.97, 0.19), "elbow": (0.05, 0.72, 0.27), "wrist": (0.24, 0.60, 0.16),
    "fingertip": (0.38, 0.58, 0.13), "thumb": (0.30, 0.62, 0.10), "hip": (0.0, 0.50, 0.09), "knee": (0.42, 0.52, 0.11),
    "ankle": (0.40, 0.09, 0.11), "heel": (0.34, 0.0, 0.11), "toe": (0.57, 0.0, 0.13),
    "ball": (0.51, 0.0, 0.125),
}  # fmt: skip


def seated(*, counts: int = 8, forward_m: float = 0.25) -> Motion:
    """Right heel out and home on counts 1 and 2, left on 3 and 4, and again; the contact falls on the whole count."""
    n = counts * PER_COUNT + 1
    moments = np.arange(n) / PER_COUNT
    points = np.zeros((n, len(JOINTS), 3))
    bearing, active = np.ones((n, 2)), np.zeros((n, 4))
    for name, place in BODY.items():
        points[:, JOINT[name]] = place
    for index, (side, sign) in enumerate((("left", -1), ("right", 1))):
        for name, (x, y, z) in SIDE.items():
            points[:, JOINT[f"{side}_{name}"]] = (x, y, sign * z)
        mine = (moments // 2).astype(int) % 2 == 1 - index
        out = np.where(mine, np.sin(np.pi * (moments % 2) / 2), 0.0)
        for name in ("ankle", "heel", "ball", "toe"):
            points[:, JOINT[f"{side}_{name}"], 0] += forward_m * out
        bearing[:, index], active[:, index] = 1 - out, out > 0.05
    return Motion(
        "seated", float(counts), PER_COUNT, Frames(points, bearing, active), np.zeros(n), Chair(0.42, 0.41, 0.43, 0.44)
    )


def walking(*, counts: int = 8, right_m: float = 1.5) -> Motion:
    """A standing dancer that glides to the right."""
    still = seated(counts=counts, forward_m=0.0)
    points = still.frames.points_m.copy()
    for name, index in JOINT.items():
        if not any(low in name for low in ("ankle", "heel", "ball", "toe")):
            points[:, index, 1] += 0.40
    points[:, :, 2] += np.linspace(0.0, right_m, len(points))[:, None]
    frames = Frames(points, still.frames.bearing, still.frames.active)
    return Motion("standing", float(counts), PER_COUNT, frames, still.facing_deg, None)


def lesson(*, view: View = "mirror", then: View = "behind") -> Lesson:
    """A card, a count-in, eight counts danced, and a card of another view: eight seconds."""
    dance = tuple(Beat(2.0 + k * STEP_S, STEP_S, str(5 + k), next_="Right heel forward") for k in range(4)) + tuple(
        Beat(
            4.0 + k * STEP_S, STEP_S, str(k + 1), "seated", Count(Fraction(k + 1)), 1, 1, 0, "Heel forward", "Together"
        )
        for k in range(8)
    )
    return Lesson(
        title="Kettle",
        length_s=9.0,
        passages=(
            Passage("Chair and floor", 0.0, 2.0, "seated", view, (), ("A chair without wheels, on a level floor.",)),
            Passage("The whole dance", 2.0, 8.0, "seated", view, dance),
            Passage("Rest", 8.0, 9.0, "seated", then, (), ("Sit back and breathe.",)),
        ),
        cues=(),
        captions=(Caption(2.0, 4.0, "Five, six, seven, eight"), Caption(4.0, 6.0, "Right heel forward & together")),
    )
