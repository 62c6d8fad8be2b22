"""A section that comes back under its own number: "A, B, A, C", where the second A is danced as the first."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Hashable, Sequence
    from fractions import Fraction

    from softshoe.wording.stage import Stage

Moves = set[tuple["Fraction", "Hashable"]]


def comes_back(stage: Stage, first: Sequence[int], again: Sequence[int]) -> bool:
    """Return whether a section is danced as an earlier one, or as that one on the other side.

    ``first`` and ``again`` are the counts before each and the counts that it fills.
    """
    here = _danced(stage, *again)
    return first[1] == again[1] and here in (_danced(stage, *first), _danced(stage, *first, mirrored=True))


def _danced(stage: Stage, start: int, filled: int, *, mirrored: bool = False) -> Moves:
    """Return what feet and hands do behind a count, counted from there; a wait in whatever words is none."""
    end = start + filled + 1
    moves: Moves = set()
    for action in stage.actions:
        if start < action.at.at < end and (action.verb != "hold" or action.arms):
            one = action.mirrored if mirrored else action
            moves.add((one.at.at - start, (one.foot, one.verb, one.dir, one.turn_deg, one.arms)))
    for at, arms in stage.hands.items():
        if start < at < end:
            moves.add((at - start, frozenset(arm.mirrored if mirrored else arm for arm in arms)))
    return moves
