"""Tags, bridges, restarts and endings: which walls, after which count, how many counts, what comes then."""

from __future__ import annotations

import re
from dataclasses import dataclass

from softshoe.dance.facing import from_clock
from softshoe.wording.numbers import all_numbers, in_digits, ordinals_in_digits, place_number
from softshoe.wording.shape import shape
from softshoe.wording.stretches import plainly

NO_COUNT = r"(?!\d|\s*(?:more\s+|extra\s+)?(?:-\s*)?(?:counts?|cts?|beats?)\b|:\d)"
LIST = rf"(\d+{NO_COUNT}(?:\s*(?:,|&|and|or|to|-|–|\+)\s*(?:the\s+)?(?:walls?\s+)?\d+{NO_COUNT})*)"
WALLS = shape(
    rf"\bwalls?\s*(?:no\.?\s*|numbers?\s*|#\s*|\()?{LIST}|\b{LIST}\s*walls?\b(?!\s*dance\b(?!\s+(?:the|only|up|to|\d)))|\bw\s?(\d+(?:\s*(?:,|&|and|or|\+|/)\s*(?:and\s+)?w?\s?\d+(?!:\d)(?!\s*(?:counts?|cts?|c)\b))*)\b",
    re.IGNORECASE,
)
TIMES = shape(
    rf"\b(?:on|in|of|after)\s+(?:the\s+)?{LIST}\s*(?:time|repetition|rotation|round|go)\b|"
    rf"\b(?:on|in|of|after|during)\s+(?:the\s+)?(?:rounds?|times?)\s+{LIST}(?![/\d])|"
    r"(?:^|[:.;–—-])\W*(?:the\s+)?(\d+)\s+(?:time|round)(?:\s+(?:through|round|only|put|add|"
    r"(?:that\s+)?(?:you|we)\s+dance)\b|[^\w(]*[,:])",
    re.IGNORECASE,
)
BETWEEN = shape(r"\bbetween\s+walls?\s+(\d+)", re.IGNORECASE)
FROM_ONE = shape(r"(?<!dance )(?<!danced )\b(?:to|from|at|with)\s+count\s+1\b", re.IGNORECASE)
PAST = r"(?:after|behind|following|do(?:ne)?\s+with)\s+(?:the\s+)?"
MARK = r"(?-i:[A-H]|[IVX]{1,4})"
SECTIONS = shape(
    rf"\b(?:(\d+)\s+(?:sections|eights|parts|sets|blocks|phrases|sixes)\b|{PAST}(\d+)\s+(?:section|eight|8s?\b|part|set|"
    r"block|row|line|box|phrase|verse|paragraph|figure|quarter(?!\s+turn)))",
    re.IGNORECASE,
)
LEFT_OUT = shape(r"\b(?:leave\s+out|skip|drop|without|miss)\s+(?:the\s+)?last\s+(\d+)\b", re.IGNORECASE)
LAST_MARK = shape(r"\d|[A-H]\b|[IVX]+\b", re.IGNORECASE)
SECTION_OUT = shape(
    r"\b(?:leave\s+out|skip|drop|without|miss)\s+(?:the\s+)?(?:sections?|parts?)\s+(\d+)", re.IGNORECASE
)
EVERY = shape(r"\b(?:every|each)\s+wall\b", re.IGNORECASE)
LAST_WALL = shape(r"\b(?:last|final)\s+(?:wall|time|repetition|round)\b", re.IGNORECASE)
AFTER = shape(
    r"\b(?:after|dance(?:\s+(?:up\s+)?(?:to|through)(?:\s+and\s+including)?)?|up to(?: and including)?|"
    r"following|do|done|until|as far as|danced(?:\s+(?:up\s+)?to)?)\s+"
    r"(?:(?:the|its|only|just|first|these|those|all|of)\s+)*(?:(?:counts?|beats?)\s*)?(\d+)\b(?!:\d)(?!\s*times?\b)(?![\s-]*(?:counts?|cts?|beats?)[\s-]+(?:tag|bridge))(?!\s*(?:(?:and|&|"
    r",)\s*\d+\s*)*walls?\b)"
    r"(?:\s*(?:counts?|cts?|steps|beats))?|\bfirst\s+(\d+)\s*(?:counts?|cts?|beats)|"
    r"(?<!add )(?<!then )\b(\d+)\s*(?:counts?|cts?|beats?)\s+in(?:to)?\b|"
    r"\b(\d+)\s*(?:counts?|cts?|beats?),?\s+(?:and\s+)?then\b"
    r"(?! (?:start|begin|restart|back|from|again|repeat|carry|continue|resume|go (?:on|back)))",
    re.IGNORECASE,
)
STOPPED = shape(  # "stop after the claps (sixteen counts)": the counts danced by then, none of a tag's own
    r"^(?!.*\b(?:tags?|bridge|add)\b).*?\b(?:stops?|leaves?\s+off|breaks?\s+off|restarts?|danced?)\b[^.:;()\d]{0,40}?"
    r"\b(?:after|behind|to|with|through)\s+(?=\w)(?!(?:the\s+)?(?:\d+\s+)?(?:walls?|times?|rounds?)\b)[^.:;()]{1,40}\(\s*(?:counts?\s+)?(\d+)\s*"
    r"(?:counts?|cts?|beats?)?\s*\)",
    re.IGNORECASE,
    needs="(",
)
ON_COUNT = shape(r"\b(?:on|at|replace|with|from)\s+count\s+(\d+)\b", re.IGNORECASE)
AFTER_SECTION = shape(
    rf"\b{PAST}(?:(?:eight|8|six|6|round|figure|bar)\s+(?=n))?(?:section|sec|part|set|s|row|line|verse|box|block|phrase|number|no\.?)\s*#?\s*(\d+|[A-H]|[IVX]+)\b|"
    rf"\b{PAST}\(?({MARK})(?:\)|(?=\W*$|[.,;:!]|\s+(?:and|then|is|on|only|restart|start|begin)\b))|"
    r"\bafter\s+\(([A-Ha-h])\)|"
    rf"\b(?:when|once)\s+({MARK})\s+is\s+(?:done|over|danced|finished)\b",
    re.IGNORECASE,
)
ONLY_SECTIONS = shape(  # "Wall 3: A, B, then restart", "do no.1 + no.2 only, then again"
    r"(?:[:,]\s*(?:do\s+|dance\s+)?|\b(?:only|just)\s+(?:do\s+|dance\s+)?)(?:only\s+|just\s+)?"
    r"((?:(?:s(?=\d)|sections?\s+|parts?\s+|no\.?\s*)?(?-i:\d\b|[A-H]\b|[IVX]{1,4}\b|[iv]{1,4}\b)(?:\s*[,+&]\s*|\s+and\s+|\s+(?=\S))?){1,6})"
    r"(?:only\b|just\b)?\W*(?:and\s+)?(?:then\s+)?(?:restart|(?:start|begin|back|from|again)\b)",
    re.IGNORECASE,
)
LENGTH = shape(r"(\d+)[\s-]*(?:extra\s+|more\s+)?(?:counts?|cts?|beats?)\b(?:\s+more)?", re.IGNORECASE)
MORE = shape(
    r"\b(?:add|then|plus|and)\s+(?:on\s+)?(?:these\s+)?(\d+)\s*(?:extra\s+|more\s+)?(?:counts?|cts?|beats?|more)",
    re.IGNORECASE,
)
CLOCK = r"(\d{1,2})(?::(\d{2}))?\s*(?:o['’]?\s?clock|o['’]c|h\b)?"
STARTS_AT = shape(
    rf"\b(?:starts?|starting|begins?|beginning|started|begun)\s+(?:at|facing|on|from|towards?|"
    rf"to)\s+(?:the\s+)?(?:{CLOCK}|(back|front|home))",
    re.IGNORECASE,
)
FACING = shape(
    rf"\b(?:facing|face|faces|to)\s+(?:the\s+)?(?:{CLOCK}(?=\W|$)|(back|front|home)(?:\s+wall)?)|"
    rf"[(\[]\s*(\d{{1,2}}):(\d{{2}})",
    re.IGNORECASE,
)
GO_ON = shape(
    r"\b(?:continue|carry on|go on|goes on|resume|then count|with count|carry|proceed|keep going)\b", re.IGNORECASE
)
AGAIN = shape(
    r"\b(?:restart|start(?: the dance)? (?:again|over)|begin(?: the dance)? again|from the (?:top|beginning|start))\b",
    re.IGNORECASE,
)
WHOLE = shape(
    r"\b(?:at the end|end of|after)\b(?:\s+of)?\s*(?:the\s+)?(?:walls?\b|\d+\s*walls?\b|\d+(?:\s*(?:and|&|"
    r",)\s*\d+)*\s*walls?\b|dance|whole)?",
    re.IGNORECASE,
)
AGAIN_WALL = shape(
    rf"(\bwalls?\s+\d+(?:\s*,\s*\d+)*|\b\d+\s+wall(?:\s*,\s*\d+)*)\s*(?:\((?![^()]*count)[^()]*\)\s*)?,?\s*(?:and|&)\s*"
    rf"(?:(?:then|again|once|also|(?:and )?once more|another|the other|one)\s+)*"
    rf"(?:(?:after|on|in|during|of|at|following|the|end)\s+)+(?:walls?\s+)?(\d+{NO_COUNT})(?:\s*walls?\b)?",
    re.IGNORECASE,
    needs="wall",
)
TWICE = shape(
    r"\bdanced\s+(?:(?:the|whole|all of|it|dance|through|all)\s+)*(?:(\d)\s+times|twice)\b",
    re.IGNORECASE,
    needs="danced",
)
FIRST_OF = shape(r"\bfirst\s+(?=\d)", re.IGNORECASE)
COUNTED = shape(r"\b\d+\s+walls?\b(?!\s*:)", re.IGNORECASE)
NONE = shape(
    r"\b(?:no|without|zero|never any|not any|neither)\b[^.;]*\b(?:tags?|restarts?|bridges?|endings?)\b|"
    r"\b(?:tags?|restarts?|bridges?|endings?)\b\s*[:=–-]?\s*(?:none|no|nil|0|n/a)\b",
    re.IGNORECASE,
)
AT_END = shape(
    r"\b(?:end of|after|when|once)\s+(?:the\s+)?(?:\w+\s+)?(?:walls?|time|rounds?)\b|"
    r"\bwalls?\s+[\w ,&]{1,20}?\W+at\s+(?:its|the|their)\s+end\b",
    re.IGNORECASE,
)
KINDS = (("restart", shape(r"\brestarts?\b", re.IGNORECASE)), ("tag", shape(r"\b(?:tags?|bridges?)\b",
re.IGNORECASE)),
         ("ending", shape(r"(?<!weight )\bending\b(?! on\b)", re.IGNORECASE)))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Placed:
    """Where something extra happens, as the words say. ``after`` None: not said; "end" stands for the end of the
    wall.
    """

    walls: tuple[int, ...]
    after: int | None
    at_end: bool
    section: int | None
    length: int | None
    last_wall: bool
    starts_at: int | None
    faces: int | None
    goes_on: bool
    again: bool
    rest_at: int


