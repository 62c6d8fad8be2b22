"""Named steps and patterns made over as wholes: rows of ``patterns.csv`` and ``trade_versions.csv`` found in a dance.

A vine behind a chair is a known pattern of its own, and no heap of four changed steps. Each row is written in the
standing code for a leading right foot; the mirrored row serves the left.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, cast

from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot
from softshoe.dance.patterns import EVENT_VERB, FEET, code_count, danced_pattern, direction, parse_code, patterns
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.adapt.at_once import AtOnce
    from softshoe.dance.arms import Place
    from softshoe.dance.patterns import CodeStep

HOME = (Direction.TOGETHER, Direction.CENTRE, Direction.IN_PLACE)
# Verbs of the code that dance events name otherwise, and what a bounce is without lifting off.
ON_CHAIR = {"press": "step", "lift": "hitch", "circle": "sweep", "bounce": "raise"}
WHERE = {
    "on_chair": ("to seat", "the pattern as it is danced on a chair: out and in, nothing past the midline"),
    "behind_chair": ("chair", "the pattern as it is danced behind a chair: close by and facing the front"),
}
ONE_LEG = "the pattern as one leg dances it: out and home"
Key = frozenset[tuple[Foot | None, str, Direction | None, int]]


@dataclass(frozen=True, slots=True)
class PatternRow:
    """One row: which pattern, for which limits, what feet (and hands) do instead by the moment from its start, why."""

    name: str
    limits: frozenset[str]
    feet: dict[Fraction, tuple[Action, ...]]
    arms: dict[Fraction, tuple[ArmMove, ...]]
    reason: str
    source: str
    written: str = ""
    fixed: bool = False  # written for the leg that dances, whichever foot leads


@dataclass(frozen=True, slots=True)
class Found:
    """A pattern found in the dance: it begins at a moment of this index and lasts so many moments."""

    start: int
    length: int
    row: PatternRow


def key_of(feet: Sequence[Action]) -> Key:
    """Return what makes two moments of feet the same to a dancer: home is beside the other is in place."""
    return frozenset(
        (a.foot, a.verb, Direction.TOGETHER if a.dir in HOME else a.dir, a.turn_deg) for a in feet if a.foot
    )


def pattern_rows_in(moments: Sequence[AtOnce], limits: frozenset[str]) -> Iterator[Found]:
    """Yield every pattern of the tables that a dance holds and that is made over for one of these limits."""
    steps = [(i, m.at.at, key_of(m.feet)) for i, m in enumerate(moments) if m.feet]
    for n, (_, _, first) in enumerate(steps):
        for base, pattern in _by_first().get(first, ()):
            if not pattern.limits & limits or n + len(base) > len(steps):
                continue
            window = steps[n : n + len(base)]
            if [(at - window[0][1], key) for _, at, key in window] == base:
                yield Found(window[0][0], window[-1][0] - window[0][0] + 1, pattern)


@cache
def _by_first() -> dict[Key, list[tuple[list[tuple[Fraction, Key]], PatternRow]]]:
    found: dict[Key, list[tuple[list[tuple[Fraction, Key]], PatternRow]]] = defaultdict(list)
    for pattern in (*_own(), *_of_the_trade()):
        for lead in (Foot.RIGHT, Foot.LEFT):
            base = _base(pattern, lead)
            if base:
                found[base[0][1]].append((base, pattern if lead is Foot.RIGHT or pattern.fixed else _mirrored(pattern)))
    return found


def _base(pattern: PatternRow, lead: Foot) -> list[tuple[Fraction, Key]]:
    by_time: dict[Fraction, list[Action]] = defaultdict(list)
    for action in _written(pattern, lead):
        if action.foot is not None:
            by_time[action.at.at].append(action)
    times = sorted(by_time)
    return [(at - times[0], key_of(by_time[at])) for at in times]


def _written(pattern: PatternRow, lead: Foot) -> Iterator[Action]:
    if not pattern.written:
        yield from danced_pattern(pattern.name, lead=lead, at=Count(Fraction(1)))
        return
    for step in parse_code(pattern.written):
        made = replace(_step(step, turns=True), at=Count(step.at))
        yield made if lead is Foot.RIGHT else made.mirrored


def _own() -> Iterator[PatternRow]:
    """The project's rows for turning, crossing, quick counts and the like, and for hands alone."""
    for row in table("adapt/patterns"):
        made = _row(row["pattern"], row["instead"], row["reason"], row["source"], written=row["written"])
        yield replace(made, limits=frozenset(row["limits"].split(";")))


def _of_the_trade() -> Iterator[PatternRow]:
    known = patterns()
    for row in table("adapt/trade_versions"):
        name, basis = row["pattern"], row["basis"]
        if known[name].kind != "pattern":
            continue
        for column, (limit, reason) in WHERE.items():
            if _usable(row[column]):
                yield replace(_row(name, row[column], reason, basis, turns=False), limits=frozenset((limit,)))
        if _usable(row["one_side"]):
            right = replace(_row(name, row["one_side"], ONE_LEG, basis, turns=False), fixed=True)
            yield replace(right, limits=frozenset(("left foot",)))
            yield replace(_mirrored(right), limits=frozenset(("right foot",)))


def _usable(code: str) -> bool:
    """False where a row moves the trunk alone: verbs by themselves do that as well."""
    return not any(step.verb in ("sway", "shoulders", "look") for step in parse_code(code))


def _row(name: str, code: str, reason: str, source: str, *, turns: bool = True, written: str = "") -> PatternRow:
    steps = parse_code(written) if written else patterns()[name].steps
    start = min(s.at for s in steps if FEET[s.foot] is not None)
    feet: dict[Fraction, list[Action]] = defaultdict(list)
    arms: dict[Fraction, list[ArmMove]] = defaultdict(list)
    for part in code.split(";"):
        words = part.split()
        at = code_count(words[0]) - start
        if words[2].startswith("hand-"):
            arms[at].append(_hand(words))
        elif FEET[words[1]] is not None:
            feet[at].append(_step(parse_code(part)[0], turns=turns))
    return PatternRow(
        name,
        frozenset(),
        {at: tuple(done) for at, done in feet.items()},
        {at: tuple(done) for at, done in arms.items()},
        reason,
        source,
        written=written,
    )


def _step(step: CodeStep, *, turns: bool) -> Action:
    """An event of a code; without ``turns`` a turn token is the look of a seated code and not danced by the feet."""
    foot = FEET[step.foot]
    verb = ON_CHAIR.get(step.verb) or EVENT_VERB.get(step.verb, step.verb)
    if verb == "pivot" and step.weight in ("R", "L"):
        foot = FEET[step.weight]
    place = direction(step.place, foot) or VERB[verb].home
    if verb in ("raise", "lower", "drop"):
        place = VERB[verb].home
    return Action(Count(Fraction(1)), foot, verb, place, step.turn_deg if turns else 0)


def _hand(words: list[str]) -> ArmMove:
    """``count R|L|B hand-GESTURE PLACE [WAY]``: PLACE and WAY as dance events name them, with _ for a blank."""
    side = FEET[words[1]] or Foot.BOTH
    place = cast("Place | None", words[3] if words[3] != "-" else None)
    way = Direction(words[4].replace("_", " ")) if len(words) > 4 and words[4] != "-" else None
    return ArmMove(side, words[2].removeprefix("hand-"), place, way)


def _mirrored(pattern: PatternRow) -> PatternRow:
    return replace(
        pattern,
        feet={at: tuple(a.mirrored for a in done) for at, done in pattern.feet.items()},
        arms={at: tuple(a.mirrored for a in done) for at, done in pattern.arms.items()},
    )
