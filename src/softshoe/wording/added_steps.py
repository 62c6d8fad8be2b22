"""The steps of a tag or an ending told on the line that heads it: where they begin, and what is said behind them."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.lex import tokens_of
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Iterator

STEPLESS = shape(
    r"\b(?:walls?|dance|dancing|danced|count|counts|more|extra|restart|starts?|begin|again|tags?|bridge|ending|facing|end|"
    r"after|continue|carry|then go on|go on|last|final|once|here|comes?|"
    r"you\s+(?:are|face|see|will)|we\s+(?:are|face)|"
    r"finish|happens|added?|add|to face|longer|shorter|w\d|music|slows|stops|times?)\b",
    re.IGNORECASE,
)


ADDED = shape(r"\s*(?:add|do|put\s+in)\s+", re.IGNORECASE)
GOES_ON = shape(
    r",?\s*\b(?:and|then)\s+(?:(?:then|only)\s+){0,2}(?:(?:carry|go|keep)\s+(?:straight\s+)?(?:on|going)|continue|resume)\b"
    r"(?:\s+(?:with|from|at|into|on to|to)\s+(?:the\s+)?"
    r"(?:count|section|part|s|rest|remaining|second|third|next)?\s*[\w ]{0,20})?",
    re.IGNORECASE,
)
BACK_TO_ONE = shape(
    r"[,.;]?\s*\b(?:and|then|before|again)\s+(?:then\s+)?(?:(?:you|we)\s+)?(?:go\s+|dance\s+)?(?:back\s+)?(?:(?:from|to)\s+(?:the\s+(?:top|start|beginning|first\s+\w+)|1|one)\b|"
    r"(?:re-?start|start|begin)(?:ning|ing)?\b(?!\s+with))[^.;:]*[:.!)]*\s*$|"
    r"(?<=[.;])\s*then\s+(?:\w+\s+){0,2}(?:no\.?|number|section|part|row)\s*(?:1|one|A)\W*$|"
    r"(?<=[.;])\s*(?:then\s+)?(?:start|begin)\s+(?:over|again|anew|the\s+dance\s+again)\b[^.;:]*\W*$|"
    r"[,.;–-]?\s*\bthen\s+(?:from\s+[^\d,.;:]{2,24}\s+again|"  # "then from the latch again"
    r"[^\d,.;:]{2,24}\s+again\s+from\s+the\s+(?:top|start|beginning))\W*$",  # "then Green again from the start"
    re.IGNORECASE,
)
NO_WORDS = shape(r"(?:[\W\d]|then|and)*", re.IGNORECASE)
SUMMED = shape(
    r"\bhere\b|\(\s*\w+\s+(?:counts?|cts?|beats?)\s*\)|\bfor\s+\w+\s+(?:counts?|cts?|beats?)\b", re.IGNORECASE
)
STEPS_BEHIND = shape(
    r"\s[–—=-]\s|(?<=\S)\s{2,}(?=[^\W\d])|:\s|\|\s|\bthen\b|,\s*(?:add|do)\b|;\s|\)\s|(?<!\b[Nn]o)(?<!\b[Nn]r)\.\s|\bcounts?\s+\d+\b,?\s+(?:and\s+)?(?=[^\W\d])(?!(?:to|through|until|and|or)\b)|"
    r"\b\d+\s+counts?\b,?\s+(?:and\s+)?(?=[^\W\d])",
)
WALL_BEFORE = shape(
    r"\b(?:end of|after|behind)\s+(?:the\s+)?(?:walls?\s+\w+|\w+\s+(?:wall|time(?:\s+(?:through|round))?)),?\s+"
    r"(?=[^\W\d])|"
    r"\b(?:when|once)\s+(?:the\s+)?(?:wall\s+\w+|\w+\s+wall)\s+is\s+(?:over|done|finished|through),?\s+(?=[^\W\d])",
    re.IGNORECASE,
)
IN_BRACKETS = shape(r"\((?=[^()]*,[^()]*\))")  # "4 extra counts (clap, hold, clap, hold), then on"
COMMA = shape(r",\s+(?=[^\W\d])")
CLAUSE = shape(r"[,;:.]")
PLACING = shape(  # what stands before the comma behind which the steps begin: "when the music stops, stomp right"
    r"\b(?:over|stops?|stopped|ends?|runs\s+out|fades|done|finished|danced|finish(?:es)?|only|walls?|rounds?|times?|last|final|"
    r"counts?|beats?|end\s+of\s+the\s+\w+)\b|\(\s*\d+\s*\)$",
    re.IGNORECASE,
)
PLACE_FIRST = shape(
    r"^\W*(?:(?:and|then|only)\s+)*(?:when|once|after|behind|stops?|end|until|up\s+to|dance)\b", re.IGNORECASE
)
LAST_SENTENCE = shape(r"(?<=[\w)][.!])\s+([^.!]*[^\W\d][^.!]*)[.!)]*\s*$")
SUM = shape(r"\b\w+\s+(?:counts?|beats?)(?:\s+in\s+all)?\b", re.IGNORECASE)
IDLE = ("mark", "fill", "prep", "join", "note", "word", "look", "on", "wallname", "clock")
BOWING = ("bow", "bows", "curtsey", "curtsy")
SIDED = ({"place", "side"}, {"footpart", "side"}, {"hand", "dir"})
MOVING = ("verb", "gest", "pattern", "draw", "dual")


def inline_steps(text: str) -> int | None:
    """Return where a tag's or ending's own steps begin on its heading line; None when it holds none.

    >>> inline_steps("Ending: when the music stops, stomp right"), inline_steps("Tag after wall 3")
    (30, None)
    """
    marked = list(_behind_marks(text))
    ways = (*marked, *_in_brackets(text), *_behind_wall(text), *_behind_commas(text))
    found = next((at for at in ways if moves(text[at:])), None)
    return found if found is not None or not marked else marked[0]


def steps_told(text: str) -> bool:
    """Return whether a line tells its own steps, and more of them than to hold ("take a bow")."""
    at = inline_steps(text)
    return at is not None and any(t.kind in MOVING and t.value != "hold" for t in tokens_of(text[at:], line=0))


def _behind_marks(text: str) -> Iterator[int]:
    """Where words that tell no place stand behind a colon, a dash, "then"."""
    for m in STEPS_BEHIND.finditer(text):
        lead = ADDED.match(text, m.end())
        begin = lead.end() if lead else m.end()
        rest = BACK_TO_ONE.sub("", GOES_ON.sub("", f"then {text[begin:]}"))[4:]
        if NO_WORDS.fullmatch(rest) is None and not STEPLESS.search(SUMMED.sub("", _first_clause(rest.strip()))):
            yield begin


def _in_brackets(text: str) -> Iterator[int]:
    for m in IN_BRACKETS.finditer(text):
        inside = text[m.end() : text.index(")", m.end())]
        if moves(inside) and not STEPLESS.search(inside):
            yield m.end()


def _behind_wall(text: str) -> Iterator[int]:
    """Where a step stands straight behind the wall that is named."""
    found = WALL_BEFORE.search(text)
    if found and _danced(text[found.end() :]):
        yield found.end()


def _behind_commas(text: str) -> Iterator[int]:
    """Where steps stand behind a comma that closes the words of their place."""
    for m in COMMA.finditer(text):
        before = CLAUSE.split(text[: m.start()])[-1]
        tells_place = PLACE_FIRST.match(before) or not moves(PLACING.sub("", before))
        if PLACING.search(before) and tells_place and _danced(text[m.end() :]):
            lead = ADDED.match(text, m.end())
            yield lead.end() if lead else m.end()


def _first_clause(text: str) -> str:
    return CLAUSE.split(text)[0]


def _danced(text: str) -> bool:
    """Return whether the first clause of some words is a step, and tells no place."""
    lead = ADDED.match(text)
    first = SUMMED.sub("", _first_clause(text[lead.end() if lead else 0 :]))
    return not STEPLESS.search(first) and moves(first)


def steps_of(text: str, at: int) -> tuple[str, str]:
    """Return a tag's words without its steps, and its steps; what is said behind them is blank among the steps.

    >>> words, steps = steps_of("Tag, wall 2: sway, sway, then carry on with 9", 12)
    >>> words, steps.rstrip()
    ('Tag, wall 2:, then carry on with 9', ' sway, sway')
    """
    words, steps = text[:at], text[at:]
    if words.endswith("("):
        steps, behind, rest = steps.partition(")")
        words += behind + rest
    said, steps = goes_on_behind(steps)
    return words + said, steps


def goes_on_behind(steps: str) -> tuple[str, str]:
    """Return what is said behind a tag's steps of how the dance goes on, and the steps with blanks for it.

    >>> goes_on_behind("sway, sway. Then back to the start.")
    ('. Then back to the start.', 'sway, sway                         ')
    """
    said = ""
    for behind in (GOES_ON, BACK_TO_ONE):
        said += "".join(m[0] for m in behind.finditer(steps))
        steps = behind.sub(lambda m: " " * len(m[0]), steps)
    while (last := LAST_SENTENCE.search(steps)) and not _may_move(last[1]):
        said += last[0]
        steps = steps[: last.start()].ljust(len(steps))
    return said, steps


def _may_move(sentence: str) -> bool:
    """Return whether a sentence may hold a step: "Bow." and "Two counts, and everyone sighs." hold none."""
    return any(t.kind not in IDLE and t.low not in BOWING for t in tokens_of(SUM.sub("", sentence), line=0))


def moves(text: str) -> bool:
    """Return whether any word is a step or a gesture, or a side or way stands with a part of the body ("hips R L")."""
    tokens = tokens_of(text, line=0)
    sided = any({one.kind, two.kind} in SIDED for one, two in pairwise(tokens))
    return sided or any(t.kind in MOVING for t in tokens)
