"""Motion of a dance: events become keys, keys become tracks, tracks become joint points, all frames at once.

Moments are counts from 0; a contact written at a moment lands on it exactly.
"""

from __future__ import annotations

from math import radians
from typing import TYPE_CHECKING

import numpy as np

from softshoe.errors import FigureError
from softshoe.figure.body import Body
from softshoe.figure.footing import Planner, Timed
from softshoe.figure.handing import resting
from softshoe.figure.limbs import Pose, posed
from softshoe.figure.motion import Frames, Motion
from softshoe.figure.tracks import body_track, foot_track, lead_track, number_track

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Event
    from softshoe.figure.motion import FloatArray, Stance

PER_COUNT = 24


def move(
    events: Sequence[Event],
    *,
    counts: float,
    stance: Stance,
    body: Body | None = None,
    arms: bool = True,
    per_count: int = PER_COUNT,
    start_facing_deg: float = 0.0,
    loop: bool = False,
) -> Motion:
    """Return the motion of events over ``counts`` counts from moment 0.

    events : in order of time; an event at moment 0 has landed at the very start, so its way there lies before it.
    counts : length of the motion, more than 0. With ``loop`` the wall before and the wall after are danced alike, so that
        the pose at ``counts`` is the pose at 0 as seen from the next wall, and small corrections of the steps bring the
        dancer back to her place.
    arms : False leaves the arms at rest.

    Raises FigureError when counts or per_count can't be danced.

    >>> motion = move((), counts=2, stance="seated")
    >>> motion.frames.points_m.shape
    (49, 26, 3)
    """
    if not 0 < counts <= 4096 or per_count < 2:
        raise FigureError("counts", f"{counts:g} counts can't be danced", "a motion has a length", "give counts over 0")
    who = body or Body()
    moments = np.linspace(0.0, counts, round(counts * per_count) + 1)
    timed = [Timed(float(event.action.at.moment), event) for event in events]
    plan = Planner(who, stance, radians(start_facing_deg)).dance(timed)
    feet = (foot_track(plan.feet[0], moments, who), foot_track(plan.feet[1], moments, who))
    pose = Pose(
        stance=stance,
        body=who,
        moments=moments,
        feet=feet,
        facing=number_track(plan.facing, moments),
        weight=number_track(plan.weight, moments),
        trunk=body_track(plan.body, moments),
        hands=([resting(who, stance)], [resting(who, stance)]),
        swings=(),
    )
    points = posed(pose)
    bearing = _bearing(pose)
    frames = Frames(points, bearing, lead_track(plan.leads, moments))
    chair = who.chair if stance == "seated" else None
    return Motion(stance, counts, per_count, frames, np.degrees(pose.facing), chair)


def _bearing(pose: Pose) -> FloatArray:
    """Return (n, 2): standing the shares of weight, seated how firmly each foot is on the floor."""
    firm = np.stack([foot.firm for foot in pose.feet], axis=-1)
    if pose.stance == "seated":
        return firm
    return np.stack([1 - pose.weight, pose.weight], axis=-1)
