"""By which words a section asks for those above it: their number, letter, ordinal, their name, their counts.

In the words of a section each of these is put as a mark: "Part A, but kick on 4" is "‹0›, but kick on 4".
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.lex import tokens_of
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

MARK = "‹{}›"
MARKED = shape(r"‹(\d+)›")
KINDS = (
    "section|sect|sec|part|number|no|eight|8|set|block|window|slice|line|row|verse|chorus|exercise|figure|six|round|s|"
    "paragraph|card|phrase|bit|pattern|stanza|refrain|step|box|group|lot|movement|move|chapter|page|room|station"
)
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
NTH = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th")
SPELLED = ("one", "two", "three", "four", "five", "six", "seven", "eight")
ROMAN = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii")
DIGITS = tuple(map(str, range(1, len(ORDINALS) + 1)))
CALLED = (ORDINALS, NTH, SPELLED, ROMAN, DIGITS)
LETTER = r"(?-i:[A-H])\b|(?-i:[a-h])(?=\s?[).])"
HEADED = shape(
    rf"^\W*(?:(?:the\s+)?(?P<ordinal>{'|'.join(ORDINALS)})\b|(?:(?:{KINDS})s?(?:\b\.?\W*|(?=\d)))?"
    rf"(?P<number>{'|'.join(NTH)}|\d{{1,2}}|{LETTER}|(?-i:[IVX]{{1,4}})\b|(?:{'|'.join(SPELLED)})\b|(?:{'|'.join(ROMAN)})\b)"
    r"(?!\s*(?:-|–|to|&)\s*\d)(?!\s*(?:counts?|beats?|x)\b))",
    re.IGNORECASE,
)
HEADING_ENDS = shape(r"[:.;,(>|]|\s[-–—]\s|$")
MOST_OF_NAME = 6  # words
NAME = shape(r"[a-z]{3,}")
KIND_BEFORE = shape(r"\W*([a-z]{3,})\.?\s*(?:\d{1,2}|[A-H])\b", re.IGNORECASE)
NO_NAMES = frozenset(
    (
        *ORDINALS,
        *SPELLED,
        *KINDS.split("|"),
        "counts",
        "count",
        "again",
        "with",
        "without",
        "same",
        "other",
        "once",
        "more",
    )
)
ASKS = (
    r"(?:\b(?:feet|hands|arms|legs|ft|hds)\s+(?:do|dance|take|are)\s+|"
    r"\b(?:as|like|same as|repeat|rpt|of|from|in|dance|ditto)\s+|=\s*)(?:the\s+)?"
)
BEHIND = (
    r"(?=\)?\s*(?:[,;:+.]|$|-\s|\b(?:again|once more|but|with|without|on the|over again|plus|minus|except|save|"
    r"mirrored|reversed|only|and (?:then\s+)?on)\b))"
)
NO_LIST = r"(?!(?<=\d)\s*(?:-|–|to|&|,)\s*\d)"
NO_LENGTH = r"(?!\s*(?:counts?|beats?|times|more|two|before|above|\w+s\b))"
RANGE = shape(
    r"(?:\bcounts?|^\W*steps|(?<=\bas)|(?<=\blike)|(?<=\brepeat)|(?<=\bof)|(?<==)|(?<=\bsteps))\s*(?:counts?\s+)?"
    r"(\d{1,3})\s*(?:-|–|to)\s*(\d{1,3})\b(?:\s+of\s+the\s+dance)?",
    re.IGNORECASE,
)
BEFORE = shape(
    r"\b(?:the|as|like)\s+above(?=\W|$)|\b(?:the\s+)?(?:one\s+(?:just\s+)?(?:before|above)|previous(?:\s+one)?|last\s+one)\b(?:\s+(?:it|this|that))?"
    r"(?:\s+(?:section|part|eight|one))?|\b(?:section|part|eight|line|verse)\s+(?:before|above)(?:\s+(?:it|this))?",
    re.IGNORECASE,
)
OPENING = shape(
    r"\b(?:the|our|your)\s+(?:opening|very\s+start|start|beginning)(?:\s+(?:eight|section|part|bit))?\b(?!\s+of\b)",
    re.IGNORECASE,
)
QUOTES = "\"“”'"
ASKED_BY_NAME = rf"(?:(?<=[{QUOTES}])|(?<=\bas )|(?<=\bof )|(?<=\blike )|(?<=\bthe )|(?<=\brepeat )|^)"
TWICE = shape(r"‹(\d+)›(?:\W*‹\1›)+")


class Above(NamedTuple):
    """A section above: its words, the codes told of it, the count of the dance before it, how many it has."""

    words: str
    codes: tuple[str, ...]
    before: int
    counts: int


def heading_of(words: str) -> str:
    """Return the name with which a section begins, up to the first mark behind its number.

    >>> heading_of("The pebbles: now the feet rest."), heading_of("Part one. Grinding.")
    ('The pebbles', 'Grinding')
    """
    first = words.strip().split("\n", 1)[0]
    own = HEADED.match(first)
    first = first[own.end() if own else 0 :].lstrip(" *~=#[(>-–—:.,;)]")
    found = HEADING_ENDS.search(first)
    return first[: found.start()].strip() if found and found.start() else first


def own_heading(line: str, above: Sequence[Above]) -> int:
    """Return where the number or letter of a section's own heading ends; 0 where there is none, or it is another's.

    >>> own_heading("B: as A", [Above("A: walk", (), 0, 8)]), own_heading("A again", [Above("A: walk", (), 0, 8)])
    (1, 0)
    """
    found = HEADED.match(line)
    told = (found["ordinal"] or found["number"]).casefold() if found else ""
    taken = any(told in _marks_of(one.words, k) for k, one in enumerate(above))
    return found.end() if found and not taken else 0


def marked(words: str, above: Sequence[Above]) -> str:
    """Return words with a mark for each section above that they ask for.

    >>> sections = [Above("A: walk", (), 0, 8), Above("B: clap", (), 8, 8)]
    >>> marked("front half of B, then the back half of A", sections)
    'front half of ‹1›, then the back half of ‹0›'
    """
    if not above:
        return words
    out = RANGE.sub(lambda found: _of_counts(found, above), words)
    out = OPENING.sub(MARK.format(0), BEFORE.sub(MARK.format(len(above) - 1), out))
    known = {mark: k for k in range(len(above) - 1, -1, -1) for mark in _marks_of(above[k].words, k)}
    marks = "|".join(sorted(map(re.escape, known), key=len, reverse=True))
    number, kinds = f"(?P<mark>{marks})", "|".join((KINDS, *sorted(_kinds_of(above))))
    for pattern in (
        rf"\b(?:the\s+)?(?:{kinds})(?:\b\.?\s*#?|(?=\d)){number}\b(?!\s*(?:-|–|to)\s*\d)",
        rf"\b(?:the\s+)?{number}\s+(?:{kinds}|one|half of the dance)\b(?!\s*\d)",
        rf"(?P<before>{ASKS}\(?){number}\b{NO_LIST}{NO_LENGTH}\)?",
        rf"(?P<before>^\W*){number}\b(?!\s*(?:-|–|to|&|,)\s*\d){BEHIND}",
    ):
        out = re.sub(pattern, lambda found: _as_mark(found, known), out, flags=re.IGNORECASE)
    return _named(out, above)


def _as_mark(found: re.Match[str], known: dict[str, int]) -> str:
    told = found["mark"]
    before = found["before"] if "before" in found.re.groupindex else None
    if before is not None and _is_article(found, told):
        return found[0]
    return (before or "") + MARK.format(known[told.casefold()])


def _is_article(found: re.Match[str], told: str) -> bool:
    """Return whether a letter may be a word: "a clap", not "a)" and not "= a"."""
    letter = len(told) == 1 and told.isalpha() and not told.isupper()
    closed = found[0].endswith(")") or found.string[found.end() : found.end() + 1] == ")"
    return letter and not closed and "=" not in found[0]


def _marks_of(words: str, k: int) -> list[str]:
    """Return how a section may be called by its place: what its heading says, else its place among them."""
    found = HEADED.match(words.strip())
    told = (found["ordinal"] or found["number"]).casefold() if found else ""
    row = next((row for row in CALLED if told in row), None)
    letter = [told] if told and row is None else []
    place = row.index(told) if row is not None else k
    return letter + [row[place] for row in CALLED if place < len(row)]


def _kinds_of(above: Sequence[Above]) -> set[str]:
    """Return the word that stands before the number of every heading: "Slice 1", "Slice 2"."""
    told = [found[1].casefold() for one in above if (found := KIND_BEFORE.match(one.words.strip()))]
    return {word for word in told if told.count(word) == len(above)}


def _of_counts(found: re.Match[str], above: Sequence[Above]) -> str:
    """Return the mark of the section that has just these counts of the dance, else the words."""
    wanted = int(found[1]) - 1, int(found[2])
    k = next((k for k, one in enumerate(above) if (one.before, one.before + one.counts) == wanted), None)
    return found[0] if k is None else f" {MARK.format(k)}"


def _named(words: str, above: Sequence[Above]) -> str:
    """Return words with a mark for the names of sections.

    A name is a whole heading, or a word of one heading alone that means no step.
    """
    headings = [heading_of(one.words) for one in above]
    names = [_name_words(heading) for heading in headings]
    for k, (own, heading) in enumerate(zip(names, headings, strict=True)):
        alone = sorted(own - set().union(*names[:k], *names[k + 1 :]), key=len, reverse=True)
        ways = [rf"(?:the\s+)?{re.escape(name.removesuffix('s'))}s?" for name in alone]
        if re.search(r"[^\W\d_]{3}", heading):
            ways.insert(0, ASKED_BY_NAME + re.escape(heading))
        for way in ways:
            quoted = rf"[{QUOTES}]?(?<!\w){way}(?!\w)[{QUOTES}]?"
            words = re.sub(quoted, MARK.format(k), words, count=1, flags=re.IGNORECASE)
    return TWICE.sub(r"‹\1›", words)


def _name_words(heading: str) -> set[str]:
    if len(heading.split()) > MOST_OF_NAME:
        return set()
    plain = {token.low for token in tokens_of(heading, line=0) if token.kind == "word"}
    return {word for word in NAME.findall(heading.casefold()) if word not in NO_NAMES and word in plain}
