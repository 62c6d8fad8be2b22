"""What hands do for each gesture, as data: one row a gesture for a handful of solvers, and the places hands go to.

``solver``: "touch" lays the hand on a place of the body; "stretch" sends it out from the shoulder; "meet" brings both
palms together; "near" draws it in; "air" holds it before the body; "turn" turns the forearm where it is; "follow"
keeps it over the foot; "cross" takes it past the middle; "low" lets it come to rest.

Vectors are told for the right hand: forward, up, outward. Lengths in metres of a 1.62 m dancer are scaled by stature.
Design values after ``softshoe.dance.arms`` and the gesture notes of the trade (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from softshoe.figure.pose import Vector

Solver = Literal["touch", "stretch", "meet", "near", "air", "turn", "follow", "cross", "low"]
After = Literal["returns", "stays", "lasts", "rests"]


@dataclass(frozen=True, slots=True)
class ArmRule:
    """One gesture. ``place`` and ``toward`` where the words give none; ``share`` of the arm's length it is stretched.

    ``ready_m`` is how far the hand draws off before a stroke (0: no stroke), ``rebound_m`` how far it comes off again;
    ``hand`` says how it is turned there, ``shape`` how it is held; ``swing`` names the to-and-fro of a lasting gesture
    and ``swing_m`` its size; ``forward_deg``, ``turned_deg``
    move the trunk with hands that go out to a side.
    """

    solver: Solver
    after: After
    place: str | None = None
    toward: Direction | None = None
    share: float = 0.95
    hand: Literal["flat", "push", "fist", "up"] = "flat"
    ready_m: float = 0.0
    rebound_m: float = 0.0
    swing: str | None = None
    swing_m: float = 0.0
    forward_deg: float = 0.0
    turned_deg: float = 0.0
    shape: Literal["soft", "flat", "open", "fist", "point", "thumb"] = "flat"


_D = Direction
ARM_RULES: dict[str, ArmRule] = {
    "clap": ArmRule("meet", "returns", "chest", ready_m=0.1, rebound_m=0.05),
    "snap": ArmRule("air", "returns", "shoulder", hand="up", ready_m=0.06, rebound_m=0.015, shape="fist"),
    "pat": ArmRule("touch", "returns", "thigh", ready_m=0.11),
    "drum": ArmRule("touch", "lasts", "thigh", ready_m=0.1, rebound_m=0.05),
    "push": ArmRule("stretch", "returns", "chest", _D.FORWARD, 0.9, "push", forward_deg=2.0, turned_deg=10.0),
    "pull": ArmRule("near", "returns", "chest", hand="fist", forward_deg=-2.0, shape="fist"),
    "punch": ArmRule("stretch", "returns", "chest", _D.FORWARD, 0.95, "fist", 0.0, 0.1, turned_deg=10.0, shape="fist"),
    "reach": ArmRule("stretch", "stays", "shoulder", _D.FORWARD, 0.985, "flat", forward_deg=3.0, turned_deg=6.0),
    "raise": ArmRule("stretch", "stays", "overhead", _D.UP, 0.97, "flat"),
    "lower": ArmRule("low", "rests", shape="soft"),
    "open": ArmRule("stretch", "stays", "shoulder", _D.APART, 0.96, "flat", shape="open"),
    "close": ArmRule("air", "returns", "chest", shape="soft"),
    "cross": ArmRule("cross", "stays", "chest", turned_deg=0.0, shape="soft"),
    "point": ArmRule("stretch", "returns", "shoulder", _D.FORWARD, 0.97, "flat", turned_deg=6.0, shape="point"),
    "rest": ArmRule("low", "rests", shape="soft"),
    "circle": ArmRule("air", "lasts", "chest", swing="circle", swing_m=0.09, shape="soft"),
    "roll": ArmRule("air", "lasts", "chest", swing="roll", swing_m=0.075, shape="fist"),
    "sweep": ArmRule("stretch", "lasts", "waist", _D.RIGHT, 0.85, "flat", turned_deg=12.0),
    "swing": ArmRule("air", "lasts", "waist", swing="swing", swing_m=0.15, shape="soft"),
    "wave": ArmRule("air", "lasts", "overhead", hand="up", swing="wave", swing_m=0.13, shape="open"),
    "shake": ArmRule("air", "lasts", "shoulder", hand="up", swing="shake", swing_m=0.021, shape="open"),
    "rotate": ArmRule("turn", "stays", "chest", _D.UP, shape="thumb"),
    "follow": ArmRule("follow", "lasts", "foot"),
}


class Held(NamedTuple):
    """How a hand is held somewhere: frame, point, ways of fingers, palm and elbow (see ``pose.HandKey``)."""

    parent: str
    point: Vector
    fingers: Vector
    palm: Vector
    elbow: Vector


DOWN_ELBOW: Vector = (-0.35, -1.0, 0.45)
HIGH_ELBOW: Vector = (0.35, -0.35, 0.8)
LAP_ELBOW: Vector = (-0.2, -0.45, 0.9)  # beside the back of a chair, not in it, also with a knee up
SIDE_ELBOW: Vector = (-0.35, -0.25, 1.0)
HAND_OFF_M = 0.016  # from the palm's middle to the skin it lies on
BODY_PLACES: dict[str, tuple[str, str | None, Vector, Vector, Vector, Vector]] = {
    # place: frame, row of places.csv (None: the point given), point or shift, fingers, palm, elbow
    "lap": ("thigh", None, (0.62, 0.0, -0.01), (0.97, -0.1, -0.22), (0.0, -1.0, 0.0), LAP_ELBOW),
    "thigh": ("thigh", None, (0.66, 0.0, 0.0), (0.97, -0.1, -0.15), (0.0, -1.0, 0.0), LAP_ELBOW),
    "knee": ("thigh", None, (0.9, 0.0, 0.0), (0.95, -0.15, -0.1), (0.0, -1.0, 0.0), LAP_ELBOW),
    "hip": ("trunk", None, (0.045, 0.095, 0.172), (0.8, -0.35, -0.5), (-0.25, 0.0, -1.0), SIDE_ELBOW),
    "waist": ("trunk", None, (0.16, 0.16, 0.1), (0.4, 0.05, -0.9), (-0.95, 0.0, -0.3), SIDE_ELBOW),
    "chest": ("trunk", None, (0.155, 0.36, 0.075), (0.25, 0.3, -0.9), (-1.0, 0.1, -0.2), SIDE_ELBOW),
    "shoulder": ("trunk", None, (0.12, 0.515, 0.2), (-0.45, -0.55, -0.6), (-0.6, -0.4, -0.2), (0.25, -0.8, 0.8)),
    "head": ("trunk", None, (0.06, 0.725, 0.13), (-0.1, 0.9, -0.35), (0.0, 0.0, -1.0), (0.15, -0.7, 0.9)),
    "overhead": ("trunk", "up", (0.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0), HIGH_ELBOW),
}

# before the body: where palms stay without touching it
AIR_PLACES: dict[str, Vector] = {
    "lap": (0.3, 0.22, 0.14),
    "thigh": (0.3, 0.22, 0.14),
    "knee": (0.36, 0.22, 0.15),
    "hip": (0.24, 0.2, 0.25),
    "waist": (0.24, 0.25, 0.15),
    "chest": (0.27, 0.34, 0.09),
    "shoulder": (0.2, 0.5, 0.27),
    "head": (0.27, 0.66, 0.2),
    "overhead": (0.12, 0.87, 0.2),
}
HEIGHTS: dict[str, float] = {  # how much a stretched arm rises (tangent) for a place
    "lap": -1.1,
    "thigh": -1.1,
    "knee": -0.9,
    "hip": -1.0,
    "waist": -0.5,
    "chest": -0.12,
    "shoulder": 0.0,
    "head": 0.45,
    "overhead": 2.2,
}
WAYS: dict[Direction, tuple[float, float, float]] = {  # forward, up, right of the room of the dancer
    _D.FORWARD: (1.0, 0.0, 0.0),
    _D.BACK: (-1.0, -0.3, 0.0),
    _D.RIGHT: (0.22, 0.0, 1.0),
    _D.LEFT: (0.22, 0.0, -1.0),
    _D.FORWARD_RIGHT: (0.75, 0.0, 0.65),
    _D.FORWARD_LEFT: (0.75, 0.0, -0.65),
    _D.BACK_RIGHT: (-0.45, 0.0, 0.9),
    _D.BACK_LEFT: (-0.45, 0.0, -0.9),
    _D.UP: (0.1, 1.0, 0.0),
    _D.DOWN: (0.35, -1.0, 0.0),
}
BESIDE_CHAIR = -0.1  # back and aside on a chair: how far back, beside its back
PAST_CHAIR: tuple[float, float, float] = (-0.28, -0.45, 0.9)  # back on a chair: past the outside of its back
PAST_ELBOW: tuple[float, float, float] = (-0.3, -0.7, 0.8)
# on the walls between lap and side: how far a hand may be drawn back, and how it crosses
CROSSING: tuple[float, float] = (0.8, 0.75)  # least forward share and length of an arm that reaches past the middle
CROSSING_ELBOW: tuple[float, float, float] = (-0.1, 0.0, 1.0)  # level, so that the other arm passes over or under
