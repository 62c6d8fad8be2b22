"""The sheet as braille: uncontracted Unified English Braille in a BRF file, ready for an embosser or a braille display.

A BRF is plain ASCII, one character a cell (the North American code), 40 cells a line, 25 lines a page. Signs are a
table (``data/look/braille.csv``); capitals, numbers and the layout of a page are here. Source: The Rules of Unified
English Braille, 2013. No contractions: whoever reads contracted braille reads this too, and no word is spelled wrongly.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING
from unicodedata import combining, normalize

from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

# The character of each cell, by the sum of its dots: dot 1 is 1, dot 2 is 2, dot 3 is 4, up to dot 6, which is 32.
ASCII = " A1B'K2L@CIF/MSP\"E3H9O6R^DJG>NTQ,*5<-U8V.%[$+X!&;:4\\0Z7(_?W]#Y)="
CELLS, LINES = 40, 25
NUMBER, CAPITAL, GRADE_1 = "#", ",", ";"
DIGITS = "JABCDEFGHI"
UNKNOWN = "_?"  # a sign no table has stands as a question mark after dots 456
TOKEN = re.compile(r"\d+(?:[.,]\d+)*|[^\W\d_]+(?:['’][^\W\d_]+)*|\s+|.", re.DOTALL)
COUNTS = re.compile(r"^\d")


@cache
def _signs() -> dict[str, str]:
    return {row["sign"]: _cells(row["dots"]) for row in table("look/braille")}


@cache
def _marks() -> dict[str, str]:
    return {chr(int(row["mark"], 16)): _cells(row["dots"]) for row in table("look/braille_marks")}


def _cells(dots: str) -> str:
    return "".join(ASCII[sum(1 << (int(dot) - 1) for dot in cell)] for cell in dots.split())


def braille(words: str) -> str:
    """Return words as cells of uncontracted Unified English Braille, in the ASCII of a BRF.

    >>> braille("Step R, 1-4")
    ',STEP ,R1 #A-#D'
    """
    out: list[str] = []
    after_number = False
    for token in TOKEN.findall(normalize("NFC", words)):
        if token[0].isdigit():
            out.append(
                NUMBER + "".join(DIGITS[int(c)] if c.isdigit() else _signs()[c] for c in token if c in _digits())
            )
        elif token.isspace():
            out.append(" ")
        elif token[0].isalpha():
            parted = after_number and token[0] in "abcdefghij"
            out.append((GRADE_1 if parted else "") + _word(token))
        else:
            out.append(_signs().get(token, UNKNOWN))
        after_number = token[0].isdigit()
    return "".join(out)


def _digits() -> str:
    return "0123456789.,"


def _word(word: str) -> str:
    """A word with its capitals: two signs before one that is capital throughout, one before each other capital."""
    letters = [c for c in word if c.isalpha()]
    if len(letters) > 1 and all(c.isupper() for c in letters):
        return 2 * CAPITAL + "".join(_letter(c.lower()) for c in word)
    return "".join(CAPITAL + _letter(c.lower()) if c.isupper() else _letter(c) for c in word)


def _letter(letter: str) -> str:
    if letter in _signs():
        return _signs()[letter]
    parts = normalize("NFD", letter)
    marks = [_marks().get(c, "") for c in parts if combining(c)]
    plain = "".join(_signs().get(c, UNKNOWN) for c in parts if not combining(c))
    return "".join(marks) + plain


def brf(text: str) -> str:
    """Return a sheet in plain text as a BRF file: pages of 25 lines of at most 40 cells, numbered at the foot.

    The first line is the title, in the middle; a line of counts runs over indented by four cells, what belongs to it
    begins at the third; other lines begin at the first. A heading never stands alone at the foot of a page.
    """
    pages: list[list[str]] = [[]]
    for block in _blocks(text.splitlines()):
        room = LINES - 1 - len(pages[-1])
        if len(block) > room and len(block) <= LINES - 1:
            pages.append([])
        for line in block:
            if len(pages[-1]) == LINES - 1:
                pages.append([])
            if line or pages[-1]:
                pages[-1].append(line)
    return "\f".join(_page(lines, number) for number, lines in enumerate(pages, 1) if lines)


def _page(lines: list[str], number: int) -> str:
    foot = braille(str(number)).rjust(CELLS)
    return "".join(f"{line}\r\n" for line in [*lines, *[""] * (LINES - 1 - len(lines)), foot])


def _blocks(lines: Iterable[str]) -> Iterator[list[str]]:
    """What must not be parted: a heading with the line that follows it."""
    held: list[str] = []
    for k, line in enumerate(lines):
        if not line.strip():
            held.append("")
            continue
        laid = _title(line) if k == 0 else _laid(line)
        held += laid
        if line.strip().casefold().startswith(("section", "tag", "bridge", "ending")):
            continue
        yield held
        held = []
    if any(held):
        yield held


def _title(line: str) -> list[str]:
    return [part.center(CELLS).rstrip() for part in _filled(braille(line.strip()), CELLS - 6, CELLS - 6)]


def _laid(line: str) -> list[str]:
    first, over = (2, 4) if line[:1].isspace() else (0, 4 if COUNTS.match(line) else 2)
    parts = _filled(braille(line.strip()), CELLS - first, CELLS - over)
    return [" " * (over if k else first) + part for k, part in enumerate(parts)]


def _filled(cells: str, first: int, further: int) -> list[str]:
    """Words in lines of at most so many cells; a word longer than a line is parted where the line ends."""
    lines = [""]
    for whole in cells.split():
        word = whole
        while True:
            most = first if len(lines) == 1 else further
            longer = f"{lines[-1]} {word}".strip()
            if len(longer) <= most:
                lines[-1] = longer
                break
            if lines[-1]:
                lines.append("")
                continue
            lines[-1], word = word[:most], word[most:]
            lines.append("")
    return [line for line in lines if line] or [""]