def _deg(m: re.Match[str], hour: int, minute: int, name: int) -> int | None:
    if m[hour]:
        return from_clock(int(m[hour]), int(m[minute] or 0)) if 1 <= int(m[hour]) <= 12 else None
    return {"back": 180, "front": 0, "home": 0}.get((m[name] or "").casefold())


def placed(text: str) -> Placed:
    """Read a tag's, restart's or ending's words.

    >>> p = placed("Tag (4 counts): at the end of walls 2 and 5 (facing 6:00)")
    >>> p.walls, p.at_end, p.length, p.faces
    ((2, 5), True, 4, 180)
    """
    plain = FROM_ONE.sub("", in_digits(ordinals_in_digits(FIRST_OF.sub("", in_digits(text)))))
    plain = plainly(_listed(TWICE.sub(lambda m: f"after wall {m[1] or 2}", plain)))
    walls = BETWEEN.search(plain) or WALLS.search(plain) or TIMES.search(plain)
    numbers = all_numbers(next(filter(None, walls.groups()))) if walls else ()
    blank = plain[: walls.start()] + " " * (walls.end() - walls.start()) + plain[walls.end() :] if walls else plain
    section = _section_of(plain)
    more = MORE.search(blank)
    without = blank[: more.start()] + "then".ljust(more.end() - more.start()) + blank[more.end() :] if more else blank
    after = STOPPED.search(without) or (None if section is not None else AFTER.search(without))
    on = ON_COUNT.search(without) if after is None and section is None else None
    start = STARTS_AT.search(plain)
    face = FACING.search(plain[: start.start()] + plain[start.end() :] if start else plain)
    length = None
    if more:
        length = int(more[1])
    else:
        lengths = [
            m
            for m in LENGTH.finditer(without)
            if not after or not (after.start() <= m.start() < after.end() or m[1] in after.groups())
        ]
        length = int(lengths[0][1]) if lengths else None
    return Placed(
        walls=numbers,
        after=int(next(filter(None, after.groups()))) if after else (_on_count(int(on[1])) if on else None),
        at_end=bool(re.search(r"\bend\b", plain)) or (after is None and on is None and section is None),
        section=section,
        length=length,
        last_wall=bool(LAST_WALL.search(plain)),
        starts_at=_deg(start, 1, 2, 3) if start else None,
        faces=_faces(face) if face else None,
        goes_on=bool(GO_ON.search(plain)),
        again=bool(AGAIN.search(plain)),
        rest_at=0,
    )


