"""How hard a dance is, and why: each measure of its character has a band a level, and the highest band reached counts.

Bands: ``data/dance/level.csv``, the highest value a level usually has (empty: no limit). They are common practice and
partly set on the project's own sheets: an opinion with reasons, not a verdict. What the author wrote stays.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING

from softshoe.dance.character import Character, character_of
from softshoe.dance.dance import LEVELS, Level

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

FAST_CROSSINGS_CPM = 124  # crossing steps above this many counts a minute: one band more (one person's memory)


@dataclass(frozen=True, slots=True)
class Reason:
    """One measure with the level it speaks for; ``words`` is a clause: "turns add up to 450 degrees a wall"."""

    measure: str
    value: float
    level: Level
    words: str


@dataclass(frozen=True, slots=True)
class Estimate:
    """The level by the steps; ``reasons`` are the measures that reached it, ``character`` all there is to know."""

    level: Level
    reasons: tuple[Reason, ...]
    character: Character


def level_of(dance: Dance) -> Estimate:
    """Return the level that the steps speak for, with the reasons; never raises."""
    character = character_of(dance)
    found = [
        _reason(name, value, _band(name, value, seated=dance.seated)) for name, value in _measures(dance, character)
    ]
    found += _fast_crossings(dance, found, character)
    highest = max((LEVELS.index(reason.level) for reason in found), default=0)
    reasons = tuple(r for r in found if LEVELS.index(r.level) == highest) if highest else ()
    return Estimate(LEVELS[highest], reasons, character)


def _fast_crossings(dance: Dance, found: list[Reason], character: Character) -> list[Reason]:
    """Crossing steps at a fast tempo are a band harder than the steps alone; by themselves they make none advanced."""
    fast = (character.tempo_cpm or 0) > FAST_CROSSINGS_CPM
    if dance.seated or not character.crossings or not fast:
        return []
    steps = max((LEVELS.index(r.level) for r in found if r.measure != "tempo"), default=0)
    level = LEVELS[min(steps + 1, LEVELS.index("intermediate"))]
    return [
        Reason("fast crossings", character.crossings, level, f"steps cross at {character.tempo_cpm:g} counts a minute")
    ]


def apart(dance: Dance, estimate: Estimate) -> int:
    """Return how many levels the steps lie above what the sheet states (below: negative); 0 where none is stated."""
    return 0 if dance.level is None else LEVELS.index(estimate.level) - LEVELS.index(dance.level)


@lru_cache(maxsize=1)
def bands() -> dict[tuple[str, str], tuple[float, ...]]:
    """Return the bands by (dancers, measure): the highest value for each level but the last."""
    text = (files("softshoe") / "data" / "dance" / "level.csv").read_text(encoding="utf-8")
    return {
        (row["dancers"], row["measure"]): tuple(float(row[level] or "inf") for level in LEVELS[:-1])
        for row in csv.DictReader(text.splitlines())
    }


def _measures(dance: Dance, c: Character) -> list[tuple[str, float]]:
    """Return the measures that count for these dancers, with their values."""
    values = {
        "counts": float(c.counts), "halves": c.halves, "biggest turn": float(c.biggest_turn_deg),
        "turning": float(c.turning_deg), "figures": float(c.figures), "gestures": float(c.gestures),
        "crossings": float(c.crossings), "feet and hands": c.feet_and_hands, "extras": float(c.extras),
        "tempo": float(c.tempo_cpm or 0),
    }  # fmt: skip
    dancers = "seated" if dance.seated else "standing"
    return [(name, value) for name, value in values.items() if (dancers, name) in bands()]


def _band(name: str, value: float, *, seated: bool) -> Level:
    limits = bands()["seated" if seated else "standing", name]
    return LEVELS[sum(value > limit for limit in limits)]


def _reason(name: str, value: float, level: Level) -> Reason:
    n = round(value)
    words = {
        "counts": f"it has {n} counts",
        "halves": f"for every 32 counts, {n} steps fall between the counts",
        "biggest turn": f"one step turns {n} degrees",
        "turning": f"its turns add up to {n} degrees a wall",
        "figures": f"the feet learn {n} different figures",
        "gestures": f"the hands learn {n} different gestures",
        "crossings": f"{n} steps cross",
        "feet and hands": f"for every 32 counts, feet and hands move together on {n}",
        "extras": f"{n} tag or restart is to be remembered" if n == 1 else f"{n} tags or restarts are to be remembered",
        "tempo": f"it goes at {n} counts a minute",
    }
    return Reason(name, value, level, words[name])
