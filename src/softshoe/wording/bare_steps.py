"""Clauses that leave out whither, where the next one tells it: "step, half turn left", "step R, scuff L", "out-out"."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

PASSING = ("scuff", "brush", "sweep")  # the free foot swings past: the step before goes forward
SENT = ("point", "reach", "push", "punch")
NAMES = ("touch", "point", "kick", "heel", "step", "stomp")


def told_by_the_next(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with what the clauses beside them say of them."""
    drafts = [d for d, before in zip(drafts, [None, *drafts], strict=False) if not _only_both(d, before)]
    drafts = _named_in_brackets([one for draft in drafts for one in _told_twice(draft)])
    _retold(drafts)
    for k, draft in enumerate(drafts):
        if draft.hands in (["R"], ["L"]) and draft.feet == draft.hands and draft.value in SENT and not draft.dirs:
            draft.dirs, draft.feet = [{"R": "right", "L": "left"}[draft.hands[0]]], []  # "right hand points right"
        if draft.quiet and draft.place and not (draft.doing or draft.hands) and draft.tokens_say("hands rest"):
            draft.quiet, draft.doing, draft.value, draft.hands = False, "gest", "rest", ["both"]  # "hands rest on …"
        if not draft.doing and draft.part == "toe" and draft.dirs and draft.tokens_say("ball of"):
            draft.doing, draft.value, draft.part = "verb", "step", ""  # "& ball of L next to R"
        if draft.value == "rock" and not (draft.dirs or draft.dir) and _coaster_next(draft, drafts[k + 1 : k + 3]):
            draft.dirs = ["forward"]
        if _foot_and_way(draft):
            draft.dirs, draft.feet = [{"R": "right", "L": "left"}[draft.feet[1]]], draft.feet[:1]  # "RF right", "LF L"
        if _side_in_front(draft):
            draft.feet, draft.refs, draft.dirs = list(draft.refs), [], ["forward"]  # "heel in front right"
        if draft.value == "rock" and draft.dirs == ["across front"] and not draft.refs and draft.tokens_say("in front"):
            draft.dirs = ["forward"]  # "rock right in front"
    for one, two in pairwise(drafts):
        if _touches_out(one, two):  # "right side touch, home"
            one.doing, one.value, one.dirs, one.travel = "verb", "touch", ["side"], ""
        if _bare_step(one) and (_turns(two) or _passes(two)):
            one.dirs = ["forward"]
    for one, two, three in zip(drafts, drafts[1:], drafts[2:], strict=False):
        if _toe_heel_cross(one, two, three):
            foot = one.feet or two.feet or three.feet
            one.feet, two.feet, three.feet = list(foot), list(foot), list(foot)
            one.dirs, two.dirs = ["together"], ["together"]
    return drafts


def _foot_and_way(draft: Draft) -> bool:
    words = [t for t in draft.tokens if t.kind in ("foot", "side")]
    pair = len(draft.feet) == 2 and draft.feet[0] == draft.feet[1] and not (draft.dirs or draft.part or draft.hands)
    return pair and [t.kind for t in words] == ["foot", "side"] and draft.value in ("", "step")


def _side_in_front(draft: Draft) -> bool:
    sent = draft.value in ("heel", "touch", "kick", "point") or (not draft.doing and draft.part in ("heel", "toe"))
    there = draft.dirs == ["across front"] and any(t.low == "in front" for t in draft.tokens)
    return sent and there and not draft.feet and draft.refs in (["R"], ["L"]) and not draft.hands


SIDE_TOUCHES = ("side touch", "side touches", "side tap", "side taps")


def _touches_out(one: Draft, two: Draft) -> bool:
    """ "Side touch, home": what comes home behind it has only touched there, and bears nothing."""
    named = one.value == "step touch" and any(t.low in SIDE_TOUCHES for t in one.tokens)
    home = two.dirs in (["centre"], ["in"], ["together"]) and two.feet in ([], ["same"], one.feet)
    return named and home and two.value in ("", "step") and not (two.hands or two.amount or two.part)


def _only_both(draft: Draft, before: Draft | None) -> bool:
    """ "Heels up, heels down (both feet)": a bracket that says once more that it is both."""
    once = draft.grouped or draft.tokens[-1].low in ("once", "at once")  # "- both feet at once"
    said = once and draft.feet == ["both"] and before is not None and before.feet == ["both"]
    return bool(said) and not (draft.doing or draft.dirs or draft.part or draft.hands or draft.amount or draft.refs)


