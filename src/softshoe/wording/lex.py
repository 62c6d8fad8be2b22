"""Words with their places: the sheet's characters as tokens that know their line and span.

``glued`` says that no space stands before the token. Every character belongs to a token or to white space between two.
"""

from __future__ import annotations

import re
from bisect import bisect
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.dance.facing import from_clock
from softshoe.wording.keeping import LONGEST_KEPT, MOST_KEPT
from softshoe.wording.meant import meant
from softshoe.wording.numbers import SPELLED, in_digits
from softshoe.wording.shape import shape
from softshoe.wording.vocabulary import RAW, Entry, branches

if TYPE_CHECKING:
    from collections.abc import Sequence

FRACTIONS = {"¼": 90, "½": 180, "¾": 270, "⅛": 45, "⅜": 135, "⅝": 225, "⅞": 315}
SHORT_FEET = shape(r"(?=.*r)(?=.*l)[rl]{2,8}", re.IGNORECASE)
SECTION = shape(r"(?:section|sec|part|block|verse)|[sS]\d", re.IGNORECASE)
SIDE_WORDS = {"right": "R", "left": "L"}
BODY = frozenset(
    ("foot", "leg", "toe", "toes", "heel", "heels", "knee", "ankle", "hand", "arm", "fist", "thigh", "hip", "shoulder")
)
CROSSING = frozenset(("fill", "times", "dir", "amount", "footpart"))  # kinds that what stands behind may change
HYPHENS = "-‐‑"
DOTTED = frozenset(("acr", "beh", "bes", "bhd", "diag"))  # they lean on the next word: their dot ends nothing
SIDES = ("r", "l", "right", "left")
LETTER = {"r": "R", "l": "L"}
_new = tuple.__new__  # a named tuple checks nothing: made straight, it costs half


class Token(NamedTuple):
    """One word, phrase, number or mark; ``start`` and ``end`` are characters of the whole sheet, ``low`` is its text
    without capitals.
    """

    kind: str
    value: str
    dir: str
    text: str
    start: int
    end: int
    line: int
    glued: bool = False
    low: str = ""
    meant: str = ""  # the word that a misspelled one means, else ""

    @property
    def number(self) -> int:
        """The value of a number token."""
        return int(self.value)

    def moved(self, by: int, lines: int) -> Token:
        """Return the token so many characters and lines further on."""
        kind, value, way, words, start, end, line, glued, low, right = self
        return _new(Token, (kind, value, way, words, start + by, end + by, line + lines, glued, low, right))


def further(tokens: Sequence[Token], by: int, lines: int) -> list[Token]:
    """Return tokens so many characters and lines further on."""
    return [
        _new(Token, (kind, value, way, words, start + by, end + by, line + lines, glued, low, right))
        for kind, value, way, words, start, end, line, glued, low, right in tokens
    ]


def fraction_deg(text: str) -> int | None:
    """Return the degrees of a written part of a turn; None when it is none ("2/4" of a bar is half a turn too).

    >>> fraction_deg("1/4"), fraction_deg("¾"), fraction_deg("5/1")
    (90, 270, None)
    """
    if text in FRACTIONS:
        return FRACTIONS[text]
    over, under = (int(part) for part in text.replace(" ", "").split("/"))
    return 360 * over // under if 0 < over < under and under in (2, 4, 8) else None


def clock_deg(text: str) -> int | None:
    """Return the facing that a clock token names; None for no hour.

    >>> clock_deg("9:00"), clock_deg("six o'clock"), clock_deg("13:00")
    (270, 180, None)
    """
    digits = [int(n) for n in re.findall(r"\d+", in_digits(text))]
    return from_clock(*digits[:2]) if digits and 1 <= digits[0] <= 12 else None


Raw = tuple[str, str, int, int, bool, str]


def _raw(text: str) -> list[Raw]:
    """Split a line into (kind, text, start, end, glued, the text as phrases are written)."""
    out: list[Raw] = []
    before = -1
    for m in RAW.finditer(text):
        kind = m.lastgroup or "mark"
        start, end = m.span(kind)
        word, plain = _spelt(text[start:end], kind == "word")
        out.append((kind, word, start, end, start == before, plain))
        before = end
    return out


def _match(raw: Sequence[Raw], i: int) -> tuple[Entry, int] | None:
    """Return the longest phrase that begins at i and how many raw tokens it takes; hyphens may stand between its
    words.
    """
    branch = branches().words.get(raw[i][5])
    if branch is None:
        return None
    found: tuple[Entry, int] | None = None
    j = i + 1
    while branch is not None:
        if branch.entry is not None:
            found = branch.entry, j - i
        if not branch.words:
            break
        if j + 1 < len(raw) and raw[j][1] in HYPHENS:
            j += 1
        branch = branch.words.get(raw[j][5]) if j < len(raw) else None
        j += 1
    return found


