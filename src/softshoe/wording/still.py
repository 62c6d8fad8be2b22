"""Clauses in which no foot and no hand moves: a rest, a look, a part of the foot that stays, a side to turn to."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.wording.counting import Label
    from softshoe.wording.drafts import Draft


def side_only(draft: Draft) -> bool:
    """ "Turn the head right, left": a word that names a side, and no foot."""
    return draft.feet in (["R"], ["L"]) and all(t.kind == "side" for t in draft.tokens if t.kind in ("side", "foot"))


def paused(draft: Draft) -> Draft:
    """ "Forward on 1, home on 2, rest on 3": a rest of nothing in particular is a hold."""
    named = draft.hands or draft.place or draft.dirs or draft.feet or draft.part
    plain = draft.doing == "gest" and draft.value == "rest" and not named
    return replace(draft, doing="verb", value="hold") if plain else draft


def looks(draft: Draft) -> bool:
    """Return whether a clause only says where one looks now."""
    if draft.facing is None or draft.doing or draft.feet or draft.part or draft.hands or draft.amount:
        return False
    return any(one.kind in ("prep", "look") and two.kind == "clock" for one, two in pairwise(draft.tokens))


def counted_rests(drafts: list[Draft]) -> list[Draft]:
    """ "Sway right on 1, hold 2, 3": behind a movement with its count, a rest's numbers are counts, not a length."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        if before is not None and before.at and before.at[-1] + 1 == draft.counts and draft.value == "hold":
            draft.at, draft.counts = (before.at[-1] + 1,), None
        elif before is not None and before.value == "hold" and before.at and _only_number(draft, before.at[-1] + 1):
            before.at = (*before.at, before.at[-1] + 1)
            before.tokens = [*before.tokens, *draft.tokens]
            continue
        out.append(draft)
    return out


def held_on_the_last(drafts: list[Draft], label: Label | None) -> list[Draft]:
    """ "3-4 foot home (hold 4)": behind a movement, the number of a hold is the row's last count, not a length."""
    last = drafts[-1] if len(drafts) > 1 and label is not None and len(label.wholes) > 1 else None
    if last is not None and label is not None and last.value == "hold" and last.counts == label.last:
        last.at, last.counts = (label.last,), None
    return drafts


def _only_number(draft: Draft, count: Fraction) -> bool:
    words = [t for t in draft.tokens if t.kind not in ("mark", "join", "fill")]
    return [t.kind for t in words] == ["num"] and words[0].low == str(count) and not draft.doing


STAYING = ("stay", "still", "down", "keep", "planted", "floor", "ground", "on")


def stays(draft: Draft, before: Draft | None) -> bool:
    """ "… (the heel stays put)", "with the heel on the floor": a part of the foot that stays moves nowhere."""
    if before is not None and draft.dirs == ["up"] and not draft.doing and draft.join in ("seq", "with"):
        pair = (before.part or before.value, draft.part)
        if pair in (("heel", "toe"), ("toe", "heel")) and before.feet in (["L"], ["R"]) and before.dirs != ["up"]:
            return True  # "right heel out in front, toes up"
    if not draft.part or draft.feet not in ([], ["both"]) or draft.amount or draft.value not in ("", "hold", "step"):
        return False
    held = draft.value == "hold"
    if draft.doing and not held:
        return False
    beside = draft.join == "with" or draft.grouped
    fans = before is not None and (before.part == "toe" or before.value in ("fan", "swivel"))
    return held or draft.tokens_say("keep", "still") or (beside and fans and draft.tokens_say(*STAYING))