def _coaster_next(draft: Draft, behind: list[Draft]) -> bool:
    """ "Rock, recover, coaster step": what goes back behind it has rocked forward before."""
    names = [d.value for d in behind if d.value != "recover"]
    return draft.doing == "verb" and names[:1] == ["coaster step"]


def _retold(drafts: list[Draft]) -> None:
    """ "Touch R in, out, in (beside, side, beside)": places in a bracket, as many as before it, tell them once more."""
    first = next((k for k, d in enumerate(drafts) if d.grouped), 0)
    inside = [d for d in drafts[first:] if d.grouped or d is drafts[-1]] if first else []
    told = drafts[first - len(inside) : first] if 1 < len(inside) <= first else []
    if not told or drafts[first:] != inside or not all(map(_only_places, inside)):
        return
    if not all(d.dirs and not d.hands and not d.amount for d in told):
        return
    for draft, more in zip(told, inside, strict=True):
        draft.dirs = list(more.dirs)
        draft.doing, draft.value = draft.doing or told[0].doing, draft.value or told[0].value
        draft.feet = draft.feet or ["same"]
        draft.tokens = [*draft.tokens, *more.tokens]
    del drafts[first:]


def _only_places(draft: Draft) -> bool:
    named = draft.doing or draft.feet or draft.part or draft.hands or draft.amount or draft.at or draft.place
    return bool(draft.dirs) and not named


def _told_twice(draft: Draft) -> list[Draft]:
    """ "Out-out, in-in": two steps."""
    same = len(draft.dirs) == 2 and draft.dirs[0] == draft.dirs[1] and draft.dirs[0] in ("out", "in")
    if not same or draft.doing or draft.feet or draft.part or draft.hands or draft.amount:
        return [draft]
    first = replace(draft, dirs=draft.dirs[:1])
    return [first, replace(first, join="seq", at=(), facing=None)]


def _named_in_brackets(drafts: list[Draft]) -> list[Draft]:
    """ "R over, L out (point)": a bracket that holds a verb alone says what the foot before it does there."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        alone = draft.grouped and draft.doing == "verb" and draft.value in NAMES and len(draft.tokens) == 1
        if before is not None and alone and not before.doing and before.feet in (["L"], ["R"]) and before.dirs:
            before.doing, before.value, before.dir = draft.doing, draft.value, draft.dir
            before.dirs = ["side" if way == "out" else way for way in before.dirs]
            before.tokens = [*before.tokens, *draft.tokens]
        else:
            out.append(draft)
    return out


def _bare_step(draft: Draft) -> bool:
    named = draft.dir or draft.dirs or draft.part or draft.hands or draft.refs or draft.place or draft.amount
    plain = draft.doing == "verb" and draft.value == "step" and draft.tokens_say("step") and len(draft.feet) < 2
    foot = any(t.kind == "foot" for t in draft.tokens)  # "step left foot": its way is left out, and told
    return plain and not (named or foot) and draft.times == 1 and "both" not in draft.feet


def _turns(draft: Draft) -> bool:
    """ "Half turn to the left": a turn of its own on the spot, or a pivot."""
    if draft.join not in ("seq", "amp"):
        return False
    named = draft.feet or draft.dirs or draft.part or draft.hands or draft.weight
    return draft.amount in (90, 180) and not draft.doing and not (named and draft.dirs not in (["left"], ["right"]))


def _passes(draft: Draft) -> bool:
    plain = draft.doing in ("verb", "dual") and draft.value in PASSING and draft.dirs in ([], ["forward"], ["front"])
    return plain and draft.join == "seq" and not draft.hands


def _toe_heel_cross(one: Draft, two: Draft, three: Draft) -> bool:
    """ "Right toe, heel, cross": toe and heel touch in beside the other foot before it crosses."""
    parts = (one.part, two.part) == ("toe", "heel") and not (one.dirs or two.dirs or one.doing or two.doing)
    crosses = three.value == "step" and "across front" in (three.dir, *three.dirs) and not three.part
    feet = {foot for draft in (one, two, three) for foot in draft.feet}
    return parts and crosses and len(feet) == 1 and feet <= {"L", "R"} and one.join != "with"
