"""Clauses for the hands: gesture, which hands, at what height, toward where."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.arms import GESTURE
from softshoe.wording.mirrors import mirrored_slot
from softshoe.wording.parts import Atom, Hand, Slot

if TYPE_CHECKING:
    from softshoe.wording.drafts import Draft

# A doing word of the feet, said of the hands.
FEET_WORD = {
    "touch": "pat", "point": "point", "drop": "lower", "heel": "pat", "sway": "wave", "lunge": "reach",
    "bounce": "shake",
    "stomp": "pat", "drag": "pull", "slide": "rest", "fan": "rotate", "swivel": "rotate", "turn": "rotate",
    "kick": "punch",
    "flick": "shake", "brush": "pat", "skate": "swing", "bump": "shake", "hitch": "raise", "rock": "sweep",
}  # fmt: skip
DUAL = {"circle": "circle", "close": "close"}
BODY = ("lap", "thigh", "hip", "knee")
ONE_SIDE = {"R": "right", "L": "left"}
# Gestures whose way is plain when the words give none.
OWN_WAY = {
    "reach": {"overhead": "up"},
    "punch": {"overhead": "up"},
    "raise": {"overhead": "up"},
    "push": {"overhead": "up"},
}
KEEPS_HEIGHT = ("push", "pull", "punch", "reach", "open", "close", "circle", "roll", "rotate", "wave", "shake", "sweep")


def gesture_of(draft: Draft) -> str:
    """Return the gesture that a clause names, or "" when it names none."""
    if draft.doing == "gest":
        if draft.value == "pat" and draft.alternate:
            return "drum"
        return {"hug": "cross"}.get(draft.value, draft.value)
    if draft.doing == "dual":
        crossed = draft.value == "close" and ("across front" in draft.dirs or draft.place == "chest")
        return "cross" if crossed and draft.tokens_say("fold") else draft.value
    if draft.turning and (draft.hands or draft.handword):
        return "rotate"
    if draft.doing == "draw":
        return "circle"
    if draft.doing == "verb":
        return _of_feet_word(draft)
    return _unsaid(draft)


def _of_feet_word(draft: Draft) -> str:
    """The hands "cross", "close", "come to the lap"."""
    if draft.value == "step":
        if draft.dir == "across front":
            return "cross"
        if draft.tokens_say("uncross", "unfold"):
            return "open"
        if draft.dir == "together":
            return "close"
        return _carried(draft)
    return FEET_WORD.get(draft.value, "")


def _carried(draft: Draft) -> str:
    """Hands that are brought, put or moved somewhere."""
    if "down" in draft.dirs and draft.place:
        return "lower"
    if draft.place in BODY or (not draft.dirs and not draft.place):
        return "rest"
    return _unsaid(draft)


UNSAID = {
    "up": "raise", "down": "lower", "out": "open", "apart": "open", "side": "open", "forward": "reach", "in": "close",
    "back": "pull", "right": "reach", "left": "reach", "centre": "rest", "across front": "cross", "together": "close",
    "in place": "rest",
}  # fmt: skip


def _unsaid(draft: Draft) -> str:
    """ "Hands on hips", "arms up", "both arms out wide", "palms down": no doing word."""
    if (
        draft.handword.endswith(("thumb", "thumbs", "palm", "palms"))
        and draft.dirs
        and draft.dirs[-1] in ("up", "down")
    ):
        return "rotate"
    if draft.place in BODY:
        return "lower" if "down" in draft.dirs else "rest"
    if draft.place == "overhead":
        return "raise"
    heights = draft.tokens_say("shoulder h", "shoulder l", "chest h", "chest l") or draft.handword.endswith(
        ("arm", "arms")
    )
    there = draft.place in ("shoulder", "head", "chest") and not set(draft.dirs) - {"right", "left"}
    if there and draft.handword and not heights:
        return "rest"  # "right hand to left shoulder"
    way = draft.dirs[-1] if draft.dirs else ""
    if "fist" in draft.handword and way in ("forward", "up", "right", "left"):
        return "punch"
    one = draft.hands[-1:] in (["R"], ["L"]) or (draft.feet[-1:] in (["R"], ["L"]) and "up" in draft.dirs)
    if way == "side" and one:
        return "reach"
    return UNSAID.get(way, "rest" if draft.place else "")


def toward_of(draft: Draft, gesture: str, side: str) -> str:
    """Return the way as one of the events' directions, or ""."""
    ways = [d for d in draft.dirs if d in WAYS]
    if "right" in ways or "left" in ways:
        return "right" if "right" in ways else "left"
    if "across front" in ways and draft.hands and draft.refs[-1:] and draft.refs[-1] in ONE_SIDE:
        return ONE_SIDE[draft.refs[-1]]  # "R hand reaches across to the L"
    sided = draft.feet and draft.feet[-1] in ONE_SIDE and draft.hands
    if draft.travel or (
        sided and (draft.doing == "gest" or gesture in ("sweep", "swing")) and (not draft.place or gesture in TRAVELS)
    ):
        return ONE_SIDE.get(draft.travel or draft.feet[-1], "")
    if gesture in ("raise", "roll") and ways:
        return _settled(ways[-1], side)
    if gesture in ("raise", "lower", "rest", "clap", "snap", "pat", "cross", "follow", "swing", "roll", "circle"):
        return "up" if gesture == "raise" and "up" in ways else ""
    if not ways:
        if gesture == "pull":
            return "back"
        return OWN_WAY.get(gesture, {}).get(draft.place, "")
    return _settled(ways[-1], side)


