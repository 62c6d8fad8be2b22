"""Where counts begin on a line, told by its words alone: at its head, or behind a title ("Heels: 1-4 …")."""

from __future__ import annotations

import re
from functools import lru_cache

from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.numbers import place_number
from softshoe.wording.shape import shape

SPELLED = "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
TURNED = r"(?!\d/\d\W*(?:(?:of\s+)?(?:a\s+)?(?:turn|pivot)|[LR]\b(?!\s+\w)))"  # "1/4 turn R": no count
LIMB = r"(?:(?:legs?|feet|foot|hands?|arms?)\W+)?"
BEGINS = shape(
    rf"[\W_]*{LIMB}(?:(?:counts?|cts?|beats?|on|for|from|during)\s+)*{TURNED}(\d{{1,2}}|{SPELLED})(?!\d|\w{{2}}|c\b|\s*(?:more\s+)?(?:counts?|cts|beats?)\b)",
    re.IGNORECASE,
)
BEHIND_TITLE = shape(
    rf"(?:(?:[:.;)\]–—]|\s-)\s+|(?:(?<=\w)\s{{2,}}|(?<=(?-i:[A-Z]{{3}})) )(?=\w))"
    rf"(?=[(\[]?{LIMB}(?:(?:counts?|cts?|beats?)\s+)?{TURNED}(\d{{1,2}})\s*(?:[-–—&+,.:)\]/=]|to\b|[a-z]))",
    re.IGNORECASE,
)

OFTEN = shape(r"\b(?:times|twice|for \w+ (?:counts|beats))\W*$", re.IGNORECASE, needs="times|twice|for")
NUMBERED = shape(r"\d+\s*(?:[-–—]|to|thru)\s*\d+|\b(?:section|part|set|no\.?)\s*\d+", re.IGNORECASE)


@lru_cache(maxsize=MOST_KEPT)
def first_count(text: str) -> int | None:
    """Return the count that a line's words begin with; None where they begin with none.

    >>> first_count("1&2 shuffle"), first_count("Legs 1-4: heels"), first_count("Heels out")
    (1, 1, None)
    """
    found = BEGINS.match(text)
    return place_number(found[1]) if found else None


@lru_cache(maxsize=MOST_KEPT)
def title_end(text: str) -> int | None:
    """Return where the first count stands behind a title on the same line: "Heels: 1-4 …".

    >>> title_end("Step, point: 1-4 Step right"), title_end("Step right on 1")
    (13, None)
    """
    found = None if first_count(text) is not None else BEHIND_TITLE.search(text)
    if found and OFTEN.search(text[: found.end()]):
        return None  # "Tap the right foot four times: 1, 2, 3, 4."
    return found.end() if found and not re.search(r"\d", NUMBERED.sub("", text[: found.start()])) else None
