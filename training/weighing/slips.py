"""A slip put into a marked sheet: what an author may type amiss, one thing at a time."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import random

Lines = list[tuple[str, str]]  # (mark, words)
Maker = Callable[["random.Random", str], "str | None"]

OTHER = {
    "right": "left", "left": "right", "Right": "Left", "Left": "Right", "RIGHT": "LEFT", "LEFT": "RIGHT",
    "R": "L", "L": "R", "RF": "LF", "LF": "RF",
}  # fmt: skip
HALF = {"quarter": "half", "half": "quarter", "1/4": "1/2", "1/2": "1/4", "¼": "½", "½": "¼"}
WALLS = {"1": "2", "2": "4", "4": "2", "one": "two", "two": "four", "four": "two"}
HANDS = ("both hands on the hips", "both hands overhead", "both hands behind the back", "arms crossed")
HOURS = ("12", "3", "6", "9")
STEP = (
    r"(?i)\b(?:step|touch|heel|toe|rock|recover|kick|vine|grapevine|shuffle|coaster|stomp|hold|clap|point|march|sway|pivot|"
    r"turn|cross|scuff|brush|hitch|together|forward|behind|beside|push|pull|raise|lower|punch|reach)\w*"
)
SHORT = 90  # letters of a line that may be left out or doubled: a longer one is a whole section
FEW = 4


def _misspelt(rnd: random.Random, word: str) -> str | None:
    if len(word) < FEW:
        return None
    k = rnd.randrange(1, len(word) - 1)
    return rnd.choice(
        [
            word[:k] + word[k + 1 : k + 2] + word[k] + word[k + 2 :],
            word[:k] + word[k + 1 :],
            word[:k] + word[k] + word[k:],
        ]
    )


def _other(rnd: random.Random, of: tuple[str, ...], now: str) -> str:
    return rnd.choice([one for one in of if one != now])


EDITS: dict[str, tuple[str, str, Maker]] = {  # kind: (marks of the lines it may stand in, what is changed, how)
    "side": ("C", r"\b(?:" + "|".join(OTHER) + r")\b", lambda _, word: OTHER[word]),
    "count": ("C", r"(?<![\d/:.])[1-8](?![\d/:.])", lambda rnd, n: _other(rnd, tuple("12345678"), n)),
    "word": ("C", STEP, _misspelt),
    "way": ("C", r"(?i)\bturn(?:ing)? (?:to the )?(?:right|left|r|l)\b", lambda _, words: words.split()[0]),
    "walls": ("HS", r"(?i)\b(?:1|2|4|one|two|four)(?=[ -]walls?)", lambda _, n: WALLS[n.lower()]),
    "total": ("HS", r"(?i)\b(?:16|24|32|40|48|64)(?= ?-? ?(?:counts?|cts?|ct)\b)", lambda _, n: str(int(n) + 8)),
    "clock": ("CH", r"\b(?:12|3|6|9)(?=:00| o.clock)", lambda rnd, n: _other(rnd, HOURS, n)),
    "clause": ("C", r", [^,.;]{4,40}(?=[,.;])", lambda _rnd, _words: ""),
    "half": ("C", r"(?i)\b(?:quarter|half|1/4|1/2|¼|½)\b", lambda _, words: HALF[words.lower()]),
    "hands": (
        "C",
        r"(?i)\b(?:clap|pat|push|pull|punch|reach|wave|roll|cross)(?:s|es)?\b(?! and)",
        lambda rnd, word: f"{rnd.choice(HANDS)} and {word}",
    ),
    "again": ("C", r"\b\w{4,} ", lambda _, word: word + word),
}
KINDS = (*EDITS, "drop", "double")


def planted(rnd: random.Random, lines: Lines) -> tuple[str, int, Lines] | None:
    """Return a kind of slip, the line (from 0) where it stands, and the lines with it; None where it can't be put in."""
    kind = rnd.choice(KINDS)
    new = _edited(rnd, lines, *EDITS[kind]) if kind in EDITS else _with_line(rnd, lines, kind)
    return (kind, *new) if new is not None else None


def _edited(rnd: random.Random, lines: Lines, marks: str, pattern: str, made: Maker) -> tuple[int, Lines] | None:
    places = [
        (k, found) for k, (mark, words) in enumerate(lines) if mark in marks for found in re.finditer(pattern, words)
    ]
    if not places:
        return None
    k, found = rnd.choice(places)
    words = made(rnd, found[0])
    if words is None or words == found[0]:
        return None
    mark, line = lines[k]
    return k, [*lines[:k], (mark, line[: found.start()] + words + line[found.end() :]), *lines[k + 1 :]]


def _with_line(rnd: random.Random, lines: Lines, kind: str) -> tuple[int, Lines] | None:
    """Return the lines without one of their steps, or with one of them twice."""
    steps = [k for k, (mark, words) in enumerate(lines) if mark == "C" and words.strip() and len(words) < SHORT]
    if len(steps) < FEW:
        return None
    k = rnd.choice(steps)
    return k, [*lines[:k], *lines[k + 1 :]] if kind == "drop" else [*lines[: k + 1], *lines[k:]]
