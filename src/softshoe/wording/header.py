"""The head of a sheet: title, length, walls, level, tempo, intro, who starts, seated or not.

What is looked for stands in ``data/wording/header.csv`` (field, value, words one of which it needs, pattern; the
first pattern that is found wins, and its words are used up). Number words are read as digits first.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.answers import ASKED
from softshoe.wording.extras import LAST_WALL, kinds_in, walls_in
from softshoe.wording.facts import NAMES, part_lengths, parted_promise
from softshoe.wording.header_rows import as_fields
from softshoe.wording.numbers import in_digits
from softshoe.wording.shape import shape
from softshoe.wording.titles import LONGEST_SENTENCE, title_among
from softshoe.wording.vocabulary import table

if TYPE_CHECKING:
    from collections.abc import Sequence

EXTRAS = shape(
    r"\b(?:tags?|restarts?|bridges?|(?<!weight )ending(?! (?:on|in an?)\b)|sequence|phrased|cut short|short walls?)\b",
    re.IGNORECASE,
    needs="tag|restart|bridge|ending|sequence|phrased|short",
)
SENTENCE = shape(
    r"(?:(?<=[a-z\d\)])|(?<=[A-Z]{3}))(?<!\b[Aa]bs)(?<!\bABS)[.;!]+(?=\s|$)|(?<=\w);(?=\w)|\s::+\s|\s[|•·*/–—~>+-]{1,3}\s|\s\.{1,3}\s|[|•]|//|\n|\t"
    r"|\s{3,}(?=\d{2,3}\s{3,})|(?<=\s\d{2})\s{3,}|(?<=\s\d{3})\s{3,}"
)
# A field's name as a cell of its own, or with dots up to what it says: "Intro<tab>16 counts", "WALLS..... 4".
CELL = shape(
    rf"(?P<before>^|[\t|]|\s{{2}})(?P<name>[\s*•-]*{NAMES})\s*(?:[\t|]|\.{{2,}}|\s{{2}})[\s.|]*(?=[^\W_])",
    re.IGNORECASE,
)
NAMED = shape(
    r"(?<!\d )\b(level|speed|tempo|bpm|lead[- ]?in|intro(?:duction)?|length|counts?|walls?)\s+[-–—.·]\s+(?=\d)",
    re.IGNORECASE,
)
NEXT_PROMISE = shape(
    r"\s{2,}(?=(?:tags?|restarts?|bridges?|ending)\s*:)|(?:[,;+&]\s*(?:and|but)?|\b(?:and|but)\b)\s*(?=(?:then\s+)?(?:(?:an?|the|one|two|three|four|no|\d+)\s+)(?:[\w-]+\s+){0,2}?"
    r"(?:tags?|restarts?|bridges?|ending)\b|(?:tags?|restarts?|bridges?|ending)\s*(?:[(:]|on\b|after\b|at\b|in\b))",
    re.IGNORECASE,
)
NUMBERED = shape(r"\W*(?:tags?|restarts?|bridges?|ending)\s*[:=–-]\s*(?:yes|just one|only one|one|1)\W*", re.IGNORECASE)
PLACE = shape(
    r"\W*(?:(?:on|in|during|after)\s+)?(?:the\s+)?(?:(?:walls?|rounds?|time)\s+#?\d+\b(?!\s*[:=])|"
    r"(?:last|first|second|third|fourth|fifth|sixth|seventh)\s+(?:wall|round|time)\b)",
    re.IGNORECASE,
)
STARTS_ON = shape(r"\b(?:on|at|with|count|beat|start)\W+(?:the\s+)?(?:count\s+)?\d+(?:st|nd|rd|th)?\b", re.IGNORECASE)
EIGHTS = shape(r"\b(\d{1,2})\s*(?:(?:x|×|times)\s*8(?:\s*counts?)?|(?:sets? of\s*)?(?:eights|8s|8's))\b", re.IGNORECASE)
SETS = shape(
    r"\b(\d{1,2})\s*(?:sets?|lots|groups|bars|parts?|sections?|eights?|blocks?|phrases|verses|figures)\s+of\s+(\d{1,2})"
    r"(?:\s*(?:counts?|beats?)\b|(?!\s*\w)|(?=\s+(?:to wait|wait|go(?:es)? by)\b))",
    re.IGNORECASE,
    needs="of",
)
BRACKET = shape(r"\(([^()]*)\)")
LONGEST_HEADER_LINE = 2000
FEET = {"l": "L", "left": "L", "r": "R", "right": "R"}
OTHER = {"L": "R", "R": "L"}


MOST_HEADS, LONGEST_HEAD = 1024, 2000  # headers kept for the next time, and the characters of one


@dataclass(slots=True)
class Head:
    """What the header says; None where it says nothing. ``lines`` tells where each field stands."""

    title: str = ""
    counts: int | None = None
    walls: int | None = None
    level: str | None = None
    metre: str | None = None
    tempo: float | tuple[float, float] | None = None
    intro: int | None = None
    start_weight: str | None = None
    seated: bool | None = None
    any_level: bool = False
    walls_guessed: bool = False  # by words that only say where somebody looks
    lines: dict[str, int] = field(default_factory=dict)
    promises: list[tuple[int, str]] = field(default_factory=list)


@lru_cache(maxsize=1)
def _rules() -> dict[str, list[tuple[str, re.Pattern[str]]]]:
    rules: dict[str, list[tuple[str, re.Pattern[str]]]] = {}
    for row in table("header.csv"):
        rules.setdefault(row["field"], []).append(
            (row["value"], shape(row["pattern"], re.IGNORECASE, needs=row["needs"]))
        )
    return rules


Lines = "Sequence[tuple[int, str]]"


def head_of(lines: Sequence[tuple[int, str]], title: str) -> Head:
    """Read the header lines (number, text); ``title`` is the sheet's first line, which may hold all of it."""
    short = len(title) + sum(len(text) for _, text in lines) <= LONGEST_HEAD
    head = (_kept if short else _head_of)(tuple(lines), title)
    return replace(head, lines=dict(head.lines), promises=list(head.promises))


