"""Lines that are not steps: section headings in all their dress, tags, restarts, endings, notes, the end of a wall."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from softshoe.wording.extras import kinds_in
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.leaving import leaves_off
from softshoe.wording.numbers import in_digits, ordinals_in_digits, place_number
from softshoe.wording.shape import shape

BULLET = shape(r"^\s*(?:[-–—•·*>+○▪►]+|\((?=[A-Z]))?\s*")
NUMBER = r"\d+|[IVX]+|[A-H]|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
NAMED = shape(
    rf"^\W*(?:(?:section|sect?|part|set|block|phrase|verse|figure|sequence|lot|bit|chunk|passage|group|stage|stanza|"
    rf"movement)\b\.?\s*#?\s*({NUMBER})|(?:S|"
    rf"Sec)\.?\s?#?(\d+)|#\s*(\d+)(?!\d|\s*[-–—]\s*\d))\b"
    r"(?!\s*(?:counts?|times|walls?)\b)",
    re.IGNORECASE,
)
LETTERED = shape(
    r"^\W*(?:([A-H])(?:\s*[:.)\]]\s|\s+(?=\(?(?:counts?|cts)\b)|\s+(?=\(\d+\s?(?:counts?|cts|c)?\)))|([A-H])\s*[-–—]\s|([IVX]{1,5})\s*(?:[:.)\]–-]\s|\s{1,}(?=\S)))"
)
ROMAN_ALONE = shape(r"^\W*([IVX]{1,5}|[A-H]|(?i:one|two|three|four|five|six|seven|eight))\W*$")
EIGHTS = shape(
    r"^\W*(?:(?:and|then|now|so|next|here(?:['’]s|\s+is|\s+comes|\s+are)|this is)\s+)*"
    r"(?:(?:for|in|during|on|comes)\s+)?(?:(?:the|your|our|my)\s+)?"
    r"(first|second|third|fourth|fifth|sixth|seventh|eighth|next|last|\d+(?:st|nd|rd|th))\s+"
    r"(?:set of\s+)?(?:eight|8|six|6|part|section|set|half|block|phrase|lot|bit|chunk|passage|group|16|sixteen|"
    r"figure|verse|stage|stanza|movement|piece)s?\b(?:\s+counts?)?",
    re.IGNORECASE,
)
EIGHT_NUMBER = shape(rf"^\W*(?:eight|8)\s*(?:#|no\.?|nr\.?|number)?\s*({NUMBER})\b\W*$", re.IGNORECASE)
PART_OF = shape(  # "First verse, line 2"
    rf"^[^\d,;:–—-]{{3,24}}(?:,|:|\s[-–—])\s*(?:line|part|half|section|row|eight|block)\s+(?:{NUMBER})\b\W*$",
    re.IGNORECASE,
)
EIGHT_MORE = shape(
    r"^\W*(?:(?:and|then|now)\s+)*(?:(?:another|a further|one more)\s+(?:eight|8|six|6|sixteen|16)|"
    r"(?:eight|8|six|6|sixteen|16)\s+more)"
    r"(?:\s+(?:counts?|beats?))?\W*$",
    re.IGNORECASE,
)
BARS = shape(r"^\W*bars?\s+(\w+)\s*(?:and|to|&|-|–|,|\+)\s*(\w+)", re.IGNORECASE)
RANGE = shape(
    r"^\W*[\[({]?\s*(?:counts?|cts?|beats?|steps?(?=\s+\d+\s*(?:-|–|—|to)\s*\d+\W*$))?\s*(\d{1,3})\s*(?:-|–|—|to|"
    r"through)\s*(\d{1,3})\s*[\])}]?\s*(?:counts?)?(?=\W|$)",
    re.IGNORECASE,
)
RANGE_WORDS = shape(
    r"^\W*(?:(?:counts?|beats?)\s+)?(?:one|seven|nine|thirteen|seventeen|nineteen|twenty|thirty|forty|fifty)[\w\s-]{0,12}?"
    r"\s(?:to|through|until)\s[\w\s-]{3,14}\W*$",
    re.IGNORECASE,
    needs="to|through|until",
)
INNER_RANGE = shape(
    r"[\[({]?\s*\b(?:counts?|cts?|beats?)?\s*(\d{1,3})\s*(?:-|–|—|to|through)\s*(\d{1,3})\s*[\])}]?", re.IGNORECASE
)
TAG = shape(
    r"^\W*(?:(?:the\s+)?(?:\d+|two|four|eight|six|twelve|sixteen)[\s-]*counts?\s+)?(?:easy\s+)?(tag|"
    r"bridge)s?\b(?!\s+of\s+the)|^\W*(?:the|our|and the|a)\s+(?:\w+\s+)?tags?\s*(?:[:(=–-]|$)",
    re.IGNORECASE,
)
ENDING = shape(
    r"^\W*(?:(?:optional|big|the|to|for|for the|at the|very|the very|at the very)\s+)?(ending|"
    r"(?<=very )end\b(?!\s+of\b)|finish|finale|outro|coda|end on wall|"
    r"schluss|closing(?=\s*[:–-])|end of (?:the )?dance|"
    r"(?:last|final)\s+(?:wall|time|round)|end(?=\s*[:–(|-]))\b(?!\s+with)",
    re.IGNORECASE,
)
RESTART = shape(r"\b(?:restarts?|start (?:again|over)|begin again)\b", re.IGNORECASE, needs="start|begin")
COUNT_FIRST = shape(r"^\W*\d+(?!st|nd|rd|th|\d)")
PLACED = shape(r"\bwalls?\b|\bafter\b|\btime\b", re.IGNORECASE)
WALL_END = shape(
    r"^\W*(?:(?:and|then|now|so)\s+)*(?:we\s+)?(?:(?:repeat|start (?:again|over)|begin (?:again|the dance again)|"
    r"restart|again|(?:(?:go\s+)?back\s+)?(?:to|from) the (?:top|beginning|start)|smile|enjoy|have fun|"
    r"keep (?:smiling|dancing)|start the dance again|"
    r"repeat (?:the )?(?:dance|sequence|from the (?:top|beginning|start))|end of (?:the )?(?:dance|pattern|wall)|"
    r"dance it again|that is the dance|that['’]s it|"
    r"that(?:['’]s| is) all(?: of it| there is(?: to it)?)?|off we go(?: again)?|"
    r"begin dance again|happy dancing|and smile)"
    r"(?:\s*(?:,|and|&|–|-|!)?\s*(?:smile|enjoy|repeat|begin again|start again|have fun|again|from the (?:top|"
    r"beginning|start)|happy dancing|and|to the end|"
    r"till the end|until the (?:music|song) ends|the dance))*)\W*$",
    re.IGNORECASE,
)
AGAIN_ON = shape(r"^\W*(?:begin|start|repeat)\w*\s+(?:again\b)?[^.\d]*\bnew wall\W*$", re.IGNORECASE)
BACK_TO = shape(
    r"^\W*(?:(?:and|then|now|so|we|you|all|go)\s+)*back to (?:number|no\.?|section|part|set|move)\s*(?:1|one|a)\b",
    re.IGNORECASE,
)
BOX_IS = shape(
    r"^\W*(?:each|every|one|a)\s+(?:box|square|cell|column|dash|dot)\s+(?:is|means|stands for|counts as|lasts|=)\s",
    re.IGNORECASE,
)
NOTE = shape(
    r"^\W*(?:note|notes|option|options|optional|styling|style|easier|harder|alternative|hint|tips?|contact|"
    r"e-?mail|choreograph\w*|"
    r"music|song|copyright|variation|teacher|teaching|remark|video|web\w*|n\.?b\.?|remember|attitude|"
    r"seated (?:option|version)|"
    r"non[- ]turning|chair option|modification|last (?:update|change)\w*|updated|revised|description|dedicated|"
    r"written by|by|©|key|abbreviations?|legend)\b"
    r"\s*(?:[:.–-]|$|\w+\s*:|for |by )",
    re.IGNORECASE,
)
LEGEND = shape(
    r"^\W*(?!(?:first|next|last|final|then)\b|\d[\d\s,&+–-]*=)(?:\w[\w ,/&]{0,24}\s*=\s*(?!\d)[^=;]+[;,.]?\s*)+\W*$"
)
MEANS = shape(  # "“x4” means …"
    r"^\W*(?:an? |the )?[\"“”'‘’]?[\w×][\w ,/&×]{0,24}[\"“”'‘’]?\s+means\s+\S", re.IGNORECASE
)
COLUMN = (
    r"(?:(?:what )?(?:your|the) (?:feet|hands|arms|legs)(?: do| does)?|"
    r"feet|foot(?:work)?|which foot|arms?|hands?|steps?|what(?: to do)?|movements?|moves?|action|"
    r"direction|who|legs?)"
)
ROW_HEAD = shape(
    r"^\W*(?:(?:section|sec|part|set|block)\s*(?:\||\t|\s{2,})\s*)?"
    r"(?:counts?|cts?|beats?|no\.?|step)\s*(?:\||\t|\s{2,}).*\b(?:steps?|feet|action|footwork|what|movement|"
    r"description|hands|arms|facing)\b|"
    rf"^\W*(?:{COLUMN}\s*(?:\||\t|\s{{2,}})\s*)+(?:counts?|cts?|beats?)\W*$",
    re.IGNORECASE,
)
LIMB = shape(
    r"^\W*(?:(?:the\s+)?(arms?|hands?|upper body|arms? and hands?|hands? and arms?|arm movements?|top|"
    r"fists?|fingers|palms)|(feet|foot|footwork|legs?|steps?|lower body))"
    r"(?:\s*\(both\)|,?\s+both|\s+all along)?\s*(?:[:=]|[-–—]\s|\s{2}|\t|"
    r"(?:(?<=arm)|(?<=arms)|(?<=hands)|(?<=feet)|(?<=legs))\s(?=\d))\s*",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Heading:
    """A section's heading: its number if it names one, the counts it gives, where its own words go on."""

    number: int | None
    counts: tuple[int, int] | None
    rest_at: int
    title: str
    named: bool = True


