"""Words behind a list that only say something of all of it: "– right foot leading", "both forward", "all to the left".

They stand behind a comma, a dash or a full stop, and belong to the steps before; no step of their own is told.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.lead import LEADING, SIDE_OF
from softshoe.wording.lex import tokens_of

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

ALL = ("all", "both", "each", "each one", "every one", "everything", "each of them", "all of it", "all of them")
GOING = ("travel", "moving", "coming", "going", "progress")
SAYING = ("side", "foot", "fill", "prep", "on", "spin", "alternate", "weight", "look", "clock", "wallname", "mark",
"throughout", "each", "takeweight")  # fmt: skip
WHITHER = ("left", "right", "forward", "back")


@lru_cache(maxsize=MOST_KEPT)
def is_tail(text: str) -> bool:
    """Return whether words only say who leads the steps before them, whither all of them go, or what bears by then.

    >>> is_tail("right foot leading"), is_tail("travelling forward"), is_tail("right foot forward")
    (True, True, False)
    """
    words = [t for t in tokens_of(text, line=0) if t.kind != "mark"]
    if not words or not all(t.kind in SAYING or (t.kind == "dir" and t.value in WHITHER) for t in words):
        return False
    sided = any(t.kind in ("side", "foot") and t.value in ("L", "R") for t in words)
    whither = any(t.kind == "dir" or t.kind == "side" for t in words)
    leads = sided and any(t.low in LEADING for t in words)
    all_of_it = whither and (words[0].low in ALL or words[0].low.startswith(GOING))
    return leads or all_of_it or (sided and any(t.kind == "weight" for t in words))


def of_all(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses of a line with what its last one says of all of them given to each."""
    if len(drafts) > 2 and _leads(drafts[-1]) and _only_says(drafts[-2]):
        return [*of_all(drafts[:-1]), drafts[-1]]  # "…, coming forward, right foot first"
    last = drafts[-1] if len(drafts) > 1 else None
    if last is None or not _only_says(last):
        return drafts
    rest = drafts[:-1]
    way = last.dirs[0] if last.dirs else ""
    if way in ("forward", "back"):
        named = any(d.doing == "pattern" for d in rest)
        if named and last.tokens[0].low not in ALL:
            return drafts  # "shuffle right, left, right, travelling back"
        for draft in rest:
            if _steps(draft) and not (draft.dirs or draft.dir) and not (named and not draft.doing):
                draft.dirs = [way]
    elif way == "in place":
        if not all(d.doing == "verb" and _steps(d) and not (d.dirs or d.dir) for d in rest):
            return drafts  # "right out, left out, both in place"
        for draft in rest:
            draft.dirs = [way]  # "stomp right, stomp left, both on the spot"
    elif last.feet in (["L"], ["R"]) and last.tokens_say("foot", "leg", "with"):
        for draft in rest:
            draft.feet = draft.feet or (list(last.feet) if _steps(draft) else [])
    else:
        side = SIDE_OF.get(way) or (last.feet[0] if last.feet in (["L"], ["R"]) else "")
        if not side or any(d.feet or "side" in d.dirs for d in rest):
            return drafts
        rest[0].feet = [side]
    rest[-1].tokens = [*rest[-1].tokens, *last.tokens]
    return rest


def _only_says(draft: Draft) -> bool:
    named = draft.doing or draft.part or draft.hands or draft.amount or draft.place or draft.refs or draft.at
    first = draft.tokens[0].low
    all_of_it = first in ALL or first.startswith(GOING)
    return not named and all_of_it and len(draft.dirs) < 2 and draft.feet in ([], ["both"], ["L"], ["R"])


def _leads(draft: Draft) -> bool:
    return not (draft.doing or draft.dirs or draft.part or draft.hands) and draft.tokens_say(*LEADING)


def _steps(draft: Draft) -> bool:
    """Return whether a clause asks something of the feet that may still want a way or a foot."""
    return (draft.doing in ("verb", "pattern") and draft.value != "hold") or bool(draft.part or draft.feet)
