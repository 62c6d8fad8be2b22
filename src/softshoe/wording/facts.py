"""Lines below the steps that say what a header says: length, walls, level, tempo, intro."""

from __future__ import annotations

import re
from functools import lru_cache

from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.numbers import in_digits
from softshoe.wording.shape import shape

NAMES = (
    r"(?:(?:no\.?|number|how many)\s+(?:of\s+)?(?:the\s+)?)?(?:level|counts?|length|walls?|speed|tempo|bpm|lead[- ]?in|"
    r"intro(?:duction)?|music|start(?:s| on| weight| foot)?|weight|position|posture|seated|chairs?|difficulty|style|"
    r"pace|where|for|title|dance|name|wait)"
)
KEY = shape(
    r"^\W*(?:level|counts?|walls?|speed|tempo|bpm|lead[- ]?in|intro(?:duction)?|length|music|start weight|weight)\s*"
    r"(?:[:=–-]|\sis\b)|^\W*(?:tempo|bpm)\s+\d{2,3}\b",
    re.IGNORECASE,
)
ROW = shape(rf"^\W*({NAMES})\s*(?:[:=|\t]|\.{{2,}}|(?:\s\.){{2,}}|\s[–—-]|\s{{2}})[\s.|]*(\S.*)$", re.IGNORECASE)
COUNTED = shape(r"\d+\W*(?:(?:counts?|cts?|beats?|walls?)\b.*)?$", re.IGNORECASE)
FACTS = tuple(
    shape(pattern, re.IGNORECASE, needs=needs)
    for pattern, needs in (
        (r"\b\d+[\s-]*(?:counts?|cts?)\b(?! (?:intro|before|in\b))", "count|ct"),
        (r"\b\d[\s-]*walls?\b", "wall"),
        (r"\b(?:beginners?|improvers?|intermediate|advanced)\b", "beginner|improver|intermediate|advanced"),
        (r"\b\d{2,3}\s*(?:bpm|beats (?:per|a|to the) minute)\b|\btempo\W{1,3}\d{2,3}\b", "bpm|minute|tempo"),
        (
            r"\bintro\b|\bwait (?:for )?\d+|\b(?:start|begin|starting|beginning) after \d+|"
            r"\b\d+ counts? (?:in\b|before)",
            "intro|wait|after|count",
        ),
    )
)  # fmt: skip
WEIGHT = shape(
    r"\bweight\b|\b(?:left|right) foot (?:first|free)\b|\bstarts? (?:on|with)\b|\bstand(?:ing)?\b|\bseated\b|\bsit\b",
    re.IGNORECASE,
)
ENOUGH = 3
PARTS = shape(
    r"\W*(?:parts?\s+)?[A-H]\s*(?:[=:(–-]|is|has)?\s*\d{1,3}\s*(?:counts?|cts?|c|beats?)?\)?"
    r"(?:\W*(?:and\s+)?(?:parts?\s+)?[A-H]\s*(?:[=:(–-]|is|has)?\s*\d{1,3}\s*(?:counts?|cts?|c|beats?)?\)?)+\W*",
    re.IGNORECASE,
)


ORDERED = shape(r"\b(?:sequence|order|phrasing|pattern)\b\W*(?:[A-H]\d?\W*)+$", re.IGNORECASE)


@lru_cache(maxsize=MOST_KEPT)
def part_lengths(text: str) -> bool:
    """Return whether words only tell how long the parts of a phrased dance are: "A: 16 counts, B: 8 counts"."""
    bare = ORDERED.sub("", text) if len(text) < LONGEST_PARTS else ""
    return bool(bare.strip()) and PARTS.fullmatch(bare) is not None


LONGEST_PARTS = 120  # characters


@lru_cache(maxsize=MOST_KEPT)
def fact_row(text: str) -> bool:
    """Return whether a line is a row of the header, a name and what it says: "Counts | 32", "WALLS..... 4".

    >>> fact_row("WALLS..... 4"), fact_row("Counts  1-4 walk forward"), fact_row("Position | behind a chair")
    (True, False, True)
    """
    found = ROW.match(text)
    if not found:
        return False
    counted = re.match(r"(?:counts?|start|for|where|wait|dance)\b", found[1], re.IGNORECASE)
    return not counted or COUNTED.match(in_digits(found[2])) is not None or not re.search(r"\d", in_digits(found[2]))


