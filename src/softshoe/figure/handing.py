"""From events to keys of the hands: the rules of ``arm_rules`` set in time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.figure.pose import EVER, HandKey

if TYPE_CHECKING:
    from softshoe.figure.body import Body
    from softshoe.figure.motion import Stance


def resting(body: Body, stance: Stance, *, start: float = EVER, end: float = EVER) -> HandKey:
    """Return the key of a hand at rest: on the thigh when seated, hanging by the side when standing."""
    if stance == "seated":
        point = (0.62 * body.thigh_m, body.thigh_thick_m + 0.015, 0.0)
        return HandKey(start, end, "thigh", point, (0.98, -0.1, -0.2), (0.0, -1.0, 0.0), (-0.5, -0.4, 0.75))
    point = (0.012 * body.stature_m, -0.97 * (body.arm_m + 0.4 * body.hand_m), 0.045 * body.stature_m)
    return HandKey(start, end, "hang", point, (0.15, -1.0, 0.0), (-0.1, 0.0, -1.0), (-1.0, -0.1, 0.3))
