"""Sheets whose lines end, or begin, with how many counts they take: "Roll your hands (4)", "Clap - 2", "[4] March".

As counts such numbers would go back and leap; as lengths they fill each section. The lines are put in one dress, "(4c)"
or "4c:", and every word keeps its place.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.begins import SPELLED, first_count
from softshoe.wording.numbers import in_digits
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.lines import Line

NUMBER = r"\d{1,2}|one|two|three|four|six|eight|twelve|sixteen"
TAIL = shape(
    rf"(?<=[\w!?)])(?P<all>[.,]?(?:\s+[(\[]|\s+[-–—=:/]\s+|,?\s+(?:in|for|over|taking|lasting|takes|lasts)\s+(?=\w+\s+(?:c|b)))"
    rf"(?P<n>{NUMBER})(?:\s+(?:counts?|beats?|cts?))?[)\]]?)\s*[.;]?\s*$"
)
HEAD = shape(
    rf"^\s*(?P<all>(?:[(\[](?P<n>\d{{1,2}}|{SPELLED})[)\]]\s+|(?P<bare>\d{{1,2}}|{SPELLED})\s*(?:[:=]|[-–—]|x)\s+))(?=[^\W\d])",
    re.IGNORECASE,
)
NUMBERED = shape(r"^\W*\d{1,2}[.)]\s")
OTHER = shape(r"[(\[]\s*\d|\d\s*[-–—&]\s*\d|\d[.)]\s")
WORDED = shape(r"c(?:oun)?ts?\b|beats?\b", re.IGNORECASE)
COUNTED = shape(r"\s*(\d{1,2})\s*[&ea]\s*[:=–—-]")  # a count with a part of it
MANY = 3  # lines


def lengthened(lines: list[Line], unit: int) -> list[Line]:
    """Return the lines with such lengths told as lengths; the lines as they are where they are none.

    >>> from softshoe.wording.lines import lines_of
    >>> rows = lines_of("Heels\\nRight heel forward and home, twice (4)\\nRoll the hands (2)\\nClap twice (2)")
    >>> [row.text for row in lengthened(rows, 8)]
    ['Heels', 'Right heel forward and home, twice(4c)', 'Roll the hands(2c)', 'Clap twice(2c)']
    """
    for what in (TAIL, HEAD):
        found = {i: m for i, line in enumerate(lines) if (m := _length(what, line.text)) is not None}
        if len(found) >= MANY and _fill(found, lines, unit):
            return [_told(line, found[i]) if i in found else line for i, line in enumerate(lines)]
    return lines


def _length(what: re.Pattern[str], text: str) -> re.Match[str] | None:
    """Return the length a line ends or begins with, where it has no other number before its words."""
    text = NUMBERED.sub(lambda m: " " * len(m[0]), text) if what is TAIL else text
    found = what.search(text) if text else None
    if found is None or OTHER.search(text[: found.start("all")] + "  " + text[found.end("all") :]):
        return None
    return found if first_count(text) is None or what is HEAD else None


def _fill(found: dict[int, re.Match[str]], lines: list[Line], unit: int) -> bool:
    """Return whether the numbers of lines straight below each other fill sections, all of them or all but one."""
    runs: list[list[int]] = []
    before = -1
    written = [i for i, line in enumerate(lines) if line.text.strip()]
    for i in written:
        if i not in found:
            continue
        last = written[written.index(i) - 1] if written.index(i) else -1
        if not (runs and before == last):
            runs.append([])
            if _goes_on(found[i], lines[last].text):
                return False
        runs[-1].append(_number(found[i]))
        before = i
    bad = [run for run in runs if sum(run) % unit]
    worded = any(WORDED.search(m["all"]) for m in found.values())
    if worded and sum(bool(n % unit) for run in runs for n in run) < MANY:
        return False  # "Toes (8 counts)" heads a section
    pairs = [b > a for run in runs for a, b in pairwise(run)]
    if all("bare" in m.groupdict() for m in found.values()) and 3 * pairs.count(False) < len(pairs) + 1:
        return False  # "1: …", "2: …": counts
    return len(bad) < len(runs) and len(bad) <= len(runs) // 3


def _goes_on(found: re.Match[str], above: str) -> bool:
    """Return whether a number before a line's words is the next count behind the line above: "1&: rock", "2: sway"."""
    counted = COUNTED.match(above)
    return "bare" in found.groupdict() and counted is not None and int(counted[1]) + 1 == _number(found)


def _number(found: re.Match[str]) -> int:
    return int(in_digits((found.groupdict().get("bare") or found["n"]).casefold()))


def _told(line: Line, found: re.Match[str]) -> Line:
    start, end = found.span("all")
    n, ahead = _number(found), start == len(line.text) - len(line.text.lstrip())
    room = end - start
    words = (f"{n}c: " if room > 3 else f"{n}c ").ljust(room) if ahead else f"({n}c".ljust(room - 1) + ")"
    if len(words) > room:
        return line
    return line._replace(text=line.text[:start] + words + line.text[end:])
