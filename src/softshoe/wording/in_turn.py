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
    for draft in drafts:
        if draft.times > 2 and len(draft.feet) == draft.times and draft.doing != "pattern":
            draft.times = 1  # "punch forward x 4 (R, L, R, L)"
    return _lifted(_one_first(_alternating(_whose(drafts))))


def _whose(drafts: list[Draft]) -> list[Draft]:
    """ "Windscreen wipers, both hands, x 4": hands alone behind what hands do say whose it is, then how often."""
    out: list[Draft] = []
    told = False
    for draft in drafts:
        before = out[-1] if out else None
        only = not (draft.doing or draft.dirs or draft.part or draft.feet or draft.place or draft.amount or draft.at)
        gesture = before is not None and before.doing == "gest" and not before.feet
        alone = draft.hands in SIDES and len(drafts) == 2 and before is not None and not (before.dirs or before.place)
        theirs = only and (draft.hands == ["both"] or alone) and draft.join == "seq" and not draft.alternate
        theirs = theirs and not draft.tokens_say(*LEADING)
        if before is not None and gesture and theirs and not before.hands:
            before.hands, before.handword, told = list(draft.hands), draft.handword, True
        elif before is not None and told and only and not draft.hands and draft.times > 1 == before.times:
            before.times = draft.times
        else:
            out.append(draft)
            told = False
            continue
        before.tokens = [*before.tokens, *draft.tokens]
    return out


def _alternating(drafts: list[Draft]) -> list[Draft]:
    """ "Four punches forward, alternate, right first": the sides of what is done several times take turns."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        only = not (draft.doing or draft.dirs or draft.part or draft.hands or draft.amount)
        if before is not None and only and draft.alternate and before.times > 1 and not before.alternate:
            _in_turns(before, draft.feet[:1] or _first_told(draft))
            before.tokens = [*before.tokens, *draft.tokens]
        elif before is not None and only and draft.join == "and" and draft.feet in SIDES and _told_turns(before):
            before.tokens = [*before.tokens, *draft.tokens]  # "alternate R and L"
        else:
            out.append(draft)
    return out


def _in_turns(draft: Draft, first: list[str]) -> None:
    draft.alternate = True
    if draft.doing == "gest" and not draft.feet:
        draft.hands = draft.hands or first
    else:
        draft.feet = draft.feet or first


def _first_told(draft: Draft) -> list[str]:
    """ "Alternating right and left"."""
    said = next((t.low for t in draft.tokens if t.low in ("right and left", "left and right")), "")
    return [said[0].upper()] if said else []


def _told_turns(draft: Draft) -> bool:
    return draft.alternate and draft.tokens[-1].kind == "side"


def _one_first(drafts: list[Draft]) -> list[Draft]:
    """ "Both arms reach up, right arm first": that one does it now, the other one later."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        plain = draft.hands in SIDES and not (draft.doing or draft.dirs or draft.feet or draft.part)
        if before is not None and _to_and_fro(before, draft):
            before.tokens = [*before.tokens, *draft.tokens]
            continue
        both = before is not None and before.hands == ["both"] and before.doing in ("gest", "dual", "verb")
        if before is not None and plain and both and draft.tokens_say(*LEADING) and before.times < 2:
            out[-1] = replace(before, hands=list(draft.hands), tokens=[*before.tokens, *draft.tokens])
        else:
            out.append(draft)
    return out


def _to_and_fro(before: Draft, draft: Draft) -> bool:
    """ "Swing your arms from side to side, right first": which way both go first, no hand."""
    named = draft.doing or draft.dirs or draft.part or draft.hands or draft.amount or draft.place
    both = before.hands == ["both"] and before.value in ("swing", "sway", "sweep", "wave")
    return both and draft.feet in SIDES and not named and draft.tokens_say(*LEADING)


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
