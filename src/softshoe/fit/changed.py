"""A dance made over for a song: sections swapped, repeated or left out, where the footwork still holds."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from typing import TYPE_CHECKING

from softshoe.dance.checks.weights import free_foot, weight
from softshoe.dance.counts import Count, Counts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.dance.dance import Dance

LENGTHS = {False: (16, 24, 32, 48, 64), True: (24, 36, 48, 72)}  # waltz: True
MOST_SECTIONS = 8


def made_of(dance: Dance, order: Sequence[int]) -> Dance:
    """Return the dance with its sections in this order, by their place in the sheet; one may come twice or not at all.

    What the sheet writes for single walls belongs to the old order and is left out.
    """
    actions, sections = [], []
    at = Fraction(1)
    for number, index in enumerate(order, start=1):
        section = dance.sections[index]
        shift = Counts(at - section.start.at)
        actions += [action.later(shift) for action in dance.actions if dance.section_at(action.at) == section]
        sections.append(replace(section, number=number, start=Count(at)))
        at += section.length.n
    return replace(
        dance,
        counts=int(at) - 1,
        walls=None,
        actions=tuple(actions),
        sections=tuple(sections),
        tags=(),
        restarts=(),
        endings=(),
        findings=(),
    )


def holds(dance: Dance) -> bool:
    """Return whether every foot is free when it moves, through the wall and into the next."""
    return not any(True for check in (weight, free_foot) for _ in check(dance, {}))


def swapped(dance: Dance) -> Iterator[tuple[str, Dance]]:
    """Yield the dance with two sections swapped, each with what was done."""
    sections = range(len(dance.sections))
    for one, other in combinations(sections, 2) if len(sections) <= MOST_SECTIONS else ():
        order = [other if k == one else one if k == other else k for k in sections]
        yield from _sound(f"Swap sections {one + 1} and {other + 1}", made_of(dance, order))


def repeated(dance: Dance) -> Iterator[tuple[str, Dance]]:
    """Yield the dance with one section danced twice."""
    sections = list(range(len(dance.sections)))
    for one in sections[:MOST_SECTIONS]:
        order = [*sections[: one + 1], one, *sections[one + 1 :]]
        yield from _sound(f"Dance section {one + 1} twice", made_of(dance, order))


def shortened(dance: Dance) -> Iterator[tuple[str, Dance]]:
    """Yield the dance cut to a usual length by leaving out neighbouring sections."""
    sections = list(range(len(dance.sections)))
    for first in sections:
        for last in sections[first:]:
            kept = [k for k in sections if not first <= k <= last]
            counts = sum(int(dance.sections[k].length.n) for k in kept)
            if counts in LENGTHS[dance.metre == "3/4"] and counts < dance.counts:
                named = f"section {first + 1}" if first == last else f"sections {first + 1} to {last + 1}"
                yield from _sound(f"Cut the dance to {counts} counts: leave out {named}", made_of(dance, kept))


def _sound(words: str, changed: Dance) -> Iterator[tuple[str, Dance]]:
    if changed.actions and holds(changed):
        yield words, changed
