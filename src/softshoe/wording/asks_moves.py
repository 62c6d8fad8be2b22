"""What feet and hands do in a section that is asked for with something other: by which words, and how it changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Collection

Codes = tuple[str, ...]

FEET = {
    "touch": ("touch", "point"), "tap": ("touch", "point", "heel"), "toe": ("touch", "point"), "heel": ("heel",),
    "dig": ("heel",), "kick": ("kick",), "step": ("step",), "stomp": ("stomp", "stomp-up"),
    "stamp": ("stomp", "stomp-up"), "march": ("march", "step"), "hitch": ("hitch",), "knee": ("hitch",),
    "scuff": ("scuff",), "brush": ("brush",), "point": ("point", "touch"), "rock": ("rock",), "sway": ("sway",),
    "bump": ("bump",), "drag": ("drag",), "hook": ("hook",), "flick": ("flick",),
}  # fmt: skip
HANDS = {
    "clap": "clap", "snap": "snap", "click": "snap", "pat": "pat", "punch": "punch", "push": "push", "pull": "pull",
    "wave": "wave", "roll": "roll", "raise": "raise", "reach": "reach", "shake": "shake", "swing": "swing",
    "cross": "cross", "open": "open", "rest": "rest", "lower": "lower", "circle": "circle", "sweep": "sweep",
}  # fmt: skip
ALL_HANDS = ("arm", "hand")
HOMES = ("home", "together", "close", "foot", "in")
WAITING = ("hold", "wait", "pause", "rest")
TURNS = ("turn", "quarter", "half")
MOVES = frozenset((*FEET, *HANDS))
STEMS = frozenset((*MOVES, *ALL_HANDS, *HOMES, *TURNS, *WAITING, "leg"))
NAMED = STEMS | {"feet", "other", "opposite", "everything"}
ENDINGS = ("es", "s", "ping", "ing", "ped", "ed")
AT_HOME = frozenset(("dir:in place", "dir:together", "dir:centre"))
ONE_FOOT, ONE_ARM = ("foot:L", "foot:R"), ("arm:L", "arm:R")
SIDEWAYS = ("dir:left", "dir:right")
WAYS = {
    "behind": ("dir:back", "dir:across behind"), "back": ("dir:back",), "backward": ("dir:back",),
    "backwards": ("dir:back",), "forward": ("dir:forward",), "forwards": ("dir:forward",), "front": ("dir:forward",),
    "side": SIDEWAYS, "sides": SIDEWAYS,
}  # fmt: skip
CROSSED = {
    ("dir:across behind", "dir:forward"): "dir:across front",
    ("dir:across front", "dir:back"): "dir:across behind",
}
ROUND = (
    "dir:forward", "dir:forward right diagonal", "dir:right", "dir:back right diagonal", "dir:back",
    "dir:back left diagonal", "dir:left", "dir:forward left diagonal",
)  # fmt: skip
TURN = "turn:"
EIGHTH = 45  # degrees
STEPPING = shape(r"\b(?:step\w*|pivot\w*|forward|back|side|onto)\b")


def stem(word: str) -> str:
    """Return the word of the tables that a word is a form of, else the word.

    >>> stem("touches"), stem("clapping"), stem("Stepped"), stem("kettles")
    ('touch', 'clap', 'step', 'kettles')
    """
    low = word.casefold()
    forms = (low.removesuffix(end) for end in ENDINGS if low.endswith(end))
    return next((form for form in forms if form in STEMS), low)


def turned(feet: Codes, before: Codes, words: str) -> Codes:
    """Return a turn told by itself as the step that was to be done there, turning: "a quarter left on 7"."""
    before = straightened(before)
    turn, way = _with(TURN, feet), _with("dir:", before)
    if turn is None or way not in ROUND or "step" not in before or STEPPING.search(words.casefold()):
        return feet
    return (*(_round(code, -_eighths(turn)) if code == way else code for code in before), turn)


def straightened(feet: Codes) -> Codes:
    """Return a step without its turn, onto the same place; a pivot stays.

    >>> straightened(("foot:L", "step", "dir:forward", "turn:-90"))
    ('foot:L', 'step', 'dir:left')
    """
    turn, way = _with(TURN, feet), next((code for code in feet if code in ROUND), None)
    if turn is None or way is None:
        return feet
    return tuple(_round(code, _eighths(turn)) if code == way else code for code in feet if code != turn)


def turned_by(feet: Codes, degrees: int) -> Codes:
    """Return a step or a pivot with a turn of another size, the same way round.

    >>> turned_by(("foot:L", "pivot", "dir:in place", "turn:-180"), 90)
    ('foot:L', 'pivot', 'dir:in place', 'turn:-90')
    """
    turn = _with(TURN, feet)
    if turn is None:
        return feet
    new = f"{TURN}{-degrees if turn.startswith(f'{TURN}-') else degrees}"
    way = next((code for code in feet if code in ROUND), None)
    to = _round(way, _eighths(turn) - _eighths(new)) if way is not None else ""
    return tuple(new if code == turn else to if code == way else code for code in feet)


def with_foot_of(feet: Codes, other: Codes) -> Codes:
    """Return what a foot does, done by the foot that was to move there."""
    own, told = (next((code for code in codes if code in ONE_FOOT), None) for codes in (other, feet))
    if own is None or own == told:
        return feet
    flipped = dict(zip(SIDEWAYS, reversed(SIDEWAYS), strict=True)) if told is not None else {}
    return tuple(own if code == told else flipped.get(code, code) for code in feet)


def with_arm_of(hands: Codes, other: Codes) -> Codes:
    """Return what both hands do, done by the one that was to do the same."""
    done, was = ([code for code in codes if code.startswith("hand:")] for codes in (hands, other))
    one = next((code for code in other if code in ONE_ARM), None)
    return tuple(one if code == "arm:both" else code for code in hands) if done == was and one else hands


def led_to(feet: Codes, old: Collection[str], new: str) -> Codes:
    """Return what a foot does with one way in place of others: to its own side, crossed where it was crossed."""
    side = "dir:left" if ONE_FOOT[0] in feet else "dir:right"
    to = side if new in SIDEWAYS else new
    return tuple(CROSSED.get((code, to), to) if code in old else code for code in feet)


def _with(sign: str, codes: Codes) -> str | None:
    return next((code for code in codes if code.startswith(sign)), None)


def _eighths(turn: str) -> int:
    return int(turn.removeprefix(TURN)) // EIGHTH


def _round(way: str, by: int) -> str:
    return ROUND[(ROUND.index(way) + by) % len(ROUND)]