TRAVELS = ("sweep", "swing", "push", "punch", "reach", "open", "wave")


def _settled(way: str, side: str) -> str:
    if way in ("side", "out", "apart"):
        return ONE_SIDE.get(side, "apart")
    return {"in": "centre", "in place": "", "across front": "across front", "diag": ""}.get(way, way)


WAYS = (
    "forward",
    "back",
    "up",
    "down",
    "right",
    "left",
    "side",
    "out",
    "apart",
    "in",
    "centre",
    "across front",
    "together",
)


AWAY = ("punch", "push", "reach")
BACK_AGAIN = ("back", "in", "centre")


def hands_of(draft: Draft, before: Hand | None, default_side: str) -> list[Hand]:
    """Return the hands of a clause, one entry a hand named; what it leaves out comes from the clause before."""
    gesture = gesture_of(draft) if draft.hands or draft.doing or before is None else ""
    if before is not None and not draft.hands and not draft.feet and not draft.doing:
        default_side = before.side
    if before is not None and not draft.feet and (_of_that_arm(draft) or _goes_on(draft, gesture, before)):
        default_side = before.side
    if not gesture and (draft.place in BODY or (draft.place and "down" in draft.dirs and not draft.doing)):
        gesture = "lower" if "down" in draft.dirs else "rest"
    sides = [s for s in draft.hands if s not in ("same", "other", "")]
    if (
        not sides
        and draft.feet
        and draft.doing in ("gest", "dual", "verb", "")
        and draft.feet[-1] in ("R", "L", "both")
    ):
        sides = [f for f in draft.feet if f in ("R", "L", "both")]
    if "same" in (*draft.hands, *draft.feet) and before is not None:
        sides = [before.side]
    if "other" in draft.hands and before is not None:
        sides = [{"R": "L", "L": "R"}.get(before.side, before.side)]
    if before is not None and not gesture and _comes_back(draft, before):
        gesture, default_side = "pull", before.side
    if before is not None and not gesture and (turn := UP_AND_DOWN.get((before.gesture, "".join(draft.dirs[-1:])))):
        gesture, default_side = turn, before.side  # "right arm up, down, up"
    gesture = _come_there(draft, gesture, before)
    if before is not None and _other_hand_too(draft, before):
        gesture = before.gesture
    inherits = before is not None and not gesture
    if (
        gesture == "rotate"
        and not draft.turning
        and draft.doing == ""
        and before is not None
        and before.gesture == "rotate"
    ):
        inherits = False
    sides = sides or [
        before.side if before is not None and (inherits or "same" in draft.hands) else default_side or "both"
    ]
    return [_hand(draft, side, gesture, before if inherits else None) for side in sides]


HIGHER = ("chest", "shoulder", "waist", "head")
COMING_TO = ("bring", "brought", "come", "coming", "go", "return", "put", "draw", "take")


def _comes_there(draft: Draft) -> bool:
    """ "Hands to the chest", "back to the shoulders", "chest": no doing word but that they come there."""
    if draft.doing not in ("", "verb") or (draft.doing == "verb" and (draft.value != "step" or draft.dir)):
        return False
    if draft.doing == "verb" and not draft.tokens_say(*COMING_TO):
        return False
    if not any(t.kind == "place" for t in draft.tokens):
        return False  # "punch R, L at chest height": told of the last, it is that of all
    resting = any(t.kind == "on" or t.low in ("at", "on", "on the", "on your") for t in draft.tokens)
    heights = any("height" in t.low or "level" in t.low for t in draft.tokens)  # "punch R, L at chest height"
    return not resting and not heights and set(draft.dirs) <= {"back", "in", "centre", "up", "down"}


def _come_there(draft: Draft, gesture: str, before: Hand | None) -> str:
    there = gesture in ("rest", "raise", "", "lower") and draft.place in HIGHER and _comes_there(draft)
    return (_towards(draft, before) if there else "") or gesture


