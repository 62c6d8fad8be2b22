"""Who leads a line: words that name the leading foot once for all its clauses, and feet told in a row at its end.

"Side, together, side, touch (to the right)", "sways x4, R first", "two walks forward, two walks back (R L R L)".
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.reading_patterns import steps_of

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

LEADING = ("first", "start", "starts", "starting", "begin", "begins", "beginning", "lead", "leads", "leading")
SIDE_OF = {"right": "R", "left": "L"}
ON_BODY = ("thigh", "lap", "knee", "hip")
HEIGHTS = ("chest", "shoulder", "waist", "head", "overhead")


def led(drafts: list[Draft]) -> list[Draft]:
    """Return the drafts of a line with what is said once about all of them given to each."""
    for draft in drafts:
        _alternates(draft)
    return _forward(_in_a_row(_first(_headed(_patterns_by_feet(drafts)))))


def _alternates(draft: Draft) -> None:
    """ "Four sways starting to the right": the side named is only the first one's."""
    if draft.times > 1 and any(t.low in LEADING for t in draft.tokens):
        draft.alternate = True
        if draft.value == "sway" and draft.dirs in (["right"], ["left"]) and not draft.feet:
            draft.feet = [SIDE_OF[draft.dirs[0]]]


def _only_feet(draft: Draft) -> bool:
    """True for a clause that names feet and nothing else."""
    other = draft.doing or draft.dirs or draft.part or draft.hands or draft.place or draft.amount or draft.refs
    return bool(draft.feet) and not (other or draft.unknown or draft.at or draft.repeat)


def _leads(draft: Draft, before: Draft) -> bool:
    """True for "right foot first", and for "with the right foot" behind "starting"."""
    last = before.tokens[-1].low if before.tokens else ""
    return any(t.low in LEADING for t in draft.tokens) or last in LEADING


def _headed(drafts: list[Draft]) -> list[Draft]:
    """ "Going back: R, L, R" and "to the right: side, close, side": a place before a colon is for all behind it."""
    if len(drafts) < 3 or not drafts[0].heading or not drafts[0].dirs or drafts[0].feet or drafts[0].part:
        return drafts
    head, rest = drafts[0], drafts[1:]
    if head.doing or head.hands or head.amount or len(head.dirs) > 1:
        return drafts
    if head.dirs[0] in SIDE_OF:
        if rest[0].dirs == ["side"] and not any(d.feet for d in rest):
            rest[0].feet = [SIDE_OF[head.dirs[0]]]
            return rest
        return drafts
    bare = [d for d in rest if _only_feet(d) and len(d.feet) == 1]
    for draft in bare:
        draft.dirs = list(head.dirs)
    return rest if bare else drafts


def _first(drafts: list[Draft]) -> list[Draft]:
    """A clause that only says who begins gives its foot to the first clause that has none."""
    out: list[Draft] = []
    for draft in drafts:
        lead = _lead_of(draft, out[-1]) if out else ""
        if lead and not any(d.feet not in ([], ["same"]) for d in out) and not out[0].hands:
            first = out[0]
            first.feet = [lead]
            first.alternate = first.alternate or first.times > 1
            first.tokens += [
                *(t for t in out[-1].tokens[-1:] if t.low in LEADING and out[-1] is not first),
                *draft.tokens,
            ]
        else:
            out.append(draft)
    return out


def _lead_of(draft: Draft, before: Draft) -> str:
    if _only_feet(draft) and len(draft.feet) == 1 and draft.feet[0] in ("L", "R") and _leads(draft, before):
        return draft.feet[0]
    bare = not (draft.doing or draft.feet or draft.part or draft.hands or draft.place or draft.amount)
    way = draft.dirs[0] if len(draft.dirs) == 1 else ""
    return SIDE_OF.get(way, "") if bare and (draft.grouped or draft.heading) else ""


def _in_a_row(drafts: list[Draft]) -> list[Draft]:
    """Feet told in a row behind clauses that name none, as many as those clauses move: each takes its own."""
    if not drafts:
        return drafts
    last = drafts[-1]
    told = list(last.feet) if len(last.feet) > 1 else []
    clauses = drafts[:-1] if _only_feet(last) else drafts
    if not told or "both" in told or any(d.feet for d in clauses[:-1]) or (clauses is drafts and len(clauses) < 2):
        return drafts
    if not all(_moves(d) for d in clauses) or sum(d.times for d in clauses) != len(told):
        return drafts
    for draft in clauses:
        draft.feet, told = told[: draft.times], told[draft.times :]
        draft.times = 1
    clauses[-1].tokens += last.tokens if last is not clauses[-1] else []
    return clauses


