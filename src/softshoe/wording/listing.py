"""A pattern's name over its steps: "jazz box with a touch: cross …", "vine left and touch - side, behind, …"."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.drafts import Draft

CLOSES = frozenset(("touch", "scuff", "brush", "kick", "hitch", "hold", "stomp", "stomp-up", "point", "heel", "hook"))


def names_pattern(drafts: Sequence[Draft]) -> bool:
    """Return whether clauses only name a pattern, with its close or without."""
    if not drafts or drafts[0].doing != "pattern":
        return False
    return len(drafts) == 1 or (len(drafts) == 2 and _only_closes(drafts[1]))


def closed_patterns(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with a close that stands before a colon as part of the pattern's name."""
    out: list[Draft] = []
    for draft in drafts:
        before = out[-1] if out else None
        if before is not None and before.doing == "pattern" and draft.heading and _only_closes(draft):
            before.heading = True
            before.tokens = [*before.tokens, *draft.tokens]
        else:
            out.append(draft)
    return out


def in_the_round(drafts: list[Draft]) -> list[Draft]:
    """ "Walk in a full circle left R, L, R, L": each of the steps told takes its share of the turn."""
    for k, head in enumerate(drafts):
        run = [head] if head.round and (head.feet or head.counts) else []
        while run and not run[0].doing and len(run) <= k and (run[0] is head or _only_feet(run[0])):
            run.insert(0, drafts[k - len(run)])  # "walk R, L, R, L in a full circle"
        for draft in drafts[k + 1 :] if head.round else ():
            if not _only_feet(draft):
                break
            run.append(draft)
        steps = (head.counts or 0) if len(run) < 2 else len(run)
        if head.round and steps > 1 and run[0].doing == "verb":
            for draft in run:
                draft.amount, draft.spin = head.round // steps, head.spin
                draft.doing, draft.value, draft.dir = run[0].doing, run[0].value, run[0].dir
    return drafts


def _only_feet(draft: Draft) -> bool:
    return len(draft.feet) == 1 and not (draft.doing or draft.dirs or draft.hands or draft.part or draft.amount)


def under_a_name(drafts: list[Draft]) -> list[Draft]:
    """ "Heel digs: right, home, left, home", "Points: right to side, together": the name before the colon is what each
    foot does; what only comes home is a step.
    """
    if len(drafts) > 2 and drafts[1].heading and _both_alone(drafts[1]) and not (drafts[0].heading or drafts[0].feet):
        drafts[0].heading, drafts[0].tokens = True, [*drafts[0].tokens, *drafts[1].tokens]
        drafts = [drafts[0], *drafts[2:]]  # "Shoulder rolls, both together: back, back, …"
    head, rest = drafts[0] if drafts else None, drafts[1:]
    if head is None or not rest or not head.heading or head.amount:
        return drafts
    if head.part == "knee" and head.value in ("", "raise") and head.feet in ([], ["both"]):
        head.doing, head.value, head.part, head.feet = "verb", "hitch", "", []  # "knee raises: R up, down"
    if head.part in ("heel", "toe") and head.feet == ["both"] and _there_and_home(rest):
        head.feet = []  # "heels: right, home, left, home"
    if head.feet:
        return _ways_of_one(head, rest)
    if head.arms:
        return _arms_under(head, rest)
    if head.value in ("drag", "slide") and len(head.tokens) > 2:
        return drafts  # "slide no further than comfortable: …"
    if not (head.value in STRUCK or (not head.doing and head.part in ("heel", "toe"))):
        return drafts
    if not any(_bare(d) and d.feet for d in rest):
        return drafts
    for draft in filter(_bare, rest):
        ways = set(draft.dirs)
        if head.value in ("drag", "slide") and ways <= HOME:
            draft.doing, draft.value = head.doing, "drag"
        elif ways and ways <= (HOME if draft.feet or head.value not in TAPS else HOME - {"in"}):
            draft.doing, draft.value = "verb", "step"
            draft.dirs = ["centre"] if ways == {"in"} else draft.dirs
        else:
            draft.doing, draft.value, draft.part, draft.dir = head.doing, head.value, head.part, head.dir
            draft.dirs = draft.dirs or list(head.dirs)
        draft.feet = draft.feet or ["same"]
    rest[0].tokens = [*head.tokens, *rest[0].tokens]
    return rest


