"""Truths a motion must keep: each check reads joint points only and measures what it stands for.

Nothing here says that a movement suits a person.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.figure.truths_balance import balance, sitting, stepping
from softshoe.figure.truths_bodies import chairs, hold, limbs, thighs
from softshoe.figure.truths_contact import claps, contact, floor, reach, slip, speeds
from softshoe.figure.truths_joints import ankles, bones, elbows, hips, knees, shoulders, trunk, wrists

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from softshoe.figure.danced import Danced, Measure

CHECKS: tuple[Callable[[Danced], Iterator[Measure]], ...] = (
    floor, slip, knees, elbows, hips, ankles, shoulders, wrists, trunk, reach, contact, thighs, claps, balance, bones,
    speeds, chairs, limbs, hold, sitting, stepping,
)  # fmt: skip


def measures(danced: Danced) -> list[Measure]:
    """Return the worst of every truth, in the order of the checks, kept or broken."""
    return [measure for check in CHECKS for measure in check(danced)]


def breaches(danced: Danced) -> list[Measure]:
    """Return everything that breaks a truth, in the order of the checks."""
    return [measure for measure in measures(danced) if measure.broken]
