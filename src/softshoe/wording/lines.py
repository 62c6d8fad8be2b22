"""A sheet's lines with their places; marks of type are blanks, so that every word keeps its place."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from softshoe.wording.asides import parted
from softshoe.wording.count_marks import all_stroked, counting_on, open_plus, plain_counts
from softshoe.wording.keeping import LONGEST_KEPT, MOST_KEPT
from softshoe.wording.shape import shape

SLASHED = shape(r"(?<!.)(?<!\n)(\d{1,2}(?:/\d{1,2})+)(?=(?:\s{2,}|\t)(?!turn|pivot|[LR]\b))", re.IGNORECASE)
STRESSED = shape(r"(\*{1,3})(?=[^\s*])([^*]*[^\s*])\1")
STROKED_WORD = shape(r"(?<![\w_])_(?=[^\W_])([^_\n]*[^\W_][!?.,:]?)_(?![\w_])")
LONGEST_LINE = 4000


class Line(NamedTuple):
    """One line: its number from 1, where it begins in the sheet, its words, and what is too long to be read."""

    number: int
    start: int
    text: str
    more: str = ""
    aside: str = ""  # a note in the margin, behind an arrow
    head: bool = False  # the names of a table's columns


def _unstressed(line: str, *, stroked: bool, plussed: bool) -> str:
    """ "**1-4** Walk": marks of bold and slanted type are blanks, so that every word keeps its place."""
    line = line.replace("×", "x") if "×" in line else line
    line = STROKED_WORD.sub(lambda m: " " + m[1] + " ", line) if "_" in line else line
    line = SLASHED.sub(lambda m: m[1].replace("/", ",") if counting_on(m[1], "/") else m[1], line)
    line = plain_counts(line, stroked=stroked, plussed=plussed)
    return STRESSED.sub(lambda m: " " * len(m[1]) + m[2] + " " * len(m[1]), line) if "*" in line else line


def _plainly(line: str, stroked: bool, plussed: bool) -> tuple[str, str]:
    """Return a line without marks of type and without the note in its margin, and that note."""
    return parted(_unstressed(line, stroked=stroked, plussed=plussed))


@lru_cache(maxsize=MOST_KEPT)
def _plain(line: str, stroked: bool, plussed: bool) -> tuple[str, str]:
    return _plainly(line, stroked, plussed)


def lines_of(text: str) -> list[Line]:
    """Return the lines with their places; of a line longer than a page the rest is kept apart."""
    out: list[Line] = []
    at, stroked, plussed = 0, all_stroked(text), open_plus(text)
    for number, line in enumerate(text.split("\n"), 1):
        read = _plain if len(line) <= LONGEST_KEPT else _plainly
        words, aside = read(line.rstrip("\r")[:LONGEST_LINE], stroked, plussed)
        out.append(Line(number, at, words, line[LONGEST_LINE:], aside))
        at += len(line) + 1
    return out


HANGING = shape(
    r"(?:,|\b(?:the|a|an|and|then|to|on|onto|in|at|with|of|your|your own|their|by|from|for|over|behind|beside|step|"
    r"steps|put|bring|take|both|right|left|r|l|is|are|it))\s*$",
    re.IGNORECASE,
)
OWN_LINE = shape(
    r"(?:(?:the )?(?:first|next|last|final) (?:\d|two|four|eight)|"
    r"arms?|hands?|feet|both|repeat|again(?!,)|same|the same|other|"
    r"and again|then repeat|note|option|start|begin|end|tag|"
    r"restart|right (?:arm|hand)|left (?:arm|hand)|section|part|clap|do|and repeat|smile)\b",
    re.IGNORECASE,
)
GOES_ON = shape(
    r"\W*(?:(?:and|then|now) )*(?:go on|carry on|continue|resume|"
    r"begin (?:again|the dance)|start (?:again|the dance)|restart)\b",
    re.IGNORECASE,
)
FEW = shape(r"(?:the )?(?:first|next|last|final) (?:\d|two|four|eight)\b", re.IGNORECASE)
LIMB = shape(r"(?:arms?|hands?|feet|foot)\s*:", re.IGNORECASE)
COUNTED = shape(r"(?:on |for )?(?:counts?|cts?|beats?)\s+\d", re.IGNORECASE)  # a line with its own count
LABEL_ALONE = shape(r"^\s*\(\d[\d&\s,–-]*\)\W*$", needs="(")
LONG = 56  # characters: a line of prose that ends here without a stop has been broken


def runs_on(before: str, line: str) -> bool:
    """Return whether a line only goes on with the sentence of the line before.

    >>> runs_on("Then step the left foot out to the side on 3. After that, march", "on the spot on 5 to 8.")
    True
    """
    text, first = before.rstrip(), line.lstrip()[:1]
    if LABEL_ALONE.match(line):  # the count behind a sentence that has gone on over its lines
        return text.lstrip()[:1].islower() and ":" not in text and text[-1:] not in ".!?;" and len(text.split()) > 3
    if not (first.isalpha() and first.islower()) or text[-1:] in ".!?:;)" or "|" in before or "\t" in before:
        return False
    if LIMB.match(line.lstrip()) or COUNTED.match(line.lstrip()):
        return False
    if GOES_ON.match(line):
        return False
    if HANGING.search(text):
        return len(text.split()) > 3 and not FEW.match(line.lstrip())
    return len(text.strip()) >= LONG and not OWN_LINE.match(line.lstrip())
