"""Counts as written: "1-8", "1&2", "3a4", "&7", "1,2,3", "5-6", "1+2", "1 to 4", "(1)", "One, two:".

Numbers are the sheet's own (usually 1 to 8 in each section); ``places`` are exact, "1&" is 3/2, "&1" begins on 1/2.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

HIGHEST = 512
WHOLE = tuple(Fraction(n) for n in range(HIGHEST + 1))
ALONE = "alone"  # an "&" that is a count of its own: the number behind it only says which
RUN_TOGETHER = ("123", "456", "789", "1234", "5678")
OPEN_PLUS = "\uff0b"  # written for the "+" of a sheet that parts all its counts so
HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)
PART = {"&": HALF, "+": HALF, OPEN_PLUS: HALF, "and": HALF, "an": HALF, "n": HALF, "a": 3 * QUARTER, "e": QUARTER}
AFTER_SIGN = (
    "word",
    "verb",
    "side",
    "foot",
    "footpart",
    "fill",
    "dir",
    "pattern",
    "gest",
    "dual",
    "hand",
    "amount",
    "draw",
    "turnword",
)
BEGINS = frozenset(("num", "count", "on"))
LEADS = ("for", "during")
OPENS = frozenset(("(", "[", "&", "+", ""))  # "" is a join that no word was written for
DASHES = "-–—‐‑"
RANGE_WORDS = ("to", "through", "thru", "until", "till", "til", "'til")
NOT_A_LABEL = {
    "wall", "walls", "w", "bpm", "x", "c", "cts", "count", "counts", "minutes", "min", "mins", "seconds", "sec",
    "secs", "s", "times", "time", "steps", "bars", "bar", "beats", "beat", "ct", "degrees", "per", "st", "nd", "rd",
    "th",
    "part", "parts", "sections", "section",
}  # fmt: skip


class Label(NamedTuple):
    """One count label: its moments in order, whether it was a plain range, and where it stands."""

    places: tuple[Fraction, ...]
    ranged: bool
    start: int
    end: int
    line: int
    spelled: bool = False
    single: bool = False  # counts told one by one: "one, two", "on 1 and 2"
    plus: bool = False  # parted by "+" with blanks, or by "and": whole counts or the half between, as steps need
    floats: bool = False  # it only says how long: its counts follow on what is danced before

    def moved(self, by: int, lines: int) -> Label:
        """Return the label so many characters and lines further on."""
        start, end, line = self.start + by, self.end + by, self.line + lines
        return self._replace(start=start, end=end, line=line)

    @property
    def first(self) -> Fraction:
        """The first moment."""
        return self.places[0]

    @property
    def last(self) -> Fraction:
        """The last moment."""
        return self.places[-1]

    @property
    def wholes(self) -> tuple[Fraction, ...]:
        """The whole counts among the moments."""
        return tuple(p for p in self.places if p.denominator == 1)


def moved(places: tuple[Fraction, ...], by: Fraction) -> tuple[Fraction, ...]:
    """Return the moments later by a whole number of counts."""
    n = by.numerator // by.denominator
    if not n or not places:
        return places
    return tuple(
        Fraction(p.numerator + n * p.denominator, p.denominator)
        if p.denominator != 1 or not 0 <= p.numerator + n <= HIGHEST
        else WHOLE[p.numerator + n]
        for p in places
    )


def fills(last: Fraction, unit: int) -> bool:
    """Return whether a moment closes a row of so many counts: 8, 16, 24 … of eights."""
    return last.denominator == 1 and last.numerator % unit == 0


def is_mark(token: Token, marks: str) -> bool:
    """Return whether the token is one of these marks."""
    return token.kind == "mark" and token.text in marks


def counts_named(tokens: Sequence[Token], i: int) -> bool:
    """Return whether "for counts", "on count" or "counts" stands at token i."""
    if i < len(tokens) and tokens[i].low in ("for", "during"):
        i += 1
    return i < len(tokens) and "count" in tokens[i].low and tokens[i].kind in ("count", "on")


def may_begin(token: Token) -> bool:
    """Return whether a label can begin with this token at all."""
    return (
        token.kind in BEGINS
        or token.text in OPENS
        or (token.kind == "prep" and token.low in LEADS)
        or token.low == "from"
    )


def leads_counts(tokens: Sequence[Token], i: int) -> bool:
    """Return whether "from one to four", "for one and two," stands at token i."""
    if i + 3 >= len(tokens) or tokens[i].low not in ("from", "for") or tokens[i + 1].kind != "num":
        return False
    joint = RANGE_WORDS if tokens[i].low == "from" else (*RANGE_WORDS, "and", "&", ",")
    dashed = is_mark(tokens[i + 2], DASHES) and tokens[i + 3].kind == "num"  # "sway R L R L for 5-8"
    joined = (tokens[i + 2].low in joint or dashed) and tokens[i + 3].kind == "num"
    return joined and (tokens[i + 2].low != "," or tokens[i + 3].number == tokens[i + 1].number + 1)


def label_at(tokens: Sequence[Token], i: int) -> tuple[Label, int] | None:
    """Return the label that begins at token i and the index behind it (closing mark included), or None.

    >>> from softshoe.wording.lex import tokens_of
    >>> label, i = label_at(tokens_of("1&2 shuffle", line=1), 0)
    >>> [str(p) for p in label.places], i
    (['1', '3/2', '2'], 3)
    """
    if i >= len(tokens) or not may_begin(tokens[i]):
        return None
    begin = i
    opened = i < len(tokens) and is_mark(tokens[i], "([")
    i += opened
    if counts_named(tokens, i):
        i += tokens[i].kind == "prep"
    worded = i < len(tokens) and tokens[i].kind in ("count", "on") and "beat" not in tokens[i].text
    led = not worded and leads_counts(tokens, i)
    worded = worded or led
    if worded:
        i += 1
        while i < len(tokens) and tokens[i].kind == "count":
            i += 1
    read = _run(tokens, i, worded=worded)
    if read is None:
        return None
    places, ranged, j = read
    if j < len(tokens) and not _may_end(tokens, j, spelled=tokens[i].dir == "spelled" and not worded):
        return None
    if opened:
        if j >= len(tokens) or not is_mark(tokens[j], ")]"):
            return None
        j += 1
    spelled = tokens[i].dir == "spelled"
    open_and = worded or spelled  # "counts 5 & 6", "one and two": whole counts, or the half between them
    plus = any(_opens_pair(t, worded=open_and) for t in tokens[i:j])
    single = not ranged and (spelled or any(t.low in ("and", "&") for t in tokens[i:j]))
    label = Label(places, ranged, tokens[begin].start, tokens[j - 1].end, tokens[begin].line, spelled, single, plus)
    while j < len(tokens) and is_mark(tokens[j], ":.)|=-–—\t>/") and not (opened and is_mark(tokens[j], ".")):
        j += 1
    return label, j


def _opens_pair(token: Token, *, worded: bool) -> bool:
    """Return whether a sign between counts leaves open if they are two, or two with the half between."""
    if is_mark(token, OPEN_PLUS) or (is_mark(token, "+") and not token.glued):
        return True
    if token.low == "and" and not token.glued:
        return True
    return worded and is_mark(token, "&") and not token.glued


def _may_end(tokens: Sequence[Token], j: int, *, spelled: bool) -> bool:
    """A number before "wall", "bpm", "counts", "/" … is no label; a spelled one needs a mark behind it."""
    token = tokens[j]
    if is_mark(token, "/") and j + 1 < len(tokens) and not tokens[j + 1].glued and tokens[j + 1].kind != "num":
        return True  # "1/ right heel", "1&2 / shuffle"
    if is_mark(token, "/%#") or (token.kind in ("amount", "frac") and token.text[0] == "/"):
        return False
    if token.low == "x" and j + 1 < len(tokens) and _crosses(tokens, j):
        return not spelled
    if token.low in NOT_A_LABEL and token.kind != "side":
        return False
    return not spelled or is_mark(token, ":,.;-–—") or (token.kind == "mark" and token.text in ")]")


def _crosses(tokens: Sequence[Token], j: int) -> bool:
    """ "1-2 X R over L", "5-6 X rk L": behind counts, an "x" before a foot or a step is no "times"."""
    behind = tokens[j + 1]
    counts = j > 1 and tokens[j - 1].glued and is_mark(tokens[j - 2], "&-–+,/")
    return behind.kind in ("side", "foot", "footpart") or (counts and behind.kind in ("verb", "pattern", "fill"))


def _run(tokens: Sequence[Token], i: int, *, worded: bool) -> tuple[tuple[Fraction, ...], bool, int] | None:
    """Read numbers, signs and ranges from i; None when no count stands there. ``worded``: "on" or "counts" stands
    before, and "and" joins whole counts ("on 7 and 8").
    """
    places: list[Fraction] = []
    ranged = False
    while i < len(tokens):
        token = tokens[i]
        if token.kind == "num":
            step = _number(tokens, i, places)
        elif worded and token.low == "and":
            step = _joined(tokens, i, places)
        else:
            step = _sign(tokens, i, places) or _range(tokens, i, places)
        if step is None:
            break
        added, i, was_range = step
        ranged = ranged or was_range
        places += added
    if not places or (not any(p.denominator == 1 for p in places) and len(places) > 1):
        return None
    return tuple(places), ranged, i


Step = tuple[list[Fraction], int, bool]


def _number(tokens: Sequence[Token], i: int, places: list[Fraction]) -> Step | None:
    token = tokens[i]
    n = token.number
    if not places and len(token.value) in (3, 4) and token.value in RUN_TOGETHER:
        return [WHOLE[int(c)] for c in token.value], i + 1, False
    if not 0 < n <= HIGHEST or (places and not _follows(n, places)):
        return None
    return [WHOLE[n]], i + 1, False


def _follows(n: int, places: list[Fraction]) -> bool:
    """Return whether n is the next whole count."""
    return n == places[-1].__floor__() + 1


def _joined(tokens: Sequence[Token], i: int, places: list[Fraction]) -> Step | None:
    """Read the "and" of "on 5 and 6"."""
    n = _next_number(tokens, i + 1)
    return ([], i + 1, False) if n is not None and places and _follows(n, places) else None


def _next_number(tokens: Sequence[Token], i: int) -> int | None:
    return tokens[i].number if i < len(tokens) and tokens[i].kind == "num" and len(tokens[i].value) < 4 else None


def _sign(tokens: Sequence[Token], i: int, places: list[Fraction]) -> Step | None:
    """Read "&", "+", "and", "a", "e" or a comma between numbers."""
    token = tokens[i]
    sign = token.low
    n = _next_number(tokens, i + 1)
    if sign == "," and places and n is not None and _follows(n, places):
        return [], i + 1, False
    if sign == "," and places and i + 1 < len(tokens) and is_mark(tokens[i + 1], "&") and places[-1].denominator == 1:
        return [], i + 1, False
    if sign not in PART:
        return None
    if not places:
        return _leading_sign(tokens, i, n)
    at = WHOLE[places[-1].__floor__()] + PART[sign]
    if at <= places[-1]:
        return None
    glued_end = token.glued and (sign in "&+ae" or sign == "and") and _ends_label(tokens, i + 1)
    glued_end = glued_end or (sign == "and" and len(places) > 1 and i + 1 < len(tokens) and is_mark(tokens[i + 1], ":"))
    if sign == "&" and i + 1 < len(tokens) and tokens[i + 1].kind in AFTER_SIGN:
        glued_end = True
    more = n is not None and n == at.__floor__() + 1
    signs_on = i + 1 < len(tokens) and tokens[i + 1].glued and tokens[i + 1].low in PART and token.glued
    if not (more or glued_end or signs_on):
        return None
    return [at], i + 1, False


def _ends_label(tokens: Sequence[Token], i: int) -> bool:
    return i >= len(tokens) or not tokens[i].glued or is_mark(tokens[i], ":.)]|,;")


def _leading_sign(tokens: Sequence[Token], i: int, n: int | None) -> Step | None:
    """Read "&7" or "& 1" (the half before the number), or "&" alone at the head of a line."""
    token = tokens[i]
    if n is not None and token.text in "&+":
        return [Fraction(n) - Fraction(1, 2)], i + (2 if token.value == ALONE else 1), False
    return None


def _range(tokens: Sequence[Token], i: int, places: list[Fraction]) -> Step | None:
    """Read "-4" or "to 4" behind a number."""
    token = tokens[i]
    dashed = is_mark(token, DASHES)
    if not places or not (dashed or token.low in RANGE_WORDS):
        return None
    n = _next_number(tokens, i + 1)
    here = places[-1].__floor__()
    if n is None or not here < n <= HIGHEST:
        return None
    return list(WHOLE[here + 1 : n + 1]), i + 2, n > here + 1 or dashed
