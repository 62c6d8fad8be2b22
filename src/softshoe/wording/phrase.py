"""What every part of the phrase builder shares: the atoms so far and what later clauses lean on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.footwords import with_draft

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Hand, Slot


class Phrase:
    """The atoms of the item so far; the clauses before, for what the next ones leave out."""

    def __init__(
        self,
        *,
        hand: str = "",
        before: Draft | None = None,
        hand_before: Hand | None = None,
        last: str = "",
        patted: str = "",
        alone: str = "",
        of_arms: bool = False,
        across: Hand | None = None,
    ) -> None:
        self.atoms: list[Atom] = []
        self.before = before  # the last clause for the feet
        self.hand_before = hand_before
        self.hand_side = hand
        self.carried: Draft | None = None  # a heading clause, for what stands under it
        self.last = last
        self.of_arms = of_arms
        self.across = across  # what the hands did last on the line before
        self.alone = alone  # the last hand that moved alone
        self.patted = patted  # where the hands have patted: the next pat, if it names no place, is there too
        self.under: list[Slot] = []  # what a pattern that heads the clauses has still to come
        self.told: Draft | None = None  # the clause before
        self.came_to = False  # the hands came to the chest or waist: that is no height they keep
        self.struck = False  # the line claps, snaps or pats
        self.run = 0  # the atom that the present run of feet began with
        self.absorb: list[str] = []  # feet that a pattern still names

    def _remark(self, draft: Draft) -> None:
        """Weight, facing, counts, times said behind a comma or in brackets belong to what stands before."""
        if not self.atoms:
            return
        with_draft(self.atoms[-1], draft)

    def _facing(self, draft: Draft, atom: Atom) -> None:
        if draft.facing is not None:
            atom.facings.append((draft.facing, draft.facing_at))
