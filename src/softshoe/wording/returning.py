"""What went out comes home: "fan right toe out, return to centre", "right heel forward, return"."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

RETURNS = ("return", "returns", "returning")
HOME = frozenset(("centre", "in place", "together", "back", "in", ""))
TURNED = ("fan", "swivel", "swing")
SENT = frozenset(("touch", "point", "heel", "kick", "flick", "hook", "hitch", "dig"))


def returned(draft: Draft, before: Draft) -> Draft | None:
    """Return the clause as the way home of what the one before sent out, None for any other clause."""
    if before.part == "knee" and not before.doing and draft.dirs == ["down"] and _bare_way(draft):
        return replace(draft, doing="verb", value="step", dirs=["in place"], feet=list(before.feet))  # "R knee, down"
    says = draft.value == "step" and draft.tokens_say(*RETURNS)
    fans = before.value in TURNED or (before.part == "toe" and not before.doing and before.dirs == ["out"])
    turned_back = fans and draft.value in ("", "step") and draft.dirs == ["centre"] and draft.tokens_say("back")
    if not (says or turned_back) or draft.hands or draft.amount or draft.refs:
        return None
    same = draft.feet in ([], ["same"], before.feet) and draft.part in ("", before.part, "toe")
    if not same or not {*draft.dirs, draft.dir} <= HOME:
        return None
    both = before.feet == ["both"] or not before.feet
    if fans or (before.part and both and not before.doing):
        feet = list(before.feet) if before.dirs or before.part else ["both"]  # "swivel heels right": no foot is named
        return replace(
            draft, doing=before.doing, value=before.value, dir=before.dir, part=before.part, feet=feet, dirs=["centre"]
        )
    if before.value in SENT or (before.part and not before.doing):
        return replace(draft, part="", feet=list(before.feet) or ["same"], dirs=draft.dirs or ["centre"])
    return None


def lifted_again(draft: Draft, before: Draft) -> Draft | None:
    """ "R knee up, down, up": the foot that came down goes up again; None for any other clause."""
    down = before.value == "step" and before.feet in (["R"], ["L"]) and before.tokens_say("down")
    up = draft.dirs == ["up"] and not (draft.doing or draft.feet or draft.part)
    return replace(draft, doing="verb", value="hitch", feet=list(before.feet), dirs=[]) if down and up else None


def _bare_way(draft: Draft) -> bool:
    return not (draft.doing or draft.feet or draft.part or draft.hands or draft.amount or draft.place)
