"""Action: one foot (or both, or none) doing one thing at one moment; Event: what bears and faces after it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.dance.arms import ArmMove
    from softshoe.dance.counts import Count, Counts
    from softshoe.dance.feet import Foot, Weight
    from softshoe.dance.places import Direction

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Action:
    """What is written: ``verb`` is a name of the verbs table, ``turn_deg`` clockwise positive.

    ``weight_said`` is set only where the words say what bears afterwards. ``line`` and ``span`` (characters of the
    whole sheet, end not included) tell where it was read and are not compared: two wordings of one action are equal.
    """

    at: Count
    foot: Foot | None
    verb: str
    dir: Direction | None = None
    turn_deg: int = 0
    arms: tuple[ArmMove, ...] = ()
    weight_said: Weight | None = None
    line: int = field(default=0, compare=False)
    span: Span | None = field(default=None, compare=False, repr=False)

    @property
    def mirrored(self) -> Action:
        """The action with left and right exchanged: foot, direction, turn, arms, weight."""
        return Action(
            self.at, self.foot and self.foot.other, self.verb, self.dir and self.dir.mirrored, -self.turn_deg,
            tuple(arm.mirrored for arm in self.arms), self.weight_said and self.weight_said.other, self.line, self.span,
        )  # fmt: skip

    def later(self, span: Counts) -> Action:
        """Return the same action moved by a span."""
        at = self.at + span
        return Action(
            at, self.foot, self.verb, self.dir, self.turn_deg, self.arms, self.weight_said, self.line, self.span
        )


@dataclass(frozen=True, slots=True)
class Event:
    """An action danced: what bears the dancer and where she looks when it is over (degrees, 0 to 359)."""

    action: Action
    weight: Weight
    facing_deg: int
