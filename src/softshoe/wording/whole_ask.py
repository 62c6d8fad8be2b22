"""A whole sheet retold at once: its sections, where each begins, what is danced in it.

One section at a time can only be retold where it was cut rightly. Told whole, prose needs no cutting: the network says
itself where a section begins, and what leans on an earlier section stands beside it.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.lines import lines_of
from softshoe.wording.retell_ask import KEPT, Answer, Words, answered, joined
from softshoe.wording.retell_codes import SECTION
from softshoe.wording.retell_pieces import SHEET

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lines import Line
    from softshoe.wording.retell_net import Net, Told
    from softshoe.wording.retell_pieces import Piece

MOST_LETTERS = 6000
MOST_PIECES = 760
SIGNS = 2  # numbers before the first piece
PLAIN = 0.95  # what is so likely needs no other way
MOST_WAYS = 8
MOST_OTHERS = 256  # sheets
Stretch = tuple[int, int]


class Part(NamedTuple):
    """One section: where its heading or its first words begin, its own words, what was told of them."""

    begin: int
    words: Words
    answer: Answer


class Way(NamedTuple):
    """One way in which the network may tell a sheet; ``fork`` is 1 for what it tells first, else how much less likely
    than that it is where they part.
    """

    parts: tuple[Part, ...]
    fork: float = 1.0


def whole_answer(net: Net, text: str, guess: Sequence[str], *, seated: bool) -> tuple[Part, ...]:
    """Return the sections that the network tells of a sheet; none where it makes no sense, or is too long."""
    pieces = _pieces(net, text)
    return _parts(text, pieces, KEPT.told(net, [(seated, SHEET + text)], [guess])[0]) if pieces else ()


@lru_cache(MOST_OTHERS)
def other_answers(net: Net, text: str, *, seated: bool) -> tuple[Way, ...]:
    """Return other ways to tell a sheet that make sense: told on from the next likely code, where it was least sure."""
    pieces = _pieces(net, text)
    if not pieces:
        return ()
    first = KEPT.told(net, [(seated, SHEET + text)], [()])[0]
    doubts = sorted((likely, at) for at, likely in enumerate(first.likely) if likely < PLAIN)[:MOST_WAYS]
    begun = [first.otherwise(at) for _, at in doubts]
    told = net.told_on(net.numbers(SHEET + text, seated=seated), begun, first.codes)
    ways = [
        Way(_parts(text, pieces, one), one.likely[at] / likely) for one, (likely, at) in zip(told, doubts, strict=True)
    ]
    return tuple(way for way in ways if way.parts)


def _pieces(net: Net, text: str) -> list[Piece]:
    """Return the pieces of a sheet; none where it is empty or too long."""
    pieces = net.cutter.cut(text) if len(text) <= MOST_LETTERS else []
    return pieces if len(pieces) <= MOST_PIECES else []


def _parts(text: str, pieces: Sequence[Piece], told: Told) -> tuple[Part, ...]:
    begins = [k for k, code in enumerate(told.codes) if code == SECTION]
    if told.codes[-1] != "end" or not begins or begins[0] != 0:
        return ()
    looked = [_stretch(pieces, k) for k in told.looked]
    first = [_begin(text, looked[k]) for k in begins]
    if any(one >= two for one, two in pairwise(first)):
        return ()
    parts: list[Part] = []
    ends = [*first[1:], len(text)]
    for k, (begin, end) in enumerate(zip(first, ends, strict=True)):
        own = slice(begins[k] + 1, begins[k + 1] if k + 1 < len(begins) else len(told.codes) - 1)
        part = _part(text, k, (begin, end), told, looked, own)
        if part is None:
            return ()
        parts.append(part)
    return tuple(parts)


def _part(
    text: str, number: int, room: Stretch, told: Told, looked: Sequence[Stretch | None], own: slice
) -> Part | None:
    """Return one section: its words are those of its room from the first line to the last that was looked at."""
    begin, end = room
    last = max((there[1] for there in looked[own] if there and begin <= there[0] < end), default=begin)
    rows = _rows(text, begin, min(end, _end_of_line(text, last)))
    if not rows:
        return None
    words = joined(number, rows, 0, above=text[:begin])
    inside = [_within(words, there) for there in looked[own]]
    codes = (*told.codes[own], "end")
    likely = (told.likely[own.start - 1], *told.likely[own], told.likely[own.stop])
    answer = answered(words, codes, likely, [*inside, None])
    return Part(begin, words, answer) if answer is not None else None


def _stretch(pieces: Sequence[Piece], looked: int) -> Stretch | None:
    at = looked - SIGNS
    return (pieces[at].start, pieces[at].end) if 0 <= at < len(pieces) else None


def _begin(text: str, there: Stretch | None) -> int:
    """Return where a section begins: with its line, unless words of the section before stand on it."""
    at = there[0] if there is not None else 0
    line = text.rfind("\n", 0, at) + 1
    return line if not any(char.isalnum() for char in text[line:at]) else at


def _end_of_line(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end


def _rows(text: str, begin: int, end: int) -> list[tuple[int, Line]]:
    """Return the written lines of a stretch, each with the characters to skip on it."""
    out: list[tuple[int, Line]] = []
    for line in lines_of(text):
        start, stop = max(begin, line.start), min(end, line.start + len(line.text))
        if start < stop and line.text[start - line.start : stop - line.start].strip():
            out.append((start - line.start, line._replace(text=line.text[: stop - line.start])))
    return out


def _within(words: Words, there: Stretch | None) -> Stretch | None:
    """Return where characters of the sheet stand among the words; None where they are not among them."""
    if there is None:
        return None
    starts = [start for _, start, _ in words.lines]
    k = bisect_right(starts, there[0]) - 1
    if k < 0:
        return None
    at, start, _ = words.lines[k]
    first, last = there[0] - start + at, there[1] - start + at
    ends = words.lines[k + 1][0] - 1 if k + 1 < len(words.lines) else len(words.text)
    return (first, last) if last <= ends else None
