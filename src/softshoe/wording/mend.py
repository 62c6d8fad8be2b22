"""Mends that are certain, applied to the sheet: what every other statement contradicts, and what can only be meant.

A wall number, a total, a clock facing, a misspelled step, a section's number or range out of turn, an "&" forgotten in
a triple step, a line written twice. A mend is applied only where the sheet read again has that error no more, no new
one, and fewer findings than before.
"""

from __future__ import annotations

import re
from difflib import SequenceMatcher
from itertools import zip_longest
from typing import TYPE_CHECKING

from softshoe.errors import WordingError
from softshoe.wording.mend_numbers import renumbered
from softshoe.wording.read import read
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding

MOST_MENDS = 30
WALLS = shape(r"(?<=walls: )\d|(?<=walls:)\d|\b(?:\d|one|two|four)(?=[\s-]*w(?:alls?)?\b)", re.I)
COUNTS = shape(r"\d+(?=[\s-]*(?:counts?|cts?|c)\b)|(?<=counts: )\d+|(?<=count: )\d+", re.I)
CLOCK = shape(r"\d{1,2}:\d\d")
ONE_WALL = shape(r"\b(1[\s-]wall)s\b", re.IGNORECASE)
MORE_WALLS = shape(r"\b([24] wall)\b", re.IGNORECASE)
UNKNOWN = shape(r"“(.+?)” is no step")
PAIR = shape(r"^(\W*(?:counts? )?)(\d+)(?: ?[-–,] ?| )(\d+)(?![\d&+])", re.I)
Lines = list[str]


def mended(text: str, dance: Dance) -> str | None:
    """Return the sheet with its certain mends, or None when there is none to apply."""
    out, findings = text, dance.findings
    for _ in range(MOST_MENDS):
        tried = next(filter(None, (one_mended(out, finding, findings) for finding in findings)), None)
        if tried is None:
            break
        out, findings = tried, read(tried).findings
    return out if out != text else None


def one_mended(text: str, finding: Finding, findings: tuple[Finding, ...]) -> str | None:
    """Return the text with the mend of one of its findings, or None where that is not certain."""
    lines = text.split("\n")
    mend = MENDS.get(finding.kind)
    if mend is None or finding.line is None or not 0 < finding.line <= len(lines) or finding.mend is None:
        return None
    new = mend(lines, finding.line - 1, finding)
    after = "\n".join(new) if new is not None else text
    return after if after != text and _better(findings, after) else None


def differences(before: str, after: str) -> list[str]:
    """Return what changed, three lines a change: the line's number, what it was and what it is now.

    >>> differences("a\\nb\\nb", "a\\nB")
    ['line 2', '  was: b', '  now: B', 'line 3', '  was: b', '  now: (taken out)']
    """
    old, new = before.split("\n"), after.split("\n")
    out: list[str] = []
    for what, i, j, k, n in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if what != "equal":
            pairs = zip_longest(old[i:j], new[k:n], fillvalue="(taken out)")
            for at, (was, now) in enumerate(pairs, i + 1):
                out += [f"line {at}", f"  was: {was.strip()}", f"  now: {now.strip()}"]
    return out


def _better(old: tuple[Finding, ...], after: str) -> bool:
    """Return whether the mended sheet has fewer findings and no kind of error that was not there."""
    try:
        new = read(after).findings
    except WordingError:
        return False
    kinds = [[f.kind for f in found if f.severity == "error"] for found in (old, new)]
    return len(new) < len(old) and all(kinds[1].count(kind) <= kinds[0].count(kind) for kind in kinds[1])


def _with(lines: Lines, at: int, line: str) -> Lines:
    return [*lines[:at], line, *lines[at + 1 :]]


def _only(place: re.Pattern[str], line: str, new: str) -> str | None:
    """Return the line with the one place renewed, None where there is none or more than one."""
    return place.sub(new, line) if len(place.findall(line)) == 1 else None


def _stated(place: re.Pattern[str], offer: str) -> Callable[[Lines, int, Finding], Lines | None]:
    """A number or facing stated on the line is written as the mend offers it."""

    def mend(lines: Lines, at: int, finding: Finding) -> Lines | None:
        offered = re.search(offer, finding.mend or "")
        new = _only(place, lines[at], offered[1]) if offered else None
        if offered is None or new is None:
            return None
        return _with(lines, at, ONE_WALL.sub(r"\1", new) if offered[1] == "1" else MORE_WALLS.sub(r"\1s", new))

    return mend


def _word(lines: Lines, at: int, finding: Finding) -> Lines | None:
    """A misspelled step is written as it was meant."""
    unknown, offered = UNKNOWN.search(finding.message), re.search("Did you mean “(.+?)”", finding.mend or "")
    if unknown is None or offered is None:
        return None
    new = _only(re.compile(rf"\b{re.escape(unknown[1])}\b"), lines[at], _cased(unknown[1], offered[1]))
    return None if new is None else _with(lines, at, new)


def _cased(old: str, new: str) -> str:
    """Write a word as another was: in capitals, with a capital, or small."""
    return new.upper() if old.isupper() else new.capitalize() if old[0].isupper() else new


def _number(lines: Lines, at: int, finding: Finding) -> Lines | None:
    """A section's number, letter or range of counts goes on from the section before."""
    new = renumbered(lines[at], finding.message)
    return None if new is None else _with(lines, at, new)


def _triple(lines: Lines, at: int, finding: Finding) -> Lines | None:
    """Three steps on two counts get their "&"."""
    pair = PAIR.match(lines[at])
    if pair is None or int(pair[3]) - int(pair[2]) != 1 or not finding.message.startswith("3 movements"):
        return None
    return _with(lines, at, f"{pair[1]}{pair[2]}&{pair[3]}{lines[at][pair.end() :]}")


def _twice(lines: Lines, at: int, _finding: Finding) -> Lines | None:
    """A line that stands twice, word for word, is taken out once."""
    same = at > 0 and lines[at].strip() and lines[at].strip() == lines[at - 1].strip()
    return [*lines[:at], *lines[at + 1 :]] if same else None


MENDS: dict[str, Callable[[Lines, int, Finding], Lines | None]] = {
    "walls": _stated(WALLS, r"Write (\d) walls?"),
    "total": _stated(COUNTS, r"Write (\d+) counts"),
    "facing": _stated(CLOCK, r"Write (\d+:\d\d)"),
    "word": _word,
    "section-number": _number,
    "steps-per-count": _triple,
    "count-twice": _twice,
}
