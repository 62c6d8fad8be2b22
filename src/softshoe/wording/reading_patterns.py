"""Named patterns as the reader wants them: core steps, a usual close that a line may change, and where turns go.

Table: ``data/wording/patterns.csv``. ``quarter`` and ``half`` are ``slot:degrees:place`` (place empty: unchanged); a
turn
is toward the leading foot unless the table of the pattern says otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from softshoe.dance.patterns import PLACE, CodeStep, mirrored, parse_code
from softshoe.wording.vocabulary import table


@dataclass(frozen=True, slots=True)
class ReadPattern:
    """One row: the steps for a right lead, the usual close, the direction when none is said, where turns go."""

    name: str
    core: tuple[CodeStep, ...]
    closing: tuple[CodeStep, ...]
    travel: str
    quarter: tuple[tuple[int, int, str], ...]
    half: tuple[tuple[int, int, str], ...]


def _turns(text: str) -> tuple[tuple[int, int, str], ...]:
    rows = (part.split(":") for part in text.split())
    return tuple((int(slot), int(deg), place) for slot, deg, place in rows)


@lru_cache(maxsize=1)
def read_patterns() -> dict[str, ReadPattern]:
    """Return the reader's patterns by name."""
    return {
        row["name"]: ReadPattern(
            row["name"],
            parse_code(row["slots"]),
            parse_code(row["closing"]),
            PLACE[row["travel"]] if row["travel"] else "",
            _turns(row["quarter"]),
            _turns(row["half"]),
        )
        for row in table("patterns.csv")
    }


@lru_cache(maxsize=1024)
def steps_of(name: str, *, closed: bool, lead: str, turn_deg: int, spin: int) -> tuple[CodeStep, ...]:
    """Return a pattern's steps for a leading foot ("R" or "L"), with a turn (degrees, spin 1 right, -1 left, 0
    unsaid).
    """
    pattern = read_patterns()[name]
    steps = (*pattern.core, *(pattern.closing if closed else ()))
    side = 1 if lead == "R" else -1
    toward_lead = spin * side if spin else own_spin(name)
    if turn_deg:
        steps = turned(pattern, steps, turn_deg, toward_lead)
    return steps if lead == "R" else mirrored(steps)


def own_spin(name: str) -> int:
    """Return which way a pattern turns when nothing is said: 1 toward its leading foot, -1 away from it."""
    return -1 if name in AWAY else 1


AWAY = ("chase turn", "full turn")
PRESET = ("rolling vine", "full turn")


def turned(pattern: ReadPattern, steps: tuple[CodeStep, ...], turn_deg: int, spin: int) -> tuple[CodeStep, ...]:
    """Return the steps with the turn on the steps that the table names; whole on the last step where it names none."""
    rule = pattern.half if turn_deg > 90 and pattern.half else pattern.quarter
    if pattern.name in PRESET:
        return steps if spin == own_spin(pattern.name) or turn_deg != 360 else _away(steps)
    rule = rule or ((len(pattern.core), turn_deg, ""),)
    total = sum(deg for _, deg, _ in rule) or 1
    out = list(steps)
    for slot, deg, place in rule:
        old = out[slot - 1]
        goes_on = pattern.travel == "side" or (pattern.name == "shuffle" and len(rule) > 1)
        away = spin < 0 and place == "fwd" and old.place in ("side", "fwd", "any") and goes_on
        new = ("back" if away else place) or old.place
        out[slot - 1] = replace(old, turn_deg=spin * deg * turn_deg // total, place=new)
    return tuple(out)


SWAPPED = {"back": "fwd", "fwd": "back"}


def _away(steps: tuple[CodeStep, ...]) -> tuple[CodeStep, ...]:
    """The same turn the other way round: what went back goes forward."""
    return tuple(replace(step, turn_deg=-step.turn_deg, place=SWAPPED.get(step.place, step.place)) for step in steps)