def _crossed(raw: Sequence[Raw], i: int, entry: Entry, taken: int) -> tuple[Entry, int]:
    """ "Right toe strut" is right + toe strut, not right toe + strut: a pattern's name holds together."""
    behind = raw[i + taken][5] if i + taken < len(raw) else ""
    labelled = raw[i][4] and raw[i - 1][1] in "&-–+,"  # "3&4 X shuffle"
    if entry.kind == "times" and raw[i][0] == "num" and taken == 2 and (behind in SIDES or labelled):
        return Entry("num", raw[i][1]), 1  # "1-2 X R over L"
    if entry.kind == "fill" and i > 1 and raw[i][5] in SIDE_WORDS and raw[i - 1][1] == "," and raw[i - 2][5] in SIDES:
        return Entry("side", SIDE_WORDS[raw[i][5]]), 1  # "walk right, left and right"
    if entry.kind == "dir" and entry.value in ("left", "right") and taken > 1 and behind in BODY:
        return Entry("prep", ""), 1  # "to left foot"
    if entry.kind == "amount" and raw[i][1] == "ft" and behind not in ("l", "r", "left", "right", "turn", "over"):
        return Entry("foot", "same"), taken  # "ft home"
    if entry.kind != "footpart" or taken != 2:
        return entry, taken
    inner = _match(raw, i + 1)
    if inner is None or inner[1] < 2 or inner[0].kind not in ("pattern", "verb") or inner[0].value in ("touch", "heel"):
        return entry, taken
    side = entry.value[0]
    return (Entry("side", side), 1) if side in "RL" else (entry, taken)


@lru_cache(maxsize=4096)
def _spelt(text: str, word: bool) -> tuple[str, str]:
    """Return a piece of a line as it is meant, and as phrases are written."""
    text = (meant(text) or text) if word else text
    return text, text.casefold().replace("’", "'").replace("`", "'")


def tokens_of(text: str, *, line: int, offset: int = 0) -> tuple[Token, ...]:
    """Return the tokens of one line; ``offset`` is where the line begins in the sheet.

    >>> [t.kind for t in tokens_of("1&2 R kick-ball-change", line=1)]
    ['num', 'mark', 'num', 'side', 'pattern']
    """
    tokens = _kept(text) if len(text) <= LONGEST_KEPT else _tokens(text)
    return tokens if not (offset or line) else tuple(further(tokens, offset, line))


@lru_cache(maxsize=MOST_KEPT)
def _kept(text: str) -> tuple[Token, ...]:
    return _tokens(text)


def _tokens(text: str) -> tuple[Token, ...]:
    """Return the tokens of a text as if it began the sheet; of lines that run on, each word stands on its own."""
    if "\n" in text:
        ends = [m.start() for m in re.finditer("\n", text)]
        return tuple(token.moved(0, bisect(ends, token.start)) for token in _found(text))
    return tuple(_found(text))


def _found(text: str) -> list[Token]:
    raw = _raw(text)
    slips = {start: word for kind, word, start, end, _, _ in raw if kind == "word" and word != text[start:end]}
    out: list[Token] = []
    i = 0
    while i < len(raw):
        kind, words, start, end, glued, _ = raw[i]
        sign = glued and words in ("a", "e") and raw[i - 1][0] == "num"  # the "a" of "1a"
        hit = _match(raw, i) if kind in ("word", "num") and not sign else None
        if hit:
            entry, taken = _crossed(raw, i, *hit) if hit[0].kind in CROSSING else hit
            taken += _dotted(raw, i + taken - 1)
            end = raw[i + taken - 1][3]
            words = text[start:end]
            right = next((slips[r[2]] for r in raw[i : i + taken] if r[2] in slips), "") if slips else ""
            row = (entry.kind, entry.value, entry.dir, words, start, end, 0, glued, words.casefold(), right)
            out.append(_new(Token, row))
            i += taken
            continue
        i += 1
        if words in ("c", "C") and glued and raw[i - 2][0] == "num":
            out.append(_new(Token, ("count", "", "", words, start, end, 0, glued, "c", "")))  # "8c"
        elif words == "=" and SECTION.match("".join(one[1] for one in raw[i : i + 2])):
            out.append(_new(Token, ("same", "", "", words, start, end, 0, glued, "=", "")))  # "S2: = S1"
        elif kind == "mark":
            out.append(_new(Token, (kind, words, "", words, start, end, 0, glued, words.casefold(), "")))
        else:
            out += _single(kind, words, start, end, glued)
    return out


def _dotted(raw: Sequence[Raw], last: int) -> bool:
    """Return whether a word is a short one whose dot ends nothing: "L beh. R"."""
    dot = raw[last + 1 : last + 2]
    return raw[last][5] in DOTTED and last + 2 < len(raw) and dot[0][1] == "." and dot[0][4]


def _single(kind: str, words: str, start: int, end: int, glued: bool) -> list[Token]:
    """Return the token or tokens of one raw piece that no phrase claims."""
    low = words.casefold()
    if kind == "frac":
        deg = fraction_deg(words)
        return [Token("amount" if deg else "frac", str(deg or words), "", words, start, end, 0, glued, low)]
    if kind == "word" and SHORT_FEET.fullmatch(words):
        return [
            Token("side", LETTER[c.casefold()], "", c, start + i, start + i + 1, 0, bool(i), c.casefold())
            for i, c in enumerate(words)
        ]
    if kind == "word":
        n = SPELLED.get(low)
        if n is not None:
            return [Token("num", str(n), "spelled", words, start, end, 0, glued, low)]
        return [Token("word", low, "", words, start, end, 0, glued, low)]
    if kind == "num" and len(words) > 6:
        return [Token("word", words, "", words, start, end, 0, glued, low)]
    return [Token(kind, words, "", words, start, end, 0, glued, low)]
