"""The dance as moments: everything that feet and arms do at one time, and back into actions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.feet import Foot

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.arms import ArmMove
    from softshoe.dance.counts import Count


STILL = ("hold", "arms")  # without a foot: anything else is a move of the hips


@dataclass(frozen=True, slots=True)
class AtOnce:
    """What happens at one time: actions of feet (or hips) without their arms, and the arms; both empty is a hold."""

    at: Count
    feet: tuple[Action, ...] = ()
    arms: tuple[ArmMove, ...] = ()

    @property
    def whole(self) -> bool:
        """True on a count, false between counts."""
        return self.at.at.denominator == 1

    @property
    def mirrored(self) -> AtOnce:
        """The moment with left and right exchanged."""
        return AtOnce(self.at, tuple(a.mirrored for a in self.feet), tuple(a.mirrored for a in self.arms))

    def actions(self, like: tuple[Action, ...]) -> tuple[Action, ...]:
        """Return the moment as actions; ``like`` are those of the dance as written, kept where nothing is altered."""
        if self == moment(self.at, like):
            return like
        if not self.feet:
            if not self.arms and not self.whole:
                return ()
            return (_bare(self.at, "arms" if self.arms else "hold", like, self.arms),)
        return (replace(self.feet[0], arms=self.arms), *self.feet[1:])


def _bare(at: Count, verb: str, like: tuple[Action, ...], arms: tuple[ArmMove, ...]) -> Action:
    line = like[0].line if like else 0
    return Action(at, None, verb, arms=arms, line=line)


def moment(at: Count, actions: Iterable[Action]) -> AtOnce:
    """Return the actions of one time as a moment."""
    given = tuple(actions)
    feet = tuple(replace(a, arms=()) for a in given if a.foot is not None or a.verb not in STILL)
    return AtOnce(at, feet, tuple(arm for a in given for arm in a.arms))


def moments(actions: Iterable[Action]) -> tuple[tuple[AtOnce, tuple[Action, ...]], ...]:
    """Return the moments of a dance in order, each with the actions it was made of."""
    grouped = groupby(sorted(actions, key=lambda a: a.at.at), key=lambda a: a.at)
    found = ((at, tuple(one)) for at, one in grouped)
    return tuple((moment(at, one), one) for at, one in found)


def lead(feet: tuple[Action, ...]) -> Foot | None:
    """Return the one foot that moves, or None when neither or both do."""
    found = {a.foot for a in feet}
    one = next(iter(found), None) if len(found) == 1 else None
    return one if one is not Foot.BOTH else None
