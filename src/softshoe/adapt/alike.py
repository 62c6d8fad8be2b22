"""What is danced twice is made over once: a section that comes again, or comes again mirrored, gets the same version.

Dancers learn a section and its mirror image as one thing; the version keeps that wherever the footwork lets it.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.adapt.at_once import AtOnce
from softshoe.adapt.pattern_rows import key_of
from softshoe.adapt.search import search

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.adapt.choices import Choice
    from softshoe.adapt.search import Asked, Searched
    from softshoe.dance.counts import Counts
    from softshoe.dance.dance import Section

WORTH = 8.0  # what likeness may cost: about one count that is still
NEVER = ("clash", "end weight", "end facing")
ONE_SIDED = {"left foot", "right foot", "left hand", "right hand"}
Pair = tuple[range, range, bool]  # the moments of a section, those where it comes again, whether mirrored
SIDES = {"left": "right", "right": "left"}


def alike(asked: Asked, sections: Sequence[Section]) -> Searched:
    """Return the cheapest way, with sections alike where the dance as written has them alike."""
    found = search(asked)
    if found is None:
        raise AssertionError("a count without feet is always one of the choices")
    pairs = _pairs(asked, sections)
    whole = _tried(asked, found, pairs)
    if whole is not None:
        return whole[1]
    for pair in pairs if len(pairs) > 1 else ():
        one = _tried(asked, found, [pair])
        if one is not None:
            asked, found = one
    return found


def _tried(asked: Asked, found: Searched, pairs: list[Pair]) -> tuple[Asked, Searched] | None:
    """Return the search with these sections alike, where that costs little and breaks nothing."""
    pins = dict(asked.pinned)
    for first, again, mirrored in pairs:
        for one, two in zip(first, again, strict=True):
            pins[two] = _moved(found.choices[one], asked.moments[two], mirrored=mirrored)
    tried = replace(asked, pinned=tuple(sorted(pins.items(), key=lambda pin: pin[0])))
    other = search(tried) if pairs else None
    if other is None or other.cost > found.cost + WORTH * len(pairs) or not _as_sound(other, found):
        return None
    return tried, other


def _as_sound(other: Searched, found: Searched) -> bool:
    return all(other.given_up.get(part, 0) <= found.given_up.get(part, 0) for part in NEVER)


def _pairs(asked: Asked, sections: Sequence[Section]) -> list[Pair]:
    """Return moments of sections that come again: (first, again, whether mirrored)."""
    stretches = [_stretch(asked, section) for section in sections]
    shown = [
        _shown([asked.moments[i] for i in stretch], section)
        for stretch, section in zip(stretches, sections, strict=True)
    ]
    may_mirror = not ONE_SIDED & asked.limits
    found = []
    for j in range(1, len(sections)):
        same = next((i for i in range(j) if shown[i][0] == shown[j][0] and shown[j][0]), None)
        other = next((i for i in range(j) if shown[i][1] == shown[j][0] and shown[j][0]), None) if may_mirror else None
        first = same if same is not None else other
        if first is not None:
            found.append((stretches[first], stretches[j], same is None))
    return found


def _stretch(asked: Asked, section: Section) -> range:
    first, last = section.start.at, (section.start + section.length).at
    inside = [i for i, m in enumerate(asked.moments) if first <= m.at.at < last]
    return range(inside[0], inside[-1] + 1) if inside else range(0)


def _shown(given: list[AtOnce], section: Section) -> tuple[list[object], list[object]]:
    """What a section looks like, and what its mirror image does."""
    plain = [(m.at - section.start, key_of(m.feet), m.arms) for m in given]
    other = [(m.at - section.start, key_of(m.mirrored.feet), m.mirrored.arms) for m in given]
    return list(plain), list(other)


def _moved(choice: Choice, to: AtOnce, *, mirrored: bool) -> Choice:
    span = to.at - choice.was.at
    now, reasons, key = choice.now, choice.reasons, choice.key
    if mirrored:
        now = now.mirrored
        reasons = tuple(re.sub(r"\b(left|right)\b", lambda m: SIDES[m[0]], reason) for reason in reasons)
        key = tuple((foot and foot.other, verb, way and way.mirrored) for foot, verb, way in key)
    return replace(choice, was=to, now=_later(now, to, span), reasons=reasons, key=key)


def _later(now: AtOnce, to: AtOnce, span: Counts) -> AtOnce:
    feet = tuple(a.later(span) for a in now.feet)
    kept = to.feet if key_of(to.feet) == key_of(feet) and {a.verb for a in feet} == {a.verb for a in to.feet} else feet
    return AtOnce(to.at, kept, now.arms)
