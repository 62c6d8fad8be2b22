"""Parts of hands: rows of ``data/look/hands.csv``, and those of a hand on its way from one shape to another."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.figure.motion import HAND_SHAPES
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.figure.motion import HandShape

BEFORE, PALM, AFTER = ("thumb", "finger"), ("palm", "fingers"), ("line", "over")  # as they lie over each other
THUMBS = ("thumb", "over")  # the same thumb, beside the hand or across it
LINES_FROM = 0.85  # lines between fingers are seen when a hand has come so far
KNUCKLES, IN_PALM = 0.55, 0.7  # how far along the hand fingers that are not seen end, how far aside; design values


class Part(NamedTuple):
    """One part: what it is, its ends along and across [hand lengths], its radii there [m]."""

    part: str
    start: tuple[float, float]
    r0_m: float
    end: tuple[float, float]
    r1_m: float

    @property
    def gone(self) -> Part:
        """The same part drawn into the palm, where nobody sees it."""
        place = min(self.start[0], KNUCKLES), IN_PALM * self.start[1]
        return self._replace(start=place, end=place, r1_m=self.r0_m)


@cache
def parts() -> dict[str, tuple[Part, ...]]:
    """Return the parts of every shape, the first drawn first."""
    made: dict[str, list[Part]] = {shape: [] for shape in HAND_SHAPES}
    for row in table("look/hands"):
        along, across, r0, to_along, to_across, r1 = (
            float(row[key]) for key in ("along", "across", "r_m", "to_along", "to_across", "to_r_m")
        )
        made[row["shape"]].append(Part(row["part"], (along, across), r0, (to_along, to_across), r1))
    return {shape: tuple(found) for shape, found in made.items()}


@lru_cache(maxsize=512)
def hand_parts(shape: HandShape) -> tuple[Part, ...]:
    """Return the parts of a hand, also of one on its way: what both shapes have moves, what one has alone grows out of
    the palm or goes into it."""
    came, goes = parts()[shape.before], parts()[shape.now]
    if shape.before == shape.now:
        return goes
    pairs = [*_paired(came, goes, THUMBS), *_paired(came, goes, ("palm",)), *_paired(came, goes, ("fingers",))]
    pairs += _paired(came, goes, ("finger",))
    made = [_between(a, b, shape.gone) for a, b in pairs]
    lines = goes if shape.gone > LINES_FROM else came if shape.gone < 1 - LINES_FROM else ()
    return (*made, *(part for part in lines if part.part == "line"))


def _paired(came: Sequence[Part], goes: Sequence[Part], kinds: Sequence[str]) -> list[tuple[Part, Part]]:
    """Return parts of these kinds in pairs, the nearest across the hand together."""
    ours, theirs = ([part for part in some if part.part in kinds] for some in (came, goes))
    found = []
    for one in sorted(ours, key=lambda part: -part.start[1]):
        other = min(theirs, key=lambda part: abs(part.start[1] - one.start[1]), default=None)
        if other is not None:
            theirs.remove(other)
        found.append((one, other or one.gone))
    return [*found, *((one.gone, one) for one in theirs)]


def _between(came: Part, goes: Part, gone: float) -> Part:
    def mixed(a: float, b: float) -> float:
        return a + (b - a) * gone

    start = mixed(came.start[0], goes.start[0]), mixed(came.start[1], goes.start[1])
    end = mixed(came.end[0], goes.end[0]), mixed(came.end[1], goes.end[1])
    name = goes.part if gone >= 0.5 else came.part
    return Part(name, start, mixed(came.r0_m, goes.r0_m), end, mixed(came.r1_m, goes.r1_m))
