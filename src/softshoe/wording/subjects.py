"""Who moves in a row of clauses that names it once: "R foot: heel, toe, home", "the right foot points, comes home".

A foot before a colon, or before a verb that speaks of it ("digs", "comes"), is the foot of the clauses behind it, until
another limb is named.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

SIDES = (["R"], ["L"])
SENT = frozenset(("touch", "point", "heel", "kick", "drag", "slide", "tap"))
HOME = frozenset(("together", "centre", "in place", "in", "back", "down"))
OWN = frozenset(("forward", "side", "out", "back", "across front", "across behind", "left", "right"))


def of_one_foot(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with the foot, and the way, that is told once for all of them."""
    if len(drafts) < 2:
        return drafts
    _limbs_at_the_end(drafts)
    _ways_of_rows(drafts)
    _led_at_the_end(drafts)
    head = drafts[0]
    if head.feet not in SIDES or head.hands or head.repeat or head.amount or head.doing == "pattern":
        return drafts
    if head.heading and not head.dirs and _is_limb(head, drafts[1:]):
        return _under(head, drafts[1:])
    if _speaks_of(head):
        for draft in drafts[1:]:
            if _names_another(draft) or draft.alternate:
                break
            if draft.doing == "verb" and not draft.feet and _third(draft):
                draft.feet = list(head.feet)
    return drafts


def _limbs_at_the_end(drafts: list[Draft]) -> None:
    """ "Heels up, down, up, down - both feet", "pull in, push out (both hands)": limbs told last are those of all."""
    last = drafts[-1]
    named = last.doing or last.dirs or last.part or last.place or last.amount or last.at or last.repeat or last.unknown
    if named or last.heading or last.join not in ("seq", "colon", "stop") or len(drafts) < 3:
        return
    if last.hands == ["both"] and not last.feet and all(d.doing or d.place for d in drafts[:-1]):
        told = [d for d in drafts[:-1] if d.doing in ("gest", "dual") and not (d.hands or d.feet or d.part)]
        for draft in told:
            draft.hands = ["both"]
    elif last.feet in SIDES and not last.hands and _whose(last, drafts[:-1]):
        told = [d for d in drafts[:-1] if not d.arms and d.value != "hold"]
        for draft in told:
            draft.feet = list(last.feet)
    elif last.feet == ["both"] and not last.hands:
        told = [d for d in drafts[:-1] if d.part and not d.hands]
        for draft in told:
            draft.feet = ["both"]
    else:
        return
    if told:
        drafts.pop()
        drafts[-1].tokens = [*drafts[-1].tokens, *last.tokens]


def _whose(last: Draft, row: list[Draft]) -> bool:
    """ "Heel forward, toe side, home, clap (right foot)": a foot alone at the end, where no other is named."""
    foot = any(t.kind == "foot" for t in last.tokens) and (last.grouped or last.tokens_say("with", "all"))
    feet = [d for d in row if not d.arms and d.value != "hold"]
    return foot and len(feet) > 1 and not any(d.feet or d.alternate or d.doing == "pattern" for d in row)


def _ways_of_rows(drafts: list[Draft]) -> None:
    """ "Tap, tap, tap in front", "R toe and R hand out to the side": the way behind the last is that of all."""
    for k in range(len(drafts) - 2, -1, -1):
        one, two = drafts[k], drafts[k + 1]
        if one.dirs or one.dir or not two.dirs or one.heading or one.hands or one.amount or one.grouped:
            continue
        alike = (one.doing, one.value, one.part) == (two.doing, two.value, two.part) and not two.hands
        struck = alike and one.feet == [] and two.feet == [] and one.value in SENT and two.join != "stop"
        beside = two.hands and two.join == "and" and not (two.doing or two.place or one.doing) and one.part
        if struck or (beside and two.dirs[-1] not in HOME):
            one.dirs = list(two.dirs)


def _led_at_the_end(drafts: list[Draft]) -> None:
    """ "Side, together, side, touch to the right": the side behind the last clause leads the row."""
    first, last = drafts[0], drafts[-1]
    sided = last.doing == "verb" and last.value in ("touch", "scuff", "brush") and last.dirs in (["right"], ["left"])
    row = first.dirs == ["side"] and not (first.feet or first.doing) and not any(d.feet or d.hands for d in drafts)
    if sided and row and len(drafts) > 2 and last.tokens_say("to the"):
        first.feet, last.dirs = [last.dirs[0][0].upper()], []


def _is_limb(head: Draft, rest: list[Draft]) -> bool:
    """Return whether a foot is named, or what one foot does, and no step behind goes across: no vine's lead."""
    named = any(t.kind in ("foot", "footpart") for t in head.tokens) or head.value in SENT
    crosses = any({"across behind", "across front"} & {*d.dirs, d.dir} and not (d.part or d.doing) for d in rest)
    return named and not crosses


def _under(head: Draft, rest: list[Draft]) -> list[Draft]:
    """ "Point R: front, home, side, home": each clause is of the foot before the colon, and does what stands there."""
    sends, names = head.value in SENT, False
    for draft in rest:
        if _names_another(draft) or draft.heading or draft.doing == "pattern":
            break
        moves = draft.doing in ("", "verb") and draft.value != "hold" and not draft.alternate and not draft.repeat
        if draft.feet or not moves or not (draft.doing or draft.dirs or draft.part):
            continue
        if not draft.doing and not draft.part and sends and head.doing:
            ways = set(draft.dirs)
            if ways <= HOME - {"back"}:
                draft.doing, draft.value, draft.dirs = "verb", "step", ["centre"]
            elif ways <= OWN:
                draft.doing, draft.value, draft.dir, names = head.doing, head.value, head.dir, True
        toe = head.part == "toe" and not (head.doing or draft.doing or draft.part) and bool(draft.dirs)
        if toe and (set(draft.dirs) <= OWN | {"back"} or draft.refs):
            draft.part = "toe"  # "R toe: side, behind, beside L, home"
        if draft.doing or draft.part or not (head.doing or head.part):
            draft.feet = list(head.feet)
    if not names:
        return [head, *rest]
    rest[0].tokens = [*head.tokens, *rest[0].tokens]
    return rest


def _names_another(draft: Draft) -> bool:
    return bool(draft.hands) or draft.arms or (bool(draft.feet) and draft.feet != ["same"])


def _speaks_of(head: Draft) -> bool:
    """Return whether the foot stands before its verb, as in "the right heel digs"."""
    foot = next((i for i, t in enumerate(head.tokens) if t.kind in ("foot", "footpart")), -1)
    verb = next((i for i, t in enumerate(head.tokens) if t.kind == "verb"), -1)
    return 0 <= foot < verb and _third(head)


def _third(draft: Draft) -> bool:
    """Return whether a clause's verb is in the third person."""
    return any(t.kind == "verb" and t.low.endswith("s") and not t.low.endswith("ss") for t in draft.tokens)
