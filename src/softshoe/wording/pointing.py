"""Lines that only ask for a section by its number or name: "like turn 2", "Compass again", "the first part over"."""

from __future__ import annotations

import re
from typing import NamedTuple

from softshoe.wording.numbers import in_digits, ordinals_in_digits, place_number
from softshoe.wording.shape import shape

ASKS = shape(
    r"\b(?:again|(?:second|third|fourth) time|once more|repeat\w*|rpt|same|as|like|copy|mirror\w*|"
    r"before|above|over|all of|everything|from|is|"
    r"(?:left|right|other|opposite)\s+(?:foot|leg|side|lead\w*))\b",
    re.IGNORECASE,
)
SURE = shape(
    r"\b(?:again|(?:once|one time) more|repeat\w*|rpt|same|copy|mirror\w*|as before|as above)\b|\bover\W*$|"
    r"^\W*(?:danced?\s+)?(?:exactly\s+|just\s+)?(?:as|like)\b|^\W*(?:all|everything|the \w+) (?:of|from)\b|"
    r"^\W*everything in\b|\ba (?:second|third|fourth) time\b",
    re.IGNORECASE,
)
COUNTED = shape(r"^[\s|*•>-]*(?:\d{1,2}\s*[-–]\s*\d{1,2}(?![\d/])[\s|:.)]*)?")
COUNTS_BEHIND = shape(
    r"\s*(?:[(\[]\s*\d{1,3}(?:\s*[-–]\s*\d{1,3})?\s*(?:counts?)?\s*[)\]]|\s{2,}\d{1,2}\s*[-–]\s*\d{1,2})\W*$"
)
NAMED_COUNTS = shape(
    r"\b(?:counts?|beats?)\s+(\d{1,3})\s*(?:[-–]|to)\s*(\d{1,3})\b|\bfirst\s+(?:8|eight)(?:\s+(?:counts?|beats?))\b",
    re.IGNORECASE,
)
OTHER = shape(
    r"\b(?:mirror(?:ed|s)?(?:\s+image)?(?:\s+of)?|reverse[ds]?|opposite|opp\.?|other|swap\w*|exchang\w*|chang(?:ing|e))\b"
    r"(?:\s+(?:the\s+)?(?:foot|feet|leg|legs|side|sides|hand|hands|arm|arms|direction|way|lead\w*|works?))*",
    re.IGNORECASE,
)
SIDE = shape(
    r"\b(?:(?:(?:only|but|and|now|this time|,)\s+)*"
    r"(?:with|on|to|start\w*|begin\w*|lead\w*|going|go|using|from|by|for)\s+(?:with\s+|on\s+|to\s+|from\s+)?)?(?:the\s+|your\s+)?\b(?P<side>left|right|LF|RF|L|R)\b"
    r"(?:\s+(?:foot|feet|leg|side|hand|arm|lead(?:s|ing)?|one|first|start(?:s|ing)?|begins?|heel|toe|now)\b)*",
    re.IGNORECASE,
)
STRETCH = shape(
    r"\b(?P<noun>bars?|measures?)\s+(?P<low>\d{1,3})\s*(?:to|and|-|–|,|&|\+)\s*(?P<high>\d{1,3})\b", re.IGNORECASE
)
OF_COUNTS = shape(
    r"\W*(?:(?:exactly|just)\s+)?(?:repeat|rpt|same as|as in|as|like)\s+(?:counts?\s+)?[(\[]?"
    r"(\d{1,3})\s*[-–]\s*(\d{1,3})\b[)\]]?",
    re.IGNORECASE,
)
WHOLE = shape(
    r"(?:,?\s*\b(?:all|the\s+whole|for)\s+(?:8|eight|6|six|16|sixteen)(?:\s+counts|\s+beats)?|"
    r",\s*(?:8|eight|6|six|16|sixteen)\s+(?:counts|beats))(?:\s+of\s+it)?\W*$",
    re.IGNORECASE,
)  # ", all eight counts"
LOOKS = shape(
    r"[\s,(\[–-]*\b(?:(?:which\s+)?brings?\s+you\s+(?:back\s+|round\s+)?to|(?:you\s+)?(?:are\s+)?now\s+(?:at|faces?|facing)|"
    r"(?:now\s+)?facing|to\s+face|(?<=[(\[])to|at)\s+(?:the\s+)?(?:back|front|\d{1,2}:00|\d{1,2}\s+o'clock)(?:\s+wall)?[)\].\s]*$",
    re.IGNORECASE,
)  # where the copy leads: kept for the check of facings
AT_FIRST = shape(r"\b(?:(?:as\s+)?at (?:the )?(?:first|start|beginning|opening)|the first time)\b", re.IGNORECASE)
A_TIME = shape(r"\ba (?:second|third|fourth) time\b", re.IGNORECASE)
SIZE = shape(
    r"(?<!\bof )(?<!\bas )(?<!\blike )(?<!repeat )\(\s*\d{1,3}\s*(?:counts?|cts?|beats?)?\s*\)\s*(?=\w)", re.IGNORECASE
)
SAME_COUNTS = shape(r"\bsame\s+(?:\d+|eight|four|six)\s+(?:counts|beats)\b", re.IGNORECASE)
SAME = shape(r"\b(?:as (?:before|above)|same|(?:the )?first time)\b", re.IGNORECASE)
FILLING = frozenset(
    (
        "the", "a", "an", "of", "all", "as", "like", "is", "are", "do", "does", "done", "dance", "danced", "sing",
        "play", "played", "go", "into", "in", "it", "this", "that", "then", "and", "now", "please", "whole", "again",
        "once", "more", "over", "repeat", "repeats", "repeated", "rpt", "same", "exactly", "just", "before", "above",
        "time", "we", "our", "everything", "from", "copy", "but", "with", "to", "through", "back", "be", "only",
        "steps", "for", "on", "start", "starting", "such", "lot", "was", "were", "you", "earlier", "another", "thing",
        "image", "in", "told", "no", "change",
    )
)  # fmt: skip
FROM_IT = shape(r"^\W*the\s+[^\W\d_]+ing\s+(?:from|of)\s+", re.IGNORECASE)  # "the swaying from the first part"
ALONE = shape(r"\b(?:before|above|again|same|first time|once more)\b", re.IGNORECASE)
NAMES = shape(r"\W*[^\W\d_]+\W+\w+\b")
LONGEST = 72  # characters


