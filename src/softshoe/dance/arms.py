"""What arms and hands do: gestures and places of the dance events.

``lasting`` gestures are written on every count they last; the others once, where they are reached.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from softshoe.dance.feet import Foot
    from softshoe.dance.places import Direction

Place = Literal["lap", "thigh", "knee", "hip", "waist", "chest", "shoulder", "head", "overhead", "foot"]
PLACES: tuple[Place, ...] = ("lap", "thigh", "knee", "hip", "waist", "chest", "shoulder", "head", "overhead", "foot")


@dataclass(frozen=True, slots=True)
class Gesture:
    """One row: name, whether it is written on every count it lasts, meaning."""

    name: str
    lasting: bool
    meaning: str


GESTURES = (
    Gesture("clap", False, "palms together, with a sound"),
    Gesture("snap", False, "fingers"),
    Gesture("pat", False, "hand or hands on the body, with a sound"),
    Gesture("drum", True, "hands in turn on the body"),
    Gesture("push", False, "palms away from the body"),
    Gesture("pull", False, "hands back to the body"),
    Gesture("punch", False, "a fist away from the body"),
    Gesture("reach", False, "arm or arms stretched out"),
    Gesture("raise", False, "arm or arms go up"),
    Gesture("lower", False, "arm or arms come down"),
    Gesture("open", False, "arms out wide"),
    Gesture("close", False, "arms in from wide"),
    Gesture("cross", False, "arms crossed on or before the body"),
    Gesture("point", False, "a finger shows"),
    Gesture("rest", False, "hands come to lie somewhere"),
    Gesture("circle", True, "a hand or both draw a circle"),
    Gesture("roll", True, "hands go round each other"),
    Gesture("sweep", True, "arms travel together to a side"),
    Gesture("swing", True, "arms swing as in walking"),
    Gesture("wave", True, "hand or hands move to and fro in the air"),
    Gesture("shake", True, "hand or hands shake loosely"),
    Gesture("rotate", False, "the forearm turns where it is"),
    Gesture("follow", True, "a hand goes along above the moving foot"),
)
GESTURE = {gesture.name: gesture for gesture in GESTURES}


@dataclass(frozen=True, slots=True)
class ArmMove:
    """One hand, or both alike, doing one thing. ``toward`` of a rotate is where the thumb goes; ``span`` the characters
    of the sheet that it was read from (not compared).
    """

    side: Foot
    gesture: str
    place: Place | None = None
    toward: Direction | None = None
    span: tuple[int, int] | None = field(default=None, compare=False, repr=False)

    @property
    def mirrored(self) -> ArmMove:
        """The same with left and right exchanged."""
        return ArmMove(self.side.other, self.gesture, self.place, self.toward and self.toward.mirrored, self.span)
