"""Words that say where the weight is: "stand on it", "which puts you on the left foot", "left takes the weight back".

Such words make no movement of their own; they say what bears when the movement before them is over. Only where the
weight is told to come back onto a foot that another has just left, or where they are all that a count has, the
weight moves: a recover. Here the tokens of a line are marked accordingly, before they are read into drafts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

TELLING = frozenset(("bear", "weight", "noweight", "takeweight"))
STANDING = ("stand", "stands", "standing", "settle", "settles", "settling", "end", "ends", "ending", "finish",
"finishes", "finishing", "are", "is", "be", "still", "you're", "leaving", "leaves", "leave")  # fmt: skip
ONTO = ("on", "onto", "upon", "over", "on the", "onto the")
CARRYING = frozenset(("take", "takes", "put", "puts", "bring", "brings", "transfer", "return", "returns", "go", "goes",
"move", "moves", "hold", "holds", "stay", "stays", "step", "come", "comes",
"still"))  # fmt: skip
SAID = frozenset(("which", "who", "should", "must", "still", "never", "not", "don't", "now", "goes", "firmly", "whole",
"it's", "times", "having", "rests", "stays", "kept", "remains", "lies", "you're", "no", "without", "leaves", "leaving",
"has", "have", "had", "but", "do", "gives", "receives", "catches", "both", "too",
"squarely", "onto", "over"))  # fmt: skip
SOFT = frozenset(("fill", "prep", "on", "side", "foot", "again", "bear", "weight", "noweight", "takeweight", "times"))
BACK = frozenset(("back", "forward", "centre"))
NOT = ("don't", "not", "never", "no", "without")
PASSING = ("transferring", "shifting", "changing", "weight comes", "the weight comes", "let the weight come")
STOPS = frozenset(("look", "clock", "quiet", "num", "count"))
OTHER = {"L": "R", "R": "L"}
MOVES = frozenset(("verb", "pattern", "footpart", "gest", "dual", "draw"))


@dataclass(frozen=True, slots=True)
class Clause:
    """Tokens ``start`` to ``end`` that do nothing but tell the weight."""

    start: int
    end: int
    foot: str = ""
    says_no: bool = False
    free: bool = False
    back: bool = False
    moves: bool = False  # "recover the weight"
    passing: bool = False  # "transferring weight"


def weighed(tokens: Sequence[Token]) -> list[Token]:
    """Return the tokens, those that only tell the weight marked as such.

    >>> from softshoe.wording.lex import tokens_of
    >>> [t.kind for t in weighed(tokens_of("step R forward, stand on it", line=1)) if t.kind != "fill"]
    ['verb', 'side', 'dir', 'mark', 'takeweight']
    """
    out = list(tokens)
    i = 0
    while i < len(out):
        if not _tells(out, i):
            i += 1
            continue
        clause = _clause(out, i)
        if clause is None:
            i += 1
            continue
        _mark(out, clause)
        i = clause.end
    return out


def _tells(tokens: Sequence[Token], i: int) -> bool:
    token = tokens[i]
    if token.kind in TELLING or (token.value == "recover" and "weight" in token.low):
        return True
    if token.low not in STANDING:
        return False
    ahead = [t for t in tokens[i + 1 : i + 5] if t.low != "now"]
    if not ahead:
        return False
    if token.low in ("leaving", "leaves", "leave", "is", "are"):
        return "free" in {t.low for t in ahead} or (token.low == "are" and _on_a_foot(ahead))
    return _on_a_foot(ahead)


def _on_a_foot(ahead: Sequence[Token]) -> bool:
    """Return whether "on", then a foot, stands ahead."""
    if ahead[0].low not in ONTO:
        return False
    foot = next((t for t in ahead[1:] if t.kind != "fill"), None)
    return foot is not None and foot.kind in ("side", "foot")


def _soft(token: Token) -> bool:
    if token.low in SAID:
        return True
    if token.kind == "verb":
        return token.low in CARRYING or token.value == "cannot" or token.value == "recover"
    if token.kind == "dir":
        return token.value in ("left", "right")
    return token.kind in SOFT or token.low in SAID or token.low in STANDING or token.low in ("free", "so", "with")


def _says_how(token: Token) -> bool:
    """ "The left catches the weight", "your weight follows": beside the weight itself any word is only how."""
    if token.kind == "verb":
        return token.value == "sway"
    return token.kind in ("word", "repeat", "gest") and token.value not in ("clap", "snap", "pat")


def _ends(tokens: Sequence[Token], i: int) -> bool:
    """Return whether a clause ends before token i."""
    if not 0 <= i < len(tokens):
        return True
    token = tokens[i]
    return token.kind in ("mark", "join", "num") or token.low in ("so", "so that", "which")


def _clause(tokens: Sequence[Token], at: int) -> Clause | None:
    """Return the clause round token ``at`` where it tells nothing but the weight; else None."""
    itself = tokens[at].kind == "weight"
    start = at
    while not _ends(tokens, start - 1):
        told = _soft(tokens[start - 1]) or (itself and _says_how(tokens[start - 1]))
        if not told or tokens[start - 1].kind == "dir":
            return None
        start -= 1
    end = at + 1
    while not _ends(tokens, end) and tokens[end].kind not in STOPS:
        back = tokens[end].kind == "dir" and (tokens[end].value in BACK or tokens[end].low == "up")
        if not (_soft(tokens[end]) or back or (itself and _says_how(tokens[end]))):
            return None
        end += 1
    if [t.low for t in tokens[end : end + 1]] == ["with"] and _alone(tokens, end + 1):
        end += 2  # "the weight goes with it"
    words = tokens[start:end]
    foot = next((t.value[:1].upper() for t in reversed(words) if _names_foot(t)), "")
    if not foot and any(t.value == "both" for t in tokens[at:end]):
        return None  # "weight on both"
    back = any(t.kind == "again" or t.value in (*BACK, "recover") or t.low.startswith("return") for t in words)
    says_no = any(t.kind == "noweight" or t.low in NOT for t in words)
    return Clause(start, end, foot, says_no, any(t.low == "free" for t in words), back or _takes_over(words),
                  any(t.value == "recover" for t in words),
                  any(t.low.startswith(PASSING) for t in words))  # fmt: skip


def _alone(tokens: Sequence[Token], i: int) -> bool:
    """Return whether token i is a foot with no more words behind it."""
    return i < len(tokens) and tokens[i].kind in ("side", "foot") and _ends(tokens, i + 1)


def _takes_over(words: Sequence[Token]) -> bool:
    return any(t.low.startswith(("takes over", "take over", "taking over")) for t in words)


def _names_foot(token: Token) -> bool:
    sided = token.kind == "dir" and token.value in ("left", "right")
    return sided or (token.kind in ("side", "foot") and token.value in ("L", "R"))


def _mark(tokens: list[Token], clause: Clause) -> None:
    """Mark the clause's tokens: one that tells the weight, the others fillers."""
    told = tokens[clause.start : clause.end]
    before = tokens[: clause.start]
    kind, value = _meaning(clause, before)
    if not kind:
        return
    for i, token in enumerate(told, clause.start):
        tokens[i] = token._replace(kind="fill", value="", dir="")
    first = tokens[clause.start]
    tokens[clause.start] = first._replace(kind=kind, value=value)
    if kind == "verb" and clause.foot:
        foot = next(i for i, t in enumerate(told) if _names_foot(t))
        at = clause.start + max(foot, 1) if len(told) > 1 else clause.start
        tokens[at] = tokens[at]._replace(kind="foot", value=clause.foot)


