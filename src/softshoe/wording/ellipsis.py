"""What a clause leaves out and takes from the one before: the doing word, the foot, the place, the turn of a
pattern.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.fanned import fanned
from softshoe.wording.listing import closed_patterns
from softshoe.wording.returning import lifted_again, returned
from softshoe.wording.with_clauses import taken_in

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

KNEE_HOME = (["down"], ["centre"], ["in place"])
SIDE_VERBS = ("swivel", "fan", "bump", "hiproll")
LISTS = ("touch", "point", "heel", "kick", "flick", "hook", "hitch", "brush", "scuff")
BESIDE = (["side"], ["right"], ["left"])
STEP_HOME = ("together", "centre", "in place", "across behind")


def filled(draft: Draft, before: Draft | None) -> Draft:
    """Return the clause with what it leaves out: the doing word, the place or the foot of the clause before."""
    if draft.part == "knee" and draft.dirs in KNEE_HOME and draft.doing in ("", "verb") and draft.value in ("", "step"):
        return replace(draft, doing="verb", value="step", dir="", part="", dirs=["in place"])  # "left knee down"
    if not (draft.doing or draft.part) and draft.dirs == ["up"] and draft.feet in (["R"], ["L"]):
        return replace(draft, doing="verb", value="hitch", dirs=[])  # "left up, down"
    if draft.doing == "pattern" or before is None or (draft.amount and not draft.doing and not draft.feet):
        return draft
    if home := returned(draft, before) or lifted_again(draft, before):
        return home
    put = draft.doing == "verb" and draft.value == "step" and draft.feet in (["same"], []) and before.part == "heel"
    if put and draft.dirs == ["down"] and before.value in LIFTS:
        return _put_down(replace(draft, feet=[]), before)  # "lift your right heel, put it down"
    if draft.value == "drop" and before.value in LIFTS and not (draft.feet or draft.part or draft.dirs):
        return _put_down(draft, before)  # "heels lift, drop"
    if before.value == "hold" and before.tokens_say("breath", "inhale") and draft.dirs in (["out"], ["in"]):
        return replace(draft, doing="verb", value="hold", dirs=[])  # "breathe in for two, out for two"
    if _both_again(draft, before):
        return replace(draft, doing="", value="", dir="", hands=[], part=before.part, feet=["both"], dirs=["centre"])
    if draft.doing == "verb" and draft.value == "ball" and not draft.dirs:
        return _on_the_ball(draft, before)
    if draft.doing:
        return (
            replace(draft, dirs=["together"])
            if _set_down(draft, before)
            else _once_more(_closed(draft, before), before)
        )
    if _weight_back(draft, before):
        return replace(draft, doing="verb", value="recover", dirs=[])
    if foot := _back_to(draft, before):
        return replace(draft, doing="verb", value="recover", feet=[foot], dirs=[])
    if draft.dirs in (["down"], ["up"]) and not (draft.feet or draft.part) and before.value in RISEN:
        return _put_down(draft, before) if draft.dirs == ["down"] else _once_more(_lifted(draft), before)
    sided = before.value in SIDE_VERBS or (before.part and before.feet == ["both"])
    if sided and not draft.part and len(draft.feet) <= 1 and not (draft.feet and draft.dirs):
        return _side_list(draft, before)
    if draft.feet and not draft.dirs and (not draft.part or _other_alike(draft, before)):
        return _feet_list(draft, before)
    if draft.join == "amp" and draft.feet != before.feet and before.value in LISTS and draft.dirs == before.dirs:
        return replace(draft, doing=before.doing, value=before.value)  # "point R side & L side"
    return _places_list(draft, before) if draft.dirs and not draft.feet and not draft.part else draft


def _set_down(draft: Draft, before: Draft) -> bool:
    """Return whether a step without a place is that of the foot that was lifted or on its heel."""
    bare = (
        draft.doing == "verb" and draft.value == "step" and not (draft.dir or draft.dirs or draft.amount or draft.part)
    )
    lifted = before.value in ("hitch", "hook") or (before.part == "heel" and before.feet != ["both"])
    own = draft.feet in ([], ["same"], before.feet) or not before.feet
    return bare and lifted and own and draft.tokens[0].low.startswith("step")


def _on_the_ball(draft: Draft, before: Draft) -> Draft:
    """ "Kick R, ball R", "kick, ball": the foot that kicked comes down beside the other."""
    feet = draft.feet or (list(before.feet) if before.value == "kick" else [])
    return replace(draft, feet=feet, dirs=["together"])


def _both_again(draft: Draft, before: Draft) -> bool:
    """ "Split both heels out, bring them back in": they are the heels still."""
    parted = before.part in ("heel", "toe") and before.feet == ["both"]
    them = draft.hands == ["same"] or draft.feet == ["same"] or draft.tokens_say("them")
    goes = draft.value in ("", "step") and set(draft.dirs) | {draft.dir} <= {"", "back", "centre", "in", "together"}
    return bool(parted and them and goes and (draft.dirs or draft.dir)) and not draft.part


OPPOSITE = {"forward": "back", "back": "forward", "left": "right", "right": "left"}


def _weight_back(draft: Draft, before: Draft) -> bool:
    """ "Rock back on L, forward onto R": the weight comes back onto the foot that stayed."""
    way = before.dirs[0] if len(before.dirs) == 1 else ""
    other = draft.feet != before.feet and draft.feet in (["L"], ["R"], [])
    onto = any(t.low in ("onto", "on") or t.low.startswith("onto") for t in draft.tokens)
    there = draft.dirs in ([], [OPPOSITE.get(way, "-")])
    return before.value == "rock" and other and onto and there and bool(draft.dirs or draft.feet) and not draft.part


def _back_to(draft: Draft, before: Draft) -> str:
    """ "Rock forward right and back to left": the foot that the weight comes back to, or ""."""
    way = before.dirs[0] if len(before.dirs) == 1 else ""
    sided = len(draft.dirs) == 2 and draft.dirs[0] == OPPOSITE.get(way) and draft.dirs[1] in ("left", "right")
    plain = sided and not (draft.feet or draft.part or draft.hands)
    return draft.dirs[1][0].upper() if plain and before.value == "rock" else ""


LIFTS, PARTS = ("raise", "lower"), ("open", "close")
RISEN = (*LIFTS, "hitch", "kick")  # what "and down" puts down again


def _once_more(draft: Draft, before: Draft) -> Draft:
    """ "Raise both heels, lower, raise, lower": what is raised is what was raised before."""
    named = draft.feet or draft.part or draft.dirs or draft.hands or draft.place
    pair = next((p for p in (LIFTS, PARTS) if draft.value in p and before.value in p), ())
    if named or not pair or draft.doing != before.doing or (pair is PARTS and not before.part):
        return draft
    usual = ["both"] if before.part in ("heel", "toe") else []
    return replace(draft, feet=list(before.feet) or usual, part=before.part)


def _closed(draft: Draft, before: Draft) -> Draft:
    """ "Split both heels, close": what was parted comes together."""
    closes = draft.value == "step" and draft.dir == "together" and not (draft.feet or draft.part or draft.dirs)
    if closes and before.part in ("heel", "toe") and before.feet == ["both"]:
        return replace(draft, doing="", value="", dir="", part=before.part, feet=["both"], dirs=["centre"])
    return draft


def _lifted(draft: Draft) -> Draft:
    """ "Heel raises: up, down"."""
    return replace(draft, doing="dual", value="raise", dirs=[])


def _put_down(draft: Draft, before: Draft) -> Draft:
    """ "Lift right knee, down": the foot that was lifted comes down."""
    feet = list(before.feet) or ["both" if before.part in ("heel", "toe") else "same"]
    behind = {"across behind", "back"} & set(before.dirs)  # the whole foot was lifted
    if before.part in ("heel", "toe") and not behind:
        return replace(draft, doing="dual", value="lower", feet=feet, part=before.part)
    return replace(draft, doing="verb", value="step", feet=feet, dirs=["in place"])


def _other_alike(draft: Draft, before: Draft) -> bool:
    """ "Tap your right toe in front four times, then the left toe four times": the other goes there too."""
    one = len(draft.feet) == 1 == len(before.feet) and {*draft.feet, *before.feet} == {"R", "L"}
    return one and draft.part == before.part != "" and bool(before.dirs) and not (draft.doing or before.amount)


def _feet_list(draft: Draft, before: Draft) -> Draft:
    """ "Walk forward right, left, right": a foot alone does what the one before did."""
    if (
        before.doing == "pattern"
        and not before.listed
        and draft.feet in (["L"], ["R"])
        and not draft.amount
        and draft.join == "seq"
    ):
        return replace(draft, doing="pattern", value=before.value, dir=before.dir, dirs=list(before.dirs))
    if before.doing == "pattern" or draft.amount:
        return draft
    return replace(
        draft, doing=before.doing, value=before.value, dir=before.dir, dirs=list(before.dirs), part=before.part
    )


def _places_list(draft: Draft, before: Draft) -> Draft:
    """ "Touch right forward, side", "sway to the right, to the left": a place alone goes on with touches and sways."""
    if before.value == "sway" and draft.dirs[-1] in ("left", "right"):
        return replace(draft, doing=before.doing, value=before.value)
    if draft.dirs[-1] in STEP_HOME:
        return draft
    out = draft.join == "and" and before.dirs[-1:] in (["side"], ["out"], ["right"], ["left"]) and before.part != "heel"
    heel = "heel" in (before.part, before.value) and before.feet != ["both"]
    forth = heel and (
        before.dirs in (["forward"], ["across front"]) or not before.dirs or before.dirs[0].startswith("forward ")
    )
    if forth and draft.dirs == ["in"] and before.value in ("", "heel", "touch", "step"):
        return replace(draft, doing="verb", value="step", feet=list(before.feet) or ["same"], dirs=["centre"])
    if draft.dirs == ["back"] and (forth or (out and (before.part == "toe" or before.value in ("touch", "point")))):
        return replace(draft, doing="verb", value="step", feet=list(before.feet) or ["same"], dirs=["centre"])
    toes = any(t.low.endswith("toes") for t in before.tokens) or before.value in ("fan", "swivel", "swing")
    out_there = before.dirs[-1:] in (*BESIDE, ["out"], ["forward"], ["back"]) and before.feet != ["both"]
    away = before.part == "toe" and out_there and not (toes and before.dirs[-1:] not in BESIDE)
    if draft.dirs == ["in"] and away and (not before.doing or before.value in ("touch", "point")):
        return replace(
            draft, doing="verb", value="step", feet=list(before.feet) or ["same"], dirs=["centre"]
        )  # "toe out, in"
    slides = before.value in ("drag", "slide") and draft.dirs in (["forward"], ["back"])
    if (before.value in LISTS or slides) and (before.dirs or before.feet or before.part):
        return replace(
            draft, doing=before.doing, value=before.value, dir=before.dir, feet=list(before.feet), part=before.part
        )
    swung = before.value in ("swing", "open") and set(draft.dirs) <= {"in", "out", "centre"}
    if (not before.doing or swung) and before.part in ("toe", "heel"):
        return replace(draft, part=before.part, feet=list(before.feet))
    return draft


def _side_list(draft: Draft, before: Draft) -> Draft:
    """ "Twist heels right, left, right, centre": sides are where the heels go."""
    if draft.feet == ["both"]:
        return draft
    back = {"back": "centre"} if before.value in ("fan", "swivel") or before.part else {}
    way = [back.get(d, d) for d in draft.dirs] or [{"R": "right", "L": "left"}.get(f, f) for f in draft.feet]
    return replace(
        draft,
        doing=before.doing,
        value=before.value,
        dir=before.dir,
        part=before.part,
        feet=before.feet if before.part else ["both"],
        dirs=list(way),
    )


def full_turn(draft: Draft) -> Draft:
    """ "Full turn left stepping right, left": two travelling halves; with three feet a rolling vine."""
    if (
        draft.amount != 360
        or draft.doing == "pattern"
        or (draft.doing == "dual" and len(draft.feet) == 1)  # "sweep right forward turning a full turn"
        or (draft.doing == "verb" and draft.value not in ("step", "turn"))
        or draft.dirs not in ([], ["forward"])
    ):
        return draft
    kinds = [t.kind for t in draft.tokens if t.kind in ("verb", "amount")]
    foot_first = draft.tokens[0].kind in ("foot", "side") and draft.tokens_say("turning")
    if draft.doing in ("", "verb") and len(draft.feet) == 1 and draft.dirs and (kinds[:1] == ["verb"] or foot_first):
        return draft  # "step right forward with a full turn", "left foot forward turning a full turn": one step
    feet = list(draft.feet)
    if draft.value == "turn" or (not feet and draft.doing):
        return draft
    name = "rolling vine" if len(feet) > 2 else "full turn"
    return replace(draft, doing="pattern", value=name)


LEADING = ("stepping", "start", "begin", "lead")
MOVING_ON = ("travel", "moving", "progress", "heading", "going")


def _moving_on(draft: Draft, before: Draft | None) -> Draft:
    """ "Full turn left, travelling forward right, left": the way is that of the steps told before."""
    if before is None or before.arms or before.bare or draft.part or draft.hands or draft.amount:
        return draft
    plain = draft.doing in ("", "verb") and draft.value in ("", "step") and before.value != "hold"
    if plain and draft.dirs and draft.tokens[0].low.startswith(MOVING_ON):
        if not before.dirs:
            before.dirs = list(draft.dirs)
        return replace(draft, join="with", doing="", value="", dir="", dirs=[])
    goes = before.doing == "pattern" or before.amount == 360 or before.times > 1 or before.counts
    if plain and goes and not draft.dirs and draft.feet and (draft.tokens_say(*LEADING) or _first(draft)):
        return replace(draft, join="with", doing="", value="", dir="")
    return draft


def _on_the_way(drafts: list[Draft]) -> list[Draft]:
    """ "Going forward, walk right, left, right": a way told first is that of the steps behind it."""
    if len(drafts) < 2 or len(drafts[0].dirs) != 1 or not drafts[0].tokens[0].low.startswith(MOVING_ON):
        return drafts
    head, ahead = drafts[0], drafts[1]
    named = head.feet or head.part or head.hands or head.amount or head.at or head.doing == "pattern"
    if named or ahead.doing not in ("verb", "pattern") or ahead.dirs or ahead.arms or head.dirs[0] in ("left", "right"):
        return drafts
    return [replace(ahead, dirs=list(head.dirs), tokens=[*head.tokens, *ahead.tokens]), *drafts[2:]]


def _first(draft: Draft) -> bool:
    return draft.tokens[-1].low in ("first", "free")


def with_turns(drafts: list[Draft]) -> list[Draft]:
    """ "Vine left with a quarter turn left": a turn told behind a pattern is the pattern's."""
    fanned(drafts)
    out: list[Draft] = []
    for draft in _on_the_way(drafts):
        before = out[-1] if out else None
        draft = _moving_on(draft, next((d for d in reversed(out) if d.doing or d.amount), None))
        if draft.bare and draft.tokens[0].low.startswith(MOVING_ON) and not draft.weight and draft.facing is None:
            continue
        if before is not None and _names_foot(draft, before):
            _first_of_run(out).feet = list(draft.feet)  # "heel forward and back with the left foot"
            before.dirs = before.dirs or list(draft.dirs)
            before.tokens = [*before.tokens, *draft.tokens]
            before.heading = before.heading or draft.heading
            continue
        if before is not None and taken_in(draft, before):
            continue
        only_way = draft.dirs and not (
            draft.doing or draft.feet or draft.hands or draft.part or draft.amount or draft.place
        )
        if before is not None and only_way and draft.join == "and" and before.value == "sweep" and not before.arms:
            before.dirs = list(draft.dirs)  # "sweeping left out and round to the back"
            continue
        plain = draft.amount and not (draft.doing or draft.feet or draft.dirs or draft.hands or draft.part)
        if (
            before is not None
            and plain
            and before.doing == "pattern"
            and not before.amount
            and (draft.join in ("with", "plus") or draft.grouped or draft.turn_on >= 0 or before.value == "vine")
        ):
            before.amount, before.spin = draft.amount, draft.spin
            before.turn_on = draft.turn_on if draft.turn_on >= 0 else before.turn_on
            before.heading = before.heading or draft.heading
            if draft.facing is not None:
                before.facing, before.facing_at = draft.facing, draft.facing_at
        else:
            out.append(draft)
    return closed_patterns(out)