def _moves(draft: Draft) -> bool:
    return draft.doing in ("verb", "") and not draft.bare and not draft.arms and draft.counts is None


def _forward(drafts: list[Draft]) -> list[Draft]:
    """ "R, L forward; R, L back": feet without a doing word go where the next one goes."""
    if not drafts or not _only_feet(drafts[0]) or drafts[0].join == "with":
        return drafts
    out = list(drafts)
    for k in range(len(out) - 2, -1, -1):
        ahead = out[k + 1]
        goes = ahead.feet and ahead.dirs and not (ahead.doing or ahead.part or ahead.hands or ahead.refs)
        if _only_feet(out[k]) and not out[k].dir and goes and ahead.join == "seq":
            out[k] = replace(out[k], dirs=list(ahead.dirs))
    return out


def _patterns_by_feet(drafts: list[Draft]) -> list[Draft]:
    """ "Toe struts forward R L", "two shuffles forward, R then L": a pattern once a foot, unless they are its own."""
    out: list[Draft] = []
    for draft in drafts:
        many = out[-1] if out and out[-1].doing == "pattern" and 1 < out[-1].times > len(out[-1].feet) else None
        if many is not None and _only_feet(draft):
            many.feet = [*many.feet, *draft.feet]
            many.tokens += draft.tokens
        else:
            out.append(draft)
    return [one for draft in out for one in _each_foot(draft)]


def _each_foot(draft: Draft) -> list[Draft]:
    if draft.doing != "pattern" or len(draft.feet) < 2 or (draft.times > 1 and len(draft.feet) != draft.times):
        return [draft]
    if draft.times == 1 and _own_feet(draft):
        return [draft]
    feet, way = draft.feet, "" if draft.travel == draft.feet[0] else draft.travel
    first = replace(draft, feet=feet[:1], travel=way, times=1)
    return [first, *(replace(first, feet=[foot], join="seq", at=(), facing=None) for foot in feet[1:])]


def _own_feet(draft: Draft) -> bool:
    """Return whether the feet named are those of the pattern's own steps, told once more."""
    if "both" in draft.feet or not all(foot in ("L", "R") for foot in draft.feet):
        return True
    steps = [s.foot for s in steps_of(draft.value, closed=True, lead=draft.feet[0], turn_deg=0, spin=0)]
    return draft.feet == steps[: len(draft.feet)]


def _with_hands(drafts: list[Draft]) -> list[Draft]:
    """ "Make circles with the right hand at chest height": the hand behind "with" is who does it."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        named = draft.doing or draft.feet or draft.part or draft.dirs
        only_hands = draft.hands and draft.join == "with" and not named
        if before is None or not only_hands or before.feet or before.part or before.hands or before.arms:
            out.append(draft)
        elif before.doing in ("dual", "draw") or (before.doing == "verb" and before.value == "point"):
            words, place = [*before.tokens, *draft.tokens], before.place or draft.place
            out[-1] = replace(before, hands=list(draft.hands), place=place, tokens=words)
        else:
            out.append(draft)
    return out


def led_by_hands(drafts: list[Draft]) -> list[Draft]:
    """ "With both hands overhead, wave": hands and height before the gesture are the gesture's."""
    drafts = _with_hands(drafts)
    head, ahead = (drafts[0], drafts[1]) if len(drafts) > 1 else (None, None)
    if head is None or ahead is None or head.doing or head.dirs or head.feet or head.part or head.at:
        return drafts
    on_it = head.place in ON_BODY and not head.hands and head.tokens[0].low.startswith(("on", "at", "in"))
    if not (head.hands and head.join == "with") and not (head.place in HEIGHTS and not head.hands) and not on_it:
        return drafts
    if not head.hands:
        return [replace(ahead, place=head.place), *drafts[2:]] if ahead.arms and not ahead.place else drafts
    if ahead.doing not in ("gest", "dual") or ahead.hands or ahead.feet or ahead.place:
        return drafts
    return [replace(ahead, hands=list(head.hands), place=head.place, tokens=[*head.tokens, *ahead.tokens]), *drafts[2:]]
