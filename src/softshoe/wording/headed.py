"""A way said once for a whole list: "off we go to the right: side, behind, side, touch", "side, close, side, touch to
the right", "towards the right front corner: step, close, step, touch".

Before a colon it heads the list; behind the list it closes it. Each clause takes what it lacks.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.lead import SIDE_OF

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

WAYS = {"R": "right", "L": "left"}
GOING = ("go", "mov", "travel", "head", "off", "com", "progress", "to")
BESIDE = frozenset(
    ("back", "centre", "up", "in place", "forward")
)  # "home again to the left", "up to the right corner"
SWAYING = ("bump", "hiproll")
CLOSING = frozenset(("touch", "scuff", "brush", "hitch", "stomp", "stomp-up", "flick", "hold", "step"))


def headed(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses of a line with the way that stands before their colon, or behind them, given to each."""
    drafts = _closed(_with_foot(drafts))
    head, rest = (drafts[0], drafts[1:]) if len(drafts) > 1 else (None, [])
    if head is None or not head.heading or not rest:
        return drafts
    if _sways(head, rest):
        return rest
    if head.doing == "pattern" and not head.feet and head.dirs in (["right"], ["left"]):
        head.feet = [SIDE_OF[head.dirs[0]]]
        return drafts
    goes = head.doing == "" or (head.value == "step" and head.tokens_say(*GOING) and not head.dir)
    if not goes or head.part or head.hands or head.amount or head.place or head.refs or head.at or "both" in head.feet:
        return drafts
    if any("diag" in way for way in head.dirs):
        return _to_corner(head, rest) or drafts
    sides = [way for way in head.dirs if way in SIDE_OF] or _side_gone_to(head)
    if len(sides) == 1 and set(head.dirs) - set(sides) <= BESIDE:
        return _sideways(rest, SIDE_OF[sides[0]]) or drafts
    if head.dirs in (["forward"], ["back"]) and _onwards(rest, head.dirs[0]):
        rest[0].feet = rest[0].feet or list(head.feet)
        return rest
    return drafts


def _sways(head: Draft, rest: list[Draft]) -> bool:
    """ "Four single bumps: right, left, right, left": the sides behind the name are where the hips go."""
    named = head.dirs or head.feet or head.hands or head.part or head.amount
    hips = head.place == "hip" and not head.doing and head.tokens_say("hip")  # "quick hips: right, left, right"
    if not (hips or head.value in SWAYING) or named or not all(_only_side(d) for d in rest):
        return False
    if hips:
        head.doing, head.value = "verb", "bump"
    rest[:] = [
        replace(d, feet=[foot], join="seq" if k else d.join) for d in rest for k, foot in enumerate(d.feet or [""])
    ]
    for draft in rest:
        draft.doing, draft.value, draft.dir = head.doing, head.value, head.dir
        draft.dirs, draft.feet = [WAYS[draft.feet[0]] if draft.feet[0] else draft.dirs[0]], []
    rest[0].tokens = [*head.tokens, *rest[0].tokens]
    return True


def _only_side(draft: Draft) -> bool:
    named = draft.doing or draft.part or draft.hands or draft.amount or draft.place or draft.refs
    sides = [*draft.feet, *(SIDE_OF.get(way, "") for way in draft.dirs)]
    return not named and bool(sides) and set(sides) <= {"R", "L"} and len(draft.dirs) < 2


def _with_foot(drafts: list[Draft]) -> list[Draft]:
    """ "To the right diagonal with the right foot: step, …": the foot behind "with" belongs to the head."""
    if len(drafts) > 2 and drafts[1].heading and drafts[1].join == "with" and drafts[1].feet in (["L"], ["R"]):
        head, foot = drafts[0], drafts[1]
        if not (head.feet or foot.doing or foot.dirs or foot.part or foot.hands) and head.dirs:
            head.feet, head.heading, head.tokens = list(foot.feet), True, [*head.tokens, *foot.tokens]
            return [head, *drafts[2:]]
    return drafts


def _side_gone_to(head: Draft) -> list[str]:
    """ "Travelling to the left:", "moving right:"."""
    gone = head.feet in (["L"], ["R"]) and not head.dirs and head.tokens[0].low.startswith(GOING)
    return [WAYS[head.feet[0]]] if gone else []


def _bare_step(draft: Draft) -> bool:
    """Return whether a clause only says to step, or names a foot and no more."""
    named = draft.dir or draft.dirs or draft.part or draft.hands or draft.refs or draft.place
    stepped = draft.value == "step" if draft.doing else bool(draft.feet)
    return stepped and not named and draft.doing in ("", "verb") and "both" not in draft.feet


def _to_corner(head: Draft, rest: list[Draft]) -> list[Draft]:
    """Each bare step goes to the corner that is named; the foot of that side begins."""
    named = " ".join(head.dirs)
    side = next((s for s in ("R", "L") if f" {s} " in f" {named} "), "")
    side = side or next((SIDE_OF[way] for way in head.dirs if way in SIDE_OF), "") or "".join(head.feet[:1])
    steps = [draft for draft in rest if _bare_step(draft)]
    if side not in WAYS or not steps:
        return []
    for draft in steps:
        draft.dirs = [("back" if "back" in named else "forward") + f" {side} diag"]
    rest[0].feet = rest[0].feet or list(head.feet) or [side]
    return rest


def _sideways(rest: list[Draft], foot: str) -> list[Draft]:
    """The foot of that side begins; what only says to step goes to the side."""
    first = rest[0]
    if first.dirs not in ([], ["side"]) or first.doing not in ("", "verb", "pattern") or first.part or first.hands:
        return []
    if first.doing == "verb" and first.value != "step":
        return []
    if not first.feet and not (first.dirs or first.doing):
        return []
    first.feet = first.feet or [foot]
    for draft in rest:
        if draft.doing == "verb" and _bare_step(draft):
            draft.dirs = ["side"]
    return rest


def _onwards(rest: list[Draft], way: str) -> bool:
    """Each bare step goes forward or back; return whether any does."""
    found = [d for d in rest if _bare_step(d) or (d.doing == "pattern" and not (d.dirs or d.dir))]
    for draft in found:
        draft.dirs = [way]
    return bool(found)


def _closed(drafts: list[Draft]) -> list[Draft]:
    """ "Side, behind, side, scuff to the right": a side behind the close of a list that names no foot leads it."""
    start = 0
    for k, last in enumerate(drafts):
        if last.join == "stop":
            start = k
        ends = k + 1 == len(drafts) or drafts[k + 1].join == "stop" or all(d.arms for d in drafts[k + 1 :])
        side = last.dirs[-1:] if ends and k > start + 1 and last.doing == "verb" and last.value in CLOSING else []
        first = drafts[start]
        opens = first.dirs == ["side"] and first.doing in ("", "verb") and first.value in ("", "step")
        if not side or side[0] not in SIDE_OF or not opens or any(d.feet or d.hands for d in drafts[start : k + 1]):
            continue
        if last.value == "step" and last.dir != "together":
            continue
        first.feet, last.dirs = [SIDE_OF[side[0]]], last.dirs[:-1]
    return drafts
