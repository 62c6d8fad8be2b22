"""Copies with one thing changed: "repeat 1-4 without the turn", "same again but touch on 8", "… with toes instead".

What is changed is taken out of the words before the rest of them is read; the copy is danced with it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.places import Direction
from softshoe.wording.shape import shape
from softshoe.wording.turn_changes import TurnChange, parted_turn

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Slot

ASKING = frozenset(("repeat", "same", "again", "mirror"))
DOING = frozenset(("verb", "pattern", "gest", "dual", "draw"))
NOT = (
    r"(?:\b(?:but|and|only)\s+)*\b(?:without|no|don't|don’t|do not|not|omit\w*|minus|leav\w+ out|skip\w*|less|sans)\s+"
)
ANY = r"(?:(?:any|the|a|your|this|of)\s+)*"
FLAT = shape(
    rf"{NOT}{ANY}(?:1/4|1/2|¼|½|quarter|half)?\s*(?:turns?|turning|turned|quarter|half)\b(?:\s+this time)?", re.I
)
QUIET = shape(
    rf"{NOT}{ANY}(?P<what>claps?|clapping|clicks?|clicking|snaps?|snapping|pats?|arms?(?: movements?)?|hands?)\b", re.I
)
PARTS = "toes?|heels?|points?|touches|taps|kicks|toe taps|heel taps|toe touches|heel digs"
SWAP = shape(
    rf"(?:\b(?:but|this time|now|only)\s+)*(?:\b(?:with|using|on|do|in)\s+)?(?:the |your )*\b(?P<what>{PARTS})\b"
    rf"(?:\s+(?:instead|in place)(?:\s+of\s+(?:the |your )*(?:{PARTS}))?)?\W*$",
    re.I,
)
BACK = shape(
    r"\b(?:but\s+)?(?:(?:going|moving|travelling|traveling|coming)\s+back(?:wards?)?|in reverse|backwards?)\b", re.I
)
PLACE = shape(
    r"\b(?:(?:but|only|this time|now|just)\s+)*(?:at|to|up to|from)\s+(?P<what>shoulder|chest|waist|head)"
    r"(?:\s+(?:height|level|high))?\b",
    re.I,
)
LAST = (
    r"(?:(?:the|your|its)\s+)*(?:last|final)\s*(?:step|count|one|move|movement|beat|time|pivot|together|touch|kick)?\b"
)
END = r"(?:(?:on|at|for)\s+)?(?:the\s+)?(?:very\s+)?(?:end|finish)\b"
AT = r"(?:(?:on|at|for|count|counts|the|beat)\s+)+(?P<at>\d{1,2})\b"
CHANGE = shape(
    r"(?P<mark>[,;(:–—-]?\s*\b(?:but|except|only|replac\w+|chang\w+|substitut\w+|end\w*|finish\w*|"
    r"(?:and|but)\s+(?:end|finish)|as|with(?=\s+(?:a|an|the)\s))\b|[,;(]\s*(?=\S))",
    re.I,
)
NOISE = shape(
    rf"\b(?:but|except|only|this time|that|replac\w+|chang\w+|substitut\w+|end\w*|finish\w*|with|by|and|for|to|is|"
    rf"becomes?|being|in place of|makes?|do|{AT}|{LAST}|{END}|(?:a|an|the)(?=\s))\b|\bon\s+(?={LAST})|[^\w\s]",
    re.I,
)
LEADS_IN = ("but", "except", "only", "end", "ending", "finish", "finishing", "and", "this time")
ENDS = shape(rf"{LAST}|{END}|\b(?:end|finish|replac|chang|substitut)\w*", re.I)
INSTEAD = shape(r"\binstead\b(?:\s+of\s+(?:the\s+|a\s+|your\s+)*(?P<of>\w+))?.*$", re.I)
COUNT_FIRST = shape(r"^[\W_]*(?:(?:on|count|counts|for)\s+)*(?P<at>\d{1,2})\s*(?:becomes|is|to|=|:)", re.I)
AWAY = {Direction.FORWARD: Direction.BACK, Direction.BACK: Direction.FORWARD,
        Direction.FORWARD_LEFT: Direction.BACK_LEFT, Direction.BACK_LEFT: Direction.FORWARD_LEFT,
        Direction.FORWARD_RIGHT: Direction.BACK_RIGHT, Direction.BACK_RIGHT: Direction.FORWARD_RIGHT}  # fmt: skip
ROUND = (
    Direction.FORWARD, Direction.FORWARD_RIGHT, Direction.RIGHT, Direction.BACK_RIGHT, Direction.BACK,
    Direction.BACK_LEFT, Direction.LEFT, Direction.FORWARD_LEFT,
)  # fmt: skip
SWAPS = {"toe": "touch", "toes": "touch", "touches": "touch", "taps": "touch", "toe taps": "touch", "heel": "heel",
         "toe touches": "touch", "heels": "heel", "heel taps": "heel", "heel digs": "heel", "point": "point",
         "points": "point", "kicks": "kick"}  # fmt: skip
REACHED = frozenset(("touch", "heel", "point", "kick"))


@dataclass(slots=True)
class Change:
    """What a copy has otherwise: no turns, no claps (or "all" for no arms), other feet's parts, backwards, or one step
    in another's stead: ``words`` at ``at`` (None: the last count), or where ``of`` was done.
    """

    flat: bool = False
    quiet: str = ""
    swap: str = ""
    back: bool = False
    words: tuple[Token, ...] = ()
    at: Fraction | None = None
    of: str = ""
    slot: Slot | None = None  # the words read
    turn: TurnChange | None = None  # how it turns otherwise

    def of_feet(self, action: Action) -> Action:
        """Return a copied action with the change."""
        if self.flat and action.turn_deg:
            way = action.dir
            if way in ROUND and action.turn_deg % 45 == 0:
                way = ROUND[(ROUND.index(way) + action.turn_deg // 45) % 8]
            action = replace(action, turn_deg=0, dir=way)
        if self.swap and action.verb in REACHED:
            action = replace(action, verb=self.swap)
        if self.back and action.dir is not None:
            action = replace(action, dir=AWAY.get(action.dir, action.dir))
        return replace(action, arms=self.of_hands(action.arms)) if self.quiet and action.arms else action

    def of_hands(self, moves: Sequence[ArmMove]) -> tuple[ArmMove, ...]:
        """Return what the hands do in the copy."""
        return tuple(m for m in moves if self.quiet not in ("all", m.gesture)) if self.quiet else tuple(moves)


def parted_change(tokens: Sequence[Token]) -> tuple[list[Token], Change | None, str]:
    """Return the words without the change they ask for, the change, and a height that the hands go to instead."""
    start = next((i for i, t in enumerate(tokens) if t.kind in ASKING or _as(tokens, i)), None)
    if start is None or len(tokens) < start + 2:
        return list(tokens), None, ""
    tokens = _without_sides(tokens, start)
    change, rest = Change(), _joined(tokens, start)
    rest, found = _cut(rest, start, FLAT)
    change.flat = bool(found)
    rest, change.turn = (rest, None) if change.flat else parted_turn(rest, start)
    rest, found = _cut(rest, start, QUIET)
    if found:
        what = found["what"].casefold()
        change.quiet = "all" if what[:3] in ("arm", "han") else {"cli": "snap", "pat": "pat"}.get(what[:3], what[:4])
    rest, found = _cut(rest, start, BACK)
    change.back = bool(found)
    moves = any(t.kind in DOING for t in rest[start + 1 :])
    rest, found = (rest, None) if moves else _cut(rest, start, PLACE)
    place = found["what"].casefold() if found else ""
    sided = any(t.kind in ("side", "num") or (t.value[:1] in "RL" and t.kind in ("footpart",)) for t in rest[-3:])
    if not sided:
        rest, found = _cut(rest, start, SWAP)
        change.swap = SWAPS.get(" ".join(found["what"].casefold().split()), "") if found else ""
    rest = _instead(rest, start, change)
    told = change != Change() or place or len(rest) > len(tokens)
    return (rest, change, place) if told else (list(tokens), None, "")


SIDES = frozenset(("side", "foot", "hand", "fill", "prep", "join", "mark"))


def _without_sides(tokens: Sequence[Token], start: int) -> Sequence[Token]:
    """ "Mirror of section 1: left foot, and hands to the left": sides told behind a mirror say it once more."""
    if tokens[start].kind != "mirror":
        return tokens
    at = next((i for i, t in enumerate(tokens) if i > start and t.kind == "mark" and t.text in ":,;(–—"), len(tokens))
    tail = tokens[at:]
    sides = all(t.kind in SIDES or (t.kind == "dir" and t.value in ("left", "right")) for t in tail)
    return tokens[:at] if sides and any(t.kind in ("hand", "foot") for t in tail) else tokens


def _as(tokens: Sequence[Token], i: int) -> bool:
    """ "As 1-4 but …"."""
    return i == 0 and tokens[0].low in ("as", "like") and len(tokens) > 2 and tokens[1].kind in ("num", "count")


def _joined(tokens: Sequence[Token], start: int) -> list[Token]:
    """ "Repeat 1-4 clapping on 5": the hands are a clause of their own."""
    out: list[Token] = []
    for i, token in enumerate(tokens):
        if (
            i > start + 1
            and token.kind == "gest"
            and (token.low.endswith("ing") or out[-1].low in ("with a", "with an", "with your", "adding a", "add a"))
            and out[-1].kind not in ("mark", "join")
        ):
            out.append(token._replace(kind="join", value="with", text="", low="", end=token.start))
        out.append(token)
    return out


def _words(tokens: Sequence[Token]) -> tuple[str, list[int]]:
    """Return the words put together, and where each begins."""
    text, begins = "", []
    for token in tokens:
        text += "" if token.glued or not text else " "
        begins.append(len(text))
        text += token.low or token.text
    return text, begins


def _cut(tokens: list[Token], start: int, what: re.Pattern[str]) -> tuple[list[Token], re.Match[str] | None]:
    """Return the tokens without what is found behind the word that asks for the copy."""
    text, begins = _words(tokens)
    found = what.search(text, begins[start + 1] if start + 1 < len(begins) else len(text))
    if not found:
        return tokens, None
    kept = [t for t, at in zip(tokens, begins, strict=True) if not found.start() <= at < found.end()]
    return kept, found


def _instead(tokens: list[Token], start: int, change: Change) -> list[Token]:
    """Take out the clause that is danced in the stead of one count of the copy."""
    text, begins = _words(tokens)
    if start + 1 >= len(tokens):
        return tokens
    for mark in reversed(list(CHANGE.finditer(text, begins[start + 1]))):
        first = next((k for k, at in enumerate(begins) if at >= mark.start()), len(begins))
        while first > start + 1 and (tokens[first - 1].low in LEADS_IN or tokens[first - 1].text in (",", "(", ";")):
            first -= 1
        words, tail = text[begins[first] :] if first < len(begins) else "", tokens[first:]
        stead = INSTEAD.search(words)
        if stead:
            tail = [t for t, at in zip(tail, begins[first:], strict=True) if at < begins[first] + stead.start()]
            words = words[: stead.start()]
        at = COUNT_FIRST.search(words.lstrip(" (,;:-–—")) or re.search(AT, words, re.I)
        told = at or stead or ENDS.search(words)
        put = _bare(tail)
        doing = [t for t in put if t.kind in DOING]
        if (
            not told
            or len(doing) != 1
            or doing[0].kind not in ("verb", "dual")
            or sum(t.kind == "num" for t in tail) > 1
        ):
            continue
        change.words = tuple(put)
        change.at = Fraction(int(at["at"])) if at else None
        change.of = (stead["of"] or "").casefold() if stead else ""
        return tokens[:first]
    return tokens


def _bare(tokens: Sequence[Token]) -> list[Token]:
    """Return the clause without what only says when, and that something is changed."""
    text, begins = _words(tokens)
    noise = [m.span() for m in NOISE.finditer(text)]
    kept = [t for t, at in zip(tokens, begins, strict=True) if not any(a <= at < b for a, b in noise)]
    return [t for t in kept if t.kind not in ("num", "count", "on", "join", "mark") and not t.low.startswith("replac")]
