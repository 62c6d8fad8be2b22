"""What comes home each time: "heel digs R, L, R, L, home in between", "kicks R and L, each with a step home".

Said once for a row of feet that go out, it is done behind each of them. So is a row told before its feet: "heel forward
and home, right then left" is danced with the one and then with the other.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.after_the_name import leaned_on
from softshoe.wording.risen import on_the_toes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.drafts import Draft

SIDES = (["R"], ["L"])
BOTH_SIDES = {"right and left": ("R", "L"), "left and right": ("L", "R")}
HOMES = frozenset(("centre", "in place", "in", "back", "down", "together"))
WAYS = frozenset(("forward", "side", "back", "across front", "out", "forward diag", "forward R diag", "forward L diag"))
SENT = frozenset(("touch", "point", "heel", "kick", "brush", "scuff", "hitch", "flick", "hook", "step", "drag", "raise",
"lunge", "stomp", "stomp-up"))  # fmt: skip
TOLD = frozenset(("step", "touch", "stomp", "heel", "kick", "point"))
WALKS = ("march", "walk", "run", "tread", "stroll", "sway")
EACH = frozenset(("each", "every", "between", "after", "always"))
RETURNS = frozenset(("return", "returns", "returning", "return home"))


def home_between(drafts: list[Draft]) -> list[Draft]:
    """Return the clauses with a way home told once behind each that goes out, and rows danced with each foot."""
    drafts = leaned_on(on_the_toes(drafts))
    if len(drafts) < 2 or not any(d.feet or d.part or d.doing for d in drafts):
        return drafts
    drafts = _each_of_both(_sides_told(drafts))
    at = next((k for k, d in enumerate(drafts) if _comes_home_each_time(d, k)), -1)
    if at >= 0:
        begin = max((k for k in range(at) if drafts[k].join == "stop"), default=0)
        end = next((k for k in range(at + 1, len(drafts)) if drafts[k].join == "stop"), len(drafts))
        row = _filled([*drafts[begin:at], *drafts[at + 1 : end]])
        if sum(map(_goes_out, row)) > 1 or (sum(map(_goes_out, row)) == 1 and row[0].times > 1):
            out = [more for d in row for more in _and_home(d, drafts[at])]
            return [*drafts[:begin], *out, *drafts[end:]]
        return drafts
    return _row_for_each(drafts)


def _sides_told(drafts: list[Draft]) -> list[Draft]:
    """ "Side steps, right and left": two feet, one after the other."""
    for draft in drafts:
        led = draft.feet in SIDES and draft.times > 1 and draft.value in TOLD and draft.doing == "verb"
        if led and draft.value == "stomp" and draft.tokens_say("from", "start", "begin") and not draft.alternate:
            draft.alternate = True  # "four stomps from the right"
        told = next((BOTH_SIDES[t.low] for t in draft.tokens if t.low in BOTH_SIDES), None)
        steps = (
            draft.doing == "verb" and draft.value in TOLD and (draft.dirs or draft.dir) and not draft.tokens_say(*WALKS)
        )
        if told is not None and steps and not (draft.feet or draft.alternate or draft.counts or draft.times > 1):
            draft.feet = list(told)  # "step out right and left"
    out: list[Draft] = []
    for k, draft in enumerate(drafts):
        words = [t for t in draft.tokens if t.kind != "mark"]
        both = BOTH_SIDES.get(words[0].low) if len(words) == 1 and draft.bare and k else None
        if both is None or not (_names_row(drafts[0]) or (k == 1 and _plural(drafts[0]))):
            out.append(draft)
        else:
            out += [replace(draft, feet=[foot], join="seq", unknown=[]) for foot in both]
    return out


def _each_of_both(drafts: list[Draft]) -> list[Draft]:
    """ "Heels forward R, L": each heel alone."""
    out: list[Draft] = []
    head: Draft | None = None
    for k, draft in enumerate(drafts):
        behind = drafts[k + 1] if k + 1 < len(drafts) else None
        if _plural(draft) and behind is not None and _side(behind):
            head = draft
            continue
        if head is not None and _side(draft):
            same = head if not out or out[-1].part != head.part or draft.join == "stop" else draft
            tokens = [*head.tokens, *draft.tokens] if same is head else draft.tokens
            join = head.join if same is head else draft.join
            draft = replace(
                draft,
                part=head.part,
                dirs=list(head.dirs),
                doing=head.doing,
                value=head.value,
                tokens=tokens,
                join=join,
            )
        elif head is not None and not (set(draft.dirs) <= HOMES and draft.dirs and not draft.feet):
            head = None
        out.append(draft)
    return out


def _plural(draft: Draft) -> bool:
    """Return whether both heels or toes are named with a way that feet take in turn."""
    plain = draft.part in ("heel", "toe") and draft.feet == ["both"] and draft.doing in ("", "verb")
    told = draft.value in ("", "touch", "point", "heel", "step") and not any(
        t.low.startswith("both") for t in draft.tokens
    )
    return (
        plain and told and bool(draft.dirs) and set(draft.dirs) <= WAYS - {"out"} and not (draft.hands or draft.heading)
    )


def _side(draft: Draft) -> bool:
    named = draft.doing or draft.dirs or draft.part or draft.hands or draft.amount or draft.place or draft.refs
    return draft.feet in SIDES and not named


def _comes_home_each_time(draft: Draft, at: int) -> bool:
    """ "Home after each", "with return", "each coming back under the knee"."""
    if not at or draft.hands or draft.amount or draft.place or draft.feet not in ([], ["same"]) or draft.heading:
        return False
    words = {word for t in draft.tokens for word in t.low.split()}
    home = bool(draft.dirs) and set(draft.dirs) <= HOMES
    home = home or (draft.value == "step" and draft.dir in HOMES | {""} and not draft.dirs and bool(words & RETURNS))
    told = bool(words & EACH) or (draft.join == "with" and bool(words & RETURNS))
    strange = {t.low for t in draft.unknown} - EACH
    return home and told and not strange and draft.value in ("", "step") and draft.doing in ("", "verb")


def _goes_out(draft: Draft) -> bool:
    one = draft.feet in SIDES and not draft.hands
    out = draft.value in SENT or (not draft.doing and (draft.part or draft.dirs))
    return bool(one and out) and not (draft.dirs and set(draft.dirs) <= HOMES - {"back"})


def _filled(row: list[Draft]) -> list[Draft]:
    """Return the row with what its first clause names given to the sides alone behind it."""
    out: list[Draft] = []
    head: Draft | None = None
    for k, draft in enumerate(row):
        if _side(draft) and head is not None:
            draft = replace(
                draft, doing=head.doing, value=head.value, dir=head.dir, dirs=list(head.dirs), part=head.part
            )
        elif _names_row(draft) and k + 1 < len(row) and _side(row[k + 1]) and not draft.feet:
            head = draft
            row[k + 1].tokens = [*draft.tokens, *row[k + 1].tokens]
            continue
        elif draft.feet in SIDES and not draft.hands:
            head = draft
        out.append(draft)
    return out


def _names_row(draft: Draft) -> bool:
    """ "Heel digs", "side steps", "kicks to the front": no foot is named yet."""
    return (draft.value in SENT or (not draft.doing and draft.part in ("heel", "toe"))) and not draft.hands


def _and_home(draft: Draft, home: Draft) -> list[Draft]:
    if not _goes_out(draft):
        return [draft]
    way = "in place" if draft.value in ("hitch", "raise") or draft.part == "knee" else "centre"
    back = replace(
        home, join="seq", doing="verb", value="step", dir="", dirs=[way], feet=list(draft.feet), part="", unknown=[],
        times=1, each=False, on="", grouped=False, tokens=list(draft.tokens),
    )  # fmt: skip
    once = replace(draft, times=1)
    return [replace(one, tokens=list(one.tokens)) for _ in range(draft.times) for one in (once, back)]


def _row_for_each(drafts: list[Draft]) -> list[Draft]:
    """ "Heel forward and home, right then left": the row with the one foot, and then with the other."""
    sides = next((k for k in range(len(drafts)) if all(map(_side, drafts[k:]))), len(drafts))
    row, feet = drafts[:sides], drafts[sides:]
    if not (1 < len(feet) < 5 and 1 < len(row) < 9) or any(d.join == "with" for d in feet):
        return drafts
    unnamed = not any(d.feet or d.amount or d.repeat or d.doing == "pattern" for d in row if not _plural(d))
    home = any(_home(d) for d in row[1:]) and _names_row(row[0])
    if not (unnamed and home) or any(d.times > 1 or d.heading for d in row):
        return drafts
    return [_with_foot(d, foot.feet, first=not k) for foot in feet for k, d in enumerate(row)]


def _home(draft: Draft) -> bool:
    return (
        bool(draft.dirs)
        and set(draft.dirs) <= HOMES
        and draft.value in ("", "step")
        and not (draft.part or draft.hands)
    )


def _with_foot(draft: Draft, feet: Sequence[str], *, first: bool) -> Draft:
    moved = draft.part or draft.dirs or draft.value in SENT
    hands = draft.hands or draft.doing == "gest" or draft.value == "hold"
    own = list(feet) if moved and not hands else list(draft.feet)
    dirs = ["centre"] if _home(draft) else list(draft.dirs)
    named = "verb" if _home(draft) else draft.doing
    return replace(
        draft, feet=own, dirs=dirs, doing=named, value="step" if _home(draft) else draft.value,
        tokens=list(draft.tokens), join="seq" if first else draft.join,
    )  # fmt: skip
