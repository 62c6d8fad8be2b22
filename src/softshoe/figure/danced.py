"""A danced motion with what it was made from, and the measures that the checks of truths give.

Lengths in metres, angles in degrees, moments in counts from 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.figure.body import table
from softshoe.figure.motion import JOINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Event
    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray, Motion
    from softshoe.figure.smaller import Smaller

SIDES = ("left", "right")


class Measure(NamedTuple):
    """The worst of one truth in one motion: the truth, the limb, when, how much and what is allowed at most."""

    truth: str
    limb: str
    moment: float
    value: float
    limit: float

    @property
    def broken(self) -> bool:
        """True where the value passes the limit."""
        return self.value > self.limit


@dataclass(frozen=True, slots=True, eq=False)
class Danced:
    """A motion with what it was made from; ``miss_m`` (n, 4) is how far feet and hands miss their places, ``count_s``
    how long a count lasts, ``smaller`` which steps were made smaller for want of time or room."""

    motion: Motion
    events: Sequence[Event]
    body: Body
    miss_m: FloatArray
    count_s: float = 0.5
    smaller: tuple[Smaller, ...] = ()

    def joint(self, name: str) -> FloatArray:
        """Return a joint's points (n, 3)."""
        points: FloatArray = self.motion.frames.points_m[:, JOINT[name], :]
        return points

    def moment(self, frame: int) -> float:
        """Return the moment of a frame."""
        return frame / self.motion.per_count

    def frame(self, moment: float) -> int:
        """Return the frame of a moment."""
        return round(moment * self.motion.per_count)

    @property
    def ground_m(self) -> float:
        """Return how high what the feet stand on is: the floor, or the footplates of a wheelchair."""
        return self.motion.chair.plate_m if self.motion.chair is not None else 0.0

    @property
    def facing(self) -> FloatArray:
        """Return the facing of each frame [rad]."""
        turned: FloatArray = np.radians(self.motion.facing_deg)
        return turned


def most(truth: str, limb: str, danced: Danced, values: FloatArray, limit: float) -> Iterator[Measure]:
    """Yield the worst frame of some values (n,)."""
    if len(values):
        worst = int(np.argmax(values))
        yield Measure(truth, limb, danced.moment(worst), float(values[worst]), limit)


def least(*ids: str) -> float:
    """Return the smallest of the rows of ``ranges`` with these ids: the ceiling for everybody."""
    return min(table("ranges")[one].value for one in ids)
