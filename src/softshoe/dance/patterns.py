"""Named patterns as data over verbs: the standing code and the table of the trade's steps and patterns.

The code is ``count foot verb place turn weight`` with ";" between events, written for a leading right foot. A count
is a
whole number with "e", "&" or "a" behind it; "0&" is the half before count 1. ``R90`` turns right. Turn and weight may
be
left out. Table: ``data/dance/footwork.csv``, common practice of the trade, rows of one person's memory marked so.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files

from softshoe.dance.action import Action
from softshoe.dance.counts import SIGNS, Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction

FEET = {"R": Foot.RIGHT, "L": Foot.LEFT, "B": Foot.BOTH, "N": None}
COUNT = re.compile(r"(\d+)([e&a]?)")
TURN = re.compile(r"([RL])(\d+)")

PLACE = {
    "tog": "together", "side": "side", "fwd": "forward", "back": "back", "fdiag": "forward diag", "bdiag": "back diag",
    "cross": "across front", "behind": "across behind", "place": "in place", "home": "centre", "up": "up",
    "in": "centre",
    "out": "side", "centre": "centre", "right": "right", "left": "left", "apart": "apart", "any": "", "-": "",
}  # fmt: skip
SIDED = {
    "side": {Foot.RIGHT: Direction.RIGHT, Foot.LEFT: Direction.LEFT, Foot.BOTH: Direction.APART},
    "forward diag": {Foot.RIGHT: Direction.FORWARD_RIGHT, Foot.LEFT: Direction.FORWARD_LEFT},
    "back diag": {Foot.RIGHT: Direction.BACK_RIGHT, Foot.LEFT: Direction.BACK_LEFT},
}
# Verbs of the code as the dance events name them; where the foot differs, the foot as well.
EVENT_VERB = {
    "ball": "step", "lock": "step", "leap": "step", "skate": "step", "press": "rock", "stamp": "stomp", "tap": "touch",
    "toe": "touch", "slide": "drag", "ronde": "sweep", "swing": "kick", "lift": "hitch", "knee": "hitch",
    "slap": "flick",
    "knee-pop": "raise", "fan-toe": "fan", "fan-heel": "swivel", "swivel-heels": "swivel", "swivel-toes": "fan",
    "split-heels": "swivel", "split-toes": "fan", "swivel-heel": "swivel", "swivel-toe": "fan", "twist": "swivel",
    "bounce": "lower", "dip": "lower", "scoot": "hop", "spin": "turn", "spiral": "turn", "clap": "arms", "snap": "arms",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class CodeStep:
    """One event of the code: count from 1, the foot letter for a right lead, verb, place, turn, weight letter."""

    at: Fraction
    foot: str
    verb: str
    place: str
    turn_deg: int
    weight: str

    @property
    def mirrored(self) -> CodeStep:
        """The same for a leading left foot."""
        swap = {"R": "L", "L": "R"}
        places = {"right": "left", "left": "right"}
        return replace(
            self,
            foot=swap.get(self.foot, self.foot),
            place=places.get(self.place, self.place),
            turn_deg=-self.turn_deg,
            weight=swap.get(self.weight, self.weight),
        )


def code_count(text: str) -> Fraction:
    """Return the count of the code as a number: "1&" is 3/2, "0&" is 1/2.

    >>> code_count("2a")
    Fraction(11, 4)
    """
    found = COUNT.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is no count of the standing code")
    return Fraction(int(found[1])) + SIGNS.get(found[2], Fraction(0))


def parse_code(code: str) -> tuple[CodeStep, ...]:
    """Read the standing code; raises ValueError where it isn't that.

    >>> [step.place for step in parse_code("1 R step side - R; 2 L step behind - L")]
    ['side', 'behind']
    """
    return tuple(_code_step(part) for part in code.split(";") if part.strip())


def _code_step(part: str) -> CodeStep:
    words = part.split()
    if len(words) < 3 or words[1] not in FEET:
        raise ValueError(f"{part.strip()!r} is no event of the standing code")
    place = words[3] if len(words) > 3 else "-"
    said = words[4:]
    turn = next((m for w in said if (m := TURN.fullmatch(w))), None)
    weight = next((w for w in reversed(said) if w in ("R", "L", "B", "=")), "=")
    deg = 0 if turn is None else int(turn[2]) * (1 if turn[1] == "R" else -1)
    return CodeStep(code_count(words[0]), words[1], words[2], place, deg, weight)


@dataclass(frozen=True, slots=True)
class Pattern:
    """One row of the table: its names, its steps for a right lead, who it starts on and ends on, and its note."""

    name: str
    aliases: tuple[str, ...]
    kind: str
    counts: str
    steps: tuple[CodeStep, ...]
    starts_on: str
    ends_weight: str
    turns_deg: tuple[int, ...]
    note: str
    basis: str


@lru_cache(maxsize=1)
def patterns() -> dict[str, Pattern]:
    """Return the table of named steps and patterns by name."""
    text = (files("softshoe") / "data" / "dance" / "footwork.csv").read_text(encoding="utf-8")
    return {row["name"]: _pattern(row) for row in csv.DictReader(text.splitlines())}


def _pattern(row: dict[str, str]) -> Pattern:
    return Pattern(
        row["name"],
        tuple(filter(None, row["aliases"].split(";"))),
        row["kind"],
        row["counts"],
        parse_code(row["expansion"]),
        row["starts_on"],
        row["ends_weight"],
        tuple(int(t) for t in row["turn_deg_options"].split(";") if t),
        row["note"],
        row["basis"],
    )


def mirrored(steps: tuple[CodeStep, ...]) -> tuple[CodeStep, ...]:
    """Return the steps for the other leading foot."""
    return tuple(step.mirrored for step in steps)


def direction(place: str, foot: Foot | None) -> Direction | None:
    """Return the direction of a place of the code for a foot; None for none.

    >>> direction("fdiag", Foot.LEFT)
    <Direction.FORWARD_LEFT: 'forward left diagonal'>
    """
    named = PLACE[place]
    if not named:
        return None
    if named in SIDED:
        return SIDED[named].get(foot or Foot.BOTH, Direction.APART)
    return Direction(named)


def danced_pattern(name: str, *, lead: Foot, at: Count) -> tuple[Action, ...]:
    """Return a pattern of the table as actions from a count; raises KeyError for a name the table has not.

    Actions of two feet at one count stay two actions. The weight is said where the code ends a two-footed action on
    one foot.
    """
    steps = patterns()[name].steps
    steps = steps if lead is Foot.RIGHT else mirrored(steps)
    return tuple(_action(step, at) for step in steps)


def _action(step: CodeStep, at: Count) -> Action:
    verb = EVENT_VERB.get(step.verb, step.verb)
    foot = FEET[step.foot]
    said = Weight(step.weight) if step.weight in ("R", "L") and foot is Foot.BOTH else None
    if verb in ("pivot", "sway") and said is not None:
        foot, said = Foot(step.weight), None
    place = direction(step.place, foot)
    return Action(Count(at.at + step.at - 1), foot, verb, place, step.turn_deg, weight_said=said)