class Pointer(NamedTuple):
    """What a line asks for: words of a name, a number (0: none), counts; the side; where its words begin on the row."""

    words: tuple[str, ...]
    number: int
    counts: tuple[int, int] | None
    side: str
    start: int
    same: bool = False  # "as before", "the same"
    end: int = 0  # where its words end, before a facing


def title_words(words: str) -> list[str]:
    """Return the words that make a name, without plural s and what only joins.

    >>> title_words("The Blocks")
    ['block']
    """
    found = re.findall(r"[^\W\d_]+", words.casefold().replace("’", "'"))
    return [w[:-1] if len(w) > 3 and w.endswith("s") and not w.endswith("ss") else w for w in found if w not in FILLING]


def pointer_of(row: str) -> Pointer | None:
    """Return what a line asks for; None where it does anything else.

    >>> pointer_of("all of (1) with the left"), pointer_of("Right heel forward")
    (Pointer(words=(), number=1, counts=None, side='left', start=0, same=False, end=24), None)
    """
    if len(row.strip()) > LONGEST or not ASKS.search(row):
        return None
    led = COUNTED.match(row)
    start = led.end() if led is not None else 0
    end = len(LOOKS.sub("", row.rstrip()))
    text = WHOLE.sub("", SIZE.sub("", row[start:end].strip()))
    text = FROM_IT.sub("all of ", text if OF_COUNTS.match(text) else COUNTS_BEHIND.sub("", text))
    text = A_TIME.sub("again", AT_FIRST.sub("as before", text))
    counts, bare = _counts(text)
    side, bare = _side(_counted_up(SAME_COUNTS.sub("same ", bare)))
    number, left = _number(bare)
    words = tuple(title_words(left))
    sure = SURE.search(text) is not None
    named = bool(number and words and side) and NAMES.match(text) is not None and not MOVES.search(text)
    doubled = counts is not None and (words or number)
    told = number or words or counts or side or ALONE.search(text)
    if doubled or not told or not (sure or named):
        return None
    return Pointer(words, number, counts, side, start, SAME.search(text) is not None, end)


def _counts(text: str) -> tuple[tuple[int, int] | None, str]:
    """Return the counts of the dance that a line names, and the words without them."""
    alone = OF_COUNTS.match(text)
    if alone is not None:
        return (int(alone[1]), int(alone[2])), text[alone.end() :]
    found = NAMED_COUNTS.search(text)
    if found is None:
        return None, text
    return (int(found[1] or 1), int(found[2] or 8)), NAMED_COUNTS.sub(" ", text)


def _counted_up(text: str) -> str:
    """ "Bars 5 to 8" are the second of their kind."""
    found = STRETCH.search(text)
    if found is None:
        return text
    number = stretch_number(int(found["low"]), int(found["high"]))
    return f"{text[: found.start()]} {found['noun']} {number} {text[found.end() :]}"


def stretch_number(low: int, high: int) -> int:
    """Return the number of a stretch among those as long as it, 0 where it is none.

    >>> stretch_number(1, 4), stretch_number(9, 12)
    (1, 3)
    """
    return (low - 1) // (high - low + 1) + 1 if high > low else 0


def _side(text: str) -> tuple[str, str]:
    """Return "left", "right" or "other foot" where a line names it, and the words without it."""
    if OTHER.search(text):
        return "other foot", SIDE.sub(" ", OTHER.sub(" ", text))
    found = SIDE.search(text)
    if found is None:
        return "", text
    return "left" if found["side"][:1] in "lL" else "right", SIDE.sub(" ", text)


MOVES = shape(
    r"^\W*\d|,.*,|\b(?:forward|back|home|over|behind|side|step|touch|heel|toe|rock|clap|hold|march)\b", re.IGNORECASE
)
EIGHTH = shape(r"\b(?:eight|six)\s*(?:(?:no\.?|nr\.?|number|#)\s*(?=\w)|(?=\d))", re.IGNORECASE)  # "eight no. 1"
MARKED = shape(r"(?:\b|(?<=\b[Ss]))(?P<number>\d{1,2}|[IVX]{1,4}|[A-H]|(?<=\()[a-h](?=\)))\b(?:/\d{1,2})?")


def _number(text: str) -> tuple[int, str]:
    """Return the number that a line names, 0 for none, and the words without it."""
    text = EIGHTH.sub("part ", text)
    plain = in_digits(ordinals_in_digits(re.sub(r"\bfirst time\b", "before", text, flags=re.IGNORECASE)))
    found = list(MARKED.finditer(plain))
    if len(found) != 1:
        return 0, plain
    return place_number(found[0]["number"].upper()) or 0, plain[: found[0].start()] + " " + plain[found[0].end() :]