@lru_cache(maxsize=MOST_KEPT)
def heading_of(text: str) -> Heading | None:
    """Return the heading that a line is or begins with; None for any other line.

    >>> heading_of("PART ONE (counts 1-8): step touches").counts, heading_of("III. Floor circles (17-24)").number
    ((1, 8), 3)
    """
    for rule in (_part_of, _named, _lettered, _eights, _bars, _ranged):
        found = rule(text)
        if found is not None:
            return found
    return None


FEW = 5  # counts too few for a section: "A. heel, home, heel, home (1-4)"


def _inner(text: str, at: int) -> tuple[tuple[int, int] | None, int]:
    """Return the counts given behind a section's name and where they end."""
    found = INNER_RANGE.search(text, at)
    if found and int(found[2]) - int(found[1]) >= 3:
        close = found.start() == at or not text[at : found.start()].strip(" :.([{-–—|,")
        brackets = text[found.start() : found.end()].strip()[:1] in "([{" or "count" in found.group().casefold()
        between = text[at : found.start()].strip(" .:;)-–—")
        if re.search(r"\bon\s+(?:counts?\s+)?\d|[.;]\s", between, re.IGNORECASE):
            return None, at  # steps with counts of their own stand before it
        behind = re.search(r"[^\W\d]", text[found.end() :]) is not None
        few = int(found[2]) - int(found[1]) < FEW and (behind if close else True)
        if not few and (brackets or (close and not _counts_on(text, found))):
            return (int(found[1]), int(found[2])), found.end() if close else at
    return None, at


