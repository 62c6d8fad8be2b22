"""The body: lengths and masses of one dancer from her stature, and the chair that fits her.

Lengths are shares of stature (Drillis & Contini 1966, as reprinted in Winter 2009; the rows are in ``data/body``).
Where we differ: their hip width 0.191 is the drawing width of the pelvis, so hip joints stand 0.105 of stature apart
(memory); their shoulder width 0.259 is the width of the drawing too, so shoulder joints stand a biacromial breadth
apart (ANSUR II). Masses and centres of mass are de Leva 1996, with the endpoints this skeleton uses.
Metres; the sole of the shoe is under the foot, so a dancer stands taller than her stature by it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from typing import Literal

from softshoe import tables
from softshoe.errors import FigureError
from softshoe.figure.motion import Chair

Sex = Literal["female", "male", "neutral"]
HIP_JOINTS = 0.105  # of stature, between hip joint centres; memory
SHOE_M = 0.025  # common practice for older-adult seating
BALL, ANKLE = 0.72, 0.25  # along the sole from the heel, shares of foot length; memory
STATURES_M = (1.2, 2.1)


@dataclass(frozen=True, slots=True)
class Row:
    """One sourced number of ``data/body``: value in its unit, where it comes from and how sure it is."""

    value: float
    unit: str
    source: str
    confidence: str


@cache
def table(name: str) -> dict[str, Row]:
    """Return a table of ``data/body`` ("segments", "ranges") by id."""
    return {
        row["id"]: Row(
            float(row.get("value") or row.get("value_deg") or "nan"),
            row.get("unit") or "deg",
            row["source"],
            row["confidence"],
        )
        for row in tables.table(f"body/{name}")
    }


def _value(key: str) -> float:
    return table("segments")[key].value


def _of_sex(pattern: str, sex: Sex) -> float:
    """Return a row of that sex; neutral is the mean of both. ``{}`` in the pattern is "f" or "m"."""
    letters = {"female": "f", "male": "m"}.get(sex, "fm")
    return sum(_value(pattern.format(letter)) for letter in letters) / len(letters)


@dataclass(frozen=True, slots=True)
class Part:
    """One segment: its name, its end joints (first, last), share of body mass, share of its length to its centre."""

    name: str
    first: str
    last: str
    mass: float
    centre: float


@dataclass(frozen=True)
class Body:
    """One dancer: stature without shoes [m], and the sex whose means are used ("neutral": the mean of both).
    Lengths are worked out once a dancer.

    >>> round(Body(stature_m=1.80).foot_m, 4)
    0.2736
    """

    stature_m: float = 1.62
    sex: Sex = "neutral"
    shoe_m: float = SHOE_M

    def __post_init__(self) -> None:
        low, high = STATURES_M
        if not low <= self.stature_m <= high:
            raise FigureError(
                "stature",
                f"{self.stature_m:g} m can't be drawn",
                f"the figure knows people from {low:g} to {high:g} m",
                "give the stature in metres, such as 1.62",
            )

    def of(self, key: str) -> float:
        """Return a length that a row gives as a share of stature [m]."""
        return _value(key) * self.stature_m

    @cached_property
    def thigh_m(self) -> float:
        """Hip joint to knee joint."""
        return self.of("dc_thigh")

    @cached_property
    def shank_m(self) -> float:
        """Knee joint to ankle joint."""
        return self.of("dc_shank")

    @cached_property
    def leg_m(self) -> float:
        """Hip joint to ankle joint, straight."""
        return self.thigh_m + self.shank_m

    @cached_property
    def ankle_m(self) -> float:
        """Height of the ankle joint over the floor, in shoes."""
        return self.of("dc_ankle_h") + self.shoe_m

    @cached_property
    def foot_m(self) -> float:
        """Heel to toe."""
        return self.of("dc_foot_l")

    @cached_property
    def foot_width_m(self) -> float:
        """Width of the foot at its widest."""
        return self.of("dc_foot_w")

    @cached_property
    def trunk_m(self) -> float:
        """Hip line to shoulder line."""
        return self.of("dc_torso")

    @cached_property
    def upper_arm_m(self) -> float:
        """Shoulder joint to elbow joint."""
        return self.of("dc_upper_arm")

    @cached_property
    def forearm_m(self) -> float:
        """Elbow joint to wrist joint."""
        return self.of("dc_forearm")

    @cached_property
    def hand_m(self) -> float:
        """Wrist joint to fingertip."""
        return self.of("dc_hand")

    @cached_property
    def arm_m(self) -> float:
        """Shoulder joint to wrist joint, straight."""
        return self.upper_arm_m + self.forearm_m

    @cached_property
    def half_shoulders_m(self) -> float:
        """From the midline to a shoulder joint."""
        return _of_sex("ansur2_{}_biacromialbreadth_ratio", self.sex) * self.stature_m / 2

    @cached_property
    def half_hips_m(self) -> float:
        """From the midline to a hip joint."""
        return HIP_JOINTS * self.stature_m / 2

    @cached_property
    def thigh_thick_m(self) -> float:
        """From the line of the thigh bone to the skin on top, where a hand lies."""
        return _of_sex("ansur2_{}_thighclearance_ratio", self.sex) * self.stature_m / 2

    @cached_property
    def popliteal_m(self) -> float:
        """Floor to the back of the knee, seated, without shoes."""
        return _of_sex("ansur2_{}_poplitealheight_ratio", self.sex) * self.stature_m

    @cached_property
    def knee_height_m(self) -> float:
        """Floor to the knee joint with the shank upright, in shoes."""
        return self.ankle_m + self.shank_m

    @cached_property
    def chair(self) -> Chair:
        """The chair that fits: seat as high as the back of the knee in shoes, a little shorter than the thigh."""
        depth = _of_sex("ansur2_{}_buttockpopliteallength_ratio", self.sex) * self.stature_m - 0.06
        width = _of_sex("ansur2_{}_hipbreadthsitting_ratio", self.sex) * self.stature_m + 0.06
        return Chair(seat_m=self.popliteal_m + self.shoe_m, depth_m=depth, width_m=width, back_m=0.27 * self.stature_m)

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """The segments with mass (de Leva 1996); limbs both sides. Joints as in ``motion.JOINTS``, "shoulders" and
        "hips" are the middles of both."""
        middle = (
            Part("head", "crown", "neck", self._mass("head"), _of_sex("dl_{}_head_2_com", self.sex)),
            Part("trunk", "shoulders", "hips", self._mass("trunk"), _of_sex("dl_{}_trunk_3_com", self.sex)),
        )
        limbs = (
            ("upper_arm", "shoulder", "elbow", "upper_arm_com"),
            ("forearm", "elbow", "wrist", "forearm_com"),
            ("hand", "wrist", "fingertip", "hand_2_com"),
            ("thigh", "hip", "knee", "thigh_com"),
            ("shank", "knee", "ankle", "shank_com"),
            ("foot", "heel", "toe", "foot_com"),
        )
        return middle + tuple(
            Part(f"{side}_{name}", f"{side}_{a}", f"{side}_{b}", self._mass(name), _of_sex("dl_{}_" + com, self.sex))
            for side in ("left", "right")
            for name, a, b, com in limbs
        )

    def _mass(self, name: str) -> float:
        return _of_sex("dl_{}_" + name + "_mass", self.sex)


def seat_gap_m(body: Body, seat_m: float) -> float:
    """Return how far the feet hang over the floor on a seat of this height [m]; 0 or less: they reach it.

    The fitted seat is the popliteal height plus the sole (ANSUR II ratio).
    """
    return seat_m - (body.popliteal_m + body.shoe_m)
