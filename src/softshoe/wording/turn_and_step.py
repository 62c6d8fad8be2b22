"""A turn told before the step it is danced with: "turn a quarter right and step right to the side", "quarter right with
the right forward".
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

TURNED = ("step", "rock", "stomp", "ball")
RUNS = ("chasse", "shuffle", "lock step", "waltz basic forward")


def turn_and_step(draft: Draft, ahead: Draft | None) -> bool:
    """Give the next clause the turn that a clause tells, if the two are one step; return whether they are."""
    turned_first(draft)
    if draft.feet in (["L"], ["R"]) and not draft.spin and not any(t.kind == "foot" for t in draft.tokens):
        draft = replace(draft, spin=1 if draft.feet == ["R"] else -1, feet=[])  # "turn a quarter to the left"
    way = {1: "right", -1: "left"}.get(draft.spin, "")
    if ahead is None or not draft.amount or draft.doing or draft.feet or draft.weight or set(draft.dirs) - {way}:
        return False
    joined = ahead.join in ("and", "with") or ahead.tokens[0].low == "stepping" or draft.tokens[0].low == "turning"
    steps = _steps_out(ahead) or (ahead.doing == "verb" and ahead.value in TURNED)
    runs = ahead.doing == "pattern" and ahead.value in RUNS and ahead.join in ("and", "with", "seq")
    if not (runs or (joined and steps)) or ahead.amount:
        return False
    ahead.amount, ahead.spin, ahead.join = draft.amount, draft.spin, draft.join
    if runs:
        ahead.turned_first = True
    return True


def turned_first(draft: Draft) -> None:
    """ "A quarter turn right side shuffle": the turn before a pattern's name is that of its first step."""
    if draft.doing != "pattern" or draft.value not in RUNS or not draft.amount or draft.turn_on >= 0:
        return
    turn = next((k for k, t in enumerate(draft.tokens) if t.kind == "amount"), len(draft.tokens))
    name = next((k for k, t in enumerate(draft.tokens) if t.kind == "pattern"), 0)
    draft.turned_first = draft.turned_first or turn < name


def _steps_out(draft: Draft) -> bool:
    """ "… with the right foot forward", "and left to the side": a foot and where it goes."""
    named = draft.doing or draft.part or draft.hands or draft.place or draft.weight
    return draft.feet in (["L"], ["R"]) and len(draft.dirs) == 1 and not named
