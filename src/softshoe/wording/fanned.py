"""Fans and splits whose ways are told one by one, and pivots whose step stands before them."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

FANS = {"toe fan": ("fan", "toe"), "heel fan": ("swivel", "heel")}
SPLITS = {"heel split": "heel", "toe split": "toe"}


def fanned(drafts: list[Draft]) -> None:
    """ "Right toe fan out, in, out, in": ways told one by one make the pattern a plain fan."""
    _steps_and_pivots(drafts)
    for draft, ahead in pairwise(drafts):
        listed = ahead.dirs and not (ahead.doing or ahead.feet or ahead.part or ahead.hands or ahead.amount)
        if draft.doing == "pattern" and draft.value in FANS and listed:
            if draft.dirs:
                draft.doing, (draft.value, draft.part) = "verb", FANS[draft.value]
            elif draft.heading:
                draft.doing, draft.part, draft.value = "", FANS[draft.value][1], ""
        elif draft.value in SPLITS and listed and _split_by_ways(draft, ahead):
            draft.doing, draft.part, draft.value, draft.feet = "", SPLITS[draft.value], "", ["both"]


def _split_by_ways(draft: Draft, ahead: Draft) -> bool:
    """ "Heel splits: out, in", "split heels out, in, out, in"."""
    headed = draft.heading and not draft.dirs and ahead.dirs[0] in ("out", "apart")
    return headed or (draft.dirs in (["out"], ["apart"]) and ahead.dirs[0] in ("in", "centre", "together"))


def _steps_and_pivots(drafts: list[Draft]) -> None:
    """ "Step right, half turn left": the foot is set forward, and turned away from."""
    for draft, ahead in pairwise(drafts):
        plain = (
            draft.doing == "verb"
            and draft.value == "step"
            and not (draft.dir or draft.dirs or draft.amount or draft.part)
        )
        turns = ahead.amount and not (ahead.doing or ahead.feet or ahead.dirs or ahead.part or ahead.hands)
        if plain and turns and draft.feet == [{-1: "R", 1: "L"}.get(ahead.spin)] and ahead.join in ("seq", "stop"):
            draft.dirs = ["forward"]
