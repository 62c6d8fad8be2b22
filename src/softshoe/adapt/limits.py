"""Limits: what abilities rule out, as a table, and the question whether a moment of the dance asks for it.

One row of ``limits.csv`` names verbs, directions, feet, hands, gestures and places that must not come, and a rule for
what one value cannot tell (between counts, feet together with arms, two hands at once).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.adapt.trade_gestures import crosses, goes_behind
from softshoe.adapt.version import Abilities
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.errors import SettingError
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from softshoe.adapt.at_once import AtOnce
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

# What a leg does to a side without going there, or with both feet where they are.
ON_THE_SPOT = ("sway", "swivel", "fan", "bump", "pivot", "turn", "unwind", "raise", "lower")
QUIET = ("rest", "follow")  # hands that only lie, or only go along with the foot, are no second thing to think of
OTHER_SIDE = {
    Foot.RIGHT: (Direction.LEFT, Direction.FORWARD_LEFT, Direction.BACK_LEFT),
    Foot.LEFT: (Direction.RIGHT, Direction.FORWARD_RIGHT, Direction.BACK_RIGHT),
}
IMPLIED = {  # what follows from a limit
    "feet": ("seat",),
    "left foot": ("seat", "quick"),
    "right foot": ("seat", "quick"),
}


@dataclass(frozen=True, slots=True)
class Limit:
    """One row of ``limits.csv``."""

    id: str
    say: str
    ask: str
    verbs: tuple[str, ...]
    dirs: tuple[str, ...]
    turns: bool
    feet: tuple[str, ...]
    hands: tuple[str, ...]
    gestures: tuple[str, ...]
    places: tuple[str, ...]
    toward: tuple[str, ...]
    rules: tuple[str, ...]
    means: str
    reason: str
    source: str

    def of_action(self, action: Action) -> bool:
        """True when a foot's action asks for what this limit rules out."""
        return (
            action.verb in self.verbs
            or (action.dir is not None and action.dir.value in self.dirs)
            or (self.turns and action.turn_deg != 0)
            or (action.foot is not None and action.foot.value in self.feet)
            or ("own side" in self.rules and _other_side(action))
            or ("two feet up" in self.rules and action.foot is Foot.BOTH and VERB[action.verb].lifts)
        )

    def of_arm(self, arm: ArmMove) -> bool:
        """True when an arm move asks for what this limit rules out."""
        return (
            (
                arm.gesture in self.gestures
                and not (
                    arm.gesture == "raise" and arm.place is not None and "raise" in LIFTED_BY_PLACE.get(self.id, ())
                )
            )
            or (arm.place is not None and arm.place in self.places)
            or (arm.toward is not None and arm.toward.value in self.toward and not _thumb(arm))
            or arm.side.value in self.hands
            or ("one hand" in self.rules and arm.side is Foot.BOTH)
            or ("own arms" in self.rules and crosses(arm))
            or ("before the body" in self.rules and goes_behind(arm))
        )


LIFTED_BY_PLACE = {"overhead": ("raise",), "high arms": ("raise",)}  # a raise to a named lower place is no high raise


def _thumb(arm: ArmMove) -> bool:
    """True where the way is that of a thumb, and the hand stays where it is."""
    return arm.gesture == "rotate" and arm.toward in (Direction.UP, Direction.DOWN)


def _other_side(action: Action) -> bool:
    return action.foot in OTHER_SIDE and action.verb not in ON_THE_SPOT and action.dir in OTHER_SIDE[action.foot]


def _split(text: str) -> tuple[str, ...]:
    return tuple(part for part in text.split(";") if part)


LIMITS = {
    row["id"]: Limit(
        row["id"], row["say"], row["ask"], _split(row["verbs"]), _split(row["dirs"]), bool(row["turns"]),
        _split(row["feet"]), _split(row["hands"]), _split(row["gestures"]), _split(row["places"]),
        _split(row["toward"]), _split(row["rule"]), row["means"], row["reason"], row["source"],
    )
    for row in table("adapt/limits")
}  # fmt: skip


def abilities(name: str, limits: Iterable[str], cautions: tuple[str, ...] = (), *, standing: bool = False) -> Abilities:
    """Return abilities with everything that follows from these limits.

    Raises SettingError for a limit no table has, and where nothing would be left to dance.
    """
    asked = set(limits)
    for one in sorted(asked - set(LIMITS)):
        raise SettingError(name, f"“{one}” is no limit that is known", "the table of limits has no such row",
                           f"use some of: {', '.join(sorted(LIMITS))}")  # fmt: skip
    whole = asked | {also for one in asked for also in IMPLIED.get(one, ())}
    if {"left foot", "right foot"} <= whole:
        whole = whole - {"left foot", "right foot"} | {"feet", "seat"}
    if "seat" in whole:
        whole.discard("chair")
    if {"feet", "left hand", "right hand"} <= whole:
        raise SettingError(name, "nothing is left to dance", "both legs and both arms rest",
                           "let at least one arm or one leg dance")  # fmt: skip
    return Abilities(name, frozenset(whole), cautions, standing and "seat" not in whole)


def of_feet(feet: tuple[Action, ...], limits: Iterable[str]) -> frozenset[str]:
    """Return the limits that actions of feet at one time break by themselves."""
    return frozenset(one for one in limits if any(LIMITS[one].of_action(action) for action in feet))


def of_arms(arms: tuple[ArmMove, ...], limits: Iterable[str]) -> frozenset[str]:
    """Return the limits that arm moves at one time break by themselves."""
    sides = {arm.side for arm in arms}
    two = len(sides) > 1
    return frozenset(
        one
        for one in limits
        if any(LIMITS[one].of_arm(arm) for arm in arms) or (two and "one hand" in LIMITS[one].rules)
    )


def busy_arms(arms: tuple[ArmMove, ...]) -> bool:
    """True when the arms do something to think of at this moment."""
    return any(arm.gesture not in QUIET for arm in arms)


def breaches(moment: AtOnce, limits: Iterable[str], *, in_time: bool) -> Iterator[str]:
    """Yield the limits that a moment breaks; ``in_time`` says whether the feet of the dance keep half time."""
    limits = tuple(limits)
    yield from of_feet(moment.feet, limits)
    yield from of_arms(moment.arms, limits)
    for one in limits:
        rules = LIMITS[one].rules
        if "between" in rules and not moment.whole and (moment.feet or moment.arms):
            yield one
        if "together" in rules and moment.feet and busy_arms(moment.arms):
            yield one
        if "slow" in rules and moment.feet and not in_time:
            yield one
