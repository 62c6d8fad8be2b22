"""The words that sheets are written with: one table a language, ``data/wording/writing_en.csv`` and its like.

A row is kind, key and the words themselves; the columns ``short`` and ``spoken`` stand where a style words it
differently. Words in braces are filled in.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.wording.vocabulary import table

if TYPE_CHECKING:
    from softshoe.dance.counts import Count


@dataclass(frozen=True, slots=True)
class Style:
    """How a style is laid out: ``column`` of the table, ``row`` for a stretch of counts and its words.

    ``folds``: halves and sections danced before are named, not written out; two counts only where their words have
    ``worth`` letters. ``names``: patterns are named. ``group``: how many counts may share a line. ``head``: what parts
    the header's facts; where it is empty each has its line.
    """

    name: str
    column: str
    row: str
    folds: bool = False
    names: bool = False
    group: int = 1
    worth: int = 40
    head: str = ""


STYLES = {
    "short": Style("short", "short", "{count}  {words}", folds=True, names=True, group=2, head=", "),
    "sentences": Style("sentences", "words", "{count}: {words}.", folds=True, names=True, group=2),
    "table": Style("table", "words", "| {count} | {words} | {arms} |"),
    "spoken": Style("spoken", "spoken", "{count}: {words}.", folds=True, group=2, worth=0),
    "large": Style("large", "short", "{count}   {words}\n"),
}


@dataclass(frozen=True, slots=True)
class Book:
    """The words of one language in one style; ``plain`` are moments at which the weight need not be told,
    ``reached`` those at which a heel comes down from a reach and takes none, ``dropped`` those at which one that
    was only lifted takes it.
    """

    language: str
    style: Style
    rows: dict[tuple[str, str], str]
    plain: frozenset[Count] = frozenset()
    reached: frozenset[Count] = frozenset()
    dropped: frozenset[Count] = frozenset()

    def find(self, kind: str, *keys: str) -> str | None:
        """Return the words of the first key that the table has; None for none."""
        return next((self.rows[kind, key] for key in keys if (kind, key) in self.rows), None)

    def say(self, kind: str, *keys: str, **holes: object) -> str:
        """Return the words of the first key that the table has, filled in. Raises KeyError where it has none."""
        found = self.find(kind, *keys)
        if found is None:
            raise KeyError(f"the words for writing have no row {kind},{keys[-1]}")
        return found.format(**holes)


@lru_cache(maxsize=32)
def book(language: str, style: str) -> Book:
    """Return the words of a language ("en", "de", "fr", "es") in a style of ``STYLES``."""
    chosen = STYLES[style]
    rows = table(f"writing_{language}.csv")
    said = {(row["kind"], row["key"]): row.get(chosen.column) or row["words"] for row in rows}
    return Book(language, chosen, said)
