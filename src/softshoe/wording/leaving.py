"""Walls that stop early or go on longer, however that is put: "leave off here and go back to count 1", "four more after
wall 2", "wall 7 is the last". Only words are looked at; what they place is read in ``extras``.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Literal

from softshoe.wording.begins import first_count
from softshoe.wording.extras import LAST_WALL, walls_in
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.shape import shape

ONE = r"(?:(?:count|section|part|step|line|row|number|no\.?)\s*(?:1|one|A|I)|A1)\b"
TOP = rf"(?:(?:the\s+)?(?:top|start|beginning)\b|{ONE})"
BACK = shape(
    rf"\b(?:re-?start(?:s|ed|ing)?\b|(?:start|begin|commence)(?:s|ed|ing)?\s+(?:the\s+(?:whole\s+)?dance\s+|it\s+|all\s+)?"
    rf"(?:again|over|afresh|anew|(?:from|at|with)\s+{TOP})|back\s+to\s+{TOP}|from\s+{TOP}|back\s+to\s+(?!(?:the\s+)?(?:left|right|place|centre|center|side|home)\b)[^,;:]{{1,24}}\bfrom\s+(?:here|this\s+point)\b|straight\s+to\s+{TOP}|starts?\s+afresh|recommence|"
    rf"(?:leave|break|broken|breaks?)\s+(?:it\s+)?off\b|(?:cut|leave)\s+(?:it|the\s+dance)?\s*(?:here|short)\b|"
    rf"(?:skip|leave\s+out|drop)\s+(?:the\s+)?(?:rest|last\s+\w+|sections?\s+\d)|(?:stops?|ends?|finish(?:es)?)\s+here\b|"
    rf"short\s+wall\b|is\s+short\b)",
    re.IGNORECASE,
)
TIME = shape(
    r"\b(?:time|repetition|rotation|danced\b.*\b(?:once|twice)|rounds?(?=\s+(?:\d|one\b|two\b|three\b|four\b|five\b|six\b|seven\b|eight\b))|(?:first|second|third|fourth|fifth|sixth|seventh|\dst|\dnd|\drd|\dth|last|final)\s+round)\b"
)
W_NUMBER = shape(r"w(?<!\ww)\s?\d")
MORE = shape(
    r"\b(?:add|added|adds|extra|more|plus|tail|tags?|bridge|put\s+in|gap|waits?\s+\w+\s+(?:counts?|bars?|beats?))\b",
    re.IGNORECASE,
)
AMID = shape(  # "only in round 2, after count 16:"
    r"\b(?:after|behind)\s+(?:the\s+)?(?:first\s+)?(?:(?:counts?|beats?)\s+\w+|\w+\s+(?:counts|beats)|\d+(?=\s*:))(?!\s+(?:of|from)\b)",
    re.IGNORECASE,
)
CHANGED = shape(r"\b(?:instead|replac\w+|chang\w+|swap\w*|rather\s+than|different\w*|in\s+place\s+of)\b", re.IGNORECASE)
BEHIND = shape(r"\b(?:after|end|ends|over|between|done|finished|then|only)\b", re.IGNORECASE)
LAST = shape(
    r"\b(?:last|final|finale|finish|closing|ending|end of the (?:dance|music|song)|(?<!at )the end\b(?! of)|"
    r"^\W*at the end\W*:|"
    r"(?:music|song|tune|record) (?:ends|stops|finishes|runs out|fades))",
    re.IGNORECASE,
)
SONG_ENDS = shape(
    r"^\W*(?:and\s+)?(?:(?:when|as|if|once)\s+(?:the\s+)?(?:(?:music|song|tune|track|record|band)\s+(?:stops|ends|finishes|runs\s+out|"
    r"fades|is\s+(?:over|about\s+to\s+\w+))|(?:last|final)\s+(?:round|wall)\s+is\s+over)|"
    r"(?:for|at)\s+the\s+end\s+of\s+the\s+(?:music|song|tune|track|record))\b|"
    r"^\W*(?:the\s+)?(?:music|song|tune|track|record)\s+(?:stops|ends|finishes|runs\s+out|gives\s+out|fades)\b",
    re.IGNORECASE,
    needs="music|song|tune|track|record|band|over",
)
SEGMENT = shape(r"[(\[{<*~>][^()\[\]{}<>*~]*[)\]}<>*~]*|(?:(?!\s{2,}|\s[–—-]+>?\s)[^.;()\[\]{}<>*~])+[.;]?|\s{2,}|.")


def names_wall(text: str) -> bool:
    """Return whether a wall is spoken of: "wall", "W3", "the third time"."""
    low = text.casefold()
    return "wall" in low or ("w" in low and W_NUMBER.search(low) is not None) or TIME.search(low) is not None


def leaves_off(text: str) -> bool:
    """Return whether words say that a wall named by its number stops early and the dance begins again.

    >>> leaves_off("(Wall 3: leave off here and go back to count 1.)"), leaves_off("Begin again on the new wall")
    (True, False)
    """
    return (names_wall(text) and BACK.search(text) is not None) and bool(walls_in(text)) and not (
        MORE.search(text) or LAST_WALL.search(text)
    )  # fmt: skip


@lru_cache(maxsize=MOST_KEPT)
def longer(text: str) -> Literal["tag", "ending", ""]:
    """Return "tag" or "ending" for the words over extra steps that name their wall; "" for any others.

    >>> longer("At the end of wall 2 you have four counts to fill:"), longer("Wall 7 is the last; after 16 finish with")
    ('tag', 'ending')
    """
    if not names_wall(text) or (first_count(text) is not None and not MORE.search(text)):
        return ""
    if not (walls_in(text) or LAST_WALL.search(text)):
        return ""
    if LAST.search(text):
        return "ending"
    return "tag" if MORE.search(text) or BEHIND.search(text) else ""


def adds(text: str) -> bool:
    """Return whether words that name a wall say that it goes on longer, or tell the count behind which it does.

    >>> adds("After wall 3, four more:"), adds("Only in round 2, after count 16:"), adds("Wall 2 after 8: tap instead")
    (True, True, False)
    """
    return MORE.search(text) is not None or (AMID.search(text) is not None and CHANGED.search(text) is None)


def ends_song(text: str) -> bool:
    """Return whether words begin with the end of the song: "When the music stops, stomp right", "For the end of …"."""
    return SONG_ENDS.match(text) is not None


@lru_cache(maxsize=MOST_KEPT)
def leaving_amid(text: str) -> tuple[int, int] | None:
    """Return the characters of a remark amid a line of steps that a wall leaves off here; None where there is none.

    >>> leaving_amid("7-8 Stomp, stomp (wall 3: go back to the top)")
    (17, 45)
    """
    if not (names_wall(text) and BACK.search(text)):
        return None
    pieces = [m for m in SEGMENT.finditer(text) if m.end() > m.start()]
    told = [
        k for k, m in enumerate(pieces) if BACK.search(m.group()) or (names_wall(m.group()) and walls_in(m.group()))
    ]
    if not told or pieces[told[0]].start() == 0:
        return None
    first, last = told[0], told[-1]
    while last + 1 < len(pieces) and not re.search(r"[^\W\d]", pieces[last + 1].group()):
        last += 1
    span = (pieces[first].start(), pieces[last].end())
    return span if leaves_off(text[span[0] : span[1]]) else None