def _names_foot(draft: Draft, before: Draft) -> bool:
    """Return whether a clause behind "with" only names the foot of the clause before."""
    there = bool(draft.dirs) and (
        bool(before.dirs or before.dir) or before.doing != "verb"
    )  # "rock with R to the back"
    only_foot = draft.feet and not (draft.doing or there or draft.hands or draft.part or draft.amount)
    return bool(only_foot) and draft.join == "with" and not (before.feet or before.arms or before.bare)


def _first_of_run(drafts: list[Draft]) -> Draft:
    """Return the first of the clauses at the end that name no foot: the foot behind them leads them all."""
    first = drafts[-1]
    for draft in reversed(drafts[:-1]):
        turns = draft.amount and not draft.doing  # "turn a quarter left and step forward with the left foot"
        if first.join != "and" or turns or draft.feet or draft.arms or draft.bare or draft.doing == "pattern":
            break  # "vine to your right, and scuff with the left"
        first = draft
    return first


def _all_that_way(drafts: list[Draft]) -> list[Draft]:
    """ "Heels, toes, heels, toes, all to the right": the way behind them is for each."""
    last = drafts[-1] if len(drafts) > 2 else None
    if last is None or last.dirs not in (["left"], ["right"]) or last.doing or last.feet or last.part or last.hands:
        return drafts
    parts = drafts[:-1]
    if not all(d.part in ("heel", "toe") and d.feet == ["both"] and not (d.doing or d.dirs) for d in parts):
        return drafts
    for draft in parts:
        draft.dirs = list(last.dirs)
    return parts


