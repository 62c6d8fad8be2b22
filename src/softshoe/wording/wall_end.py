"""The words that close a wall, however they are put: "and round we go again, from the top"; they ask for no step."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.extras import walls_in
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.lex import tokens_of
from softshoe.wording.numbers import in_digits
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.lex import Token

AGAIN = shape(
    r"\b(?:again|repeats?|repeating|rpt|rep|over and over|from the (?:top|start|beginning)|"
    r"back to the (?:top|start|beginning)|to the (?:top|start|beginning)|starts? over|(?:keep|carry) (?:going|on)|"
    r"(?:till|until|to) the (?:music|song|tune|end)|once more|all over|recommences?|commences?|afresh|anew|da capo|"
    r"(?:off|round) (?:we|you|they) go|round and round|(?:next|new) wall|and so on|"
    r"the end|that's your lot|keep smiling|have fun|enjoy)\b|^\W*d\.c",
    re.IGNORECASE,
)
COPIES = shape(
    r"\b(?:sections?|parts?|first|last|previous|above|counts?|cts|line|half|side|foot|feet|left|right|mirror\w*|"
    r"opposite|revers\w+|tags?|bridge|\d+[-–]\d+|times|twice|x\d)\b(?! wall)",
    re.IGNORECASE,
)
SENTENCE = shape(r"(?<!\b[dcDC])[.!?;:–—]|\s-\s|\(")
# Where the dance begins again, and with which foot: no step of it.
WHERE = shape(
    r"\bto (?:the |its )?(?:very )?(?:last|final) (?:note|beat|chord|bar)\b|"
    r"\bfrom (?:the )?(?:section|part|count|step|verse|chorus|round|exercise|move|line|number|figure) (?:one|1|A)\b|"
    r"\b(?:facing|to|on|at|towards?|looking (?:at|to)|for)\s+(?:(?:the|a|your|its|our|each|every)\s+)?"
    r"(?:(?:next|new|side|back|front|other|home|following)\s+)*(?:walls?|side|\d{1,2}(?::\d\d|\s*o['’]?\s?clock))\b|"
    r"(?<=\bagain )from the (?!(?:left|right|side|other|last|second|third|same|middle|half)\b)[^\W\d]+(?=\W*$)|"
    r"\b(?:with|on|off) (?:the|your) (?:right|left)(?: foot| leg)?\b|^\W*one\b|\bthat(?:['’]s| is) one wall\b",
    re.IGNORECASE,
)
PLACED = shape(r"\bwalls?\s*#?\d|\bw\d|\b\d+\s*(?:counts?|cts)\b", re.IGNORECASE)
ALL_OF_IT = shape(
    r"^\W*(?:(?:we|you|now|then|and|please|usually|i|let's)\s+)*(?:(?:dance|do|does|play|run|go|repeat|perform|take)\s+)?"
    r"(?:(?:it|that|this|them|everything|all of (?:it|that|this)|"
    r"(?:the )?(?:whole|entire|full)(?: (?:dance|thing|lot|routine))?|"
    r"the (?:dance|lot|routine|sequence))\s+)?(?:all\s+)?(?:through\s+)?(?:(?:about|at least|up to)\s+)?"
    r"(?:twice|thrice|\d+(?:\s*(?:or|to|-|–)\s*\d+)? times|as (?:many times|often) as)\b",
    re.IGNORECASE,
)
WHOLE_DANCE = shape(
    r"\b(?:danced?|play|perform|run|whole|entire|lot|routine|sequence|through|[3-9] times)\b", re.IGNORECASE
)
MOVES = ("verb", "pattern", "gest", "dual", "draw", "footpart", "foot", "hand", "side", "dir", "amount", "turnword")
GENERAL = (
    "go", "goes", "return", "returns", "move", "moves", "take", "takes", "turn", "turns", "start", "back", "top",
    "in place", "ahead", "run", "runs", "it", "that", "them", "everything", "over", "centre", "home", "to the start",
    "in", "out", "way", "stop", "stops", "hold on", "dance", "forward", "front", "set", "sets", "back to back",
)  # fmt: skip


ONE_WORD_AND = shape(  # "Stir and begin again.", "Breathe, then start over."
    r"\W*[^\W\d]+,? (?:and|then|and then) (?:begin|start|go) "
    r"(?:again|over|round again|from the (?:top|start|beginning))\W*",
    re.IGNORECASE,
    needs="and|then",
)


@lru_cache(maxsize=MOST_KEPT)
def closes_wall(text: str) -> bool:
    """Return whether a line without counts only says that the dance begins again.

    >>> closes_wall("And round we go again, love, from the top."), closes_wall("Again to the left")
    (True, False)
    """
    if walls_in(text) or PLACED.search(in_digits(text)):
        return False
    if ONE_WORD_AND.fullmatch(text.strip()):
        return True
    words = [part for part in SENTENCE.split(WHERE.sub(" ", text.strip(" \t\"“”'*-–—•=_#(["))) if part.strip()]
    said = [bool(AGAIN.search(part)) and not COPIES.search(part) for part in words]
    if not any(said[:2]):
        return False
    tokens = [t for part, ends in zip(words, said, strict=True) if ends or not said[0] for t in tokens_of(part, line=0)]
    return bool(tokens) and not any(map(_moves, tokens))


def closes_dance(text: str) -> bool:
    """Return whether words in a paragraph of their own, below all counts, only say how often the dance is danced.

    >>> closes_dance("Dance it three times. Last time, finish quietly."), closes_dance("Clap it three times")
    (True, False)
    """
    first = SENTENCE.split(text.strip(), maxsplit=1)[0]
    said = ALL_OF_IT.search(in_digits(first))
    if said is None or not WHOLE_DANCE.search(said[0]):
        return False
    return not any(t.kind in MOVES and t.low not in GENERAL for t in tokens_of(first, line=0))


def _moves(token: Token) -> bool:
    if token.value == "rest" and token.low == "rest":
        return False  # "rest a moment, and go again"
    return token.kind == "num" or (token.kind in MOVES and token.low not in GENERAL and token.value != "hold")
