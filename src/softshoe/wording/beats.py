"""Lines whose beats are parted by strokes: "heels   R heel forward / home / L heel forward / home".

Where two lines of a sheet hold the same number of beats, each stroke becomes a mark that knows the count behind it; the
words before the first beat are the line's name.
"""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.counting import Label
from softshoe.wording.lex import tokens_of
from softshoe.wording.limbed import bare
from softshoe.wording.limbs import limb_of
from softshoe.wording.numbers import in_digits
from softshoe.wording.parts import Item
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.lex import Token
    from softshoe.wording.lines import Line

FIRST = 0xE000  # of the marks for counts, characters that no sheet writes
MOST_BEATS = 32
NAMED, LIMBED = 0xE100, 0xE200  # of the mark behind a line's name or limb, before its first beat
MARKS = shape("[" + "".join(f"{chr(kind + 1)}-{chr(kind + MOST_BEATS)}" for kind in (FIRST, NAMED, LIMBED)) + "]")
STROKE = shape(r"(?<=\S)(?P<lead>\s*)(?P<sign>//|[/|·•])(?P<tail>\s*)(?=\S)")
COMMA = shape(r"(?<=\S)(?P<lead>\s*)(?P<sign>,)(?P<tail>\s*)(?=\S)")
OTHER = shape(
    r"(?<=\S)(?P<lead>\s*)(?P<sign>;|(?<=\s)(?:->|[-–—>+*~]|\.{3})(?=\s)|(?<=\S)\.{3}(?=\s)|(?<=\S)\s{3,})(?P<tail>\s*)(?=\S)"
)
NAME = shape(
    r"[\W_]*(?P<name>\d{1,2}(?=[.):]|\s{2})|[^\W\d_](?:[^/|·•:;>+*~\d-]{0,22}[^\W\d_]|)(?:\s\d{1,2})?)"
    r"(?P<gap>[.)]\s+|\s*:\s+|\s{2,}|\t\s*|\s[-–—]\s+)(?=\S)"
)
ASKING = shape(r"\b(?:same|again|repeat|other|left|right|mirror|now|then|and)\b", re.IGNORECASE)
LIMBS = frozenset(("feet", "foot", "legs", "hands", "arms", "hand", "arm"))
MANY = 2  # lines
LONGEST, MOST_LINES = 400, 3000
WORDS = shape(r"[^\W\d_]")
COUNTED = shape(r"[\W_]*\d{1,2}\s*(?:[-–&,:]|\s\d|to\b)|.*\(\d")
SIDEWAYS = shape(r"[^\d|]*\|\s*1\s*\|\s*2\s*\|\s*3\b")
TIMES = shape(r"\bx\s?\d\b|\d/\d")
STATED = shape(r"\b(\d{2})[\s-]*(?:counts?|beats?|c)\b", re.IGNORECASE)


def struck(lines: list[Line], unit: int) -> list[Line]:
    """Return the lines with the strokes between their beats as marks; the lines as they are where none do."""
    rows, sign = _rows(lines, unit)
    if not rows or sign is None:
        return lines
    names = {i: m["name"].strip().casefold() for i in rows if (m := NAME.match(lines[i].text))}
    if any(ASKING.search(name) for name in names.values()) or (sign is COMMA and len(names) < len(rows)):
        return lines
    limbs = len(set(names.values())) > 1 and set(names.values()) <= LIMBS
    out, at, before = list(lines), 0, -2
    for i, n in rows.items():
        apart = any(line.text.strip() for line in lines[before + 1 : i])
        limb = limbs and i in names
        at = 0 if limb or apart or at + n > unit else at
        out[i] = lines[i]._replace(text=_marked(lines[i].text, sign, at, LIMBED if limb else NAMED))
        at, before = at + n, i
    return out


def _rows(lines: list[Line], unit: int) -> tuple[dict[int, int], re.Pattern[str] | None]:
    """Return how many beats each line has, where several have as many, and the sign between them.

    Signs that part many other things too are taken only where the beats fill the dance.
    """
    if any(SIDEWAYS.match(line.text) for line in lines[:MOST_LINES]):
        return {}, None  # a table that lies on its side has its counts in a row of their own
    counted = sum(COUNTED.match(line.text) is not None for line in lines[:MOST_LINES]) > 1
    for sign in (STROKE,) if counted else (STROKE, OTHER, COMMA):
        words = ((i, line.text) for i, line in enumerate(lines[:MOST_LINES]) if not line.head)
        cells = {i: n for i, text in words if (n := _beats(text, sign))}
        if sign is not STROKE and cells:
            stated = STATED.search(in_digits(" ".join(line.text for line in lines[: min(cells)])))
            if stated is None or int(stated[1]) != sum(cells.values()):
                continue
        often = {n for n, many in Counter(cells.values()).items() if many >= MANY and not (unit % n and n % unit)}
        rows = {i: n for i, n in cells.items() if n in often and n <= MOST_BEATS}
        if rows:
            return rows, sign
    return {}, None


def _beats(text: str, sign: re.Pattern[str]) -> int:
    """Return how many beats signs part a line into; 0 where they part none, or counts stand among the words."""
    few = sign is STROKE and sum(map(text.count, "/|·•")) < 3
    if few or not text or len(text) > LONGEST or (sign is COMMA and text.count(",") < 3):
        return 0
    name = NAME.match(text)
    words = text[name.end() if name is not None else 0 :].strip(" |/")
    signs = {m["sign"].strip() for m in sign.finditer(words)}
    if len(signs) != 1 or re.search(r"\d", TIMES.sub("", words)):
        return 0
    parts = sign.split(words)[::4]
    return len(parts) if len(parts) > 3 and all(WORDS.search(part) for part in parts) else 0


def _marked(text: str, sign: re.Pattern[str], at: int, kind: int) -> str:
    name = NAME.match(text)
    begin = name.end() if name is not None else len(text) - len(text.lstrip())
    count = iter(range(FIRST + at + 2, FIRST + at + 2 + MOST_BEATS))
    words = sign.sub(lambda m: m["lead"] + chr(next(count)).ljust(len(m["sign"])) + m["tail"], text[begin:])
    return text[: begin - 1] + chr(kind + at + 1) + words if begin else words


def beat_items(text: str) -> list[Item]:
    """Return the items of a line so marked, one a beat."""
    found = list(MARKS.finditer(text))
    counts = [ord(m[0]) % 256 for m in found]
    starts = [m.end() for m in found]
    kind = ord(found[0][0]) - counts[0]
    named = kind != FIRST
    if not named:
        counts, starts = [counts[0] - 1, *counts], [0, *starts]
    head = text[: found[0].start()] if named else ""
    limb = limb_of(head.rstrip(" :-–—\t") + ":")[0] if kind == LIMBED else ""
    ends = [*(start - 1 for start in starts[1:]), len(text)]
    items = [
        Item(Label((Fraction(count),), False, max(start - 1, 0), start, 0), _words(text, start, end), 0, limb)
        for count, start, end in zip(counts, starts, ends, strict=True)
    ]
    items[0].heads = list(tokens_of(head, line=0)) if head.strip() else []
    return items


def _words(text: str, start: int, end: int) -> list[Token]:
    return bare(list(tokens_of(text[start:end], line=0, offset=start)))
