"""What goes out, comes home and goes out again: "right heel forward, home, forward, home"."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

SENT = frozenset(("touch", "point", "heel", "kick", "flick", "dig"))
OUT = frozenset(("forward", "back", "left", "right", "side", "out"))
HOME = frozenset(("centre", "together", "in place", "in", "down"))


def out_and_home(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with the foot that came home going out again as it did before."""
    if len(drafts) > 2 and _limb_over_places(drafts):
        drafts[1].feet, drafts[1].part = list(drafts[0].feet), drafts[0].part
        drafts[1].tokens = [*drafts[0].tokens, *drafts[1].tokens]
        drafts = drafts[1:]
    _down_with_hands(drafts)
    for one, two, three in zip(drafts, drafts[1:], [*drafts[2:], None], strict=False):
        if (
            one.part == "heel"
            and not one.doing
            and one.dirs == ["out"]
            and one.feet in (["R"], ["L"])
            and _goes_home(two)
        ):
            one.dirs = ["forward"]  # "R heel out, home": it comes home from where it was dug in
        if _steps_out(one) and _comes_home(two, one) and set(two.dirs) <= {"centre", "in"}:
            if three is not None and _place_alone(three) and set(three.dirs) <= OUT and three.join != "stop":
                three.feet, two.feet = list(one.feet), list(one.feet)
            continue
        if not (_sent(one) and _comes_home(two, one)):
            continue
        if two.dirs == ["in"] and three is not None and _same_foot(three, one):
            two.weight = two.weight or "no"  # "toe out, in, step right side"
        if one.part == "heel" and not one.doing and one.dirs == ["out"] and any("home" in t.low for t in two.tokens):
            one.dirs = ["forward"]  # "right heel out and home": it is set out in front, not turned out
        if two.dirs == ["in"]:
            two.doing, two.value, two.feet, two.dirs = "verb", "step", list(one.feet), ["centre"]
        if three is not None and _place_alone(three) and set(three.dirs) <= OUT:
            three.doing, three.value, three.dir = one.doing, one.value, one.dir
            three.feet, three.part = list(one.feet), one.part
            if two.dirs != ["back"]:
                two.feet, two.weight = list(one.feet), two.weight or "no"  # it goes out again: it bears nothing
    return drafts


def _down_with_hands(drafts: list[Draft]) -> None:
    """ "Right knee up with both hands overhead, down with hands to the lap": the foot comes down, beside the hands."""
    for one, two, three, four in zip(drafts, drafts[1:], drafts[2:], drafts[3:], strict=False):
        lifted = one.value == "hitch" or (one.part == "knee" and one.dirs == ["up"])
        beside = two.arms and four.arms and two.join == four.join == "with"
        if lifted and beside and one.feet in (["L"], ["R"]) and _place_alone(three) and three.dirs == ["down"]:
            three.doing, three.value, three.feet, three.dirs = "verb", "step", list(one.feet), ["in place"]


def _limb_over_places(drafts: list[Draft]) -> bool:
    """ "Right heel: forward, home, forward, home"."""
    head = drafts[0]
    named = head.doing or head.dirs or head.hands or head.amount or head.place or head.at
    limb = head.heading and head.part in ("heel", "toe") and head.feet in (["L"], ["R"]) and not named
    out = _place_alone(drafts[1]) and set(drafts[1].dirs) <= OUT - {"out"}
    return limb and out and all(_place_alone(d) for d in drafts[2:])


def _steps_out(draft: Draft) -> bool:
    """ "Right foot forward, home, out to the side, home": the foot that is named goes out again."""
    plain = (
        draft.doing in ("", "verb") and draft.value in ("", "step") and not (draft.part or draft.hands or draft.amount)
    )
    return plain and draft.feet in (["L"], ["R"]) and len(draft.dirs) == 1 and set(draft.dirs) <= OUT | {"across front"}


def _sent(draft: Draft) -> bool:
    """Return whether one foot is sent somewhere: a heel to the front, a toe to the side."""
    sent = draft.value in SENT or (draft.part in ("heel", "toe") and not draft.doing)
    toes = any(t.low.endswith("toes") for t in draft.tokens)
    fans = draft.part == "toe" and not draft.doing and draft.dirs == ["out"] and toes  # "right toes out, in"
    one = len(draft.feet) == 1 and draft.feet != ["both"]
    return sent and one and len(draft.dirs) == 1 and set(draft.dirs) <= OUT and not (draft.hands or fans)


def _comes_home(draft: Draft, before: Draft) -> bool:
    """Return whether the clause behind brings the same foot home."""
    own = draft.feet in ([], ["same"], before.feet) and not (draft.part or draft.hands or draft.amount or draft.place)
    goes = not draft.doing or (draft.doing == "verb" and draft.value == "step" and not draft.dir)
    home = len(draft.dirs) == 1 and (set(draft.dirs) <= HOME or (draft.dirs == ["back"] and before.dirs != ["back"]))
    return own and goes and home and not (draft.refs or draft.alternate)


def _goes_home(draft: Draft) -> bool:
    return draft.tokens_say("home") and not (draft.part or draft.hands)


def _same_foot(draft: Draft, one: Draft) -> bool:
    return draft.feet == one.feet and draft.doing in ("", "verb") and draft.value != "hold" and not draft.hands


def _place_alone(draft: Draft) -> bool:
    named = draft.doing or draft.feet or draft.part or draft.hands or draft.amount or draft.place or draft.refs
    return not named and len(draft.dirs) == 1