def _towards(draft: Draft, before: Hand | None) -> str:
    """What went out is pulled in, what went up comes lower, what lay in the lap is raised."""
    if before is None:
        return "raise" if draft.place in ("shoulder", "head") else ""
    if before.toward == "up" or before.place == "overhead" or "down" in draft.dirs:
        return "lower"
    if before.gesture in AWAY:
        return "pull"
    return "raise" if before.place in ("lap", "thigh", "knee") and before.gesture in RETURNING else ""


def _comes_back(draft: Draft, before: Hand) -> bool:
    """ "Punches forward and comes back", "open the arms; in to the chest"."""
    went = before.gesture in AWAY or (before.gesture == "open" and bool(draft.place))
    return went and bool(draft.dirs) and draft.dirs[-1] in BACK_AGAIN


def _other_hand_too(draft: Draft, before: Hand) -> bool:
    """ "Push the right hand to the right and the left hand to the left": the other hand does the same."""
    other = {"R": "L", "L": "R"}.get(before.side, "")
    sided = bool(draft.dirs) and set(draft.dirs) <= {"right", "left", "side"}
    return not draft.doing and sided and draft.hands == [other] and before.gesture in TRAVELS


ALONE = (
    "clap",
    "snap",
    "roll",
    "cross",
    "open",
    "close",
    "swing",
)  # gestures that one hand's sentence does not go on with


def _of_that_arm(draft: Draft) -> bool:
    """ "Reach the right arm forward, turn the thumb down": one thumb or hand is that of the arm named before."""
    return draft.hands == [""] and not draft.handword.endswith("s")


UP_AND_DOWN = {
    ("raise", "down"): "lower",
    ("reach", "down"): "lower",
    ("lower", "up"): "raise",
    ("rest", "up"): "raise",
}
RETURNING = ("pull", "lower", "rest")
LEAVING = ("punch", "push", "reach", "raise", "point", "open", "circle", "wave", "pull")


def _goes_on(draft: Draft, gesture: str, before: Hand | None) -> bool:
    """ "Right hand reaches forward, rests in the lap": a verb told of one hand goes on with that hand."""
    if draft.hands:
        return False
    if gesture in RETURNING and before is not None and before.gesture in LEAVING and before.side in ("R", "L"):
        return True
    word = next((t.low for t in draft.tokens if t.kind in ("gest", "dual", "verb")), "")
    return bool(gesture) and gesture not in ALONE and word.endswith("s") and not word.endswith("ss")


def _hand(draft: Draft, side: str, gesture: str, before: Hand | None) -> Hand:
    if before is not None:
        way = toward_of(draft, before.gesture, side) or before.toward
        return Hand(side, before.gesture, draft.place or before.place, way, draft.line, draft.span)
    return Hand(side, gesture or "rest", draft.place, toward_of(draft, gesture, side), draft.line, draft.span)


def lasting(hand: Hand) -> bool:
    """Return whether the gesture is written on every count it lasts."""
    if hand.gesture not in GESTURE or (hand.gesture == "drum" and hand.side != "both"):
        return False
    return GESTURE[hand.gesture].lasting


def arms_atom(draft: Draft, before: Hand | None, default_side: str, across: Hand | None = None) -> Atom:
    """Return the atom of a clause for the hands; ``across`` is what they did last on the line before."""
    hands = hands_of(draft, before, default_side)
    if before is None and across is not None and draft.hands and draft.place in HIGHER and _comes_there(draft):
        gesture = _towards(draft, across)
        way = "back" if gesture == "pull" else ""
        hands = [h._replace(gesture=gesture or h.gesture, toward=h.toward or way) for h in hands]
    if draft.doing == "gest" and draft.value == "follow":
        hands = [h._replace(place="foot", toward="") for h in hands]
    in_turn = len(hands) > 1 and (
        draft.alternate or len({h.side for h in hands}) < len(hands) or "both" not in draft.hands
    )
    slots: tuple[Slot, ...] = tuple(Slot(hands=(h,)) for h in hands) if in_turn else (Slot(hands=tuple(hands)),)
    if draft.times > 1:
        turns = draft.alternate and len(slots) == 1 and hands[0].side in ("R", "L")
        slots = tuple(mirrored_slot(s) if turns and n % 2 else s for n in range(draft.times) for s in slots)
    choices = [slots]
    if in_turn and len(hands) == 2:
        choices.append((Slot(hands=tuple(hands)),))
    atom = Atom(
        choices, draft.join, draft.span, draft.line, counts=draft.counts, at=draft.at, arms_only=True, each=draft.each
    )
    atom.lasts = all(lasting(h) for h in hands)
    return atom
