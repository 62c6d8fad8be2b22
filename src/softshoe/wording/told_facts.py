"""What a head tells, by rules and by the facts network: where they differ, the network is believed when it is sure."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from softshoe.wording.facts_net import TITLE, Fact, net
from softshoe.wording.header import EXTRAS
from softshoe.wording.keeping import MOST_KEPT
from softshoe.wording.numbers import in_digits, number_spans
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.header import Head

SURE = 0.9  # that a fact is told, where the rules found none or another
CERTAIN = 0.98  # that none is told, where the rules found one; and for how a dance begins
FIELDS = {name: name for name in ("counts", "walls", "level", "seated", "intro", "tempo")} | {"start": "start_weight"}
MAY_GO = frozenset(("level", "intro", "tempo"))  # rules may take another number for these
SITTING = shape(r"chair|seat|stool|sofa|bench|cushion|\b(?:sit|sits|sat|sitting|sitters?|lap)\b", re.IGNORECASE)
LEVELLED = shape(
    r"\b(?:abs\w*|beg\w*|ab|b|imp\w*|int(?!ro)\w*|adv\w*|eas\w+|simple\w*|first|never|new\w*|level|learn\w*|start\w*|experienced?)\b",
    re.IGNORECASE,
)
SENTENCES = shape(r"(?<=[.;!])\s+")
LONGEST_TITLE = 7  # words; beyond it is a sentence
MADE_OF = shape(
    r"\b(?:eights?|bars?|fours?|sixes|measures?|phrases?|sets?|half|straight|twice|lots|rounds?|vocals?)\b",
    re.IGNORECASE,
)
BEGUN = shape(r"\b(?:weight|lead\w*|free|foot|feet|legs?|left|right|[lr]f?)\b", re.IGNORECASE)
ROUND = shape(
    r"\d\s*w\b|\bwalls?\b|\bfronts?\b|\bdirections?\b|\bfaces?\b|\b(?:turn|way|round|side|wander)\w*\b", re.IGNORECASE
)
WALLS = shape(
    r"(?<![\d.:])(\d)\s*-?\s*(?:walls?|wallers?|w|directions?|ways|fronts?)\b|\b(?:walls?|directions?)\W{0,3}(?:of\s+)?(\d)\b",
    re.IGNORECASE,
)
SAID = {"seated": SITTING, "level": LEVELLED, "start": BEGUN, "walls": ROUND}  # without such a word it is not told
CUT_BEFORE, CUT_BEHIND = shape(r"^$|[^\w\s'’,-]\s*$|\d\s*$"), shape(r"$|\s*[^\w\s'’-]|\s+[-–—\d]")
NO_LINE = frozenset(("title", "walls_guessed"))
WEIGHTY = frozenset(("seated", "start"))  # what all of the reading hangs on


def with_facts(head: Head, above: Sequence[tuple[int, str]], below: Sequence[tuple[int, str]]) -> Head:
    """Return a head as rules and network read it; the lines above and below the steps are numbers and words."""
    rows = [*above, *below]
    first = [text for _, text in rows[:1]]  # words of a title promise nothing
    facts = _facts((*first, *filter(None, (_of_every_wall(text) for _, text in rows[1:]))))
    changed = {
        FIELDS[name]: facts[name].value
        for name in FIELDS
        if name in facts and _better(head, name, facts[name], above if name == "start" else rows)
    }
    if (title := facts.get(TITLE)) is not None and _is_title(title, head.title):
        changed["title"] = title.value
    if changed.get("level") is not None:
        changed["any_level"] = False
    if "walls" in changed:
        changed["walls_guessed"] = not _is_counted(changed["walls"], rows)
    lines = {**head.lines, **{name: _line(rows, value) for name, value in changed.items() if name not in NO_LINE}}
    return replace(head, lines=lines, **changed) if changed else head


@lru_cache(maxsize=MOST_KEPT)
def _facts(lines: tuple[str, ...]) -> dict[str, Fact]:
    return net().facts(lines) if lines else {}


def _better(head: Head, name: str, fact: Fact, rows: Sequence[tuple[int, str]]) -> bool:
    known = getattr(head, FIELDS[name])
    if fact.value is None:
        shown = {number for number, text in rows if _of_every_wall(text) == text}
        return known is not None and name in MAY_GO and head.lines.get(name) in shown and fact.likely >= CERTAIN
    if known == fact.value or (known is not None and name not in MAY_GO):
        return False
    said = SAID.get(name)
    if said is not None and not any(said.search(text) for _, text in rows):
        return False
    if name == "counts" and fact.value == head.intro:  # one number can't be both
        told = [n for _, text in rows for _, _, n in number_spans(text)]
        return told.count(fact.value) > 1
    if name == "intro" and not _is_said(fact.value, [_of_every_wall(text) for _, text in rows]):
        return False
    return fact.likely >= (SURE if known is None and name not in WEIGHTY else CERTAIN)


def _is_counted(walls: int, rows: Sequence[tuple[int, str]]) -> bool:
    """Return whether a line tells that there are so many walls or ways."""
    found = (m for _, text in rows for m in WALLS.finditer(in_digits(text)))
    return any(int(m[1] or m[2]) == walls for m in found)


def _is_said(number: int, rows: Sequence[str]) -> bool:
    """Return whether a number stands in these lines, or may be made of others ("two eights")."""
    return any(n == number for text in rows for _, _, n in number_spans(text)) or any(map(MADE_OF.search, rows))


def _is_title(told: Fact, known: str) -> bool:
    """Return whether the network's title is to be taken: what it cuts off the rules' one stands behind a mark."""
    if not told.value or told.likely < CERTAIN or _letters(told.value) == _letters(known):
        return False
    before, found, behind = known.casefold().partition(told.value.casefold())
    return (
        not found
        or len(known.split()) > LONGEST_TITLE
        or (CUT_BEFORE.search(before) is not None and CUT_BEHIND.match(behind) is not None)
    )


def _of_every_wall(text: str) -> str:
    """Return a line without its sentences about tags, restarts, endings: their counts are no facts of the dance."""
    return " ".join(part for part in SENTENCES.split(text) if not EXTRAS.search(part))


def _letters(title: str) -> str:
    return "".join(c for c in title.casefold() if c.isalnum())


def _line(rows: Sequence[tuple[int, str]], value: Any) -> int:
    """Return the first line with the number, else the first of all."""
    values = set(value) if isinstance(value, tuple) else {value}
    found = (number for number, text in rows if values & {n for _, _, n in number_spans(text)})
    return next(found, rows[0][0])
