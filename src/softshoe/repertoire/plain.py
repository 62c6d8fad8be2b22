"""Words as they are compared: small letters, no accents, single spaces; and the parts by which a slip is led home."""

from __future__ import annotations

import re
import unicodedata

WORD = re.compile(r"[^\W_]+")
LONGEST = 30  # letters of a word that are compared


def plain(words: str) -> str:
    """Return words without capitals and accents, with single spaces.

    >>> plain("  Café   QUAI ")
    'cafe quai'
    """
    small = words.casefold()
    if not small.isascii():
        small = "".join(c for c in unicodedata.normalize("NFKD", small) if not unicodedata.combining(c))
    return " ".join(small.split())


def words_of(text: str) -> list[str]:
    """Return the plain words of a text, in order.

    >>> words_of("Kick-ball change, 1&2")
    ['kick', 'ball', 'change', '1', '2']
    """
    return [word[:LONGEST] for word in WORD.findall(plain(text))]


def parts_of(word: str) -> frozenset[str]:
    """Return the pairs of letters that stand side by side in a word, with its two ends.

    >>> sorted(parts_of("toe"))
    ['e ', 'oe', 't', 'to']
    """
    letters = f" {word} "
    return frozenset(letters[k : k + 2].lstrip() for k in range(len(letters) - 1))