@lru_cache(maxsize=MOST_KEPT)
def tells_header(text: str) -> bool:
    """Return whether a line holds anything that belongs to a header: a field's name, a length, a tempo, a level."""
    plain = in_digits(text)
    return bool(KEY.match(text)) or fact_row(text) or any(fact.search(plain) for fact in (*FACTS, WEIGHT))


def tells_dance(text: str) -> bool:
    """Return whether a line speaks of the whole dance: its walls, its level, its tempo, its intro.

    >>> tells_dance("32 counts, 4 walls"), tells_dance("March for eight counts, right foot first")
    (True, False)
    """
    plain = in_digits(text)
    return bool(KEY.match(text)) or fact_row(text) or any(fact.search(plain) for fact in FACTS[1:])


@lru_cache(maxsize=MOST_KEPT)
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


PLACED = shape(r"\bwalls?\s*#?\d|\bw\d|\b(?:after|during|end of|at the end)\b", re.IGNORECASE)
PROMISE = shape(
    r"(?:\b(?:no|without|one|two|an?|any|\d+|neither|nor|or|and|easy|is|are|there|with)\s+|[&,+]\s*)*"
    r"(?:\b(?:an?|one|two|the)\s+\d+[\s-]*counts?\s+)?\b(?:tags?|restarts?|bridges?|endings?|phrased|sequence)\b\s*(?::?\s*(?:none|no|0)\b)?",
    re.IGNORECASE,
)
HEADED = shape(
    r"\W*(?:\d+[\s-]*counts?\s+)?(?:tags?|restarts?|bridges?|endings?|sequence)\b(?!\s*[:=(–-]?\s*(?:none|no|0)\b)",
    re.IGNORECASE,
)
ALONE = shape(
    r"\W*(?:an?\s+|is\s+|for\s+|it has\s+)?(?:\d{1,3}[\s-]*(?:counts?|cts?|c|walls?|w)|"
    r"(?:absolute\s+|high\s+|easy\s+|low\s+)?(?:beginners?|improvers?|intermediate|advanced)(?:\s+level)?|"
    r"(?:at\s+|about\s+)*\d{2,3}\s*bpm|(?:intro|wait|lead[- ]?in|start(?:s|ing)? after)\W{0,3}(?:of\s+|for\s+)?\d+"
    r"(?:\s*(?:counts?|beats?))?|"
    r"\d+\s*(?:counts?|beats?|cts?)?[\s-]*(?:intro|in|lead[- ]in)|weight\b[\w ]*|seated)\W*",
    re.IGNORECASE,
)


def fact_alone(text: str) -> bool:
    """Return whether a line is one fact of the header and nothing else: "1 wall", "88 bpm", "Level: beginner".

    >>> fact_alone("8 counts in"), fact_alone("1-8 Walk"), fact_alone("Beginner waltz, 1 wall")
    (True, False, True)
    """
    return KEY.match(text) is not None or says_facts(text) or _all_alone(text)


def _all_alone(text: str) -> bool:
    parts = [part for part in re.split(r"\s*[,;|•]\s*|\.\s+|\s[-–—]\s", in_digits(text)) if part.strip()]
    return any(ALONE.fullmatch(part) for part in parts)


def parted_promise(sentence: str) -> tuple[str, str]:
    """Return what a sentence of the header promises, tags and restarts, and what it says beside them.

    >>> parted_promise("16 counts, 1 restart on wall 3, 110 bpm"), parted_promise("2 walls no tags 110 bpm")
    (('1 restart on wall 3', '16 counts, 110 bpm'), ('no tags', '2 walls  110 bpm'))
    """
    promised: list[str] = []
    facts: list[str] = []
    placed = False
    for part in re.split(r"\s*[,;]\s+", sentence):
        told = PROMISE.search(part)
        if told is None:
            placed = placed or (bool(promised) and PLACED.search(in_digits(part)) is not None)
            known = not placed or ALONE.fullmatch(in_digits(part)) is not None
            (facts if known else promised).append(part)
        elif PLACED.search(in_digits(part)) or HEADED.match(part):
            promised.append(part)
            placed = True
        else:
            promised += [m.group().strip() for m in PROMISE.finditer(part)]
            facts.append(PROMISE.sub(" ", part).strip())
    if not promised or (placed and not facts):
        return sentence, ""
    return ", ".join(promised), ", ".join(filter(None, facts))
