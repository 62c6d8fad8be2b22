"""What is told behind a pattern on a count of its own: its turn ("a quarter right on 3"), another last step ("sailor,
heel on 2").
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.listing import CLOSES

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Item

# A pattern whose last step is another: the row of patterns.csv that has it.
ENDED = {
    ("sailor step", "heel"): "sailor heel", ("sailor step", "touch"): "sailor touch",
    ("sailor step", "point"): "sailor point", ("coaster step", "heel"): "coaster heel",
    ("coaster step", "touch"): "coaster touch", ("coaster step", "point"): "coaster point",
}  # fmt: skip
ENDINGS = frozenset(ENDED.values())
TO_END = ("ending", "finishing", "end", "finish", "closing", "ends", "finishes")


def turned_on(drafts: list[Draft], item: Item) -> list[Draft]:
    """ "Left vine turning a quarter left on 7", "jazz box, quarter turn right on 3": a count told behind a pattern's
    turn is that of the turn.
    """
    places = item.label.wholes if item.label is not None else ()
    before: Draft | None = None
    for draft in drafts:
        own = draft.doing == "pattern"
        behind = before is not None and before.doing == "pattern" and not before.amount and _only_turns(draft)
        there = len(draft.at) == 1 and len(places) > 2 and draft.at[0] in places[1:]
        if draft.amount and there and draft.turn_on < 0 and (own or behind):
            draft.turn_on, draft.at = places.index(draft.at[0]) + 1, ()
        if before is not None and draft.arms and draft.turn_on == 0 and before.arms:
            _closes_with(draft, before)
        elif before is not None and item.label is None and draft.arms and draft.turn_on == 0:
            draft.join = "with"  # "walk forward four, clap on the last"
        before = draft
    return drafts


def _only_turns(draft: Draft) -> bool:
    return not (draft.doing or draft.feet or draft.dirs or draft.hands or draft.part)


def ended_otherwise(drafts: list[Draft], item: Item) -> list[Draft]:
    """ "Sailor with a heel on 2", "vine right, touch on 4": the step told with the pattern's last count is its last."""
    last = item.label.last if item.label is not None else None
    out: list[Draft] = []
    for draft in drafts:
        before = next((d for d in reversed(out) if d.doing), None)
        close = _close(draft)
        if before is None or before.doing != "pattern" or not close:
            out.append(draft)
            continue
        told = len(draft.at) == 1 and draft.at[0] == last and draft is drafts[-1]
        name = ENDED.get((before.value, close), "")
        if name and (
            told
            or draft.join in ("with", "plus")
            or draft.grouped
            or _behind(before, draft)
            or draft.tokens_say(*TO_END)
        ):
            before.value, before.tokens = name, [*before.tokens, *draft.tokens]
            before.dirs = before.dirs or list(draft.dirs)
        elif before.value in ENDINGS and (told or draft.grouped):
            before.tokens = [*before.tokens, *draft.tokens]
        else:
            draft.at, draft.grouped = (() if told else draft.at), draft.grouped and not told
            out.append(draft)
    return out


def _behind(before: Draft, draft: Draft) -> bool:
    """ "Sailor with a touch", "coaster ending in a touch": the words before the step say that it ends the pattern."""
    words = [t.low for t in (*before.tokens[-3:], *draft.tokens)]
    return any(word.startswith(("with a", "with the", *TO_END)) for word in words)


def _close(draft: Draft) -> str:
    """Return the step that a clause without a foot of its own ends a pattern with; "" for any other clause."""
    if draft.hands or draft.amount or len(draft.feet) > 1 or draft.times > 1:
        return ""
    if draft.doing == "verb" and draft.value in CLOSES and draft.value != "hold":
        return draft.part if draft.part in ("heel", "toe") else draft.value
    return draft.part if not draft.doing and draft.part == "heel" else ""


def _closes_with(draft: Draft, before: Draft) -> None:
    """ "Roll for 4 and clap on the last count": the last of them is the clap's; "roll for 3, then clap on the last"."""
    if draft.join == "and" and (before.counts or 0) > 1 and before.counts:
        before.counts -= 1
    draft.join = "seq"
