"""A replacement put in by hand: "13=touch R beside L" in the words of a sheet. What the person says wins; what it asks
for beyond the abilities, and where the feet then can't follow, is told.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.adapt.at_once import moments
from softshoe.adapt.change import changed
from softshoe.adapt.limits import LIMITS
from softshoe.adapt.within import breaches_of
from softshoe.dance.checks.weights import moves_bearing
from softshoe.dance.counts import SIGNS, Count, Counts
from softshoe.dance.feet import Weight
from softshoe.dance.footwork import weight_after
from softshoe.errors import SettingError, WorkbenchError
from softshoe.wording.read import read

if TYPE_CHECKING:
    from softshoe.adapt.version import Version
    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance

GIVEN = re.compile(r"\s*(\d{1,4})([e&a]?)\s*=\s*(\S.*)", re.DOTALL)
HOW = "write the count, an equals sign and the step: 13=touch R beside L"
LONGEST = 120
BY_HAND = "put in by hand"


def instead(version: Version, given: str) -> tuple[Version, tuple[str, ...]]:
    """Return the version with one count danced as said, and warnings where that breaks the abilities or the footwork.

    Raises SettingError where the words are no count and step, and where the dance has no such count.
    """
    found = GIVEN.fullmatch(given[:LONGEST])
    if found is None or len(given) > LONGEST:
        raise SettingError("--instead", f"“{given[:40]}” is no replacement", "a count and a step are looked for", HOW)
    at = Count(Fraction(int(found[1])) + SIGNS.get(found[2], Fraction(0)))
    steps = _steps(found[3], at, version.dance)
    was = tuple(a for a in version.dance.actions if a.at == at)
    if not was and not 1 <= at.at < version.dance.counts + 1:
        raise SettingError("--instead", f"the dance has no count {at.label}", f"it has {version.dance.counts} counts",
                           HOW)  # fmt: skip
    others = [a for a in version.dance.actions if a.at != at]
    actions = tuple(sorted([*others, *steps], key=lambda a: a.at.at))
    dance = replace(version.dance, actions=actions)
    change = changed(was, steps, at, (BY_HAND,), ("the leader",))
    kept = tuple(c for c in version.changes if c.at != at)
    breaches = breaches_of(dance, version.abilities)
    now = replace(
        version,
        dance=dance,
        changes=tuple(sorted((*kept, *((change,) if change else ())), key=lambda c: c.at)),
        breaches=breaches,
    )
    warnings = [f"count {b.at.label} asks for more than “{LIMITS[b.limit].say}”" for b in breaches if b.at == at]
    return now, (*warnings, *_clashes(dance))


def _steps(words: str, at: Count, dance: Dance) -> tuple[Action, ...]:
    head = "Seated * 1 count * 1 wall" if dance.seated else "1 count * 1 wall"
    try:
        read_as = read(f"By hand\n{head}\n\n1  {words}\n")
    except WorkbenchError as wrong:
        raise SettingError("--instead", f"“{words}” is no step that is known", wrong.what, HOW) from wrong
    bad = next((f for f in read_as.findings if f.kind in ("word", "unread", "not-a-sheet", "foot-missing")), None)
    steps = tuple(a.later(Counts(at.at - 1)) for a in read_as.actions if a.at.at == 1)
    if bad is not None or not steps:
        raise SettingError("--instead", f"“{words}” is no step that is known", bad.message if bad else "nothing moves",
                           (bad and bad.mend) or HOW)  # fmt: skip
    return steps


def _clashes(dance: Dance) -> list[str]:
    """Return where a foot is asked to move while it bears the dancer."""
    found = []
    weight = dance.start_weight
    for moment, like in moments(dance.actions):
        for action in like:
            if weight is not Weight.SEAT and moves_bearing(action, weight) and action.foot is not None:
                found.append(f"count {moment.at.label}: the {action.foot.word} foot moves while it bears the dancer")
            weight = weight_after(action, weight)
    return found
