"""The head of a sheet: title, length, walls, level, tempo, intro, who starts, seated or not.

What is looked for stands in ``data/wording/header.csv`` (field, value, pattern; the first pattern that is found wins,
and
its words are used up). Number words are read as digits first.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.numbers import in_digits
from softshoe.wording.vocabulary import table

if TYPE_CHECKING:
    from collections.abc import Sequence

EXTRAS = re.compile(r"\b(?:tags?|restarts?|bridges?|(?<!weight )ending(?! on\b)|sequence|phrased)\b", re.IGNORECASE)
SENTENCE = re.compile(r"(?<=[a-z\d\)])[.;!](?=\s|$)|\s[|•·*/–—-]{1,3}\s|\s\.\s|[|•]|//|\n|\t")
KEY = re.compile(
    r"^(\W*(?:level|counts?|walls?|speed|tempo|bpm|lead[- ]?in|intro|length|music|title|start)\s*)\s[-–—]\s",
    re.IGNORECASE,
)
NAMED = re.compile(
    r"(?<!\d )\b(level|speed|tempo|bpm|lead[- ]?in|intro|length|counts?|walls?)\s+[-–—.·]\s+(?=\d)", re.IGNORECASE
)
LONGEST_SENTENCE = 300
LONGEST_HEADER_LINE = 2000
FEET = {"l": "L", "left": "L", "r": "R", "right": "R"}
OTHER = {"L": "R", "R": "L"}


@dataclass(slots=True)
class Head:
    """What the header says; None where it says nothing. ``lines`` tells where each field stands."""

    title: str = ""
    counts: int | None = None
    walls: int | None = None
    level: str | None = None
    metre: str | None = None
    tempo: float | tuple[float, float] | None = None
    intro: int | None = None
    start_weight: str | None = None
    seated: bool | None = None
    any_level: bool = False
    lines: dict[str, int] = field(default_factory=dict)
    promises: list[tuple[int, str]] = field(default_factory=list)


@lru_cache(maxsize=1)
def _rules() -> dict[str, list[tuple[str, re.Pattern[str]]]]:
    rules: dict[str, list[tuple[str, re.Pattern[str]]]] = {}
    for row in table("header.csv"):
        rules.setdefault(row["field"], []).append((row["value"], re.compile(row["pattern"], re.IGNORECASE)))
    return rules


Lines = "Sequence[tuple[int, str]]"


def head_of(lines: Sequence[tuple[int, str]], title: str) -> Head:
    """Read the header lines (number, text); ``title`` is the sheet's first line, which may hold all of it."""
    head = Head(title=title_of(title))
    rest: list[tuple[int, str]] = []
    for number, written in lines:
        text = NAMED.sub(r"\1: ", written)
        for sentence in filter(None, (s.strip() for s in SENTENCE.split(text[:LONGEST_HEADER_LINE]))):
            if re.match(r"\W*sequence\b", sentence, re.IGNORECASE):
                continue
            if EXTRAS.search(sentence) and not re.match(r"\W*(?:intro|start)", sentence, re.IGNORECASE):
                head.promises.append((number, sentence))
            else:
                rest.append((number, in_digits(sentence[:LONGEST_SENTENCE])))
    for name in ("tempo", "intro", "metre", "walls", "level", "counts", "start_weight", "start_foot", "seated"):
        _find(head, name, rest)
    return head


def _find(head: Head, name: str, rest: list[tuple[int, str]]) -> None:
    """Look for one field; the words that say it are blanked, so that no other field takes them."""
    for value, pattern in _rules()[name]:
        if any(_taken(head, name, value, pattern, rest, i) for i in range(len(rest))):
            return


