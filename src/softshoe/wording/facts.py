"""Lines below the steps that say what a header says: length, walls, level, tempo, intro."""

from __future__ import annotations

import re
from functools import lru_cache

from softshoe.wording.numbers import in_digits

KEY = re.compile(
    r"^\W*(?:level|counts?|walls?|speed|tempo|bpm|lead[- ]?in|intro(?:duction)?|length|music|start weight|weight)\s*"
    r"(?:[:=–-]|\sis\b)",
    re.IGNORECASE,
)
FACTS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        r"\b\d+[\s-]*(?:counts?|cts?)\b(?! (?:intro|before|in\b))",
        r"\b\d[\s-]*walls?\b",
        r"\b(?:beginners?|improvers?|intermediate|advanced)\b",
        r"\b\d{2,3}\s*(?:bpm|beats (?:per|a|to the) minute)\b",
        r"\bintro\b|\bwait (?:for )?\d+|\bstart after \d+|\b\d+ counts? (?:in\b|before)",
    )
)  # fmt: skip
ENOUGH = 3


@lru_cache(maxsize=512)
def says_facts(text: str) -> bool:
    """Return whether a line speaks of the whole dance: "32 counts, two walls, for beginners"; "Tempo: 100".

    >>> says_facts("(32 counts, two walls, for beginners.)"), says_facts("Tag: 4 counts after wall 2")
    (True, False)
    """
    if KEY.match(text):
        return True
    plain = in_digits(text)
    told = 0
    for left, fact in zip(range(len(FACTS) - 1, -1, -1), FACTS, strict=True):
        told += fact.search(plain) is not None
        if told >= ENOUGH or told + left < ENOUGH:
            break
    return told >= ENOUGH
