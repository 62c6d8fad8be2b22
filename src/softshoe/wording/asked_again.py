"""A line that only asks for what stands above once more: "Again.", "x2", "and again (4)", "Do all that a second time".

Behind a full section such words close the wall; where the section still has room they ask for a copy.
"""

from __future__ import annotations

import re

from softshoe.wording.lex import Token, tokens_of
from softshoe.wording.numbers import in_digits
from softshoe.wording.shape import shape

ALONE = shape(
    r"^\W*(?:(?:and|then|now|so|please|do|dance|repeat|the|it|that|this|all|of|whole|thing|lot|once|both|same|lines?|"
    r"above|everything|eight|four|8|4|counts?)\s+)*"
    r"(?:(?:again|once more|one more time|a second time|all over|repeat)|x ?(?P<a>[2-4])|(?P<b>[2-4]) ?x|(?P<c>twice)|"
    r"(?P<d>[2-4]) times)\b(?:\W*|\W*[(\[]\W*\d+(?: counts?)?\W*|"
    r"\s*[,;.!–-]\s*(?:(?:so|and|now|then)\s+)*(?:you|we|it|this|that|which|no|please|with a|to|facing)\b[^\d]*)$",
    re.IGNORECASE,
)


def asked_again(text: str) -> int:
    """Return how many copies a line asks for, if it asks for nothing else; 0 for any other line.

    >>> asked_again("x2"), asked_again("Do it again, you finish at the back."), asked_again("again to the left")
    (1, 1, 0)
    """
    found = ALONE.match(in_digits(text)) or ALONE.match(text)
    if found is None:
        return 0
    times = found["a"] or found["b"] or found["d"]
    return int(times) - 1 if times else 1


def asking(text: str, *, line: int, offset: int) -> list[Token]:
    """Return the words of such a line as a word that asks for a copy, and how often."""
    copies = asked_again(text)
    first, *rest = tokens_of(text, line=line, offset=offset)
    words = [first._replace(kind="again", value="", low="again")]
    words += [t._replace(kind="fill", value="", dir="") for t in rest if t.kind != "mark"]
    if copies > 1:
        words.append(Token("times", str(copies), "", "", words[-1].end, words[-1].end, line))
    return words