def stated_lengths(text: str) -> set[int]:
    """Return all lengths in counts that words name.

    >>> sorted(stated_lengths("Dance section 1 only (8 counts), then finish with two counts"))
    [2, 8]
    """
    return {int(found[1]) for found in LENGTH.finditer(in_digits(text))}


def _listed(plain: str) -> str:
    """ "After wall 2, and again after wall 4", "once on wall 3 and once on wall 6": the walls in one list."""
    while AGAIN_WALL.search(plain):
        plain = AGAIN_WALL.sub(lambda m: f"walls {', '.join(re.findall(r'[0-9]+', m[1]))}, {m[2]}", plain)
    return plain


def _section_of(plain: str) -> int | None:
    """Return the section that the words name as the last that is danced."""
    named = AFTER_SECTION.search(plain)
    if named:
        return place_number(next(filter(None, named.groups())))
    only = ONLY_SECTIONS.search(plain)
    if only:
        return place_number(LAST_MARK.findall(only[1])[-1].upper())
    many = SECTIONS.search(plain)
    if many:
        return int(next(filter(None, many.groups())))
    out = SECTION_OUT.search(plain)
    return int(out[1]) - 1 if out else None


def left_out(text: str) -> int | None:
    """Return how many counts at its end a wall leaves out ("leave out the last 16 counts"); None where none is said."""
    found = LEFT_OUT.search(in_digits(text))
    return int(found[1]) if found else None