def _counts_on(text: str, found: re.Match[str]) -> bool:
    """ "S3: 1-4 …; 5-8 …": a range that others on the line go on from is no section's length."""
    return re.search(rf"[;,.|:]\s*(?:and\s+|then\s+)?{int(found[2]) + 1}\b", text[found.end() :]) is not None


EQUALS = shape(r"=\s*(?:section|sec|part|block|verse|S\d)", re.IGNORECASE)  # "S2: = S1"


def _rest(text: str, at: int) -> int:
    while at < len(text) and text[at] in " :.)]-–—|,\t=}*#" and not EQUALS.match(text, at):
        at += 1
    return at


def _part_of(text: str) -> Heading | None:
    """ "First verse, line 2": which number it has among all of them is left open."""
    return Heading(None, None, len(text), text.strip()) if PART_OF.match(text) else None


def _named(text: str) -> Heading | None:
    found = NAMED.match(text)
    if not found:
        return None
    number = place_number(next(filter(None, found.groups())))
    counts, end = _inner(text, found.end())
    return Heading(number, counts, _rest(text, end), text[_rest(text, end) :].strip())


def _lettered(text: str) -> Heading | None:
    lettered = LETTERED.match(text)
    found = lettered or ROMAN_ALONE.match(text)
    if not found:
        return None
    mark = next(filter(None, found.groups()))
    after = text[found.end() : found.end() + 40]
    if (
        mark in ("I", "V", "X")
        and re.match(r"\s*[a-z]", after)
        and "." not in found.group()
        and not re.match(r"\s*(?:rpt|repeat|same)", after)
    ):
        return None
    number = place_number(mark)
    if len(mark) == 1 and mark in "IVX" and lettered and lettered[1] is None and lettered[2] is None:
        number = {"I": 1, "V": 5, "X": 10}[mark]
    counts, end = _inner(text, found.end())
    return Heading(number, counts, _rest(text, end), text[_rest(text, end) :].strip())