def _meaning(clause: Clause, before: Sequence[Token]) -> tuple[str, str]:
    """Return kind and value of what the clause says: nothing new (a remark), or that the weight comes back."""
    moved = [t for t in before if t.kind in MOVES or t.kind in ("foot", "side", "dir")]
    turned = any(t.kind == "amount" for t in before)  # "turn half to the left, weight on the left"
    if not turned and not any(t.kind in MOVES or t.kind in ("foot", "side") for t in moved):
        return ("verb", "recover") if clause.foot in OTHER and not (clause.says_no or clause.free) else ("", "")
    if clause.moves:
        rocked = any(t.value in ("rock", "crossrock", "sway") for t in before)
        settles = clause.passing and not clause.foot and not rocked
        return ("verb", "recover") if clause.foot in OTHER else ("takeweight", "") if settles else ("", "")
    if clause.free:
        return "bearing", OTHER.get(clause.foot, "")
    if clause.says_no:
        return "noweight", ""
    last = next((t.value[:1] for t in reversed(moved) if _names_foot(t) and t.kind != "dir"), "")
    rocked = next((t.value for t in reversed(moved) if t.kind == "verb"), "") in ("rock", "crossrock")
    if clause.foot in OTHER and last != clause.foot and (rocked or (clause.back and last)):
        return "verb", "recover"
    if clause.foot in OTHER:
        return "bearing", clause.foot
    return "takeweight", ""
