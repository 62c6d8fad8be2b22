"""Clauses that share what one of them says: who begins, that sides alternate, what is lifted and lowered."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

LEADING = ("first", "start", "lead", "begin")
SIDES = (["R"], ["L"])


def in_turn(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with what is said of their neighbours taken over."""
    return _lifted(_one_first(_alternating(drafts)))


def _alternating(drafts: list[Draft]) -> list[Draft]:
    """ "Four punches forward, alternate, right first": the sides of what is done several times take turns."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        only = draft.alternate and not (draft.doing or draft.dirs or draft.part or draft.hands or draft.amount)
        if only and before is not None and before.times > 1 and not before.alternate and not draft.feet:
            before.alternate = True
            before.tokens = [*before.tokens, *draft.tokens]
        else:
            out.append(draft)
    return out


def _one_first(drafts: list[Draft]) -> list[Draft]:
    """ "Both arms reach up, right arm first": that one does it now, the other one later."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        plain = draft.hands in SIDES and not (draft.doing or draft.dirs or draft.feet or draft.part)
        both = before is not None and before.hands == ["both"] and before.doing in ("gest", "dual", "verb")
        if before is not None and plain and both and draft.tokens_say(*LEADING) and before.times < 2:
            out[-1] = replace(before, hands=list(draft.hands), tokens=[*before.tokens, *draft.tokens])
        else:
            out.append(draft)
    return out


def _lifted(drafts: list[Draft]) -> list[Draft]:
    """ "Raise and lower the right heel twice": both are said of the heel, and both are done as often."""
    for at, (one, two) in enumerate(pairwise(drafts)):
        bare = not (one.feet or one.part or one.hands or one.dirs or one.place)
        pair = one.doing == two.doing == "dual" and (one.value, two.value) in (("raise", "lower"), ("open", "close"))
        if not (bare and pair and two.join == "and" and (two.feet or two.part or two.hands)):
            continue
        one.feet, one.part, one.hands, one.handword = list(two.feet), two.part, list(two.hands), two.handword
        if two.times > 1:
            often, two.times = two.times, 1
            more = [replace(d, join="seq") for _ in range(often - 1) for d in (one, two)]
            return [*drafts[: at + 2], *more, *drafts[at + 2 :]]
    return drafts
