"""A copy that turns otherwise: "the same with a quarter turn instead of the half", "once more, a quarter left on 7".

The words are taken out of the line; the copy's one turning step turns so far, else the step that the count names, else
the last step that travels.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action
    from softshoe.wording.lex import Token

SPINS = {"L": -1, "R": 1, "left": -1, "right": 1}
LEADS_IN = frozenset(
    ("but", "only", "just", "with", "and", "a", "an", "the", "this time", "now", "make", "making", "making it", "it",
     "you", "we", "turn", "turning", "take", "taking", "add", "adding", "then", ",", "(", "–", "-", "—", ";", "to",
     "on", "at", "count", "on count", "on the", "doing", "except", "that", "ending", "finishing", "ending with",
     "finishing with", "instead", "this", "time", "of")
)  # fmt: skip
BEHIND = frozenset(("turn", "turning", "this time", "instead", "time", "this", "to the", "to", "the", "only", "of",
"instead of", "instead of the", "instead of a", ")", ".", "!", "over", "on", "at", "count", "on count",
"on the"))  # fmt: skip
SOFT = ("turnword", "spin", "instead", "amount", "fill", "on")
DOING = ("verb", "pattern", "gest", "dual", "draw", "footpart", "hand")
STAYS = (Direction.TOGETHER, Direction.IN_PLACE, Direction.CENTRE)


class TurnChange(NamedTuple):
    """How far the copy turns, to which side (0: as before, or as the feet ask), and on which count, if one is told."""

    deg: int
    spin: int = 0
    at: Fraction | None = None


def parted_turn(tokens: Sequence[Token], start: int) -> tuple[list[Token], TurnChange | None]:
    """Return the words without a turn told behind the word at ``start`` that asks for a copy, and that turn."""
    at = next((i for i in range(start + 1, len(tokens)) if tokens[i].kind == "amount"), 0)
    if not at or not tokens[at].value.isdigit():
        return list(tokens), None
    begin = at
    while begin > start + 1 and _leads(tokens, begin - 1):
        begin -= 1
    end, spin = at + 1, 0
    while end < len(tokens) and _goes_on(tokens, end):
        spin = spin or _spin(tokens[end])
        end += 1
    led = any(t.low not in (",", "the", "a", "to") for t in tokens[begin:at])
    clause = begin == at or led or tokens[begin].low == ","
    if not clause or any(t.kind in DOING for t in tokens[start + 1 : end]):
        return list(tokens), None
    count = next((t.number for t in tokens[begin:end] if t.kind == "num"), None)
    change = TurnChange(int(tokens[at].value), spin, Fraction(count) if count else None)
    return [*tokens[:begin], *tokens[end:]], change


def _leads(tokens: Sequence[Token], i: int) -> bool:
    token = tokens[i]
    counted = token.kind == "num" and i > 0 and tokens[i - 1].kind in ("on", "count")
    return counted or token.low in LEADS_IN or token.kind in ("turnword", "fill", "on", "join", "count")


def _goes_on(tokens: Sequence[Token], i: int) -> bool:
    token = tokens[i]
    if token.kind == "num":
        return tokens[i - 1].kind in ("on", "count")
    return (
        bool(_spin(token))
        or token.low in BEHIND
        or token.kind in ("turnword", "spin", "instead", "amount", "fill", "on")
    )


def _spin(token: Token) -> int:
    if token.kind == "spin":
        return int(token.value) if token.value.lstrip("-").isdigit() else SPINS.get(token.value, 0)
    return SPINS.get(token.value, 0) if token.kind in ("side", "dir") else 0


def turning_step(taken: Sequence[Action], change: TurnChange, shifts: Sequence[Fraction]) -> Action | None:
    """Return which of the actions to be copied turns; ``shifts`` lead from their counts to those that may be told."""
    if change.at is not None:
        for shift in shifts:
            found = next((a for a in taken if a.foot is not None and a.at.at + shift == change.at), None)
            if found is not None:
                return found
        return None
    turned = [a for a in taken if a.turn_deg]
    if turned:
        return turned[0] if len(turned) == 1 else None
    steps = [a for a in taken if a.verb in VERB and VERB[a.verb].takes_weight and a.dir not in STAYS]
    return steps[-1] if steps else None


def turned_otherwise(action: Action, change: TurnChange, before: Sequence[Action]) -> Action:
    """Return the copied step with its turn; a vine's last step goes forward where it turns that way."""
    spin = change.spin or (1 if action.turn_deg > 0 else -1 if action.turn_deg else 0)
    out = {Direction.RIGHT: 1, Direction.LEFT: -1}.get(action.dir, 0) if action.dir is not None else 0
    spin = spin or out or (1 if action.foot is not None and action.foot.value == "R" else -1)
    vine = any(a.dir in (Direction.ACROSS_BEHIND, Direction.TOGETHER) for a in before)
    there = Direction.FORWARD if out == spin and not action.turn_deg and vine else action.dir
    return replace(action, turn_deg=spin * change.deg, dir=there)