def _all_that_high(drafts: list[Draft]) -> list[Draft]:
    """ "Punch forward R, L, R, L at chest height": the height behind the sides is for each."""
    if len(drafts) < 2:
        return drafts
    last, at = drafts[-1], len(drafts) - 1
    while at > 0 and len(drafts[at].feet) == 1 and drafts[at].sides_alone:
        at -= 1
    head = drafts[at]
    if at < len(drafts) - 1 and last.place and head.doing == "gest" and not (head.place or head.hands or head.part):
        for draft in drafts[at:]:
            draft.place = last.place
    return drafts


def travelling(drafts: list[Draft]) -> list[Draft]:
    """ "Swivel right: heels, toes", "travel to the left with heels, toes": one way for all of them."""
    drafts = _all_that_way(_all_that_high(drafts))
    if len(drafts) < 3 or not drafts[0].tokens_say("travel", "mov", "swivel", "twist"):
        return drafts
    head, *rest = drafts
    side = next((d for d in head.dirs if d in ("left", "right")), "") or {"R": "right", "L": "left"}.get(
        head.feet[0] if len(head.feet) == 1 else "", ""
    )
    parts = [d for d in rest if d.part in ("heel", "toe") and d.feet == ["both"] and not (d.doing or d.dirs)]
    leads = head.heading or not head.doing or rest[0].join == "with"
    if not side or not leads or head.part or len(parts) < 2 or parts != rest[: len(parts)]:
        return drafts
    for draft in parts:
        draft.dirs = [side]
    parts[0].join = head.join
    return rest


def hips(draft: Draft) -> Draft:
    """ "Hips right, right, left, left" are bumps; "hands on hips" are not."""
    if (
        draft.place != "hip"
        or draft.hands
        or draft.doing
        or not (draft.feet or draft.dirs)
        or not draft.tokens_say("hip")
    ):
        return draft
    return replace(draft, doing="verb", value="bump", place="")
