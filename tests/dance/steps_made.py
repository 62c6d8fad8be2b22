"""Dances written in a few letters for the tests of the checks: "1 R step forward; 2 L touch together"."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from softshoe.dance.action import Action
from softshoe.dance.counts import SIGNS, Count, Counts
from softshoe.dance.dance import Dance, Section
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction

from fractions import Fraction  # isort: skip

FEET = {"R": Foot.RIGHT, "L": Foot.LEFT, "B": Foot.BOTH, "-": None}


def count(words: str) -> Count:
    """ "3&" is count 3 and a half."""
    sign = words[-1] if words[-1] in SIGNS else ""
    return Count(Fraction(words.removesuffix(sign)) + SIGNS.get(sign, Fraction(0)))


def steps(code: str) -> tuple[Action, ...]:
    """Actions from a code; each stands on the line of its place in it. ``+90`` and ``-90`` turn."""
    out = []
    for line, part in enumerate(code.split(";"), 1):
        at, foot, verb, *rest = part.split()
        turn = next((int(word) for word in rest if word[0] in "+-"), 0)
        way = " ".join(word for word in rest if word[0] not in "+-")
        out.append(Action(count(at), FEET[foot], verb, Direction(way) if way else None, turn, line=line))
    return tuple(out)


def made(code: str, *, counts: int | None = None, sections: int = 1, **more: Any) -> Dance:
    """A dance of these steps: as long as they are, in equal sections, begun with the weight on the left."""
    actions = steps(code)
    length = counts or max(a.at.whole for a in actions)
    each = length // sections
    parts = tuple(
        Section(k + 1, Count(Fraction(k * each + 1)), Counts(Fraction(each)), line=0) for k in range(sections)
    )
    dance = Dance("Test", length, 1, "beginner", False, "4/4", 100, 16, Weight.LEFT, parts, actions)
    return replace(dance, **more)
