"""Steps that the figure makes smaller than written, for want of time or of room: told to the author."""

from __future__ import annotations

from math import cos, hypot, sin
from typing import TYPE_CHECKING, Literal, NamedTuple

from softshoe.dance.feet import Foot
from softshoe.errors import Finding
from softshoe.figure.feet_rules import MIDDLE

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Event
    from softshoe.figure.ground import Plan
    from softshoe.figure.pose import FootKey

TOLD = 0.85  # of a way: what is gone of less than this is told; design value
LEAST_M = 0.12  # shorter ways are not compared
NEAR = 1e-3
SAID = {Foot.LEFT: "left", Foot.RIGHT: "right"}
TENTHS = ("nothing", "a tenth", "two tenths", "three tenths", "four tenths", "half", "six tenths", "seven tenths",
          "eight tenths")  # fmt: skip
WHY = {
    "time": "The {foot} foot has no time for all of its way: the figure goes about {part} of it.",
    "room": "The {foot} foot has no room for all of its way: the figure goes about {part} of it.",
}
KIND = {"time": "little-time", "room": "little-room"}
MEND = {
    "time": "Give the step more time or a nearer place, if all of it shall be seen.",
    "room": "Give the step another place, or the other leg time to go first, if all of it shall be seen.",
}


class Smaller(NamedTuple):
    """One step made smaller: when it lands [counts from 0], the foot, the share of its way that is gone, and why."""

    moment: float
    foot: Foot
    part: float
    why: Literal["time", "room"]


def made_smaller(planned: Plan, danced: Plan, *, counts: float, foot_m: float) -> tuple[Smaller, ...]:
    """Return what became smaller, in order of time: as it was planned already for want of time, as it was danced for
    want of room. Both plans have the same keys."""
    found: list[Smaller] = []
    for foot, was, now in zip(SAID, planned.feet, danced.feet, strict=True):
        found += _of_one(foot, was, now, foot_m)
    return tuple(sorted(one for one in found if -NEAR < one.moment < counts - NEAR))


def _of_one(foot: Foot, was: Sequence[FootKey], now: Sequence[FootKey], foot_m: float) -> Iterator[Smaller]:
    for n in range(1, len(was)):
        if was[n].follows:
            continue
        meant, gone = (_way_m(keys[n - 1], keys[n], foot_m) for keys in (was, now))
        if meant > LEAST_M and gone < TOLD * meant:
            yield Smaller(was[n].end, foot, was[n].part * gone / meant, "room")
        elif was[n].part < TOLD:
            yield Smaller(was[n].end, foot, was[n].part, "time")


def _way_m(before: FootKey, key: FootKey, foot_m: float) -> float:
    (ax, az), (bx, bz) = _middle(before, foot_m), _middle(key, foot_m)
    return hypot(bx - ax, bz - az)


def _middle(key: FootKey, foot_m: float) -> tuple[float, float]:
    along = (MIDDLE - key.spot) * foot_m
    return key.point[0] + along * cos(key.yaw), key.point[2] + along * sin(key.yaw)


def findings(smaller: Sequence[Smaller], events: Sequence[Event]) -> tuple[Finding, ...]:
    """Return what became smaller as notes with line and count; what stands at no event of that foot is left out."""
    found = []
    for one in smaller:
        for event in events:
            action = event.action
            if action.foot in (one.foot, Foot.BOTH) and abs(float(action.at.moment) - one.moment) < NEAR:
                said = WHY[one.why].format(foot=SAID[one.foot], part=TENTHS[min(round(10 * one.part), len(TENTHS) - 1)])
                found.append(
                    Finding("note", KIND[one.why], action.line or None, str(action.at.moment), said, MEND[one.why])
                )
                break
    return tuple(found)
