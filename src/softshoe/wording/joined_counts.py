"""Counts written as digits run together: "1234 vine R, touch L", "12 side, touch 34 again", "1&2 34 shuffle, rock",
"step, touch      1234".
"""

from __future__ import annotations

import re
from itertools import pairwise

from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

MEASURED = r"(?!\s*(?:counts?|cts?|beats?|bpm|walls?|bars?|min\w*|o.?clock)\b)"
JOINED = shape(rf"(?<![\w.:/&–-])(?P<run>\d{{2,8}})(?=&?(?:[\s:;,|)\]]|$)){MEASURED}", re.IGNORECASE)
LEADS = shape(
    r"(?:^|[.;,:|(\[]|\b[^\W\d_]+\s*:)[\s*•>|(\[]*(?:(?:and\s+)?then,?\s+|and\s+)?(?:\d[\d&a]*[\s|]+)*$", re.IGNORECASE
)
AT_EDGE = shape(r"\s*[)\]|]?\s*$")  # what may stand behind a run in the right margin
MARGIN = ("  ", "\t", "  (", "\t(", "  [", "\t[", "| ")  # what parts it from the words
MANY = 2
MOST_LINES = 400


def joined_counts(text: str) -> list[Edit]:
    """Return the runs of a sheet whose digits count on, each as a range; none where they do not count on together.

    >>> [edit.words for edit in joined_counts("X\\n12 side, touch, 34 again\\n5678 clap, clap, clap, hold")]
    ['1-2', '3-4', '5-8']
    """
    found: list[Edit] = []
    at = 0
    for row in text.split("\n")[:MOST_LINES]:
        for m in JOINED.finditer(row) if row else ():
            if _counts_on(m["run"]) and (LEADS.search(row[: m.start()]) or _at_edge(row, m.start(), m.end())):
                found.append(Edit(at + m.start(), at + m.end(), f"{m['run'][0]}-{m['run'][-1]}"))
        at += len(row) + 1
    firsts = [int(edit.words[0]) for edit in found]
    lasts = [int(edit.words[-1]) for edit in found]
    goes_on = any(b == a + 1 for a, b in zip(lasts, firsts[1:], strict=False))
    return found if len(found) >= MANY and 1 in firsts and goes_on else []


def _at_edge(row: str, begin: int, end: int) -> bool:
    """ "step, touch, step, touch      1234": behind the words, a wide gap away from them."""
    return row[:begin].endswith(MARGIN) and AT_EDGE.match(row, end) is not None


def _counts_on(run: str) -> bool:
    return all(int(b) == int(a) + 1 for a, b in pairwise(re.findall(r"\d", run))) and run[0] != "0"
