"""Sections that ask for earlier ones: what they are, and whether their words name what is danced."""

from __future__ import annotations

import re

from collect import truth

from softshoe.wording.retell_codes import mirrored as mirrored_code

Told = tuple[list[str], int]
AGAIN = re.compile(r"=\s*(\d+)\s*(mirror\w*)?")
LINE = re.compile(r"([A-Za-z1-9])\|\s?(.*)$")
FEW = re.compile(
    r"(?:again|same|with|foot|feet|hand|hands|left|right|first|second|third|this|that|then|section"
    r"|part|before|once|more|time|both|other|side|repeat|mirror|dance|start|counts|count|eight|four"
    r"|last|above|as|the|and|but|from|like|now|all|whole|half|everything|begin|beginning|starting"
    r"|lead|leading|opposite|exactly|another|round|through)s?"
)  # words that any section has


def told(words: str, parts: list[Told], *, seated: bool) -> Told | None:
    """Return the codes of plain words, or of the section that they name."""
    again = AGAIN.match(words)
    if again is None:
        return truth(re.sub(r"^S:\s*", "", words), seated=seated)
    if int(again[1]) > len(parts):
        return None
    codes, counts = parts[int(again[1]) - 1]
    return ([mirrored_code(c) for c in codes] if again[2] else codes), counts


def words_in(lines: list[str]) -> set[str]:
    """Return the longer words of lines, without an ending, but those that any section has."""
    found = {word for line in lines for word in re.findall(r"[a-z]{4,}", line.casefold())}
    return {re.sub(r"(?<=ch|sh|ss)es$|s$", "", word) for word in found if not FEW.fullmatch(word)}
