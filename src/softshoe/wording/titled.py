"""Sheets without counts: which lines dance, and which are the titles of paragraphs ("Happy toes")."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.begins import first_count
from softshoe.wording.facts import tells_dance
from softshoe.wording.headings import Heading, heading_of
from softshoe.wording.lex import tokens_of
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    import re
    from collections.abc import Sequence

    from softshoe.wording.lines import Line

DOING = ("verb", "pattern", "gest", "dual", "draw", "footpart", "again", "same", "repeat", "mirror")
FEW = 6  # words of a title
MOST_LINES = 60
LONGEST_SIZED = 20  # words


def titled_paragraphs(lines: Sequence[Line], texts: Sequence[str]) -> dict[int, Heading]:
    """ "Happy toes" over lines that only dance, paragraph by paragraph: the titles of a sheet without counts."""
    if len(lines) > MOST_LINES:
        return {}
    begins = [i for i in range(1, len(texts)) if lines[i].number > lines[i - 1].number + 1]
    ends = [*begins[1:], len(texts)] if begins else []
    titled = [i for i, end in zip(begins, ends, strict=True) if end > i + 1 and is_title(texts[i])]
    dancing = [i for i in titled if dances(texts[i + 1])]
    if len(dancing) < 2 or len(titled) != len(dancing) or any(heading_of(texts[i]) for i in titled):
        return {}
    counted = any(first_count(text) is not None for text in texts[dancing[0] :])
    return {} if counted else {i: Heading(None, None, len(texts[i]), texts[i].strip()) for i in dancing}


NAMED = shape(
    r"(?:(?:the\s+)?(?:first|second|third|fourth|next|last)\s+[^\W\d]+,\s+)?(?P<name>[^\W\d][^\d,:;.()]{2,32})[:.]\s+(?=[^\d]*\(1\s*[-–,&)\s])"
)
PLAIN = frozenset(("word", "fill", "prep", "look", "mark"))


def name_end(text: str) -> int | None:
    """Return where the words behind a section's name begin whose counts stand behind them: "Wings: clap, clap (1-2)".

    >>> name_end("Wings: clap, clap (1-2)"), name_end("Heels: right forward (1), home (2)")
    (7, None)
    """
    found = NAMED.match(text) if "(" in text else None
    words = tokens_of(found["name"], line=0) if found is not None and len(found["name"].split()) < FEW else ()
    named = any(t.kind == "word" for t in words) and all(t.kind in PLAIN for t in words)
    return found.end() if found is not None and named else None


RANGE = shape(r"[(\[]?\d{1,3}\s*(?:[-–]|to)\s*\d{1,3}[)\]]?")


def names_alone(text: str) -> bool:
    """Return whether beside a range of counts a line holds only a name: "SQUEEZE (17-24)" over "17-24 repeat 1-8"."""
    words = tokens_of(RANGE.sub("", text), line=0) if len(text.split()) < FEW else ()
    return any(t.kind == "word" for t in words) and all(t.kind in PLAIN for t in words)


def is_title(text: str) -> bool:
    """Return whether a few words may be a title: no sentence, no number, no side."""
    words = tokens_of(text, line=0) if len(text.split()) < FEW and text.rstrip()[-1:] not in ".,;:" else ()
    return bool(words) and not any(
        t.kind in ("side", "num", "times", "count", "repeat", "same", "again") for t in words
    )


def dances(text: str) -> bool:
    """Return whether a line without a count at its head asks for a movement."""
    if first_count(text) is not None or tells_dance(text):
        return False
    return any(t.kind in DOING for t in tokens_of(text, line=0))


def over_uncounted(texts: Sequence[str], sized: re.Pattern[str]) -> frozenset[int]:
    """Return the lines that are ``sized`` ("Toes (8 counts)") over lines without counts, if more than one."""
    told = {i for i, text in enumerate(texts) if len(text.split()) < LONGEST_SIZED and sized.match(text)}
    found = {i for i in told if 0 < i < len(texts) - 1 and i + 1 not in told and dances(texts[i + 1])}
    return frozenset(found) if len(found) > 1 else frozenset()
