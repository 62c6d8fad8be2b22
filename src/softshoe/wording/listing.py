"""A pattern's name over its steps: "jazz box with a touch: cross …", "vine left and touch - side, behind, …"."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.drafts import Draft

CLOSES = frozenset(("touch", "scuff", "brush", "kick", "hitch", "hold", "stomp", "stomp-up", "point", "heel", "hook"))


def names_pattern(drafts: Sequence[Draft]) -> bool:
    """Return whether clauses only name a pattern, with its close or without."""
    if not drafts or drafts[0].doing != "pattern":
        return False
    return len(drafts) == 1 or (len(drafts) == 2 and _only_closes(drafts[1]))


def closed_patterns(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with a close that stands before a colon as part of the pattern's name."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        if before is not None and before.doing == "pattern" and draft.heading and _only_closes(draft):
            before.heading = True
            before.tokens = [*before.tokens, *draft.tokens]
        else:
            out.append(draft)
    return out


def _only_closes(draft: Draft) -> bool:
    """ "… with a touch", "…, scuff left": a step that ends a pattern and names no place."""
    named = draft.hands or draft.part or draft.amount or set(draft.dirs) - {"together"}
    return draft.doing == "verb" and draft.value in CLOSES and not named
