"""Truths of contact and time: the floor, planted feet, places, moments, claps, speeds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.dance.feet import Foot
from softshoe.figure.danced import SIDES, Measure, most
from softshoe.figure.feet_rules import LASTING, foot_rule
from softshoe.figure.skeleton import UP

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.action import Event
    from softshoe.figure.danced import Danced
    from softshoe.figure.motion import FloatArray

SLIP_M = 0.002  # in one frame
FLOOR_M = 0.001
MISS_M = 0.012
ON_FLOOR_M = 0.004
ON_TIME_M = 0.006
PALMS_M = 0.045
SPEED_M_S = (
    6.0  # a swinging foot at 1.24 m/s of walking (Kasovic 2021), swing 0.4 of a stride (memory), minimum-jerk: 5.8
)
HAND_SPEED_M_S = 7.0  # design value: no source gives one
GAIN_M_S2 = 220.0  # design value: no source gives one


def floor(danced: Danced) -> Iterator[Measure]:
    """No foot goes under the floor."""
    for side in SIDES:
        low = np.minimum(danced.joint(f"{side}_heel")[:, 1], danced.joint(f"{side}_toe")[:, 1]) - danced.ground_m
        yield from most("floor", f"{side} foot", danced, -low, FLOOR_M)


def slip(danced: Danced) -> Iterator[Measure]:
    """A foot that bears keeps a point of its sole where it is."""
    for index, side in enumerate(SIDES):
        spots = [danced.joint(f"{side}_heel"), danced.joint(f"{side}_toe"), danced.joint(f"{side}_ball")]
        moved = [
            np.linalg.norm(np.diff(s[:, [0, 2]], axis=0), axis=1) + 9.0 * (s[1:, 1] - danced.ground_m > ON_FLOOR_M)
            for s in spots
        ]
        bears = danced.motion.frames.bearing[:, index] > 0.97
        still = np.minimum.reduce(moved) * (bears[1:] & bears[:-1])
        yield from most("slip", f"{side} foot", danced, np.append(still, 0.0), SLIP_M)


def reach(danced: Danced) -> Iterator[Measure]:
    """Feet are always where they were sent; hands at the moments of the dance."""
    moments = {danced.frame(float(event.action.at.moment)) for event in danced.events}
    set_ = np.isin(np.arange(len(danced.miss_m)), list(moments))
    for index, limb in enumerate(("left foot", "right foot", "left hand", "right hand")):
        miss = danced.miss_m[:, index] * (set_ if "hand" in limb else 1.0)
        yield from most("reach", limb, danced, miss, MISS_M)


def contact(danced: Danced) -> Iterator[Measure]:
    """A foot set on the floor is there at its moment, and stays a little."""
    for side, foot in (("left", Foot.LEFT), ("right", Foot.RIGHT)):
        spots = np.stack([danced.joint(f"{side}_{part}") for part in ("heel", "ball", "toe")])
        spots = spots - danced.ground_m * UP
        for event in danced.events:
            moment = float(event.action.at.moment)
            if event.action.foot is not foot or not 0 <= moment < danced.motion.counts or not _lands(event, danced):
                continue
            frame = danced.frame(moment)
            yield Measure("contact", f"{side} foot", moment, float(spots[:, frame, 1].min()), ON_TIME_M)
            if foot_rule(event.action.verb, danced.motion.stance).after is None:
                after = min(frame + 1, spots.shape[1] - 1)
                moved = float(np.linalg.norm(spots[:, after] - spots[:, frame], axis=-1).min())
                yield Measure("contact", f"{side} foot", moment, moved, ON_TIME_M)


def _lands(event: Event, danced: Danced) -> bool:
    """Tell whether a foot comes to the floor at the moment of its event."""
    rule = foot_rule(event.action.verb, danced.motion.stance)
    floor_verb = rule.solver == "land" and rule.shape.fixed is None and not rule.shape.up
    return floor_verb and not _goes_on(event, danced.events)


def _goes_on(event: Event, events: Sequence[Event]) -> bool:
    """Tell whether a drag or a sweep is still under way: the same foot does the same within the next count."""
    action = event.action
    return action.verb in LASTING and any(
        later.action.verb == action.verb
        and later.action.foot is action.foot
        and 0 < later.action.at.moment - action.at.moment <= 1
        for later in events
    )


def claps(danced: Danced) -> Iterator[Measure]:
    """Palms meet in a clap at its moment, and not before."""
    apart = np.linalg.norm(_palm(danced, "left") - _palm(danced, "right"), axis=1)
    for event in danced.events:
        moment = float(event.action.at.moment)
        if 0.3 < moment <= danced.motion.counts and any(a.gesture == "clap" for a in event.action.arms):
            yield Measure("clap", "hands", moment, float(apart[danced.frame(moment)]), PALMS_M)
            before = float(apart[danced.frame(moment - 0.25)])
            yield Measure("clap gap", "hands", moment - 0.25, -before, -2 * PALMS_M)


def _palm(danced: Danced, side: str) -> FloatArray:
    wrist, tip = danced.joint(f"{side}_wrist"), danced.joint(f"{side}_fingertip")
    middle: FloatArray = wrist + 0.45 * (tip - wrist)
    return middle


def speeds(danced: Danced) -> Iterator[Measure]:
    """Feet and hands go no faster, and gather speed no quicker, than a brisk walker's foot."""
    rate = danced.motion.per_count / danced.count_s
    for side in SIDES:
        for joint, fastest in (("ankle", SPEED_M_S), ("wrist", HAND_SPEED_M_S)):
            gone = np.diff(danced.joint(f"{side}_{joint}"), axis=0)
            speed = np.linalg.norm(gone, axis=1) * rate
            gained = np.linalg.norm(np.diff(gone, axis=0), axis=1) * rate**2
            yield from most("speed", f"{side} {joint}", danced, speed, fastest)
            yield from most("acceleration", f"{side} {joint}", danced, gained, GAIN_M_S2)