def _both_alone(draft: Draft) -> bool:
    """Return whether a clause says no more than that both move."""
    named = draft.doing or draft.part or draft.place or draft.amount or draft.at or set(draft.dirs) - {"together"}
    worded = any(t.low.startswith(("both", "together")) for t in draft.tokens)
    return worded and not named and "both" in (*draft.feet, *draft.hands) and len({*draft.feet, *draft.hands}) == 1


def _ways_of_one(head: Draft, rest: list[Draft]) -> list[Draft]:
    """ "R toe points: right, back, right, together": the foot is named, so that a side is where it goes."""
    struck = head.value in STRUCK or (not head.doing and head.part in ("heel", "toe"))
    for draft in rest if len(head.feet) == 1 and struck and head.feet != ["both"] else ():
        if _bare(draft) and draft.feet and not draft.dirs and len(draft.tokens[-1].text) > 1:
            draft.dirs, draft.feet = [{"R": "right", "L": "left"}.get(draft.feet[0], "side")], []
    return [head, *rest]


CLOSING = frozenset(("together", "across behind", "across front"))


def out_and_together(drafts: list[Draft]) -> list[Draft]:
    """ "Left, together, left, touch", "left, behind, left": behind a step that closes, the same side goes out again."""
    for k, (one, two, three) in enumerate(zip(drafts, drafts[1:], drafts[2:], strict=False)):
        sides = one.feet in (["L"], ["R"]) and one.feet == three.feet and not (one.dirs or three.dirs)
        closes = bool(CLOSING & {two.dir, *two.dirs}) and not (two.feet or two.part or two.hands or two.amount)
        if sides and closes and _bare(three) and _bare(one) and len(three.tokens[-1].text) > 1:
            three.dirs = [{"R": "right", "L": "left"}[three.feet[0]]]
            if k and _only_closes(drafts[k - 1]) and not drafts[k - 1].heading:
                one.dirs = list(three.dirs)  # "touch, right, together, right"
    return drafts


def sides_and_touches(drafts: list[Draft]) -> list[Draft]:
    """ "Right and touch, left and touch": a side alone, with a touch that names no foot behind it, is a step there."""
    for k, (one, two, three, four) in enumerate(zip(drafts, drafts[1:], drafts[2:], drafts[3:], strict=False)):
        steps = one.value == "step" and not (one.dir or one.dirs or one.part or one.hands or one.amount)
        out = one.dir == "side" or steps
        sides = {*one.feet, *three.feet} == {"R", "L"} and _only_side(three) and (_only_side(one) or out)
        first = out or k == 0 or drafts[k - 1].doing != "verb" or _only_closes(drafts[k - 1])
        if sides and first and all(_only_closes(d) and d.value != "hold" and not d.feet for d in (two, four)):
            for draft in (one, three):
                draft.doing, draft.value, draft.dir = "verb", "step", "side"
                draft.dirs = [{"R": "right", "L": "left"}[draft.feet[0]]]
    return [d for k, d in enumerate(drafts) if not (k > 3 and _says_sides(d) and drafts[k - 2].dir == "side")]


def _says_sides(draft: Draft) -> bool:
    """ "…, both to the sides": it says of the steps before what they are."""
    named = draft.doing or draft.part or draft.hands or draft.amount
    sides = any(t.low.endswith("sides") for t in draft.tokens)
    return not named and sides and draft.tokens[0].low in ("all", "both", "each")


def _only_side(draft: Draft) -> bool:
    named = draft.doing or draft.dirs or draft.part or draft.hands or draft.amount or draft.place or draft.at
    return not named and draft.feet in (["R"], ["L"]) and all(t.kind != "foot" for t in draft.tokens)


def how_often(drafts: list[Draft], *, of_arms: bool) -> None:
    """Settle numbers that only seem to say how often: "4 x hip sways R L R L", "forward for four"."""
    for draft in drafts:
        if 1 < draft.times == len(draft.feet) and _often_first(draft):
            draft.times = 1  # "4 x hip sways R L R L"
        elif not of_arms and _walks_for(draft):
            draft.doing, draft.value, draft.times, draft.counts = "verb", "step", draft.counts or 1, None


def _walks_for(draft: Draft) -> bool:
    """ "Forward for four", "back for 4": as many steps that way."""
    named = draft.doing or draft.hands or draft.part or draft.amount or draft.place or draft.at or draft.feet
    return not named and draft.dirs in (["forward"], ["back"]) and 1 < (draft.counts or 0) <= 8


