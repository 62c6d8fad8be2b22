"""A section's number out of turn, written anew in its own form: 2, two, second, II, B, or a range of counts."""

from __future__ import annotations

import re

from softshoe.wording.shape import shape

WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
ORDER = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
ROMAN = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii")
LETTERS = tuple("abcdefgh")
DIGITS = tuple(str(n) for n in range(1, 9))
FORMS = (DIGITS, WORDS, ORDER, ROMAN, LETTERS)
OUT_OF_TURN = shape(r"Section (\d+) .*; (\d+) would be next")
MISHEADED = shape(r"headed (\d+) to (\d+); count (\d+) would be next")
HEAD = shape(r"^(\W*(?:(?:section|sec|part|block|set|s)(?=\W|\d))?\W*)([a-z]+|\d+)(?![\w-])", re.IGNORECASE)


def renumbered(line: str, message: str) -> str | None:
    """Return a heading with the number or range that the finding says would be next; None where its place isn't plain.

    >>> renumbered("PART TWO: vines", "Section 2 comes twice; 3 would be next.")
    'PART THREE: vines'
    >>> renumbered("[1-8] Heels", "This section is headed 1 to 8; count 9 would be next.")
    '[9-16] Heels'
    """
    headed = MISHEADED.search(message)
    if headed:
        first, last, start = (int(n) for n in headed.groups())
        place = re.compile(rf"\b{first}(\s*(?:-|–|to)\s*){last}\b")
        return place.sub(rf"{start}\g<1>{start + last - first}", line) if len(place.findall(line)) == 1 else None
    turn = OUT_OF_TURN.search(message)
    head = HEAD.match(line)
    if turn is None or head is None:
        return None
    new = _in_its_form(head[2], int(turn[1]), int(turn[2]))
    return None if new is None else f"{head[1]}{new}{line[head.end() :]}"


def _in_its_form(word: str, number: int, wanted: int) -> str | None:
    """Return the number wanted as the other is written: digit, word, Roman, letter, in small or capital letters."""
    for form in FORMS:
        if 0 < number <= len(form) >= wanted and word.casefold() == form[number - 1]:
            new = form[wanted - 1]
            return new.upper() if word.isupper() else new.capitalize() if word[0].isupper() else new
    return None
