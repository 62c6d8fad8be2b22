"""The four walls of the room by what is seen there, so that a turn can be called “to the windows”.

Facings are degrees clockwise from the front, as dancers who face the front see them.
"""

from __future__ import annotations

from dataclasses import dataclass

from softshoe.errors import SettingError

SIDES = ("front", "right side", "back", "left side")
QUARTER = 90


@dataclass(frozen=True, slots=True)
class Room:
    """What is seen in front, to the right, behind and to the left, each without “the”."""

    front: str = SIDES[0]
    right: str = SIDES[1]
    back: str = SIDES[2]
    left: str = SIDES[3]

    def wall(self, facing_deg: int) -> str:
        """Return what whoever looks that way sees: “the windows”.

        >>> Room().wall(180), Room(right="windows").wall(90)
        ('the back', 'the windows')
        """
        return f"the {(self.front, self.right, self.back, self.left)[facing_deg // QUARTER % 4]}"


def room_of(words: str) -> Room:
    """Return the room of four names parted by commas: front, right, back, left; an empty one keeps its usual name, no
    words at all give the usual room.

    Raises SettingError where there are not four.

    >>> room_of("the mirrors, windows,, door").wall(0), room_of("mirrors, windows,, door").wall(180)
    ('the mirrors', 'the back')
    """
    if not words.strip():
        return Room()
    names = [name.strip().removeprefix("the ") for name in words.split(",")]
    if len(names) != len(SIDES):
        raise SettingError("--room", f"“{words}” names {len(names)} of the four walls",
                           "a room is told by what is seen in front, to the right, behind and to the left",
                           "write four names parted by commas, as in “mirrors, windows, clock, door”")  # fmt: skip
    return Room(*(name or usual for name, usual in zip(names, SIDES, strict=True)))
