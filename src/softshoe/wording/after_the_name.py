"""What a clause leans on in the one before: "rock R forward, L" comes back onto the left; "Monterey half turn right:
point R, turn bringing R in, …" turns where the steps say so, as far as the name does.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

OTHER = {"R": ["L"], "L": ["R"]}


def leaned_on(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with what they lean on filled in."""
    for k, one in enumerate(drafts):
        if one.doing == "pattern" and one.amount and one.value == "monterey":
            _turned_as_named(one, drafts[k + 1 :])
        two, three = (*drafts[k + 1 : k + 3], None, None)[:2]
        behind = two is not None and _rocks(one) and _only_foot(two) and two.feet == OTHER[one.feet[0]]
        if two is not None and behind and (three is None or not _only_foot(three)):
            two.doing, two.value = "verb", "recover"
    return drafts


def _turned_as_named(name: Draft, steps: list[Draft]) -> None:
    told = [d for d in steps if d.amount or (d.tokens_say("turn") and d.doing in ("", "verb"))]
    if len(told) == 1 and not told[0].amount and told[0].dirs:
        told[0].amount, told[0].spin = name.amount, name.spin


def _rocks(draft: Draft) -> bool:
    return draft.doing == "verb" and draft.value == "rock" and draft.feet in (["R"], ["L"]) and bool(draft.dirs)


def _only_foot(draft: Draft) -> bool:
    return draft.sides_alone and draft.feet in (["R"], ["L"]) and draft.join != "stop" and not draft.place