@lru_cache(maxsize=MOST_HEADS)
def _kept(lines: tuple[tuple[int, str], ...], title: str) -> Head:
    return _head_of(lines, title)


def _head_of(lines: Sequence[tuple[int, str]], title: str) -> Head:
    head = Head(title=title_among(lines, title))
    rest: list[tuple[int, str]] = []
    for number, written in as_fields(lines):
        if ASKED.match(written):
            continue  # a question tells nothing
        celled = CELL.sub(r"\g<before>\g<name>: ", written.replace("_", " "))
        named = NAMED.sub(r"\1: ", in_digits(celled))
        text = named.replace(in_digits(head.title), " ", 1) if head.title else named  # a name promises nothing
        for sentence in _sentences(text[:LONGEST_HEADER_LINE]):
            if re.match(r"\W*sequence\b", sentence, re.IGNORECASE) or part_lengths(sentence):
                head.promises += [(number, told) for told in BRACKET.findall(sentence) if EXTRAS.search(told)]
                continue
            if EXTRAS.search(sentence) and not re.match(r"\W*(?:intro|start)", sentence, re.IGNORECASE):
                promised, facts = parted_promise(sentence)
                head.promises += [(number, part) for part in NEXT_PROMISE.split(promised)]
                rest += [(number, _counted(in_digits(facts)))] if facts else []
            else:
                rest.append((number, _counted(in_digits(sentence[:LONGEST_SENTENCE]))))
    for name in (
        "tempo",
        "intro",
        "metre",
        "walls",
        "faces",
        "level",
        "counts",
        "spare",
        "start_weight",
        "start_foot",
        "seated",
    ):
        _find(head, name, rest)
    if head.metre is None:
        _find(head, "metre", [(1, head.title)])  # only the kind of dance: "Reed Bed Waltz" is one
    return head


def _sentences(text: str) -> list[str]:
    """Return the sentences of a line; "Restart: one. Wall 5, after 24." is one."""
    out: list[str] = []
    for sentence in filter(None, (part.strip() for part in SENTENCE.split(text))):
        if out and NUMBERED.fullmatch(out[-1]) and PLACE.match(sentence):
            out[-1] += f", {sentence}"
        else:
            out.append(sentence)
    return out


def _counted(sentence: str) -> str:
    """ "2 x 8", "2 eights", "8 sets of 4 counts": all of them as counts."""
    sentence = SETS.sub(lambda m: f"{int(m[1]) * int(m[2])} counts", sentence)
    return EIGHTS.sub(lambda m: f"{8 * int(m[1])} counts", sentence)


def _find(head: Head, name: str, rest: list[tuple[int, str]]) -> None:
    """Look for one field; the words that say it are blanked, so that no other field takes them."""
    for value, pattern in _rules()[name]:
        for i, (_, sentence) in enumerate(rest):
            found = pattern.search(sentence)
            if found and _taken(head, name, value, found, rest, i):
                return


def _taken(head: Head, name: str, value: str, found: re.Match[str], rest: list[tuple[int, str]], i: int) -> bool:
    """Take what one pattern found in one sentence; return whether it said the field."""
    number, sentence = rest[i]
    if not _set(head, name, value, found):
        return False
    head.lines.setdefault(name, number)
    if name in ("tempo", "intro", "walls", "counts"):
        rest[i] = (number, sentence[: found.start()] + " # " + sentence[found.end() :])
    return True


