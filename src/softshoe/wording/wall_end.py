"""The words that close a wall, however they are put: "and round we go again, from the top"; they ask for no step."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.lex import tokens_of

if TYPE_CHECKING:
    from softshoe.wording.lex import Token

AGAIN = re.compile(
    r"\b(?:again|repeats?|repeating|rpt|rep|over and over|from the (?:top|start|beginning)|"
    r"back to the (?:top|start|beginning)|to the (?:top|start|beginning)|starts? over|(?:keep|carry) (?:going|on)|"
    r"(?:till|until|to) the (?:music|song|end)|once more|all over)\b",
    re.IGNORECASE,
)
COPIES = re.compile(
    r"\b(?:sections?|parts?|first|last|previous|above|counts?|cts|line|half|side|foot|feet|left|right|mirror\w*|"
    r"opposite|revers\w+|tags?|bridge|\d+[-–]\d+|times|twice|x\d)\b(?! wall)",
    re.IGNORECASE,
)
SENTENCE = re.compile(r"[.!?;:–—]|\s-\s|\(")
MOVES = ("verb", "pattern", "gest", "dual", "draw", "footpart", "foot", "hand", "side", "dir", "amount", "turnword")
GENERAL = (
    "go", "goes", "return", "returns", "move", "moves", "take", "takes", "turn", "turns", "start", "back", "top",
    "in place", "ahead", "run", "runs", "it", "that", "them", "everything", "over", "centre", "home", "to the start",
    "in", "out", "way", "stop", "stops", "hold on", "dance", "forward", "front", "set", "sets", "back to back",
)  # fmt: skip


@lru_cache(maxsize=512)
def closes_wall(text: str) -> bool:
    """Return whether a line without counts only says that the dance begins again.

    >>> closes_wall("And round we go again, love, from the top."), closes_wall("Again to the left")
    (True, False)
    """
    sentence = SENTENCE.split(text.strip(" \t\"“”'*-–—•=_#(["), maxsplit=1)[0]
    if not AGAIN.search(sentence) or COPIES.search(sentence):
        return False
    tokens = tokens_of(sentence, line=0)
    return bool(tokens) and not any(map(_moves, tokens))


def _moves(token: Token) -> bool:
    return token.kind == "num" or (token.kind in MOVES and token.low not in GENERAL)
