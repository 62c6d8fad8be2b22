"""The same words as another hand writes them: shortened or written out, other signs, throughout a text.

Each row of WAYS is one habit: what is looked for, and the ways of which a hand has one. No row changes what is danced.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import random
    from re import Match, Pattern

SHARE = 0.5  # of texts are reworded
HABITS = (1, 6)  # of a hand
BETWEEN = re.compile(r"\d\s*(?:&|\+|and)\s*\d|&\d|\d&")  # steps between counts: their signs are no habit
COLUMNS = re.compile(r"\S {3,}\S")  # what stands below what would be lost
SIDE = r"(?:right|left|R|L|RF|LF)"


class Habit(NamedTuple):
    """What is looked for, and the ways to write it; ``{}`` in a way is the first group."""

    there: Pattern[str]
    ways: tuple[str, ...]


def _habit(pattern: str, *ways: str) -> Habit:
    return Habit(re.compile(pattern, re.IGNORECASE | re.MULTILINE), ways)


WAYS = (
    _habit(r"\bright\b(?! away| on\b| then| now| angle)", "R", "rt"),
    _habit(r"\bleft\b(?! over)", "L", "lt"),
    _habit(r"\b(?:right foot|RF)\b", "RF", "right foot", "R foot", "the right foot", "R ft"),
    _habit(r"\b(?:left foot|LF)\b", "LF", "left foot", "L foot", "the left foot", "L ft"),
    _habit(r"\b(?:forwards?|fwd\.?|frwd)(?=\W|$)", "fwd", "forward", "forwards", "fw", "fwd.", "frwd", "ahead"),
    _habit(r"\bbackwards?\b", "back", "bwd", "bk", "backwards"),
    _habit(rf"(?<=\bstep )({SIDE}) back\b", "{} bk", "{} backwards", "{} bwd"),
    _habit(r"\btogether\b", "tog", "tog.", "tgthr"),
    _habit(r"\b(?:next to|beside|alongside|by the side of)\b", "next to", "beside", "by", "alongside", "near"),
    _habit(r"\bbehind\b(?! the (?:chair|others))", "bhd", "beh", "behind"),
    _habit(r"\b(?:to the side|to side)\b", "to side", "to the side", "out to the side", "sideways", "side"),
    _habit(r"\bacross\b", "across", "over", "acr"),
    _habit(r"\b(?:grape ?vine|vine)\b", "vine", "grapevine", "grape vine", "Vine"),
    _habit(r"\btap(?=s?\b)", "touch", "tap"),
    _habit(r"\btouch(?=\b)(?! screen)", "touch", "tap", "tch"),
    _habit(r"\b(?:recover|replace)\b", "recover", "rec", "replace", "rec."),
    _habit(r"\bdiagonal(?:ly)?\b", "diag", "diagonal", "diag."),
    _habit(r"(?<!three )(?<!a )\bquarter(?= turn| left| right|-turn)", "1/4", "¼", "quarter", "a 1/4"),
    _habit(r"(?:1/4|¼)(?= ?turn| left| right| L\b| R\b)", "¼", "1/4", "quarter"),
    _habit(r"(?<!a )\bhalf(?= turn| left| right|-turn)", "1/2", "½", "half"),
    _habit(r"(?:1/2|½)(?= ?turn| left| right| L\b| R\b)", "½", "1/2", "half"),
    _habit(r"\bshoulder[- ]height\b", "shoulder height", "shoulder-height", "shoulder level", "the height of the shoulders"),
    _habit(r"\b(?:o'?clock|o’clock)", "o'clock", "o’clock", "oclock"),
    _habit(r"(?<=\d):00(?= wall|\)|,|\.|$)", " o'clock", ":00", " oclock"),
    _habit(r"(?<=\d) (?:counts|beats|cts)\b", " counts", " beats", " cts", " ct", " count"),
    _habit(r"\bsection (?=\d|[A-F]\b|one|two|three|four)", "part ", "section ", "sect. ", "sec. ", "Sec "),
    _habit(r"\brepeat\b", "repeat", "rpt", "rep.", "do again", "redo"),
    _habit(r"(?<=[a-z]) and (?=[a-z])", " & ", " + ", " and "),
    _habit(r"(?<=[a-z)]) & (?=[a-z(])", " and ", " & ", " + "),
    _habit(r", then (?=[a-z])", ", ", ", and then ", "; then ", " then "),
    _habit(r"\b(?:the|your) (?=right|left|toe|heel|hands?\b|arms?\b|feet|foot|knees?\b|chest|lap|thighs)", "your ", "", "the ", "yr "),
    _habit(r"\bin front of\b", "before", "in front of", "i.f.o.", "to the front of"),
    _habit(r"\bwith the (?=right|left|R\b|L\b)", "with ", "with your ", "w/ ", "using the "),
    _habit(r"\bwith (?=a |both |R\b|L\b|right|left)", "w/ ", "w. ", "with "),
    _habit(r"\bin place\b", "on the spot", "in place", "on spot", "i.p."),
    _habit(r"\bon the spot\b", "in place", "on the spot", "on spot"),
    _habit(r"^([␞␟]?\d{1,2}) ?[-–] ?(?=\d{1,2}\b)", "{}-", "{} - ", "{}–", "{} to "),
    _habit(r"^(\d{1,2}[-–]\d{1,2})[:.)]?[ \t]+", "{}: ", "{}  ", "({}) ", "[{}] ", "{}. ", "{}\t", "{} - ", "{}) ", "cts {} ", "Counts {}: "),
    _habit(r"(?<=[a-z)])\.$", "", ".", ";", "!"),
    _habit(r"(?<=[a-z)])[;,] (?=[a-z])", ", ", "; ", " - ", " … "),
    _habit(r" ?\((\d(?:[&,-]\d)*&?)\)", " ({})", " [{}]", " <{}>"),
)  # fmt: skip


def reworded(text: str, rng: random.Random) -> str:
    """A text with a few habits of another hand."""
    if rng.random() >= SHARE or COLUMNS.search(text) or BETWEEN.search(text):
        return text
    fit = [habit for habit in WAYS if habit.there.search(text)]
    for habit in rng.sample(fit, min(len(fit), rng.randint(*HABITS))):
        text = _written(text, habit, rng.choice(habit.ways))
    return text


def _written(text: str, habit: Habit, way: str) -> str:
    def new(found: Match[str]) -> str:
        said = way.replace("{}", found[1]) if "{}" in way else way
        return said[:1].upper() + said[1:] if found[0][:1].isupper() and found[0][1:2].islower() else said

    return habit.there.sub(new, text)
