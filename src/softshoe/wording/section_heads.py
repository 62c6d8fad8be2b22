"""Lines that may head a section: the number, the name or the counts they tell, and what they ask for themselves."""

from __future__ import annotations

import re
from typing import NamedTuple

from softshoe.wording.begins import first_count
from softshoe.wording.headings import kind_of
from softshoe.wording.lex import tokens_of
from softshoe.wording.numbers import ordinals_in_digits, place_number
from softshoe.wording.pointing import WHOLE, Pointer, pointer_of, stretch_number
from softshoe.wording.shape import shape

LONGEST_HEAD = 64
FEW = 6  # words of a title
WHOLE_SECTION = (6, 8, 12, 16, 24)  # counts of one
NUMBER = r"(?:\d{1,2}|[IVX]{1,4}|[A-H]|one|two|three|four|five|six|seven|eight|nine|ten)"
NTH = r"(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|\d{1,2}(?:st|nd|rd|th))"
END = r"(?=[\s.:,;)\]/–—=*-]|$)"
NAMED = shape(
    rf"^\W*(?P<noun>[^\W\d_]{{2,12}}|[SP](?=\d))\.?\s*(?:no\.?|nr\.?|number|#)?\s*(?P<number>(?-i:{NUMBER}|ONE|TWO|THREE|FOUR|FIVE|SIX)){END}",
    re.IGNORECASE,
)
ORDERED = shape(
    rf"^\W*(?:the\s+)?(?P<number>{NTH})\s+(?P<noun>[^\W\d_]{{2,12}})\b|^\W*(?P<noun2>[^\W\d_]{{2,12}})\s+the\s+(?P<number2>{NTH})\b",
    re.IGNORECASE,
)
NTH_ALONE = shape(rf"^\W*(?:the\s+)?(?P<number>{NTH})\W*$", re.IGNORECASE)
NUMBERED = shape(
    r"^[\s(\[#*=>-]*(?P<number>\d{1,2}(?:/\d{1,2}(?=\W*$))?|[IVX]{1,4}|[A-H]|(?<=[(\[])[a-h](?=[)\]]))(?:[\s.:)\]/–—=*-]+|$)(?![\d&])"
)
RANGE = shape(r"[\s,:(\[–-]*\b(?:counts?\s+)?(\d{1,3})\s*[-–]\s*(\d{1,3})[)\]\s.:]*$", re.IGNORECASE)
STRETCH = shape(
    r"\W*(?P<noun>bars?|measures?)\s+(?P<low>\d{1,3})\s*(?:to|and|-|–|,|&|\+)\s*(?P<high>\d{1,3})\W*", re.IGNORECASE
)
SPAN = shape(
    r"\W*(?:counts?\s+)?(?P<low>\d{1,3})\s*[-–]\s*(?P<high>\d{1,3})(?![\d&/])[)\]]?[\s.:)–-]*(?P<title>.*)",
    re.IGNORECASE,
)
SIZED = shape(r"(?:[\s,]*[(\[]\s*|,\s*)\d{1,2}\s*(?:counts?|cts?|beats?)?\s*[)\]]\W*$", re.IGNORECASE)
TAILED = shape(
    rf"^[^\d,;:–—-]{{3,24}}(?:,|:|\s[-–—])\s*(?P<noun>line|part|half|section|row|eight|block)\s+(?P<number>{NUMBER})\W*$",
    re.IGNORECASE,
)
MARKS = " .:,;()[]/–—=*-#"
SENTENCE = shape(r"[,;=|]|[.!?]\s+\S|\d")
ITSELF = shape(
    r"^(?P<head>[^,;]{1,24}?)\s*[:–—-]?\s*\b(?:is(?:\s+just)?|equals|goes|does)\s+(?P<asked>\S.*)$",
    re.IGNORECASE,
)


class Head(NamedTuple):
    """A line that may be a heading: where it stands among the lines, its series' noun, number, and title."""

    at: int
    noun: str
    number: int
    title: str
    full: str
    asks: bool = False
    span: tuple[int, int] | None = None  # the counts that it tells


def titled(at: int, row: str) -> Head:
    """Return a line as a heading without a number."""
    title = row.strip(" :.-*#")
    return Head(at, "", 0, title, title)


def head_at(i: int, row: str, below: str = "") -> Head | None:
    """Return what a line tells if it heads a section; None where it can't head one."""
    text = row.strip()
    if not text or len(text) > LONGEST_HEAD or kind_of(text):
        return None
    itself = ITSELF.match(text)
    if itself is not None and asks_itself(text) is not None:
        head = head_at(i, itself["head"])
        return head._replace(asks=True) if head is not None and head.number and not head.title else None
    span = _spanned(i, text)
    if span is not None:
        return span
    bare = RANGE.sub("", text) or text
    bare = SIZED.sub("", bare) or bare
    full, asks = bare.strip(MARKS), pointer_of(row) is not None
    stretch = STRETCH.fullmatch(text)
    if stretch is not None:
        low, high = int(stretch["low"]), int(stretch["high"])
        return Head(i, stretch["noun"].casefold(), stretch_number(low, high), "", text.strip(MARKS))
    for rule in (TAILED, NTH_ALONE, ORDERED, NUMBERED, NAMED):
        found = rule.match(bare)
        if found is None:
            continue
        told = {k: v for k, v in found.groupdict().items() if v}
        mark = (told.get("number") or told.get("number2") or "").split("/")[0]
        number = place_number(ordinals_in_digits(mark) if len(mark) > 1 else mark.upper()) or 0
        title = bare[found.end() :].strip(MARKS)
        over = rule is NUMBERED and text[:1] in "([" and first_count(below) == 1 and len(title.split()) < FEW
        if number and not SENTENCE.search(title.replace(",", "") if over else title):
            return Head(i, (told.get("noun") or told.get("noun2") or "").casefold(), number, title, full, asks)
    return Head(i, "", 0, full, full, asks)


def _spanned(i: int, text: str) -> Head | None:
    """ "Counts 25-30", "[1-8]", "13-18: twinkles": the counts of a whole section head it."""
    found = SPAN.fullmatch(text)
    if found is None:
        return None
    low, high = int(found["low"]), int(found["high"])
    title = found["title"].strip(MARKS)
    number = stretch_number(low, high) if high - low + 1 in WHOLE_SECTION else 0
    if not number or len(title.split()) >= FEW or SENTENCE.search(title) or pointer_of(title) is not None:
        return None
    return Head(i, "counts", number, title, text.strip(MARKS), span=(low, high))


def asked_by(row: str) -> Pointer | None:
    """Return what a line asks for, be it for itself."""
    return asks_itself(row) or pointer_of(row)


def asks_itself(row: str) -> Pointer | None:
    """ "Round four is round two, left leg leading": what a heading asks for in its own line."""
    found = ITSELF.match(row.strip())
    return pointer_of("as " + found["asked"].removeprefix("as ")) if found is not None else None


def may_title(row: str) -> bool:
    """Return whether a line may be a title: few words, no side, no number, no sentence."""
    text = WHOLE.sub("", RANGE.sub("", row.strip()))
    words = tokens_of(text, line=0) if 0 < len(text.split()) < FEW and not SENTENCE.search(text) else ()
    return (
        bool(words)
        and text[-1:] not in ".,"
        and not any(t.kind in ("side", "num", "times", "foot") and t.value != "same" for t in words)
    )
