"""A letter for a limb before its words, "F: heel, home" over "H: clap, clap": read as "Feet:" and "Hands:"."""

from __future__ import annotations

import re

from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

LETTER = shape(r"(?:^|(?<=[\d\s.:)\]|/;-]))(?P<letter>[FH])(?=\s?[:=]\s)", re.MULTILINE)
NAMES = {"F": "Feet", "H": "Hands"}
OFTEN = 2  # lines
SECTION = shape(r"^\W*[A-EG]\s?[:=]\s", re.MULTILINE)  # letters in a row name sections


def limbs_spelled(text: str) -> list[Edit]:
    """Return the letters of a sheet that writes feet and hands so, each with its word.

    >>> [e.words for e in limbs_spelled("X\\n1-2 F: heel, home\\n H: clap\\n3-4 F: heel, home\\n H: clap")]
    ['Feet', 'Hands', 'Feet', 'Hands']
    """
    found = list(LETTER.finditer(text))
    often = [sum(m["letter"] == letter for m in found) for letter in NAMES]
    if min(often) < OFTEN or SECTION.search(text):
        return []
    return [Edit(m.start("letter"), m.end("letter"), NAMES[m["letter"]]) for m in found]
