"""Clauses behind "with" that only say what the one before is danced with: its heel, its foot, its turn."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft


def taken_in(draft: Draft, before: Draft) -> bool:
    """Take a clause that only says with what the one before is danced into that one; return whether it was."""
    if _with_its_part(draft, before):
        before.feet, before.part = list(draft.feet), draft.part  # "tap in front with the right heel"
        before.dirs = before.dirs or list(draft.dirs)
        before.counts = before.counts or draft.counts
    elif _same_foot(draft, before):
        before.dirs = [{"R": "right", "L": "left"}[draft.feet[0]]]  # "step right with your right foot"
    elif _with_the_hand(draft, before):
        before.hands, before.dirs = list(draft.hands), list(draft.dirs)  # "point with the right hand to the right"
    elif _with_its_turn(draft, before):
        before.amount, before.spin, before.dirs = draft.amount, draft.spin, list(draft.dirs)
    else:
        return False
    before.tokens = [*before.tokens, *draft.tokens]
    return True


def _with_its_turn(draft: Draft, before: Draft) -> bool:
    """ "Right step with quarter turn right, right side": turn and way of the step before."""
    plain = before.doing == "verb" and before.value == "step" and not (before.dir or before.dirs or before.amount)
    turns = draft.join == "with" and draft.amount and draft.dirs and draft.feet in ([], before.feet)
    return plain and bool(turns) and not (draft.doing or draft.hands or draft.part)


def _with_the_hand(draft: Draft, before: Draft) -> bool:
    """Return whether a clause behind "with" names the hand that points, where no foot is named."""
    only_hand = draft.join == "with" and len(draft.hands) == 1 and not (draft.doing or draft.feet or draft.part)
    points = before.doing == "verb" and before.value == "point" and before.tokens_say("point", "points", "pointing")
    return only_hand and points and not (before.feet or before.part or before.hands or before.dirs)


def _with_its_part(draft: Draft, before: Draft) -> bool:
    """Return whether a clause behind "with" names the heel or toe that touches."""
    only_part = draft.part in ("heel", "toe") and draft.join == "with" and len(draft.feet) == 1
    named = draft.doing or draft.hands or draft.amount or draft.feet == ["both"]
    reaches = before.doing == "draw" or (before.doing == "verb" and before.value == "touch")
    return only_part and reaches and not (before.feet or before.part or before.arms) and not named


def _same_foot(draft: Draft, before: Draft) -> bool:
    """Return whether a clause behind "with" names the foot that the side before it might have been."""
    only_foot = not (draft.doing or draft.dirs or draft.hands or draft.part or draft.amount)
    same = draft.feet in (["L"], ["R"]) and draft.feet == before.feet and draft.join == "with"
    return same and only_foot and before.doing == "verb" and before.value == "step" and not (before.dirs or before.dir)
