"""How a dancer stands: what bears her, what she did last; and which of it was asked for before she had set it herself.

A section that is danced alone is given nothing else of what came before, so what it asked for is all that it rests on.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Generic, TypeVar

from softshoe.dance.feet import Foot, Weight

if TYPE_CHECKING:
    from collections.abc import Hashable

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

T = TypeVar("T")
EARLIER = -1  # the line of an action that was danced on another line than those of the section


class Watched(Generic[T]):
    """One thing about how she stands; to ask for it before it was set is noted."""

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    def __get__(self, dancer: Stance, owner: type | None = None) -> T:
        if self.name not in dancer.own:
            dancer.asked.add(self.name)
        value: T = dancer.stands[self.name]  # type: ignore[assignment]
        return value

    def __set__(self, dancer: Stance, value: T) -> None:
        dancer.own.add(self.name)
        dancer.stands[self.name] = value


class Stance:
    """What a dancer knows of herself. ``asked`` are the names of what was asked for before it was set, ``own`` of what
    was set.
    """

    weight = Watched[Weight]()
    last = Watched["Action | None"]()
    last_left = Watched["Action | None"]()
    last_right = Watched["Action | None"]()
    lead = Watched[str]()
    apart = Watched[bool]()
    started = Watched[bool]()
    stated = Watched[bool]()  # the sheet says which foot bears her at first
    foot_first = Watched[bool]()  # it names the foot before its way, so that "step right" lacks its direction
    spoken = Watched[bool]()  # it is a walkthrough

    def __init__(
        self, weight: Weight, *, started: bool = False, stated: bool = False, foot_first: bool = False,
        spoken: bool = False,
    ) -> None:  # fmt: skip
        self.asked: set[str] = set()
        self.own: set[str] = set()
        self.stands: dict[str, object] = {
            "weight": weight, "last": None, "last_left": None, "last_right": None, "lead": "R", "apart": False,
            "started": started, "stated": stated, "foot_first": foot_first, "spoken": spoken,
        }  # fmt: skip
        self.turns_deg = 0
        self.did: dict[tuple[Foot, str], ArmMove] = {}  # what hands did last in this section, by gesture

    @property
    def turned_deg(self) -> int:
        """How far she has turned since she began; to ask for it is noted."""
        self.asked.add("turned_deg")
        return self.turns_deg

    def last_of(self, foot: Foot | None) -> Action | None:
        """Return what this foot did last; None where it has done nothing, or both are meant."""
        if foot is Foot.LEFT:
            return self.last_left
        return self.last_right if foot is Foot.RIGHT else None

    def told(self, name: str, line: int) -> Hashable:
        """Return what stands under a name as a value to compare, for a section that begins on a line; nothing is noted.

        Of an action done last count foot, verb and way, whether it was on a line of the section, and whether it was
        the last of all.
        """
        value = self.stands[name]
        if not name.startswith("last") or value is None:
            return value
        action: Action = value  # type: ignore[assignment]
        at = action.line - line if action.line >= line else EARLIER
        return action.foot, action.verb, action.dir, at, value is self.stands["last"]
