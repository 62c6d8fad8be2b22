"""Numbers in words, letters and Roman numerals as sheets use them."""

from __future__ import annotations

import re
from functools import lru_cache

from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.shape import shape

UNITS = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
SPELLED = {w: n for n, w in enumerate(UNITS)} | {w: 20 + 10 * n for n, w in enumerate(TENS)}
_NTH = (
    "zeroth", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
)  # fmt: skip
ORDINALS = {w: n for n, w in enumerate(_NTH)}
_ROMAN = (
    "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII",
)  # fmt: skip
ROMAN = {w: n for n, w in enumerate(_ROMAN, 1)}
_WORD = "|".join(SPELLED)
_PARTS = ("zero", *UNITS[1:13], "teen", "ty", "hundred")  # one of them stands in every number word
_SPELLED = shape(
    rf"\b(?:(?P<h>a|one|two) hundred(?: and)?(?:\s+(?P<ht>{_WORD})(?:[- ](?P<hu>{_WORD}))?)?|"
    rf"(?P<t>{'|'.join(TENS)})[- ](?P<u>{'|'.join(UNITS[1:10])})|"
    rf"(?P<au>{'|'.join(UNITS[1:10])})[- ]and[- ](?P<at>{'|'.join(TENS)})|(?P<one>{_WORD}))\b",
    re.IGNORECASE,
)
DIGITS = shape(r"\d{1,6}")
_ORDINAL = shape(rf"\b(\d+)(?:st|nd|rd|th)\b|\b({'|'.join(ORDINALS)})\b", re.IGNORECASE)


def _value(word: str | None) -> int:
    word = (word or "zero").casefold()
    return SPELLED.get(word, 1 if word == "a" else 0)


def _number(m: re.Match[str]) -> int:
    if m["h"]:
        return 100 * _value(m["h"]) + _value(m["ht"]) + _value(m["hu"])
    if m["at"]:  # "two-and-thirty", as it was said of old
        return _value(m["at"]) + _value(m["au"])
    return _value(m["t"]) + _value(m["u"]) if m["t"] else _value(m["one"])


@lru_cache(maxsize=MOST_KEPT)
def in_digits(text: str) -> str:
    """Return the text with number words as digits.

    >>> in_digits("Thirty-two counts, four walls, a hundred and ten beats")
    '32 counts, 4 walls, 110 beats'
    """

    low = text.casefold()
    return _SPELLED.sub(lambda m: str(_number(m)), text) if any(part in low for part in _PARTS) else text


def number_spans(text: str) -> list[tuple[int, int, int]]:
    """Return the whole numbers of a text, in digits or words: first character, the one behind the last, value.

    >>> number_spans("32 counts, thirty-two beats")
    [(0, 2, 32), (11, 21, 32)]
    """
    digits = [(*m.span(), int(m[0])) for m in DIGITS.finditer(text)]
    return sorted([*digits, *((*m.span(), _number(m)) for m in _SPELLED.finditer(text))])


@lru_cache(maxsize=MOST_KEPT)
def ordinals_in_digits(text: str) -> str:
    """Return the text with ordinals as plain digits.

    >>> ordinals_in_digits("on the 3rd and the fifth wall")
    'on the 3 and the 5 wall'
    """
    return _ORDINAL.sub(lambda m: m[1] or str(ORDINALS[m[2].casefold()]), text)


@lru_cache(maxsize=MOST_KEPT)
def place_number(mark: str) -> int | None:
    """Return the number of a section's name: "3", "III", "C", "three", "third"; None when it is none.

    >>> [place_number(m) for m in ("3", "III", "C", "three", "2nd")]
    [3, 3, 3, 3, 2]
    """
    plain = in_digits(ordinals_in_digits(mark.strip()))
    if plain.isdigit():
        return int(plain)
    if mark.upper() in ROMAN and mark.isupper():
        return ROMAN[mark.upper()]
    if len(mark) == 1 and mark.isalpha():
        return ord(mark.upper()) - ord("A") + 1
    return None


def all_numbers(text: str) -> tuple[int, ...]:
    """Return the numbers of a list such as "2, 4 and 5" or "3 & 6"; "2-4" is all of them."""
    out: list[int] = []
    for m in re.finditer(r"(\d+)(?:\s*(?:-|–|to)\s*(\d+))?", text):
        first, last = int(m[1]), int(m[2] or m[1])
        out += range(first, min(last, first + 40) + 1) if last >= first else [first, last]
    return tuple(out)
