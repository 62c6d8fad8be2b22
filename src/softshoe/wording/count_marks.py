"""Counts in other dress made plain, each character in its place: "5..6", "1~2", "1->4", "1.2.", "1/2 R heel/home"."""

from __future__ import annotations

import re
from itertools import pairwise

from softshoe.wording.counting import OPEN_PLUS
from softshoe.wording.shape import shape

BETWEEN = shape(r"(?<![\w:/])(\d{1,2})(\s?(?:\.{2,4}|…|~|->|→|[>·])\s?)(?=(\d{1,2})(?![\d:/]))")
ORDINAL = shape(r"(?<![\w.])(\d{1,2})\.(\s?[-–]\s?)(\d{1,2})\.(?=[\s:])")  # "1.-4. Right foot side"
DOTTED = shape(r"^[\s*•(\[-]*((?:\d{1,2}\.){1,7}\d{1,2})\.?(?=\s)")
# "pivot 1/4 L [9]": an hour behind a turn, on a line whose counts stand bare; with others in brackets it is a count.
HOUR = shape(
    r"(?P<turn>(?:\d/\d|[¼½¾]|quarter|half|turn)(?:\s+turn)?\s*(?:(?:to\s+)?(?:the\s+)?(?:left|right|[lr])\b)?\s*)"
    r"[(\[](?P<hour>3|6|9|12)[)\]]",
    re.IGNORECASE,
    needs="3)|6)|9)|12)|3]|6]|9]|12]",
)
# "5 6 7 8 Vine left with a quarter, brush R [9]": behind a line whose counts stand before its words.
HOUR_BEHIND = shape(r"^[\W_]*\d.*[^\W\d][^()\[\]\d]*(?P<hour>[(\[](?:3|6|9|12)[)\]])\s*$")
WITH_DIGITS = shape(r"[(\[][^()\[\]]*\d")
BEHIND_COUNT = shape(r"(?<=\d[)\]])(\s*)[/|](?=\s)")  # "heel (1) / home (2)"
BRACKETED = shape(r"[(\[]\s*\d{1,2}\s*[)\]]")
ANGLED = shape(r"<(\d[\d\s,&–-]*)>|(?<!.){(\d[\d\s,&–-]*)}")
HYPHENED = shape(r"(?<=[\dn-x])-(and|&)-(?=[\do-t])", re.IGNORECASE)
STROKED = shape(
    r"(?:^|(?<=[\])},;:.|]))\s*(?P<counts>\d{1,2}(?:/\d{1,2})+)(?=\s+(?!turn|pivot|piv\b|of\b|(?:left|right|[lr])\s+(?:turn|piv)))",
    re.IGNORECASE,
)
PLUSSED = shape(r"^\W*\d\+\d\b", re.MULTILINE)
PAIR = shape(r"(?:^|[\n;.|])[^\w\n]*(\d{1,2})\s?[-–,]\s?(\d{1,2})\b")
PLUS = shape(r"(?<=\d)\+(?=\d)")
COUNTS_ON = shape(r"[,;.]\s*(?:[(\[]?\d)")
STROKE = shape(r"(?<=[^\d\s/])(?<!\bw)(\s*)/(\s*)(?=[^\d\s/])")
ALL_STROKED = shape(r"(?:^|[\])},;:.|])[ \t]*5/6(?:/7/8)?\s", re.MULTILINE)  # no part of a turn: a sheet's own way


def plain_counts(line: str, *, stroked: bool = False, plussed: bool = False) -> str:
    """Return a line with its counts plain; ``stroked`` says that the sheet parts its counts by strokes, ``plussed``
    that it parts them by "+" alone.

    >>> plain_counts("5..6 stamp, stamp"), plain_counts("1/2 R heel/home, 3/4 L heel/home")
    ('5- 6 stamp, stamp', '1,2 R heel,home, 3,4 L heel,home')
    """
    if plussed and "+" in line:
        line = PLUS.sub(OPEN_PLUS, line)
    if ".." in line or any(mark in line for mark in "~…>→·"):
        line = BETWEEN.sub(_ranged, line)
    if ".-" in line or ".–" in line or ". -" in line:
        line = ORDINAL.sub(r"\1 \2\3 ", line)
    if "." in line[:8]:
        dotted = DOTTED.match(line)
        if dotted and counting_on(dotted[1], "."):
            line = line[: dotted.start(1)] + dotted[1].replace(".", ",") + line[dotted.end(1) :]
    if ("[" in line or "(" in line) and HOUR.search(line):
        line = _houred(line)
    behind = HOUR_BEHIND.match(line) if line.rstrip()[-1:] in ("]", ")") else None
    if behind and not WITH_DIGITS.search(line, len(line) - len(line.lstrip()) + 1, behind.start("hour")):
        line = f"{line[: behind.start('hour')]} {behind['hour'][1:-1]}h{line[behind.end('hour') :]}"
    if "<" in line or "{" in line[:6]:
        line = ANGLED.sub(lambda m: f"({m[1] or m[2]})", line)
    if "-and-" in line or "-&-" in line:
        line = HYPHENED.sub(r" \1 ", line)
    if (") /" in line or ") |" in line) and len(BRACKETED.findall(line)) > 1:
        line = BEHIND_COUNT.sub(r"\1,", line)
    return _stroked(line, stroked) if "/" in line else line


def open_plus(text: str) -> bool:
    """Return whether a sheet writes all its pairs of counts with "+": whole counts, or the half between, as steps need.

    >>> open_plus("1+2 R heel, together\\n3+4 Shuffle L"), open_plus("1-2 Walk R, L\\n3+4 Shuffle R")
    (True, False)
    """
    if "+" not in text or "&" in text or not PLUSSED.search(text):
        return False
    return not any(int(m[2]) == int(m[1]) + 1 for m in PAIR.finditer(text))


def _houred(line: str) -> str:
    counted = re.search(r"\d", line[: line.find("[") if "[" in line else line.find("(")]) is not None
    hours = len(HOUR.findall(line))
    if not counted or len(BRACKETED.findall(line)) > hours:
        return line
    return HOUR.sub(lambda m: f"{m['turn']} {m['hour']}h", line)


def all_stroked(text: str) -> bool:
    """Return whether a sheet parts its counts by strokes all through: "5/6 L heel/home"."""
    return "5/6" in text and ALL_STROKED.search(text) is not None


def counting_on(counts: str, mark: str) -> bool:
    """Return whether numbers parted by a mark count on; "1/2" of a turn does too."""
    numbers = [int(n) for n in counts.split(mark)]
    return all(b == a + 1 for a, b in pairwise(numbers))


def _ranged(found: re.Match[str]) -> str:
    if int(found[3]) <= int(found[1]):
        return found.group()
    return found[1] + "-" + " " * (len(found[2]) - 1)


def _stroked(line: str, stroked: bool) -> str:
    """Strokes between counts and between the words for them; "1/2" of a turn is left alone."""
    at = 0
    while found := STROKED.search(line, at):
        begin, at = found.span("counts")
        if not counting_on(found["counts"], "/"):
            continue
        after = COUNTS_ON.search(line, at)
        end = after.start() if after else len(line)
        words = line[at:end]
        if stroked or len(STROKE.findall(words)) == found["counts"].count("/"):
            words = STROKE.sub(lambda m: f"{m[1]},{m[2]}", words)
            line = line[:begin] + found["counts"].replace("/", ",") + words + line[end:]
    return line
