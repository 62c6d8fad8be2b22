"""Counts behind a line's words that can't be meant for all of them: "rock, recover, then a coaster step (3&4)", "vine
right, touch (4)".

A count behind the words that leaves a gap before it is for the last of them, where those before fill the gap; a lone
number that is no next count is how long the line lasts, where its words last as long.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.laying import lay
from softshoe.wording.laying_ways import natural

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.wording.laid import Laid
    from softshoe.wording.stage import Ready

MOST_GAP = 16


def stands_behind(one: Ready) -> bool:
    """Return whether an item's one count stands behind all its words."""
    label, tokens = one.item.label, one.item.tokens
    return label is not None and bool(tokens) and not label.floats and label.start >= tokens[-1].end


def as_length(one: Ready, cursor: Fraction) -> tuple[Fraction, ...]:
    """Return the counts that follow on ``cursor``, as many as a lone number behind the words says; () where it is no
    length.
    """
    label = one.item.label
    if label is None or len(label.places) != 1 or label.spelled or label.first.denominator != 1:
        return ()
    n = int(label.first)
    if one.places[0] == cursor + 1 or n < 2:
        return ()
    fits = one.repeat is not None and not one.atoms and cursor >= n
    if one.repeat is None:
        fits = bool(one.atoms) and (int(natural(one.atoms)[1]) == n or _marches(one, n))
    return tuple(cursor + k for k in range(1, n + 1)) if fits else ()


def _marches(one: Ready, n: int) -> bool:
    """ "March, right foot first, arms swinging (8)": what goes on by itself is meant for so many counts."""
    feet = [want for atom in one.atoms for slot in atom.choices[0] for want in slot.wants]
    return n % 2 == 0 and len(feet) == 1 and feet[0].goes_on


def led_up_to(one: Ready, cursor: Fraction, *, seated: bool) -> Laid | None:
    """Return the words laid on the gap before their count and on that count, where they part in just one way."""
    gap = int(one.places[0].__floor__()) - int(cursor) - 1
    if not 0 < gap <= MOST_GAP or one.repeat is not None or len(one.atoms) < 2:
        return None
    found: list[Laid] = []
    for k in range(1, len(one.atoms)):
        before, length = natural(one.atoms[:k])
        if int(length) != gap or one.atoms[k].join == "with":
            continue
        laid = lay(one.atoms[k:], one.places, ranged=False, seated=seated)
        if not laid.problem and {at for at, _, _ in laid.at} == set(one.places):
            laid.at = [*((cursor + 1 + at, slot, atom) for at, slot, atom in before), *laid.at]
            found.append(laid)
    return found[0] if len(found) == 1 else None


def tells_both(before: Ready, one: Ready) -> bool:
    """ "Side, touch; side, touch (4 counts)": a length told behind the second half of a line is for both halves."""
    label = one.item.label
    if label is None or not label.floats or before.item.label is not None or before.item.line != one.item.line:
        return False
    if before.repeat is not None or one.repeat is not None or not (before.atoms and one.atoms):
        return False
    halves = [int(natural(part.atoms)[1]) for part in (before, one)]
    return halves[0] == halves[1] and sum(halves) == len(label.places)