def _eights(text: str) -> Heading | None:
    found = EIGHTS.match(text)
    if found:
        plain = ordinals_in_digits(found[1])
        counts, end = _inner(text, found.end())
        return Heading(
            int(plain) if plain.isdigit() else None, counts, _rest(text, end), text[_rest(text, end) :].strip()
        )
    if EIGHT_MORE.match(text):
        return Heading(None, None, len(text), "")
    found = EIGHT_NUMBER.match(text)
    return Heading(place_number(found[1]), None, len(text), "") if found else None


def _bars(text: str) -> Heading | None:
    found = BARS.match(text)
    if not found:
        return None
    return Heading(None, None, _rest(text, found.end()), text[_rest(text, found.end()) :].strip())


def _ranged(text: str) -> Heading | None:
    """ "[9-16] Vine", "Counts 9 to 16.", "17-24": a stretch of counts that stands alone or in square brackets."""
    found = RANGE.match(text)
    if not found and RANGE_WORDS.match(text):
        plain = RANGE.fullmatch(in_digits(text).rstrip(" .:-–—*=#"))
        return Heading(None, (int(plain[1]), int(plain[2])), len(text), "") if plain else None
    if not found or int(found[2]) - int(found[1]) < 3:
        return None
    body = text[found.end() :].strip(" :.-–—*=#|\t")
    bracketed = text.strip()[:1] in "[{" or "count" in found.group().casefold()
    counts = (int(found[1]), int(found[2]))
    if body and not bracketed:
        return None
    if body and text.strip()[:1] not in "[{":
        return Heading(None, counts, _rest(text, found.end()), body, named=False)
    return Heading(None, counts, _rest(text, found.end()), body)


COUNTED_BEFORE = shape(r"^[#*>\s]*(?:[\[({]?\d{1,3}\s*[-–—]\s*\d{1,3}[\])}]?\s*[:.)–—-]?\s*)?(?=\S)")


def bare_title(text: str) -> str:
    """Return a heading's words without marks and counts before them: "# 9-16 Paddles" is called Paddles."""
    return (text[found.end() :] if (found := COUNTED_BEFORE.match(text)) else text).strip()


REMARK_BEHIND = shape(r"(?<=[\w!)])(?:\s*[(\[][^()\[\]]*[)\]]\W*|[.!]\s+\S.*)$", re.DOTALL, needs="(|[|.|!")

COUNTS_ALONE = shape(
    r"\s*[(\[]\s*(?:counts?|cts?)?\s*\d{1,3}(?:\s*(?:-|–|to\b|and\b|[&,])\s*\d{1,3}|\s+\d{1,3})+\s*[)\]]\W*",
    re.IGNORECASE,
)


def _ends_with_remark(text: str) -> bool:
    """ "Start again. (32 counts, 1 wall, beginner)": the end of the wall with something to know behind it."""
    found = REMARK_BEHIND.search(text)
    if found is None or COUNTS_ALONE.fullmatch(found.group()):
        return False  # "Repeat (5-8)"
    if kinds_in(found.group()) or re.search(r"\b(?:on|in|after) wall\b", found.group(), re.IGNORECASE):
        return False
    return WALL_END.match(text[: found.start()]) is not None


Kind = Literal["tag", "ending", "restart", "end", "note", "legend", "row head", ""]


@lru_cache(maxsize=MOST_KEPT)
def kind_of(text: str) -> Kind:
    """Return what a line is when it is neither heading nor steps; "" when its first words do not tell."""
    if WALL_END.match(text) or _ends_with_remark(text):
        return "end"
    if AGAIN_ON.match(text) or BACK_TO.match(text):
        return "end"
    if TAG.match(text):
        return "tag"
    if ENDING.match(text):
        return "ending"
    if RESTART.search(text) and PLACED.search(in_digits(ordinals_in_digits(text))) and not COUNT_FIRST.match(text):
        return "restart"
    if leaves_off(text) and not COUNT_FIRST.match(text):
        return "restart"
    if NOTE.match(text):
        return "note"
    if ("=" in text and LEGEND.match(text)) or (" means " in text and MEANS.match(text)) or BOX_IS.match(text):
        return "legend"
    return "row head" if ROW_HEAD.match(text) else ""
