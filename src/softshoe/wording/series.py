"""Markers that count up down the sheet, each before counts that begin again: "a/", "b/"; "Round 1", "Round 2".

Whatever the word before the number or the mark behind it, such a series names the sheet's sections. Only words are
looked at here, so that a line is told before it is read.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.begins import SPELLED, first_count, title_end
from softshoe.wording.headings import Heading
from softshoe.wording.numbers import place_number
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

NTH = "first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|[1-9]\\d?(?:st|nd|rd|th)"
MARK = r"[)\].,:/}>~=§#*–—-]"
MARKER = shape(
    rf"(?P<lead>(?:(?!\|)[\W_])*?)(?P<open>[(\[{{<]?)\s*"
    r"(?:(?P<word>[^\W\d_]{2,14}(?:\s[^\W\d_]{2,14})?|(?:8|eight)[\s-]?counts?)\b\.?\s*(?:(?:no|nr|number|the)\b\.?\s*|#\s*)?)??"
    rf"(?P<n>\d{{1,2}}(?!\d|(?:st|nd|rd|th)\b)|[ivxIVX]{{1,4}}\b|[a-hA-H]\b|(?:{SPELLED}|{NTH})\b(?!\s*(?:no|nr|number|#|\d)))"
    r"(?!\s*-?(?:counts?|cts?|walls?|beats?|bpm|times)\b)"
    rf"(?:/\d\b|\sof\s(?:\d|{SPELLED})\b)?(?P<close>\s?{MARK}*)(?=\s|$)",
    re.IGNORECASE,
)
NTH_MARKER = shape(
    rf"(?P<lead>(?:(?!\|)[\W_])*?)(?P<open>[(\[{{<]?)\s*(?:the\s+)?(?P<n>{NTH})\s+(?P<word>[^\W\d_]{{2,14}})"
    rf"(?P<close>\s?{MARK}*)(?=\s|$)",
    re.IGNORECASE,
)
BRACKETED = shape(r"\(\s*(\d{1,2})(?=\s*[-–,&)]|\s+\d)")
NO_SECTION = frozenset(("wall", "walls", "tag", "bridge", "restart", "count", "counts", "beat", "beats", "ct", "cts",
"bar", "bars", "ending", "on", "for", "from", "to", "intro", "tempo", "bpm", "hold", "and", "after",
"wait"))  # fmt: skip


NAMED_SO = r"(?:(?:\s+[-–—]|\s*:)\s+[^\d,;:]{2,24})?"  # "Verse - digging"
SONG = shape(rf"\W*(?:the\s+)?(?:verse|chorus|refrain)s?(?:\s+(?:\d|one|two|three|[A-D]))?{NAMED_SO}\W*", re.IGNORECASE)
SONG_PART = shape(
    r"\W*(?:the\s+)?(?:verse|(?:pre[- ]?)?chorus|refrain|bridge|outro|intro|middle (?:eight|8)|break|instrumental|"
    r"hook|coda)"
    r"(?:\s+(?:\d|one|two|three|[A-D]))?\s*(?:\(\s*\d+\s*(?:counts?|cts?|c)?\s*\))?"
    rf"{NAMED_SO}\W*",
    re.IGNORECASE,
)


SIZE = shape(r"\W*\b\d{1,2}\s*(?:counts?|cts?|c|beats?)\b\W*", re.IGNORECASE)
NUMBERED_LINE = shape(rf"^\W*(?:(\d{{1,2}})\s?[.)]|(?i:({SPELLED}))\s?[.):]|(?i:({SPELLED}))\s[-–—])\s+(?=[^\W\d])")
LONGEST_HEADING = 60  # characters
LONG = 6  # words of a line that is no single count
NAME = shape(r"[^\d\s.:!–—-][^\d.:!–—]{1,30}(?:[.:!]|\s[-–—])\s+(?=[^\W\d])")
WHITHER = shape(
    r"\b(?:right|left|[RL]|hold|twice|times|again|once)\b|\w,\s",
    re.IGNORECASE,
)
STATED = shape(r"\b(\d{2})[\s-]*(?:counts?|cts|c)\b", re.IGNORECASE)


class Marked(NamedTuple):
    """A line that begins with a marker: its index, the marker's number, its kind and dress, where its words go on."""

    at: int
    number: int
    dress: tuple[str, str, str, str]
    rest_at: int


