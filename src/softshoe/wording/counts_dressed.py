"""Counts in the dress of a whole sheet made plain: behind the words, in words, under a name of the sheet's own.

    R knee up, R down = 1 2        ->   R knee up, R down (1-2)
    clap, clap ............. 3 4   ->   clap, clap (3-4)
    ONE step L   TWO touch R       ->   1:  step L   2:  touch R
    Clue 5-8: stamp R, stamp L     ->        5-8: stamp R, stamp L

One line alone tells too little; where the lines of a sheet count on in one dress, it is how counts are written here.
Every word keeps its place.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.begins import first_count
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.numbers import SPELLED, in_digits
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from softshoe.wording.lines import Line

MANY = 3  # lines
WORD = "|".join(sorted((w for w, n in SPELLED.items() if n), key=len, reverse=True))
SAID = rf"(?:{WORD})(?![^\W_])"
ONE = rf"(?:\d{{1,2}}|(?:(?:twenty|thirty|forty|fifty|sixty)[- ](?:{WORD})|{WORD})(?![^\W_]))"
JOINT = r"(?:\s*[-–—,&+/]\s*|\s*\.\.+\s*|\s+(?:and|to|through|till|until)\s+|\s*,\s*and\s+|\s+)"
RUN = rf"{ONE}(?:{JOINT}{ONE})*(?:\s*&)?"
NAMED = r"(?:(?:to|for|over|on|in|taking|during)\s+(?:a\s+count\s+of\s+)?)?(?:counts?|cts?\.?|beats?)?\s*"
TAIL = shape(
    rf"(?P<words>.*?[\w)!?\"”’'.\]])(?P<sep>\s*\.{{2,}}\s*|\s*…\s*|\s*[=@>~*|/:]+>?\s*|\s+[-–—]+>?\s+|\s*[-–—]+>\s*|,\s+|\s{{2,}}|"
    rf"\s+(?=(?:on|for|over|to)\b|\d{{1,2}}\s*[-–&]\s*\d|\d{{1,2}}(?:\s+\d{{1,2}})+\s*$))(?P<named>{NAMED})(?<![\w/:])(?P<run>{RUN})\s*[|.;]?\s*$",
    re.IGNORECASE,
)
CLOCKS = shape(r"\d{1,2}[:.]\d\d|\d/\d|\bx\s?\d|\d\s?x\b|\b\d+ (?:times|o.?clock)\b|\d{1,2}h\b", re.IGNORECASE)
COUNTED = shape(r"\bon (?:counts? )?\d|[(\[]\s*\d|\d\s*[-–—&+]\s*\d|[;,:=]\s*\d|\d[.)]\s|=\s*\w", re.IGNORECASE)
PAIR = shape(r"\s*(?:&|\+|\band\b)\s*", re.IGNORECASE)


BARE = shape(r"[\W_]*\d{1,2}(?!\d|\s*(?:counts?|walls?|bpm|beats?)\b)", re.IGNORECASE)


ENDS = shape(rf"(?:\d|{WORD})\s*&?\s*[|.;]?\s*$", re.IGNORECASE)
LONGEST = 300  # characters of a line whose counts stand behind it
MOST = 3000  # lines that are looked at


class Told(NamedTuple):
    """The counts of a line: the first and the last, and the line in plain dress."""

    first: int
    last: int
    text: str


def counted(lines: list[Line], unit: int) -> list[Line]:
    """Return the lines with their counts plain where many of them count on in such a dress.

    >>> from softshoe.wording.lines import lines_of
    >>> rows = lines_of("R knee up, R down = 1 2\\nL knee up, L down = 3 4\\nclap, clap = 5 6\\nhold, hold = 7 8")
    >>> [row.text for row in counted(rows, 8)][:2]
    ['R knee up, R down (1-2)', 'L knee up, L down (3-4)']
    """
    lines, rest = lines[:MOST], lines[MOST:]
    for way in (tailed, spelled, titled):
        found = {i: told for i, line in enumerate(lines) if (told := way(line.text)) is not None}
        found = {i: told for i, told in found.items() if len(told.text) <= len(lines[i].text) + (i + 1 < len(lines))}
        right = _counting_on(found, unit) if len(found) >= MANY else []
        if way in (tailed, spelled) and sum(BARE.match(line.text) is not None for line in lines) >= len(right):
            continue  # "One: heels" over "1-4 …"
        if way is titled and right and all(first_count(line.text) == 1 for i in right for line in lines[i + 1 : i + 2]):
            continue  # "Jar 1: mambo" over "1-4 …"
        if len(right) >= MANY and 4 * len(right) >= 3 * len(found):
            lines = [line._replace(text=found[i].text) if i in right else line for i, line in enumerate(lines)]
    return [*lines, *rest] if rest else lines


def _counting_on(found: dict[int, Told], unit: int) -> list[int]:
    """Return which lines go on from the one before them, or begin the count anew."""
    out: list[int] = []
    last = 0
    below = [*list(found.values())[1:], None]
    for (i, told), after in zip(found.items(), below, strict=True):
        whole = told.last - told.first + 1 >= unit
        if whole and after is not None and after.first in (1, told.first) and after.last - after.first + 1 < unit:
            continue  # "Motorway, counts 1 to 8" over "… 1 2 3 4": a heading
        anew = told.first == 1 or (told.first % unit == 1 and told.first <= last + unit + 1)
        if told.first == last + 1 or anew:
            out.append(i)
            last = told.last
    return out


def _plain(run: str) -> tuple[int, int, str] | None:
    """Return the first and the last of a run of counts, and the run in digits; None where it does not count on."""
    digits = in_digits(run).casefold()
    numbers = [int(n) for n in re.findall(r"\d+", digits)]
    if not numbers or not 0 < numbers[0] <= numbers[-1]:
        return None
    dashed = re.fullmatch(r"\d+(?:\s*[-–—]\s*|\s*\.\.+\s*|\s+(?:to|through|till|until)\s+)\d+", digits)
    if dashed is None and any(b != a + 1 for a, b in pairwise(numbers)):
        return None
    if len(numbers) == 1 or (PAIR.search(digits) and not dashed):
        whole = len(numbers) > 2 and not re.search(r"[&+]|and.*and", digits)
        return numbers[0], numbers[-1], f"{numbers[0]}-{numbers[-1]}" if whole else digits
    return numbers[0], numbers[-1], f"{numbers[0]}-{numbers[-1]}"


def behind(text: str) -> Told | None:
    """ "R knee up, R down = 1 2", "clap, clap … on 3 4", "hold ......... five to eight"."""
    found = TAIL.match(text) if ENDS.search(text[-14:]) and len(text) <= LONGEST else None
    if found is None or first_count(text) is not None:
        return None
    read = _plain(found["run"])
    bare = CLOCKS.sub("", found["words"])
    if read is None or not re.search(r"[^\W\d]{2}", bare) or COUNTED.search(bare):
        return None
    single = read[0] == read[1]
    if single and re.search(r"for|over|in|to", found["named"], re.IGNORECASE):
        return None  # "roll the hands for 4": a length
    end = found.end("words")
    room = len(text) - end
    if room < len(read[2]) + 1:
        return None
    room = max(room, len(read[2]) + 2)
    blank = " " if room > len(read[2]) + 2 and text[end] == " " else ""
    told = f"({read[2]}".ljust(room - 1 - len(blank)) + ")"
    return Told(read[0], read[1], text[:end] + blank + told)


HEAD = shape(
    rf"(?P<lead>[\W_]*)(?P<run>{SAID}(?:{JOINT}{SAID})*)(?P<mark>\s*[:;.=)–—-]+\s+|,\s+|\s+)(?=[^\W\d])", re.IGNORECASE
)
LATER = shape(
    rf"(?:\s{{2,}}|[,;.|/–—-]\s+)(?P<run>{SAID}(?:\s+(?:and|to)\s+{SAID})?)(?=\s*[:=–—-]?\s+[^\W\d])", re.IGNORECASE
)
MEASURE = shape(
    r"(?:times|counts?|beats?|bars?|more|walls?|eights?|sixes|of|or|at|people|minutes?|seconds?)\b", re.IGNORECASE
)
RANGED = shape(r"(?<![\d/])\d{1,2}\s*[-–]\s*\d{1,2}(?![\d/])")  # "Two: heels; 1-4 …": the word heads the line
MANY_OF = shape(r"\w+s\b|feet\b|by\b", re.IGNORECASE)  # "two claps": how many, where nothing else tells a count


@lru_cache(maxsize=MOST_KEPT)
def spelled(text: str) -> Told | None:
    """ "one, two: clap", "ONE step L   TWO touch R   THREE hold", "five to eight - march"."""
    found = HEAD.match(text) if text[:16].strip() and len(text) <= LONGEST else None
    read = _plain(found["run"]) if found is not None else None
    if found is None or read is None or MEASURE.match(text, found.end("mark")) or RANGED.search(text):
        return None
    last, spans = read[1], [(*found.span("run"), read[2])]
    for later in LATER.finditer(text, found.end("mark") - 1):
        told = _plain(later["run"])
        if told is not None and told[0] == last + 1 and not MEASURE.match(text[later.end() :].lstrip(" :=–—-")):
            last = told[1]
            spans.append((*later.span("run"), told[2]))
    alone = len(found["mark"]) == 1 and read[0] == last
    if alone and (not found["run"][:1].isupper() or MANY_OF.match(text, found.end("mark"))):
        return None
    for start, end, counts in spans:
        text = _bracketed(text, start, end, counts)
    return Told(read[0], last, text)


def _bracketed(text: str, start: int, end: int, counts: str) -> str:
    """Return the text with counts in brackets where their words stood; a sign behind them goes."""
    told = f"({counts}".ljust(end - start - 1) + ")"
    while end - start < len(told) or (text[end : end + 1] and not (text[end].isalnum() or text[end] == " ")):
        end += 1
    return text[:start] + told.ljust(end - start) + text[end:]


EACH = shape(
    r"(?<=[^\W\d]|[)!”\"’])(?<!\b(?:on|to|in|of|at))(?<!for|and)\s*(?:[=–—-]\s*)?\b(?P<n>\d{1,2})(?:\s*[,;.|/]|\s*$)",
    re.IGNORECASE,
)


def amid(text: str) -> Told | None:
    """ "heel forward = 1, home = 2", "heel forward 1, home 2": a count behind each movement."""
    found = list(EACH.finditer(text)) if len(text) <= LONGEST and ENDS.search(text[-14:]) else []
    numbers = [int(re.sub(r"\D", "", m[0])) for m in found]
    if len(found) < 2 or any(b != a + 1 for a, b in pairwise(numbers)) or first_count(text) is not None:
        return None
    if len(re.findall(r"\d+", CLOCKS.sub("", text))) > len(found):
        return None
    return Told(numbers[0], numbers[-1], EACH.sub(_bracket, text))


def _bracket(found: re.Match[str]) -> str:
    lead = len(found[0]) - len(found[0].lstrip())
    told = f"({found['n']})"
    blank = lead if lead + len(told) <= len(found[0]) else 0
    return (" " * blank + f"({found['n']}".ljust(len(found[0].rstrip()) - blank - 1) + ")").ljust(len(found[0]))


@lru_cache(maxsize=MOST_KEPT)
def tailed(text: str) -> Told | None:
    """Return a line with its counts behind the words, those of each movement or of all of them."""
    return amid(text) or behind(text)


OWN = shape(
    r"^(?P<lead>[\W_]*)(?P<name>[^\W\d_]{1,12}\.?)\s*(?P<sep>\s|(?<=\.)|(?<=c))(?P<run>\d{1,2}(?:\s*[-–—&+,]\s*\d{1,2}|\s+to\s+\d{1,2}|&|(?:\s+\d{1,2})+)*)"
    r"(?=\s*[:.)=>–—-]+\s|\s+[^\W\d])"
)
KNOWN = frozenset(("on", "for", "from", "count", "counts", "ct", "cts", "beat", "beats", "bar", "bars", "wall", "walls",
"section", "part", "set", "tag", "feet", "foot", "legs", "hands", "arms", "hand", "arm", "repeat", "rpt", "as", "same",
"mirror", "then", "and", "at", "to", "step", "steps", "restart", "ending", "intro", "until", "during", "over", "hold",
"walk", "march", "clap", "pat", "tap", "stamp", "kick", "right", "left", "r", "l", "rf", "lf", "verse", "chorus",
"by", "phrase", "eight", "bridge", "a", "b", "s", "measure", "measures", "body", "hips", "head"))  # fmt: skip


@lru_cache(maxsize=MOST_KEPT)
def titled(text: str) -> Told | None:
    """ "Clue 1-4: toes", "Bt. 5 6 stamp": a word of the sheet's own before its counts."""
    found = OWN.match(text) if text and len(text) <= LONGEST else None
    if found is None or found["name"].casefold().rstrip(".") in KNOWN:
        return None
    read = _plain(found["run"])
    if read is None:
        return None
    start, end = found.start("name"), found.end("run")
    counts = read[2].rjust(end - start - 1)
    return Told(read[0], read[1], text[:start] + f"({counts})" + text[end + 1 :])
