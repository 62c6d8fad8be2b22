"""A pattern's name beside its very steps is one thing: "jazz box touch (cross R over L, L back, …)", "coaster back, …".

Where name and steps together are too many for the counts, the one that fills them is danced.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from softshoe.wording.laying_ways import one_each, row_of
from softshoe.wording.sharing import all_shares

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.laid import Laid
    from softshoe.wording.laying_ways import Case
    from softshoe.wording.parts import Slot


def by_name_told(case: Case) -> Laid | None:
    """ "Jazz box touch (cross R over L, L back, R side, touch L)": a name beside the very steps it stands for."""
    named = [k for k, a in enumerate(case.atoms) if a.name and len(a.choices[0]) > 1 and a.times == 1]
    for k in named:
        laid = _without_steps(case, k)
        if laid is not None:
            return laid
    for k, taken in product(named, (1, 2)):
        laid = _without_name(case, k, taken)
        if laid is not None:
            return laid
    return None


def _without_steps(case: Case, k: int) -> Laid | None:
    """ "Coaster step back, together, forward": the name has taken the first of its steps, the others are told again."""
    steps = case.atoms[k].choices[0]
    told = case.atoms[k + 1 : k + len(steps)]
    if len(told) != len(steps) - 1 or any(len(a.choices[0]) != 1 or a.name for a in told):
        return None
    pairs = [(slot.wants, a.choices[0][0].wants) for slot, a in zip(steps[1:], told, strict=True)]
    if not all(len(n) == len(t) == 1 and n[0].verb == t[0].verb and n[0].dir == t[0].dir for n, t in pairs):
        return None
    rest = [*case.atoms[: k + 1], *case.atoms[k + len(steps) :]]
    row = row_of(rest, all_shares(rest), tuple(0 for _ in rest))
    if len(row) != len(case.places):
        return None
    for atom in told:
        atom.heading = True
    return one_each(row, case.places)


def _without_name(case: Case, k: int, taken: int) -> Laid | None:
    """Lay a line without the pattern named by its atom ``k`` (and the close behind it, where two are taken)."""
    name, rest = case.atoms[k : k + taken], [*case.atoms[:k], *case.atoms[k + taken :]]
    if not rest or len(name) < taken or any(len(a.choices[0]) != 1 for a in name[1:]):
        return None
    row = row_of(rest, all_shares(rest), tuple(0 for _ in rest))
    if len(row) != len(case.places) or not _same_steps(name[0].choices[0], [slot for slot, _ in row.slots]):
        return None
    for atom in name:
        atom.heading = True
    return one_each(row, case.places)


def _same_steps(named: Sequence[Slot], told: Sequence[Slot]) -> bool:
    """Return whether the steps that are told begin as those of the pattern that is named."""
    pairs = [(n.wants, t.wants) for n, t in zip(named, told, strict=False)]
    if len(told) < len(named) or not all(len(n) == 1 and len(t) > 0 for n, t in pairs):
        return False
    return all(n[0].verb == t[0].verb and _like(n[0].dir, t[0].dir) for n, t in pairs[: max(2, len(named) - 1)])


def _like(named: str, told: str) -> bool:
    sides = ("side", "right", "left", "out")
    return not named or not told or named == told or (named in sides and told in sides)