def numbered_moves(texts: Sequence[str]) -> dict[int, Heading]:
    """ "64 counts. 1) …  2) … to 8) …", none of them with counts: numbered lines that are sections."""
    found = [(at, m) for at, text in enumerate(texts) if (m := NUMBERED_LINE.match(text))]
    numbers = [place_number(m[m.lastindex or 1]) or 0 for _, m in found]
    if len(found) < 2 or numbers != list(range(1, len(found) + 1)):
        return {}
    spelled = any(m.lastindex != 1 for _, m in found)
    if (len(found) < 3 or spelled) and any(len(texts[at].split()) < LONG for at, _ in found):
        return {}
    first = found[0][0]
    stated = {int(n) for text in texts[:first] for n in STATED.findall(text)}
    others = [text for at, text in enumerate(texts) if at > first and at not in {a for a, _ in found}]
    if not stated & {8 * len(found), 6 * len(found)} or any(first_count(text) is not None for text in others):
        return {}
    if any(first_count(texts[at][m.end() :]) is not None for at, m in found):
        return {}
    ends = [(at, m, m.end() + _name(texts[at][m.end() :])) for at, m in found]
    if any(end == m.end() for _, m, end in ends):
        ends = [(at, m, m.end()) for at, m in found]
    return {at: Heading(place_number(m[m.lastindex or 1]), None, end, texts[at][end:].strip()) for at, m, end in ends}


NUMBERED_NAME = shape(
    r"^\W*(?P<n>\d{1,2})[.)]\s+(?P<name>[^\d.;:]{3,40}?)\s*(?:[(\[,]|\s[-–—])\s*\d{1,2}\s*(?:counts?|cts?|beats?)\s*[)\]]?\W*$",
    re.IGNORECASE,
)


def numbered_names(texts: Sequence[str]) -> dict[int, Heading]:
    """ "1. Marching (8 counts)" over sentences of its own, each of them: names, which are not danced."""
    found = [(at, m) for at, text in enumerate(texts) if at and (m := NUMBERED_NAME.match(text))]
    if len(found) < 2 or [int(m["n"]) for _, m in found] != list(range(1, len(found) + 1)):
        return {}
    below = [texts[at + 1] if at + 1 < len(texts) else "" for at, _ in found]
    if any(not text or NUMBERED_LINE.match(text) or first_count(text) is not None for text in below):
        return {}
    return {at: Heading(int(m["n"]), None, len(texts[at]), m["name"].strip()) for at, m in found}


def _name(text: str) -> int:
    """ "Toe taps. With your hands on your knees, …": return where the words behind a name begin, or 0."""
    found = NAME.match(text)
    return found.end() if found and not WHITHER.search(found[0]) else 0


def headings_in(texts: Sequence[str]) -> dict[int, Heading]:
    """Return the headings of a series, by the index of their line; ``texts`` are lines without their bullets."""
    moves = numbered_names(texts) or numbered_moves(texts)
    if moves:
        return moves
    groups: dict[tuple[str, str, str, str], list[Marked]] = {}
    for at, text in enumerate(texts[1:], 1):
        found = MARKER.match(text[:80])
        one = _marked(at, text, found) if found else None
        if one is None and (nth := NTH_MARKER.match(text[:80])) is not None:
            one = _marked(at, text, nth)
        if one is not None and _leads(one, texts):
            groups.setdefault(one.dress, []).append(one)
    return {
        one.at: Heading(one.number, None, one.rest_at, texts[one.at][one.rest_at :].strip())
        for group in groups.values()
        for one in _in_turn(group)
    } or _over_uncounted(texts)


def _over_uncounted(texts: Sequence[str]) -> dict[int, Heading]:
    """ "Round one", "Window 1, 8 counts": short lines of one dress that count up from 1 over lines without counts."""
    groups: dict[tuple[str, ...], list[Marked]] = {}
    for at, text in enumerate(texts[1:], 1):
        one = _worded(at, text) if len(text) < LONGEST_HEADING else None
        if one is not None:
            groups.setdefault(one.dress[:2], []).append(one)
    for found in groups.values():
        apart = all(b.at - a.at > 1 for a, b in pairwise(found))
        if len(found) > 1 and apart and [m.number for m in found] == list(range(1, len(found) + 1)):
            return {m.at: Heading(m.number, None, m.rest_at, texts[m.at][m.rest_at :].strip()) for m in found}
    return {}


