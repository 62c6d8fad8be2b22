"""Copies that only name a side: "now the left", "other foot", "… then with the left"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.parts import Repeat

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Item

SIDES = (["R"], ["L"], ["other"])


def only_side(draft: Draft) -> str:
    """Return the side that a clause names without anything to do: "R", "L", "other" or "" ("now the left arm")."""
    way = {"right": "R", "left": "L"}.get(draft.dirs[0], "") if len(draft.dirs) == 1 else ""
    if way and not (draft.feet or draft.hands or draft.doing or draft.part or draft.amount or draft.place or draft.at):
        return way if not draft.unknown and not draft.repeat else ""
    named = draft.doing or draft.dirs or draft.part or draft.amount or draft.place or draft.at or draft.repeat
    if named or draft.unknown:
        return ""
    found = [f for f in (*draft.feet, *draft.hands) if f]
    return found[0] if found[:1] in SIDES and len(set(found)) == 1 else ""


def side_alone(drafts: list[Draft], item: Item) -> Repeat | None:
    """ "3-4 Now the left": a line that only names a side asks for the counts before with that side."""
    said = [d for d in drafts if not d.bare]
    if item.label is None or len(item.label.wholes) < 2 or len(said) != 1 or len(said[0].feet) > 1:
        return None
    side = only_side(said[0])
    if not side:
        return None
    repeat = Repeat(said[0].span, said[0].line)
    repeat.mirror, repeat.lead = side == "other", "" if side == "other" else side
    return repeat


HOMING = ("back", "centre", "in", "in place", "together", "down")


def _out_and_home(drafts: list[Draft]) -> bool:
    """ "Tap out to the side and back in, then left": what went out has come home, so the other side does all of it."""
    *out, home = drafts
    returns = set(home.dirs) | ({home.dir} - {""})
    plain = not home.hands and home.value in ("", "step", "lower") and bool(returns or home.value == "lower")
    return bool(out) and plain and returns <= set(HOMING) and all(d.feet != ["both"] or d.heading for d in out)


def _own_foot(last: Draft, before: Draft) -> bool:
    """Return whether a side is the foot of the clause before ("shuffle forward leading with the left"), or a wall's."""
    own = last.join == "with" and bool(before.doing) and before.feet in ([], last.feet)
    return own or any(t.kind == "wallname" for t in last.tokens)


def then_the_other(drafts: list[Draft]) -> tuple[list[Draft], Repeat] | None:
    """ "Heel forward and back with the right foot, then with the left": the last clause asks for the others again."""
    last = drafts[-1] if len(drafts) > 1 else None
    side = only_side(last) if last is not None and last.join in ("with", "seq") else ""
    named = last is not None and (last.join == "with" or last.tokens_say("with", "on", "the", "to"))
    if last is None or last.grouped or not side or _own_foot(last, drafts[-2]):
        return None
    if not (named or _out_and_home(drafts[:-1])):
        return None
    if last.join == "with" and side != "other" and not any(d.feet or d.hands or d.mirror for d in drafts[:-1]):
        return None  # "four toe taps with the right foot": it says whose they are
    repeat = Repeat(last.span, last.line)
    repeat.mirror, repeat.lead = side == "other", "" if side == "other" else side
    return drafts[:-1], repeat
