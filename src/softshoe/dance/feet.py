"""Feet, and what bears the dancer. Values are the letters of the dance events."""

from __future__ import annotations

from enum import Enum


class Foot(Enum):
    """The foot that moves."""

    LEFT = "L"
    RIGHT = "R"
    BOTH = "both"

    @property
    def other(self) -> Foot:
        """The other foot; both feet have no other."""
        if self is Foot.BOTH:
            return self
        return Foot.RIGHT if self is Foot.LEFT else Foot.LEFT

    @property
    def word(self) -> str:
        """The foot as a word: "left", "right", "both feet"."""
        if self is Foot.BOTH:
            return "both feet"
        return "left" if self is Foot.LEFT else "right"


class Weight(Enum):
    """What bears the dancer; seated it is always the seat."""

    LEFT = "L"
    RIGHT = "R"
    BOTH = "both"
    SEAT = "seat"

    @property
    def other(self) -> Weight:
        """The weight on the other side; both and seat stay."""
        if self is Weight.LEFT:
            return Weight.RIGHT
        return Weight.LEFT if self is Weight.RIGHT else self

    @property
    def free(self) -> Foot | None:
        """The foot that is free to move, or None when either may."""
        if self is Weight.LEFT:
            return Foot.RIGHT
        return Foot.LEFT if self is Weight.RIGHT else None


def weight_on(foot: Foot) -> Weight:
    """Return the weight that bears on this foot."""
    if foot is Foot.BOTH:
        return Weight.BOTH
    return Weight.LEFT if foot is Foot.LEFT else Weight.RIGHT


ONE = (Foot.LEFT, Foot.RIGHT)
