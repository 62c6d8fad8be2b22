"""What a clause says of the hands by itself: that they close, come to a place, take up a posture; a side alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft
    from softshoe.wording.parts import Atom

HIGH = ("chest", "shoulder", "waist", "head", "lap", "thigh", "hip")
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


def is_posture(draft: Draft, atom: Atom) -> bool:
    """ "Hands on the hips", "your left hand resting on your hip", "while your hands rest on the knees"."""
    hands = [h for s in atom.choices[0] for h in s.hands]
    placed = len(hands) == 1 and hands[0].gesture == "rest" and bool(hands[0].place) and not (draft.at or draft.on)
    word = next((t.low for t in draft.tokens if t.kind in ("gest", "dual", "verb")), "ing")
    told = word.endswith("ing") or (draft.join == "with" and bool(draft.hands) and draft.tokens[0].kind == "hand")
    return placed and (told or draft.join == "with")