def _often_first(draft: Draft) -> bool:
    """Return whether the number of times stands before the feet: they are told one by one."""
    told = [t.kind for t in draft.tokens if t.kind in ("times", "num", "side", "foot")]
    return len(told) > 1 and told[0] in ("times", "num")


def _there_and_home(rest: list[Draft]) -> bool:
    """Return whether a foot is named and comes home, in turns."""
    pairs = list(zip(rest[::2], rest[1::2], strict=False))
    return bool(pairs) and all(
        len(a.feet) == 1 and _bare(a) and _bare(b) and not b.feet and set(b.dirs) <= HOME for a, b in pairs
    )


def _arms_under(head: Draft, rest: list[Draft]) -> list[Draft]:
    """ "Arm raises: right up, down, left up, down", "claps: right side, left side, overhead"."""
    told = rest[0].arms and rest[0].value == head.value and not (head.hands or head.place or head.dirs or head.at)
    if told or _ways_under(head, rest):  # "stir the pot: both hands circle in front of the chest"
        rest[0].tokens = [*head.tokens, *rest[0].tokens]
        return rest
    raises, claps = head.doing == "dual" and head.hands == [""], head.doing == "gest" and head.value == "clap"
    if not (raises or claps) or not any(_bare(d) and d.feet and d.dirs for d in rest):
        return [head, *rest]
    for draft in rest:
        if _bare(draft) and draft.feet and raises:
            draft.hands, draft.feet = draft.feet, []
        elif claps and not (draft.doing or draft.hands):
            draft.doing, draft.value = "gest", "clap"
            draft.place = draft.place or ("knee" if draft.part == "knee" else "")
            sides = {"R": "right", "L": "left"}
            draft.dirs = [sides[foot] for foot in draft.feet if foot in sides] if draft.feet else draft.dirs
            draft.feet, draft.part = [], ""
    return rest


def _ways_under(head: Draft, rest: list[Draft]) -> bool:
    """ "Hand rolls: forward, back": a way alone behind the name of what hands do is where they do it."""
    if head.doing == "gest" and head.value in HAND_BY_HAND and not head.feet:
        return _hands_under(head, rest)
    goes = head.doing == "gest" and head.value in GOING and not head.dirs
    for draft in rest if goes else ():
        if not _bare(draft) or draft.feet or not draft.dirs:
            break
        draft.doing, draft.value, draft.hands = head.doing, head.value, list(head.hands) or ["both"]
        draft.place, draft.handword = head.place, head.handword
    return goes and rest[0].value == head.value and rest[0].doing == "gest"


def _hands_under(head: Draft, rest: list[Draft]) -> bool:
    """ "Drum on the thighs: right hand, left hand", "punch forward: R hand, L hand": each hand named does it."""
    hands = [d for d in rest if d.hands in (["R"], ["L"]) and not (d.doing or d.dirs or d.part or d.feet or d.place)]
    if len(hands) < 2 or hands != rest[: len(hands)]:
        return False
    for draft in hands:
        draft.doing, draft.value, draft.dirs, draft.place = "gest", head.value, list(head.dirs), head.place
    return True


HAND_BY_HAND = frozenset(("drum", "pat", "punch", "push", "reach", "snap", "wave"))
GOING = frozenset(("roll", "push", "pull", "swing", "wave", "circle", "reach", "punch", "sweep"))
STRUCK = frozenset(("drag", "slide", "touch", "point", "heel", "kick", "flick", "hook", "hitch", "brush", "scuff"))
TAPS = ("touch", "point")
HOME = frozenset(("together", "centre", "in place", "in", "down"))


def _bare(draft: Draft) -> bool:
    """Return whether a clause names no more than a foot and a place."""
    named = draft.doing or draft.part or draft.hands or draft.amount or draft.place or draft.refs or draft.at
    return not named and len(draft.feet) < 2 and "both" not in draft.feet and bool(draft.feet or draft.dirs)


def _only_closes(draft: Draft) -> bool:
    """ "… with a touch", "…, scuff left": a step that ends a pattern and names no place."""
    named = draft.hands or draft.part or draft.amount or set(draft.dirs) - {"together"}
    return draft.doing == "verb" and draft.value in CLOSES and not named