def _worded(at: int, text: str) -> Marked | None:
    """Return the marker of a line that names a part by a word and a number, and says little more."""
    found = MARKER.match(text)
    one = _marked(at, text, found) if found and found["word"] else None
    rest = SIZE.sub("", text[one.rest_at :]) if one is not None else ""
    return one if one is not None and len(rest.split()) < LONG and not re.search(r"\d", rest) else None


def song_parts(texts: Sequence[str]) -> dict[int, Heading]:
    """Return the lines that name parts of the song, each over counts that begin again: "Verse", "Chorus", "Bridge"."""
    found = [at for at, text in enumerate(texts) if len(text) < 30 and SONG_PART.fullmatch(text)]
    begins = [first_count(texts[at + 1]) if at + 1 < len(texts) else 0 for at in found]
    uncounted = len(found) > 1 and all(n is None for n in begins)
    found = [at for at, n in zip(found, begins, strict=True) if n == 1 or uncounted]
    if not any(SONG.fullmatch(texts[at]) for at in found):
        return {}
    return {at: Heading(None, None, len(texts[at]), texts[at].strip(" .:*#=_-")) for at in found}


def _marked(at: int, text: str, found: re.Match[str]) -> Marked | None:
    mark, word = found["n"], (found["word"] or "").casefold()
    number = place_number(mark.casefold() if mark.strip("ivxIVX") else mark.upper())
    if number is None or (NO_SECTION & set(word.split()) and not word[:1].isdigit() and word != "eight counts"):
        return None
    kind = _kind(mark)
    gap = "  " if text[found.end() :].startswith(("  ", "\t")) else ""
    dress = (word, kind, (found["lead"] + found["open"]).strip(), found["close"].strip() or gap)
    if not (word or dress[2] or dress[3]) and kind != "digit" and text[found.end() :].strip():
        return None  # "a slow walk", "I …": a letter alone is a marker only where it stands alone
    return Marked(at, number, dress, found.end() + len(text[found.end() :]) - len(text[found.end() :].lstrip()))


def _kind(mark: str) -> str:
    if mark.isdigit():
        return "digit"
    if not mark.strip("ivxIVX"):
        return "roman"
    return "letter" if len(mark) == 1 else "word"


def _leads(one: Marked, texts: Sequence[str]) -> bool:
    """Return whether counts begin again behind the marker, on its line or the next."""
    begin = (1, 8 * (one.number - 1) + 1, 6 * (one.number - 1) + 1)
    rest = texts[one.at][one.rest_at :]
    own = first_count(rest)
    if own in begin and rest.strip():
        return not (one.dress[1] == "digit" and not any(one.dress[i] for i in (0, 2, 3)))
    behind = title_end(rest)
    if behind is not None and first_count(rest[behind:]) in begin:
        return True
    counted = BRACKETED.search(rest)
    if counted is not None and int(counted[1]) in begin:
        return True  # "[b]  clap, clap (1-2)"
    below = texts[one.at + 1] if one.at + 1 < len(texts) else ""
    return first_count(below) in begin and not _same_dress(one, below)


def _same_dress(one: Marked, text: str) -> bool:
    """Return whether a line has a marker of the same dress: a count that is told again, not counts under a heading."""
    found = MARKER.match(text[:80])
    there = _marked(0, text, found) if found else None
    return there is not None and there.dress == one.dress


def _in_turn(group: Sequence[Marked]) -> Sequence[Marked]:
    """Return the markers from the first on, if they count up; one that comes twice or is left out is told later."""
    first = next((k for k, one in enumerate(group) if one.number == 1), len(group))
    series = group[first:]
    steps = [b.number - a.number for a, b in pairwise(series)]
    counts_up = bool(steps) and all(0 <= step <= 2 for step in steps) and abs(sum(steps) - len(steps)) <= 1
    return series if counts_up else ()