def walls_in(text: str) -> tuple[int, ...]:
    """Return the walls that words name by number.

    >>> walls_in("on the third wall"), walls_in("walls 2 and 4"), walls_in("one wall")
    ((3,), (2, 4), ())
    """
    plain = ordinals_in_digits(text)
    found = WALLS.search(in_digits(plain)) or TIMES.search(in_digits(plain))
    if found is None or COUNTED.search(in_digits(text)):
        return ()
    return all_numbers(next(filter(None, found.groups())))


def _on_count(n: int) -> int:
    """ "On count 17" of an eight begun anew means 16 are danced; any other count named is danced."""
    return n - 1 if n % 8 == 1 or n % 6 == 1 else n


def _faces(m: re.Match[str]) -> int | None:
    if m[4]:
        return from_clock(int(m[4]), int(m[5])) if 1 <= int(m[4]) <= 12 else None
    return _deg(m, 1, 2, 3)


def kinds_in(sentence: str) -> list[str]:
    """Return which extras a sentence speaks of: "tag", "restart", "ending"."""
    return [name for name, pattern in KINDS if pattern.search(sentence)]


PHRASED = shape(
    r"\b(?:phrased|sequence|order|pattern)\b\W*(?:is\s+)?(?:dance\W+)?(?P<order>[A-H]\d?(?:\W+(?:and\s+|then\s+)?[A-H]\d?\b){1,30})",
    re.IGNORECASE,
    needs="phrased|sequence|order|pattern",
)


def phrased(text: str) -> str:
    """Return the order in which words say that the parts of a dance are danced, "" for none.

    >>> phrased("Phrased: A B A B"), phrased("Sequence: 32 counts")
    ('A B A B', '')
    """
    found = PHRASED.search(text)
    letters = re.findall(r"\b[A-H]\d?\b", found["order"]) if found else []
    return " ".join(letters) if len(letters) > len(set(letters)) else ""


def promised_number(kind: str, words: str) -> int | None:
    """Return how many tags or restarts words promise; None where they give no number.

    >>> promised_number("restart", "1 tag, two restarts"), promised_number("ending", "Tag after wall 2  Ending: at 8")
    (2, None)
    """
    found = re.search(rf"(?<!wall )(?<!walls )\b(\d) (?:easy )?{kind}s?\b", in_digits(words), re.IGNORECASE)
    return int(found[1]) if found else None
