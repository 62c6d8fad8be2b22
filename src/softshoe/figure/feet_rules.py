"""What a foot does for each verb, as data: one row a verb, standing and seated, for a handful of solvers.

``solver``: "land" goes to a place; "settle" puts the whole foot down where it is; "swing" turns about heel or ball;
"rise" lifts the heels; "spring" leaves the floor; "spin" turns on the bearing foot; "still" leaves the feet alone.
Angles in degrees, toes up and outward positive; lengths are shares of stature unless said. Design values throughout,
after the meanings of ``softshoe.dance.verbs`` (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from softshoe.figure.body import BALL

if TYPE_CHECKING:
    from softshoe.figure.motion import Stance

Solver = Literal["land", "settle", "swing", "rise", "spring", "spin", "still"]
HEEL, MIDDLE, TOE = 0.0, 0.5, 1.0
LASTING = ("sweep", "drag")  # one movement over all the counts it is written on


@dataclass(frozen=True, slots=True)
class Shape:
    """How the foot stands at the count. ``fixed``: the place in the air (out, forward, up) from under the own hip,
    whatever the direction; None: the place of the direction, times ``reach`` (to a side times ``aside`` too), ``up``
    over the floor.
    ``ahead_deg`` is added to the pitch for a foot a whole place ahead and taken from it behind."""

    spot: float = BALL
    pitch_deg: float = 0.0
    up: float = 0.0
    reach: float = 1.0
    aside: float = 1.0
    out_deg: float = 0.0
    knee_deg: float = 0.0
    ahead_deg: float = 0.0
    firm: float = 1.0
    fixed: tuple[float, float, float] | None = None


FLAT = Shape()


@dataclass(frozen=True, slots=True)
class FootRule:
    """One verb. ``lift`` on the way (0: along the floor), ``late`` how late it comes down; ``after`` the
    follow-through.

    ``forward_deg``, ``side_deg`` (away from the foot) and ``toward_deg`` (to where the foot goes) lean the trunk at the
    count; ``sink`` lowers the pelvis of a standing dancer and brings that of a seated one towards the edge of the seat.
    """

    solver: Solver
    shape: Shape = FLAT
    after: Shape | None = None
    lift: float = 0.038
    late: float = 1.0
    forward_deg: float = 0.0
    side_deg: float = 0.0
    toward_deg: float = 0.0
    sink: float = 0.0


TOUCH = Shape(spot=BALL, pitch_deg=-30.0, ahead_deg=13.0, reach=0.65, firm=0.15)

STANDING: dict[str, FootRule] = {
    "step": FootRule("land"),
    "rock": FootRule("land", Shape(reach=0.85), forward_deg=1.0),
    "recover": FootRule("settle"),
    "sway": FootRule("still", side_deg=-9.0),
    "lunge": FootRule("land", Shape(reach=1.35), sink=0.06, forward_deg=5.0),
    "stomp": FootRule("land", lift=0.1, late=1.5, sink=0.008),
    "drop": FootRule("settle"),
    "grind": FootRule("land", Shape(HEEL, 15.0, reach=0.6, out_deg=-14.0), Shape(HEEL, 15.0, reach=0.6, out_deg=24.0)),
    "pivot": FootRule("settle"),
    "hop": FootRule("spring", lift=0.045),
    "jump": FootRule("spring", lift=0.045),
    "touch": FootRule("land", TOUCH),
    "point": FootRule(
        "land", Shape(TOE, -38.0, reach=0.95, aside=1.4, ahead_deg=6.0, firm=0.1), sink=0.006, side_deg=2.0
    ),
    "heel": FootRule("land", Shape(HEEL, 27.0, reach=0.72, firm=0.15), forward_deg=-2.0, sink=0.004),
    "kick": FootRule("land", Shape(HEEL, 18.0, up=0.125, reach=1.25, aside=1.2, firm=0.0), lift=0.02, forward_deg=-4.0),
    "flick": FootRule("land", Shape(HEEL, -80.0, firm=0.0, fixed=(0.01, -0.21, 0.27)), lift=0.0, forward_deg=5.0),
    "hitch": FootRule("land", Shape(HEEL, -18.0, firm=0.0, fixed=(0.0, 0.06, 0.2)), lift=0.0, forward_deg=-2.0),
    "hook": FootRule(
        "land", Shape(HEEL, -25.0, out_deg=-38.0, knee_deg=42.0, firm=0.0, fixed=(-0.105, 0.1, 0.2)), lift=0.0
    ),
    "scuff": FootRule(
        "land", Shape(HEEL, 22.0, reach=0.4, firm=0.1), Shape(HEEL, 14.0, 0.1, 0.95, firm=0.0), lift=0.02
    ),
    "brush": FootRule(
        "land", Shape(BALL, -12.0, reach=0.4, firm=0.1), Shape(BALL, -8.0, 0.1, 0.95, firm=0.0), lift=0.02
    ),
    "sweep": FootRule("land", Shape(BALL, -22.0, reach=0.8, firm=0.1), lift=0.0),
    "drag": FootRule("land", Shape(BALL, -10.0, firm=0.2), lift=0.0),
    "fan": FootRule("swing", Shape(HEEL, out_deg=38.0)),
    "swivel": FootRule("swing", Shape(BALL, out_deg=28.0)),
    "raise": FootRule("rise", Shape(BALL, -36.0)),
    "lower": FootRule("settle"),
    "bump": FootRule("still", side_deg=9.0, sink=0.006),
    "stomp-up": FootRule("land", lift=0.1, late=1.5, after=Shape(BALL, -14.0, 0.022, firm=0.0)),
    "turn": FootRule("spin", Shape(BALL, -30.0, 0.06, firm=0.0)),
    "unwind": FootRule("settle"),
    "arms": FootRule("still"),
    "hold": FootRule("still"),
}

SEATED: dict[str, FootRule] = STANDING | {
    "step": FootRule("land", lift=0.035),
    "sway": FootRule("still", side_deg=-11.0),
    "bump": FootRule("still", side_deg=-8.0),
    "lunge": FootRule("land", Shape(reach=0.9, aside=1.4), lift=0.03, toward_deg=15.0, forward_deg=5.0, sink=0.05),
    "sweep": FootRule("land", Shape(BALL, -22.0, reach=0.8, firm=0.1), Shape(BALL, reach=0.8), lift=0.0),
    "drag": FootRule("land", Shape(BALL, -10.0, firm=0.2), Shape(BALL), lift=0.0),
    "touch": FootRule("land", Shape(BALL, -24.0, ahead_deg=10.0, firm=0.4), lift=0.03),
    "point": FootRule("land", Shape(TOE, -24.0, reach=1.25, ahead_deg=8.0, firm=0.3), lift=0.025),
    "heel": FootRule("land", Shape(HEEL, 34.0, reach=1.25, firm=0.4), lift=0.03, forward_deg=-2.0),
    "grind": FootRule("land", Shape(HEEL, 26.0, out_deg=-8.0), Shape(HEEL, 26.0, out_deg=16.0), lift=0.03),
    "kick": FootRule("land", Shape(HEEL, 26.0, up=0.07, reach=1.85, firm=0.0), lift=0.015, forward_deg=-5.0),
    "flick": FootRule("land", Shape(BALL, -42.0, firm=0.2, fixed=(0.0, -0.075, 0.0)), lift=0.02),
    "hitch": FootRule("land", Shape(MIDDLE, -10.0, firm=0.0, fixed=(0.0, 0.0, 0.06)), lift=0.0, forward_deg=-3.0),
    "hook": FootRule(
        "land", Shape(HEEL, -6.0, out_deg=-40.0, knee_deg=25.0, firm=0.0, fixed=(-0.1, 0.08, 0.09)), lift=0.02
    ),
    "scuff": FootRule(
        "land", Shape(HEEL, 22.0, reach=0.5, firm=0.2), Shape(HEEL, 28.0, 0.035, 1.3, firm=0.0), lift=0.015
    ),
    "brush": FootRule(
        "land", Shape(BALL, -14.0, reach=0.5, firm=0.2), Shape(BALL, 8.0, 0.035, 1.3, firm=0.0), lift=0.015
    ),
    "stomp": FootRule("land", lift=0.08, late=1.5),
    "stomp-up": FootRule("land", lift=0.06, late=1.7, after=Shape(BALL, -10.0, 0.02, firm=0.0)),
    "hop": FootRule("land", lift=0.03),
    "jump": FootRule("land", lift=0.03),
    "turn": FootRule("land", Shape(BALL, -20.0, firm=0.3), lift=0.02),
    "raise": FootRule("rise", Shape(BALL, -28.0, firm=0.6)),
}


def foot_rule(verb: str, stance: Stance) -> FootRule:
    """Return the row of a verb; KeyError for a verb no table has."""
    return (SEATED if stance == "seated" else STANDING)[verb]
