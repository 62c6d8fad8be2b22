"""Small dances for the tests of versions: every named step and pattern of the trade, and wishes one by one or mixed."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from softshoe.adapt.plain import in_plain_words
from softshoe.dance.action import Action
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Dance, Section
from softshoe.dance.document import dance_json
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.patterns import danced_pattern, patterns
from softshoe.errors import SettingError

if TYPE_CHECKING:
    from softshoe.adapt.version import Abilities

WISHES = (
    "seated", "supported", "arms only", "left leg rests", "right leg rests", "left arm rests", "right arm rests",
    "small movements", "slower feet", "no turning", "nothing above the shoulders", "arms low", "no crossing",
    "no stamping", "one thing at a time", "no standing on one leg", "no quick counts", "hands in front", "open hands",
)  # fmt: skip
NOT_TOLD = {"knee-roll": "hitch", "hip-roll": "bump", "body-roll": "sway", "applejack": "fan"}


def pattern_dance(name: str, *, lead: Foot = Foot.RIGHT) -> Dance:
    """Return a dance of one named step or pattern: holds where nothing moves, the free foot leads."""
    found = danced_pattern(name, lead=lead, at=Count(Fraction(1)))
    early = min(a.at.at for a in found) < 1
    found = tuple(a.later(Counts(Fraction(1))) for a in found) if early else found
    told = [_told(a) for a in found]
    counts = max(a.at.whole for a in told)
    held = [Action(Count(Fraction(n)), None, "hold") for n in range(1, counts + 1) if n not in {a.at.at for a in told}]
    actions = tuple(sorted([*told, *held], key=lambda a: a.at.at))
    starts = patterns()[name].starts_on
    other = Weight.LEFT if lead is Foot.RIGHT else Weight.RIGHT
    start = Weight.BOTH if starts in ("both", "any") else other if starts == "R" else other.other
    section = Section(1, Count(Fraction(1)), Counts(Fraction(counts)))
    return Dance(name, counts, 1, None, False, "4/4", 100.0, 16, start, (section,), actions)


def _told(action: Action) -> Action:
    verb = NOT_TOLD.get(action.verb, action.verb)
    foot = action.foot if verb != "arms" else None
    return Action(action.at, foot, verb, action.dir, action.turn_deg, action.arms, action.weight_said)


def wished(*wishes: str) -> tuple[Abilities, frozenset[str]]:
    """Return abilities for wishes, and the wishes with what follows from them, in the checker's words."""
    given = in_plain_words(", ".join(wishes))
    also = {"seat": "seated", "quick": "no quick counts", "feet": "arms only"}
    found = {words for limit, words in also.items() if limit in given.limits} | set(wishes)
    return given, frozenset(found - ({"supported"} if given.seated else set()))


def mixes(number: int, *, seed: int = 5) -> list[tuple[str, ...]]:
    """Return mixes of two to five wishes that leave something to dance, always the same ones."""
    draw = random.Random(seed)
    found: list[tuple[str, ...]] = []
    while len(found) < number:
        mix = tuple(sorted(draw.sample(WISHES, draw.randint(2, 5))))
        try:
            wished(*mix)
        except SettingError:
            continue
        found.append(mix)
    return found


def as_json(dance: Dance) -> dict[str, Any]:
    """Return a dance as its events."""
    return dance_json(dance)
