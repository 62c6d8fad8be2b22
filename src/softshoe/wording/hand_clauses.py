"""What a clause says of the hands by itself: that they close, come to a place, take up a posture; a side alone."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom, Hand

HIGH = ("chest", "shoulder", "waist", "head", "lap", "thigh", "hip")
IDLE = ("nothing", "none", "still", "quiet", "hands still", "arms still", "no arms", "no hands")
COMING = ("return", "com", "go", "bring", "draw", "back")


def closes(draft: Draft) -> bool:
    """ "Close", "fold them in": no place, no foot."""
    return (
        draft.doing == "verb" and draft.value == "step" and draft.dir == "together" and not (draft.feet or draft.dirs)
    )


def comes_to_a_place(draft: Draft) -> bool:
    """ "Return to the chest", "come back to the lap": said of no foot, it is where the hands come to."""
    plain = draft.doing == "verb" and draft.value == "step" and not (draft.dir or draft.amount or draft.refs)
    named = draft.feet or draft.part or draft.hands
    return plain and not named and draft.place in HIGH and draft.tokens_say(*COMING)


def only_side(draft: Draft) -> bool:
    """Return whether a clause names no more than a side."""
    named = draft.doing or draft.dirs or draft.part or draft.hands or draft.amount or draft.place or draft.refs
    return draft.feet in (["R"], ["L"]) and not named and all(t.kind != "foot" for t in draft.tokens)


def both_of_the_hands(draft: Draft) -> bool:
    """ "Reach both arms up, bring both down": behind the hands a "both" that names no foot is theirs."""
    alone = draft.feet == ["both"] and not (draft.hands or draft.part or draft.amount)
    ways = set(draft.dirs) <= {"down", "up", "back", "in", "out"} and (draft.doing == "dual" or bool(draft.dirs))
    return alone and ways and not any(t.kind in ("foot", "footpart") for t in draft.tokens)


def on_the_knees(draft: Draft) -> Draft:
    """ "Hands rest on the knees": no knee moves; "clap, hands rest in the lap": they come; "cross on the chest"."""
    crossed = draft.value == "step" and draft.dir == "across front" and draft.place == "chest"
    if crossed and not (draft.feet or draft.hands or draft.dirs):
        return replace(draft, hands=["both"])
    knees = draft.part == "knee" and draft.feet == ["both"] and not draft.place
    placed = bool(draft.place) and not (draft.part or draft.feet)
    named = draft.doing or draft.hands or draft.dirs
    if not (draft.quiet and (knees or placed)) or named or draft.tokens[0].low != "hands rest":
        return draft
    return replace(draft, doing="gest", value="rest", hands=["both"], handword="hands", part="", feet=[],
                   place=draft.place or "knee", quiet=False)  # fmt: skip


def nothing_but(drafts: list[Draft]) -> list[Draft]:
    """ "Nothing, hands rest in the lap": where the hands are while they do nothing takes no count of its own."""
    head, rest = (drafts[0], drafts[1:]) if len(drafts) == 2 else (None, [])
    idle = head is not None and not (head.arms or head.dirs or head.feet) and head.tokens_say(*IDLE)
    rests = bool(rest) and bool(rest[0].place) and rest[0].value in ("", "rest") and not rest[0].dirs
    return rest if idle and rests else drafts


def is_posture(draft: Draft, atom: Atom) -> bool:
    """ "Hands on the hips", "your left hand resting on your hip", "while your hands rest on the knees"."""
    hands = [h for s in atom.choices[0] for h in s.hands]
    placed = len(hands) == 1 and hands[0].gesture == "rest" and bool(hands[0].place) and not (draft.at or draft.on)
    word = next((t.low for t in draft.tokens if t.kind in ("gest", "dual", "verb")), "ing")
    told = word.endswith("ing") or (draft.join == "with" and bool(draft.hands) and draft.tokens[0].kind == "hand")
    first = next((t for t in draft.tokens if t.kind not in ("fill", "mark")), None)
    told = told or (word in ("rest", "rests") and first is not None and first.kind == "hand")  # "the hands rest on …"
    return placed and (told or draft.join == "with")


THROWN = ("punch", "reach", "push", "wave", "shake")
LYING = ("crossed", "folded", "wrapped")


def as_the_other(draft: Draft, before: Hand | None) -> Draft:
    """ "Punch the right hand up, the left hand up": the other hand does what the first did."""
    bare = not (draft.doing or draft.place or draft.feet or draft.part) and draft.dirs == ["up"]
    if not bare or before is None or before.gesture not in THROWN or before.toward != "up":
        return draft
    other = {"R": ["L"], "L": ["R"]}.get(before.side)
    return replace(draft, doing="gest", value=before.gesture) if draft.hands == other else draft


def goes_up(hand: Hand, before: Hand) -> bool:
    """ "Roll the hands in front of the chest, punch up": what goes up keeps no height of another gesture."""
    return hand.toward == "up" and hand.gesture != before.gesture


def tells_where(last: Atom, draft: Draft, gesture: str) -> bool:
    """ "Hug yourself, both arms crossed on the chest": where the hands are by now, no movement of its own."""
    slots = last.choices[0] if last.arms_only and last.choices else ()
    hands = slots[-1].hands if slots else ()
    same = len(hands) == 1 and hands[0].gesture == gesture == "cross" and not hands[0].place
    if not same or not draft.place or not draft.tokens_say(*LYING) or draft.join == "stop":
        return False
    last.choices = [
        tuple(s._replace(hands=tuple(h._replace(place=draft.place) for h in s.hands)) for s in choice)
        for choice in last.choices
    ]
    return True
