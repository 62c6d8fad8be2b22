"""Sentences that tell no counts among sentences that do: "Walk right, left, right, hold. Stamp on five, clap on six …".

Where what they dance fills just the counts that the others leave open, before them, between them or up to the end of a
row of eights, it stands there. Otherwise such a sentence is a remark, and is told.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.counting import Label
from softshoe.wording.laying import lay
from softshoe.wording.laying_ways import natural
from softshoe.wording.remark import talks

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.stage import Ready


def stand_between(items: Sequence[Ready], start: int, unit: int) -> None:
    """Give the sentences without counts the counts that are open where they stand; ``start``: those before all."""
    run: list[Ready] = []
    last = Fraction(start)
    for one in items:
        if _dances(one):
            run.append(one)
        elif one.places and not one.item.limb:
            _stand(run, last, one.places[0] - 1)
            run, last = [], one.places[-1]
        elif not one.item.remark:
            run, last = [], Fraction(-1)  # a line without counts: where it ends is not known here
    length = sum(map(_length, run))
    end = last + length
    if last >= start and length and end.denominator == 1 and (end - start) % unit == 0:
        _stand(run, last, end)


def _dances(one: Ready) -> bool:
    """Return whether a sentence taken for a remark dances, and every word of it is known."""
    item = one.item
    plain = item.remark and bool(one.atoms) and one.repeat is None and not (item.unknown or item.strange)
    own = any(a.at or a.on_verb or a.heading for a in one.atoms)
    return plain and not own and not talks(item.tokens)


def _length(one: Ready) -> int:
    return int(natural(one.atoms)[1])


def _stand(run: Sequence[Ready], last: Fraction, end: Fraction) -> None:
    """Lay the sentences behind ``last`` if they come just up to ``end``; one alone may fill them in any way."""
    if last < 0 or last.denominator != 1 or not run or end <= last:
        return
    lengths = [_length(one) for one in run]
    if last + sum(lengths) != end:
        if len(run) > 1 or not _fills(run[0], last, end):
            return
        lengths = [int(end - last)]
    for one, length in zip(run, lengths, strict=True):
        places = tuple(last + k for k in range(1, length + 1))
        begin = one.item.tokens[0].start
        one.item.label = Label(places, True, begin, begin, one.item.line)
        one.item.remark = False
        one.places, last = places, places[-1]


def _fills(one: Ready, last: Fraction, end: Fraction) -> bool:
    places = [last + k for k in range(1, int(end - last) + 1)]
    laid = lay(one.atoms, places, ranged=True)
    return not laid.problem and len({at for at, _, _ in laid.at}) == len(places)
