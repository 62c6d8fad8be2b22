"""The trade's words as tables: ``data/wording/words.csv`` and ``pattern_words.csv``, read once.

A row of words.csv is kind, value, usual direction and one spelling; one of pattern_words.csv a pattern and
one spelling. Adding a word is adding a row, best beside the rows of its like.
Longest phrase wins; hyphens inside a phrase count as spaces.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, field
from functools import lru_cache
from importlib.resources import files

from softshoe.wording.shape import shape

RAW = shape(
    r"\s*(?:(?P<clock>\d{1,2}:\d{2}(?!\d)|(?<=[(\[])\d{1,2}\.(?:00|30)(?=[)\]])|\d{1,2}\s?(?:o['’`]?\s?clock|"
    r"o['’`]c(?:lk)?\b|h\b)|\b(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\s+o['’`]?\s?clock\b)"
    r"|(?P<frac>\d\s?/\s?\d(?![\d/])|[¼½¾⅛⅜⅝⅞])"
    r"|(?P<num>\d+)"
    r"|(?P<word>[^\W\d_]+(?:['’`][^\W\d_]+)*)"
    r"|(?P<mark>\S))",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Entry:
    """What a word or phrase may mean: its kind, its value and the direction it brings along."""

    kind: str
    value: str
    dir: str = ""


def table(name: str) -> list[dict[str, str]]:
    """Return the rows of a table of ``data/wording``."""
    text = (files("softshoe") / "data" / "wording" / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def key(words: str) -> tuple[str, ...]:
    """Return the words of a phrase as the lexer sees them.

    >>> key("kick-ball change"), key("x2")
    (('kick', 'ball', 'change'), ('x', '2'))
    """
    found = RAW.finditer(words.casefold().replace("’", "'").replace("`", "'"))
    return tuple(m[m.lastgroup] for m in found if m.lastgroup in ("word", "num", "frac", "clock"))


@lru_cache(maxsize=1)
def phrases() -> dict[str, list[tuple[tuple[str, ...], Entry]]]:
    """Return every phrase by its first word, the longest first."""
    known: dict[str, list[tuple[tuple[str, ...], Entry]]] = {}
    rows = [(Entry(r["kind"], r["value"], r["dir"]), key(r["word"])) for r in table("words.csv")]
    rows += [(Entry("pattern", r["name"]), key(r["word"])) for r in table("pattern_words.csv")]
    for entry, phrase in rows:
        known.setdefault(phrase[0], []).append((phrase, entry))
    for listed in known.values():
        listed.sort(key=lambda pair: -len(pair[0]))
    return known


@dataclass(slots=True)
class Branch:
    """The phrases that begin with the same words: what these words alone mean, and the words that may follow."""

    entry: Entry | None = None
    words: dict[str, Branch] = field(default_factory=dict)


@lru_cache(maxsize=1)
def branches() -> Branch:
    """Return every phrase word by word; of two rows with one spelling the first counts."""
    root = Branch()
    for listed in phrases().values():
        for phrase, entry in listed:
            branch = root
            for word in phrase:
                branch = branch.words.setdefault(word, Branch())
            branch.entry = branch.entry or entry
    return root


@lru_cache(maxsize=1)
def step_words() -> tuple[str, ...]:
    """Return the single words that name a step, a pattern or a direction: what a misspelling may have meant."""
    kinds = {"verb", "pattern", "gest", "dual", "dir", "footpart", "turnword", "side"}
    single = {p[0] for listed in phrases().values() for p, e in listed if len(p) == 1 and e.kind in kinds}
    whole = {w for listed in phrases().values() for p, e in listed if e.kind == "pattern" for w in p}
    return tuple(sorted(w for w in single | whole if len(w) > 3))
