"""Sheets that number their bars: "bar 3   1-2  L heel forward", "Bars 1 & 2: vine", "bars 9-12  as bars 1-4".

The counts that a bar has in the dance are written where its number stands; every word keeps its place.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.counting import OPEN_PLUS
from softshoe.wording.numbers import in_digits
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.lines import Line

MANY = 3  # lines
MOST_BARS, MOST_LINES = 64, 3000
JOINT = r"\s*(?:-|–|to|and|&|\+|,)\s*"
BAR = shape(
    rf"(?P<lead>[\W_]*)(?:bars?|measures?)\s*(?P<n>\d{{1,2}})(?:{JOINT}(?P<m>\d{{1,2}}))?(?P<mark>\s*[\]:.)|=–-]+|(?=\s))\s*"
    r"(?P<run>[(\[]?\d\s*(?:(?:-|–|&|,|\s)\s*\d\s*)*&?[)\]]?\s*[:.|–-]?(?=\s)|)(?P<gap>\s*)(?=[^\W\d])",
    re.IGNORECASE,
    needs="bar|measure",
)
COPY = shape(
    rf"\b(?P<how>(?:(?:the\s+)?same\s+as|as|like|repeat(?:\s+of)?|rpt|mirror(?:\s+of)?|reverse)\s+)(?:bars?|measures?)\s*(?P<n>\d{{1,2}})"
    rf"(?:{JOINT}(?P<m>\d{{1,2}}))?",
    re.IGNORECASE,
)
METRE = shape(r"\b([2346])/[48]\b", re.IGNORECASE)
WALTZ = shape(r"\bwaltz|\bthree[- ]four\b", re.IGNORECASE)
STATED = shape(r"\b(\d{2})[\s-]*(?:counts?|beats?)\b", re.IGNORECASE)
OF_BARS = shape(r"\b(\d{1,2})\s*bars?\b", re.IGNORECASE)


class Bar(NamedTuple):
    """A line that begins with its bar or bars."""

    at: int
    found: re.Match[str]
    first: int
    last: int


def barred(lines: list[Line]) -> list[Line]:
    """Return the lines with their bars as counts; the lines as they are where they are not numbered by bars.

    >>> from softshoe.wording.lines import lines_of
    >>> sheet = "2/4\\nbar 1   1-2  heel, home\\nbar 2   1&2  R, L, R\\nbar 3  1-2  clap, clap\\nbars 4-6   as bars 1-3"
    >>> [row.text for row in barred(lines_of(sheet))][2:]
    ['(3&4       ) R, L, R', '(5-6      ) clap, clap', '(7-12     )rpt     1-6']
    """
    bars = [
        Bar(i, m, int(m["n"]), int(m["m"] or m["n"]))
        for i, line in enumerate(lines[:MOST_LINES])
        if line.text and (m := BAR.match(line.text)) is not None
    ]
    if len(bars) < MANY or not _counts_up(bars):
        return lines
    beats = _beats(bars, lines)
    if not beats or max(bar.last for bar in bars) > MOST_BARS:
        return lines
    out = list(lines)
    for bar in bars:
        out[bar.at] = lines[bar.at]._replace(text=_counted(bar, lines[bar.at].text, beats))
    return out


def _counts_up(bars: list[Bar]) -> bool:
    """Return whether each bar follows on the one before it, or begins at 1 again."""
    return all(b.first in (a.last + 1, 1) for a, b in pairwise(bars)) and bars[0].first == 1


def _beats(bars: list[Bar], lines: list[Line]) -> int:
    """Return how many counts a bar has, by those told in it, by the metre, or by the length of the dance; 0 unknown."""
    told = [int(n) for bar in bars if bar.first == bar.last for n in re.findall(r"\d", bar.found["run"])]
    if told:
        return max(told) if max(told) in (2, 3, 4, 6) else 0
    head = in_digits("\n".join(line.text for line in lines[: bars[0].at]))
    metre = METRE.search(head)
    if metre is not None:
        return int(metre[1])
    counts, many = STATED.search(head), OF_BARS.search(head)
    if counts is not None and many is not None and int(many[1]) and not int(counts[1]) % int(many[1]):
        return int(counts[1]) // int(many[1])
    if WALTZ.search(head):
        return 3
    whole = sum(bar.last - bar.first + 1 for bar in bars)
    return int(counts[1]) // whole if counts is not None and not int(counts[1]) % whole else 0


def _counted(bar: Bar, text: str, beats: int) -> str:
    before, start, end = beats * (bar.first - 1), len(bar.found["lead"]), bar.found.end("run")
    run = bar.found["run"].strip(" ()[]:.|–-")
    if run and bar.first == bar.last:
        told = re.sub(r"\d", lambda m: str(before + int(m[0])), run)
    else:
        told = f"{before + 1}{OPEN_PLUS if beats * bar.last == before + 2 else '-'}{beats * bar.last}"
    if len(told) + 2 > end - start:
        return text
    rest = COPY.sub(lambda m: _copy(m, beats), text[end:])
    return text[:start] + f"({told}".ljust(end - start - 1) + ")" + rest


def _copy(found: re.Match[str], beats: int) -> str:
    counts = f"{beats * (int(found['n']) - 1) + 1}-{beats * int(found['m'] or found['n'])}"
    how = found["how"] if found["how"][:1].casefold() in "rm" else "rpt "
    return how + counts.rjust(len(found[0]) - len(how)) if len(how + counts) <= len(found[0]) else found[0]
