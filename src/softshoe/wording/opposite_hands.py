"""Hands told once for a run of steps, each on the side of the other foot: "swing the opposite arm with each step"."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Hand, Slot

OTHER = {"R": "L", "L": "R"}


def opposed_steps(run: Sequence[Atom], draft: Draft) -> list[Atom]:
    """Return the steps of a run that a clause gives the opposite hand; none where it does not, or names no feet."""
    if draft.hands != ["other"] or not draft.each or "opposite" not in draft.handword:
        return []
    steps = [a for a in run if not a.arms_only]
    feet = {w.foot for a in steps for c in a.choices for s in c for w in s.wants}
    return steps if feet and feet <= {"L", "R"} else []


def give_opposite(steps: Sequence[Atom], made: Atom) -> None:
    """Give each step what was made for one hand, on the other foot's side."""
    hands = made.choices[0][-1].hands
    for atom in steps if hands else ():
        atom.choices = [tuple(_opposed(slot, hands[0]) for slot in c) for c in atom.choices]


def _opposed(slot: Slot, hand: Hand) -> Slot:
    return slot.with_hands((hand._replace(side=OTHER[slot.wants[-1].foot or "R"]),))