def _set(head: Head, name: str, value: str, found: re.Match[str]) -> bool:
    if name == "tempo":
        low, high = float(found[1]), (float(found[2]) if found.re.groups > 1 and found[2] else None)
        head.tempo = _whole(low) if high is None else (_whole(low), _whole(high))
    elif name == "intro":
        head.intro = int(value or found[1])
        if head.intro % 8 == 1 and STARTS_ON.search(found.group()):
            head.intro -= 1  # "starts on count 17"
    elif name == "metre":
        head.metre = value or found[1]
    elif name == "walls":
        walls = int(value or found[1])
        head.walls = walls if 1 <= walls <= 8 else None
        return head.walls is not None
    elif name == "faces":
        head.walls, head.walls_guessed = head.walls or int(value), head.walls is None
    elif name == "level":
        head.level = value
    elif name == "counts":
        head.counts = int(found[1]) or None
        return head.counts is not None
    elif name == "spare":
        return _waits(
            head, int(found[1]), counted="count" in found.group().casefold(), bare=found.group().strip(" ,").isdigit()
        )
    elif name == "start_weight":
        head.start_weight = value or FEET[found[1].casefold()]
    elif name == "start_foot":
        head.start_weight = head.start_weight or OTHER[FEET[found[1].casefold()]]
    elif name == "seated":
        head.seated = value == "yes"
    return True


def _waits(head: Head, spare: int, *, counted: bool, bare: bool) -> bool:
    """A number of counts that is left over, once the length is told, is the wait: "32 counts, 110 bpm, 16 counts"."""
    known = head.counts is not None and head.intro is None and not (bare and head.tempo is None)
    if not known or (counted and spare == head.counts):
        return False
    head.intro = spare
    return True


def _whole(n: float) -> float:
    return int(n) if n == int(n) else n


# A lap is made by sitting: whoever rests her hands in it dances on a chair. "One lap of the hall" is none.
LAP = shape(
    r"(?<!one )(?<!a )(?<!last )(?<!first )(?<!next )(?<!another )(?<!victory )(?<!\d )\blap\b(?! of\b| \d)",
    re.IGNORECASE,
    needs="lap",
)


# Hands on the thighs, and feet that come home, are a chair's; words of a dance that goes somewhere are not.
ON_THIGHS = shape(r"\b(?:pats?|drums?|hands?|rest|resting)\b[^.;\n]{0,24}\b(?:thighs|knees)\b", re.IGNORECASE)
HOME = shape(r"\bhome\b", re.IGNORECASE)
HOMES = 2  # times that feet come home
TURNING = shape(r"\b(?:turn\w*|pivot\w*|1/[42]|quarter|half)\b", re.IGNORECASE)
GOES = shape(
    r"\b(?:(?:grape)?vines?|walk\w*|shuffles?|chass[eé]s?|jazz box|behind|across|over|walls?|weight|coasters?|rock\w*|"
    r"hips?|sways?|swaying|scuffs?|brush\w*|side to|stand\w*|sailors?|lind(?:y|ies)|weaves?|cross\w*|kick[- ]ball)\b",
    re.IGNORECASE,
)


def sits(text: str, *, walls: int | None = None) -> bool:
    """Return whether the words of a dance are of somebody who sits; ``walls`` where they are told.

    >>> sits("3 lower both hands to the lap"), sits("Walk on to lap 2 of the hall")
    (True, False)
    >>> sits("Kettle\\nR heel forward, home, L heel forward, home"), sits("Take me home\\nR heel forward, home")
    (True, False)
    """
    if LAP.search(text) is not None or walls is not None:
        return LAP.search(text) is not None
    steps = text.partition("\n")[2]  # a name tells nothing
    if TURNING.search(steps):
        return False
    homes, goes = len(HOME.findall(steps)), GOES.search(steps) is not None
    return (homes >= HOMES or not goes) if ON_THIGHS.search(steps) is not None else homes >= HOMES and not goes


SURE = ("tempo", "intro", "level")  # fields that a single line below the steps may tell alone
FIELDS = ("tempo", "intro", "metre", "walls", "level", "counts", "start_weight", "seated")


def completed(head: Head, closing: Sequence[tuple[int, str]]) -> set[int]:
    """Fill what the header leaves out from lines below the steps ("Start again. (32 counts, 1 wall, 96 bpm)").

    Return the numbers of the lines that told it.
    """
    used: set[int] = set()
    for row in closing:
        if kinds_in(row[1]) or LAST_WALL.search(row[1]) or walls_in(row[1]):
            continue
        told = head_of([row], "")
        found = [name for name in FIELDS if getattr(told, name) is not None]
        for name in found if len(found) > 1 else [n for n in found if n in SURE]:
            used.add(row[0])
            if getattr(head, name) is None:
                setattr(head, name, getattr(told, name))
                head.walls_guessed = told.walls_guessed if name == "walls" else head.walls_guessed
                head.lines.setdefault(name, row[0])
    return used
