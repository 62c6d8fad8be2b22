"""Where a foot goes, seen by the dancer after the turn of the same action. Values are those of the dance events."""

from __future__ import annotations

from enum import Enum


class Direction(Enum):
    """The sixteen directions of the dance events."""

    FORWARD = "forward"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"
    FORWARD_LEFT = "forward left diagonal"
    FORWARD_RIGHT = "forward right diagonal"
    BACK_LEFT = "back left diagonal"
    BACK_RIGHT = "back right diagonal"
    TOGETHER = "together"
    IN_PLACE = "in place"
    CENTRE = "centre"
    ACROSS_FRONT = "across front"
    ACROSS_BEHIND = "across behind"
    APART = "apart"
    UP = "up"
    DOWN = "down"

    @property
    def mirrored(self) -> Direction:
        """The direction with left and right exchanged."""
        return MIRROR.get(self, self)


MIRROR = {
    Direction.LEFT: Direction.RIGHT,
    Direction.RIGHT: Direction.LEFT,
    Direction.FORWARD_LEFT: Direction.FORWARD_RIGHT,
    Direction.FORWARD_RIGHT: Direction.FORWARD_LEFT,
    Direction.BACK_LEFT: Direction.BACK_RIGHT,
    Direction.BACK_RIGHT: Direction.BACK_LEFT,
}
