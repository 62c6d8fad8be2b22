"""The words of a class on chairs: what a section's sentences are made of, each with its place.

Words are rows of ``data/wording/chair_words.csv`` (kind, value, one spelling); the longest phrase wins. A word without
a row is "strange": a sentence that holds one is read only where it can't be danced anyway.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.shape import shape
from softshoe.wording.vocabulary import table

if TYPE_CHECKING:
    from collections.abc import Sequence

RAW = shape(
    r"(?P<range>\d+\s*[-–—]\s*\d+(?![\d&]))|(?P<num>\d+)(?![&a]\d)|(?P<word>[^\W\d_]+(?:['’][^\W\d_]+)*)|(?P<mark>//|\.\.\.|\n|\S)"
)
LONGEST = 7  # words of a phrase
ARTICLES = ("a", "an", "another")
BETWEEN = (",", "and", "&", "+", "to", "-")


class Word(NamedTuple):
    """A word or phrase: ``numbers`` are those it tells, one or, where it is a list or a range, several."""

    kind: str
    value: str
    text: str
    start: int
    end: int
    numbers: tuple[int, ...] = ()


@lru_cache(maxsize=1)
def _rows() -> dict[str, tuple[str, str]]:
    return {row["word"]: (row["kind"], row["value"]) for row in table("chair_words.csv")}


@lru_cache(maxsize=1)
def _openers() -> frozenset[str]:
    """Return the first words of all phrases."""
    return frozenset(phrase.split(" ")[0] for phrase in _rows())


def words_of(text: str) -> list[Word]:
    """Return the words of a section's text.

    >>> [(w.kind, w.value, w.numbers) for w in words_of("1-2 Reach R hand fwd")]
    [('list', 'range', (1, 2)), ('gest', 'reach', ()), ('limb', 'R hand', ()), ('dir', 'forward', ())]
    """
    raw = [(m.lastgroup or "", m.group().casefold().replace("’", "'"), m.start(), m.end()) for m in RAW.finditer(text)]
    out: list[Word] = []
    i = 0
    while i < len(raw):
        kind, low, start, end = raw[i]
        if kind == "range":
            first, last = (int(n) for n in re.findall(r"\d+", low))
            out.append(Word("list", "range", low, start, end, tuple(range(first, last + 1)) or (first, last)))
            i += 1
            continue
        found = _phrase(raw, i)
        if found is not None:
            (what, value), taken = found
            numbers = (int(value),) if what == "num" else ()
            out.append(
                Word(what, value, text[start : raw[i + taken - 1][3]].casefold(), start, raw[i + taken - 1][3], numbers)
            )
            i += taken
            continue
        i += 1
        if low == "\n":
            out.append(Word("stop", "line", low, start, end))
        elif kind == "num":
            out.append(Word("num", "digit", low, start, end, (int(low),)))
        elif kind == "word" and re.fullmatch(r"[rl]{2,8}", low):
            out += [Word("side", c.upper(), c, start + k, start + k + 1) for k, c in enumerate(low)]
        elif low not in "\"“”‘’'*•~_":
            out.append(Word("strange", low, low, start, end))
    return _listed(out)


def _phrase(raw: Sequence[tuple[str, str, int, int]], i: int) -> tuple[tuple[str, str], int] | None:
    """Return the longest phrase that begins at i, and how many pieces it takes."""
    if raw[i][1] not in _openers():
        return None
    rows = _rows()
    for taken in range(min(LONGEST, len(raw) - i), 0, -1):
        pieces = raw[i : i + taken]
        if any(p[0] == "range" or p[1] == "\n" for p in pieces):
            continue
        row = rows.get(" ".join(p[1] for p in pieces))
        if row is not None:
            return row, taken
        hyphens = [p[1] for p in pieces if p[1] not in "-‑"]
        row = rows.get(" ".join(hyphens)) if 1 < len(hyphens) < taken and pieces[-1][0] == "word" else None
        if row is not None:
            return row, taken
    return None


def _listed(words: list[Word]) -> list[Word]:
    """ "1, 2", "1, 3 and 5", "one two three": numbers that go up are one list."""
    out: list[Word] = []
    for k, word in enumerate(words):
        gap = _gap(out, word, words[k + 1] if k + 1 < len(words) else None)
        if gap is None:
            out.append(word)
            continue
        first = out[-1 - gap]
        to = any(w.text == "to" for w in out[len(out) - gap :])
        del out[len(out) - gap - 1 :]
        numbers = (*first.numbers, *word.numbers)
        numbers = tuple(range(numbers[0], numbers[-1] + 1)) if to else numbers
        text = f"{first.text} {word.text}"
        out.append(Word("list", "range" if to else "listed", text, first.start, word.end, numbers))
    return out


def _is_number(word: Word) -> bool:
    return word.kind in ("num", "list") and word.text not in ARTICLES


def _gap(out: list[Word], word: Word, behind: Word | None) -> int | None:
    """Return how many words stand between a number and the one that it goes on from; None: no list."""
    if not _is_number(word):
        return None
    gap = 0
    while gap < 2 and len(out) > gap + 1 and out[-1 - gap].text in BETWEEN:
        gap += 1
    before = out[-1 - gap] if len(out) > gap else None
    if before is None or not _is_number(before) or before.numbers[-1] >= word.numbers[0]:
        return None
    spelled = not word.text[:1].isdigit()
    next_one = before.numbers[-1] + 1 == word.numbers[0]
    often = behind is not None and behind.kind in ("gest", "step") and behind.text.endswith("s")
    if before.text[:1].isdigit() == spelled or (spelled and not next_one) or (often and not spelled and gap > 0):
        return None
    return gap
