"""What somebody asks for, in her own words, as conditions: "seated, two walls under 110", "no turns", "has a Monterey".

A query is read from left to right; at each place the first rule that fits takes its words, and what no rule takes is
looked for in titles and sheets. Nothing is guessed in silence: what could not be used is told.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from softshoe.repertoire.plain import plain, words_of
from softshoe.tables import table

if TYPE_CHECKING:
    from datetime import date

Field = Literal[
    "counts", "walls", "level", "seated", "metre", "tempo", "turning", "biggest_turn", "tags", "restarts", "endings",
    "arms", "errors", "heads", "step", "label", "danced",
]  # fmt: skip
Value = float | str | frozenset[str]
LONGEST_QUERY = 500


@dataclass(frozen=True, slots=True)
class Condition:
    """One thing that must hold. ``low`` and ``high`` are both included, None for no limit; a set holds the names of
    which one must be there. ``holds`` False turns it round. ``said`` are the words it was read from.
    """

    field: Field
    low: float | str | None = None
    high: float | str | None = None
    names: frozenset[str] = frozenset()
    holds: bool = True
    said: str = ""


@dataclass(frozen=True, slots=True)
class Asked:
    """A query, read. ``words`` are words or phrases that the sheet must hold, ``title`` those that its title must,
    ``without`` those it must not; ``song`` names the song that it must fit. ``told`` is what could not be used, and
    why.
    """

    words: tuple[tuple[str, ...], ...] = ()
    title: tuple[tuple[str, ...], ...] = ()
    without: tuple[tuple[str, ...], ...] = ()
    conditions: tuple[Condition, ...] = ()
    song: str = ""
    told: tuple[str, ...] = ()


@dataclass(slots=True)
class Reading:
    """The query while it is read: what is left of it, and what was found."""

    left: str
    today: date
    asked: dict[str, list[object]] = field(default_factory=dict)
    song: str = ""

    def put(self, what: str, *found: object) -> bool:
        """Note what was found."""
        self.asked.setdefault(what, []).extend(found)
        return True

    def take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        """Take the words that a pattern fits off the front; the word must end where the pattern ends."""
        found = pattern.match(self.left)
        if (
            found is None
            or not found.group()
            or re.match(r"\w", self.left[found.end() :][:1] if self._ends(found) else "")
        ):
            return None
        self.left = self.left[found.end() :]
        return found

    @staticmethod
    def _ends(found: re.Match[str]) -> bool:
        return found.group()[-1:].isalnum()


def asked(query: str, *, today: date) -> Asked:
    """Read a query. Never raises: what is no condition is words.

    >>> from datetime import date
    >>> [c.field for c in asked("seated, two walls under 110, no turns", today=date(2026, 11, 28)).conditions]
    ['seated', 'walls', 'tempo', 'turning']
    """
    from softshoe.repertoire.asked_rules import RULES

    reading = Reading(re.sub(r"[“”„«»]", '"', query[:LONGEST_QUERY]), today)
    while reading.left.strip():
        reading.left = reading.left.lstrip(" \t\n,;.!?")
        if reading.left and not any(rule(reading) for rule in RULES):
            _word(reading)
    got = {key: tuple(values) for key, values in reading.asked.items()}
    return Asked(song=reading.song, **got)  # type: ignore[arg-type]


QUOTED = re.compile(r'"([^"]*)"?')
BARE = re.compile(r"\S+")


def phrase_of(reading: Reading) -> tuple[str, ...]:
    """Take a quoted phrase or one word off the front, as plain words."""
    found = reading.take(QUOTED)
    if found:
        return tuple(words_of(found[1]))
    bare = BARE.match(reading.left)
    reading.left = reading.left[bare.end() :] if bare else ""
    return tuple(words_of(bare.group())) if bare else ()


def _word(reading: Reading) -> None:
    """A word, or a quoted phrase, that the sheet must hold."""
    quoted = reading.left.startswith('"')
    words = phrase_of(reading)
    if quoted and words:
        reading.put("words", words)
        return
    for word in words:
        if word not in stopwords():
            reading.put("words", (word,))


def stopwords() -> frozenset[str]:
    """Return the words that ask for nothing."""
    return frozenset(plain(row["word"]) for row in table("repertoire/stopwords"))
