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
        return {Foot.LEFT: "left", Foot.RIGHT: "right"}.get(self, "both feet")


class Weight(Enum):
    """What bears the dancer; seated it is always the seat."""

    LEFT = "L"
    RIGHT = "R"
    BOTH = "both"
    SEAT = "seat"

    @property
    def other(self) -> Weight:
        """The weight on the other side; both and seat stay."""
        return {Weight.LEFT: Weight.RIGHT, Weight.RIGHT: Weight.LEFT}.get(self, self)

    @property
    def free(self) -> Foot | None:
        """The foot that is free to move, or None when either may."""
        return {Weight.LEFT: Foot.RIGHT, Weight.RIGHT: Foot.LEFT}.get(self)


def weight_on(foot: Foot) -> Weight:
    """Return the weight that bears on this foot."""
    if foot is Foot.BOTH:
        return Weight.BOTH
    return Weight.LEFT if foot is Foot.LEFT else Weight.RIGHT


ONE = (Foot.LEFT, Foot.RIGHT)
