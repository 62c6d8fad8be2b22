"""Who only rises, rises on her toes: "rise, lower, rise, lower", "rise on both feet"; both heels lift.

Heels told behind it are what rises: "rise up, both heels off the floor" is one movement.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft


def on_the_toes(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with the heels named where one rises and names nothing that does; what lowers, lowers them."""
    out: list[Draft] = []
    risen = of_hands = bare = False
    for draft in drafts:
        if bare and out[-1].part == "heel" and _only_heels(draft):
            out[-1].tokens = [*out[-1].tokens, *draft.tokens]
            continue
        bare = draft.doing == "dual" and not (draft.part or draft.hands or draft.place or draft.refs)
        bare = bare and draft.feet in ([], ["both"])
        of_hands = draft.doing == "dual" and (draft.arms or (bare and of_hands))
        rises = bare and not of_hands and draft.value == "raise" and draft.tokens_say("rise", "rising")
        if rises or (bare and risen and draft.value == "lower"):
            draft.part, draft.feet = "heel", ["both"]
        risen = rises or (risen and (draft.part == "heel" or draft.value == "hold" or draft.bare))
        out.append(draft)
    return out


def _only_heels(draft: Draft) -> bool:
    """ "…, both heels", "…, heels off the floor": the heels are named, and nothing that they do."""
    said = draft.doing or draft.hands or draft.amount or draft.turning or draft.at or draft.times > 1
    return draft.part == "heel" and draft.feet in ([], ["both"]) and draft.dirs in ([], ["up"]) and not said
