"""Left and right exchanged, in words and in codes."""

from __future__ import annotations

import re

OTHER = {"right": "left", "r": "l", "rf": "lf", "rh": "lh", "rt": "lt", "rights": "lefts", "rightward": "leftward", "rightwards": "leftwards",
         "clockwise": "anticlockwise", "rlrl": "lrlr", "rlr": "lrl", "rl": "lr", "rlrlrlrl": "lrlrlrlr"}  # fmt: skip
OTHER |= {two: one for one, two in OTHER.items()}
SIDE = re.compile(r"(?<![a-z'’])(" + "|".join(sorted(OTHER, key=len, reverse=True)) + r")(?![a-z'’])", re.IGNORECASE)
UNFIT = re.compile(
    r"\b(3|9|1:30|4:30|7:30|10:30)(:00| o'?clock)|counter.?clockwise|\b(all |that'?s |you're )right\b|\bright (away|on|then|now|after)",
    re.IGNORECASE,
)
BACK = re.compile(
    r"\b(same|again|repeat|other|mirror|opposite|chang|as before|twice|once more|more|reverse|likewise|also|too|swap|switch|both sides|alternat|in turn|"
    r"do (it|this|that|all)|x ?\d|\d ?x|times|ditto|continue|keep|still|then left|each|all|every)", re.IGNORECASE)  # fmt: skip


def other_side(text: str) -> str:
    def swapped(found: re.Match[str]) -> str:
        word = found[0]
        new = OTHER[word.lower()]
        return new.upper() if word.isupper() else new.capitalize() if word[0].isupper() else new

    return SIDE.sub(swapped, text)