def _taken(head: Head, name: str, value: str, pattern: re.Pattern[str], rest: list[tuple[int, str]], i: int) -> bool:
    """Try one pattern on one sentence; return whether it said the field."""
    number, sentence = rest[i]
    found = pattern.search(sentence)
    if not found or not _set(head, name, value, found):
        return False
    head.lines.setdefault(name, number)
    if name in ("tempo", "intro", "walls", "counts"):
        rest[i] = (number, sentence[: found.start()] + " # " + sentence[found.end() :])
    return True


def _set(head: Head, name: str, value: str, found: re.Match[str]) -> bool:
    if name == "tempo":
        low, high = float(found[1]), (float(found[2]) if found.re.groups > 1 and found[2] else None)
        head.tempo = _whole(low) if high is None else (_whole(low), _whole(high))
    elif name == "intro":
        head.intro = int(value or found[1])
    elif name == "metre":
        head.metre = value or found[1]
    elif name == "walls":
        walls = int(value or found[1])
        head.walls = walls if 1 <= walls <= 8 else None
        return head.walls is not None
    elif name == "level":
        head.level = value
    elif name == "counts":
        head.counts = int(found[1]) or None
        return head.counts is not None
    elif name == "start_weight":
        head.start_weight = value or FEET[found[1].casefold()]
    elif name == "start_foot":
        head.start_weight = head.start_weight or OTHER[FEET[found[1].casefold()]]
    elif name == "seated":
        head.seated = value == "yes"
    return True


def _whole(n: float) -> float:
    return int(n) if n == int(n) else n


REMARK = re.compile(
    r"\s*[(\[](?=[^)\]]*\b(?:\d+\s?[cw]|seated|chair|chairs|sitting|sit|standing|count|counts|cts|wall|walls|beginner|impr|"
    r"improver"
    r"|intermediate|advanced|bpm|level|dance|any ability|step sheet|line dance)\b)[^)\]]*[)\]]",
    re.IGNORECASE,
)
CALLED = re.compile(
    r"\b(?:it['’]s|it is|this is|is|dance|one|and)\s+called\s+[\"“'‘]?([^\s\"“][^,.;:!?\"”()]*)", re.IGNORECASE
)
TITLE_WORD = re.compile(
    r"^\W*(?:title|dance|dance name|name(?: of (?:the )?dance)?|step ?sheet(?: for)?)\s*[:=–-]\s*", re.IGNORECASE
)
DATA = re.compile(
    r"(?:\s{2,}|\t|\s*//|\s*[|•]|\s+[.·*–—-]\s+|\s*[,;]\s*|\s*:\s*|\s*/\s*)(?=[^\n]*?(?:\b(?:\d+|one|two|four|"
    r"sixteen|thirty[- ]two|twenty[- ]four"
    r"|forty[- ]eight|sixty[- ]four|eight|twelve)[\s-]*(?:counts?|cts?|c|walls?|w|bpm|beats?)\b|\b(?:absolute|"
    r"beginner|improver|impr|intermediate|advanced"
    r"|seated|chairs?|sitting|level|bpm|intro|waltz in|any ability|everybody|dance for|line dance|AB)\b))",
    re.IGNORECASE,
)


def title_of(line: str) -> str:
    """Return the dance's name from the first line, without remarks and header data behind it.

    >>> title_of("Ten O'Clock Tap        4 counts, 1 wall, beginner")
    "Ten O'Clock Tap"
    >>> title_of("Cushion Cove: a sitting dance for everybody")
    'Cushion Cove'
    """
    called = CALLED.search(line[:LONGEST_SENTENCE])
    if called:
        return called[1].strip()
    text = TITLE_WORD.sub("", line[:LONGEST_SENTENCE].strip())
    text = REMARK.sub("", text)
    cut = DATA.search(text)
    if cut and cut.start() > 0:
        text = text[: cut.start()]
    text = re.sub(r"\s+(?:-\s+)?(?:seated|chair(?: dance)?)$", "", text, flags=re.IGNORECASE)
    return " ".join(text.strip(" \t\"“”'*#=_~|:;,.<>-–—").split()) if text.strip(" *#=_-") else line.strip()
