"""Sheets in other languages: their phrases put into the reader's English words, each with its place in the sheet.

The grammar stays in one place: a table a language (``data/wording/tongue_de.csv`` and its like) says which phrase
stands for which English one; the longest phrase wins, capitals and accents make no difference, what no row knows stays
as it is. ``Heard`` knows for every character of the English text where it stood, so lines, spans and titles of what is
read are those of the sheet.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.errors import SettingError
from softshoe.wording.lines_back import on_lines
from softshoe.wording.shape import shape
from softshoe.wording.vocabulary import table

if TYPE_CHECKING:
    from softshoe.dance.action import Action, Span
    from softshoe.dance.arms import ArmMove
    from softshoe.wording.blocks import Paint
    from softshoe.wording.reading import Reading

LANGUAGES = {"en": "English", "de": "German", "fr": "French", "es": "Spanish"}
PIECE = shape(r"[^\W\d_]+(?:[\u0300-\u036f][^\W\d_]*)*['’`]?|\d+|\s+|.", re.DOTALL)
WORD = shape(r"[^\W\d_]+['’]?")
SPELLED_OUT = (("ä", "ae"), ("ö", "oe"), ("ü", "ue"))  # how German is typed without its dots
HEARD_BY = 4000  # characters that tell the language
FEWEST = 4
LONGEST = 2_000_000  # characters put into English; what comes behind is too long a sheet anyway
ENGLISH = frozenset(
    (
        "the", "and", "with", "right", "left", "step", "forward", "back", "together", "touch", "side", "foot", "feet",
        "hands", "behind", "beside", "across", "counts", "count", "walls", "wall", "starting", "start", "weight",
        "hold", "then", "repeat", "same", "on", "to", "of", "at", "both", "heel", "toe", "turn", "section",
    )
)  # fmt: skip
Words = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tongue:
    """One language's table: phrases by their first word, the longest first; and the words that tell the language."""

    phrases: dict[str, tuple[tuple[Words, str], ...]]
    telling: frozenset[str]


@dataclass(frozen=True, slots=True)
class Heard:
    """A sheet with its words in English. ``joints`` are (place in the English text, place in the sheet), in order."""

    sheet: str
    english: str
    language: str
    joints: tuple[tuple[int, int], ...] = field(default=(), repr=False)

    def place(self, at: int) -> int:
        """Return where a character of the English text stands in the sheet; within a phrase, its beginning."""
        if not self.joints:
            return at
        english, there = self.joints[bisect_right(self.joints, (at, len(self.sheet))) - 1]
        end = next((b for _, b in self.joints[bisect_right(self.joints, (at, len(self.sheet))) :][:1]), len(self.sheet))
        return min(there + at - english, max(there, end - 1))

    def back(self, found: Reading) -> Reading:
        """Return what was read with the spans, title, headings and kept lines of the sheet itself."""
        if not self.joints:
            return found
        lines = self.sheet.split("\n")
        dance = found.dance if not self.parted else on_lines(found.dance, self._lines())
        dance = replace(
            dance,
            title=self._title(dance.title),
            sections=tuple(replace(s, title=self._words(s.title, s.line)) for s in dance.sections),
            actions=self._actions(dance.actions),
            tags=tuple(replace(t, actions=self._actions(t.actions)) for t in dance.tags),
            endings=tuple(replace(e, actions=self._actions(e.actions)) for e in dance.endings),
            kept=tuple((n, lines[n - 1] if 0 < n <= len(lines) else words) for n, words in dance.kept),
        )
        paints = tuple((*self._span((start, end)), role) for start, end, role in found.paints if end > start)
        return replace(found, text=self.sheet, dance=dance, paints=(*self._passed(), *paints))

    @property
    def parted(self) -> bool:
        """Whether the English text has other lines than the sheet."""
        return self.english.count("\n") != self.sheet.count("\n")

    def _lines(self) -> list[int]:
        """Return for the number of each English line, from 0, the sheet's line."""
        there, at = [0], 0
        for row in self.english.split("\n"):
            there.append(1 + self.sheet.count("\n", 0, self.place(at)))
            at += len(row) + 1
        return there

    def _passed(self) -> tuple[Paint, ...]:
        """Words that English has no need of."""
        pairs = zip(self.joints, self.joints[1:], strict=False)
        return tuple((there, end, "filler") for (at, there), (until, end) in pairs if at == until and end > there)

    def _actions(self, actions: tuple[Action, ...]) -> tuple[Action, ...]:
        return tuple(replace(a, span=self._place(a.span), arms=tuple(self._arm(m) for m in a.arms)) for a in actions)

    def _arm(self, move: ArmMove) -> ArmMove:
        return replace(move, span=self._place(move.span))

    def _place(self, span: Span | None) -> Span | None:
        return None if span is None else self._span(span)

    def _span(self, span: Span) -> Span:
        start = self.place(span[0])
        return start, max(start + 1, self._end(span[1]))

    def _end(self, at: int) -> int:
        """Return where in the sheet a stretch ends that ends here in the English text."""
        k = bisect_right(self.joints, (at - 1, len(self.sheet)))
        english, there = self.joints[k - 1]
        until = self.joints[k] if k < len(self.joints) else (len(self.english), len(self.sheet))
        return until[1] if at >= until[0] else min(until[1], there + at - english)

    def _title(self, title: str) -> str:
        return self._found(title, 0, len(self.english)) or title

    def _words(self, words: str, line: int) -> str:
        """Return the sheet's words for these of one of its lines."""
        start = sum(len(text) + 1 for text in self.english.split("\n")[: line - 1])
        return (self._found(words, start, len(self.english)) or words) if words else ""

    def _found(self, words: str, start: int, end: int) -> str:
        parts = [re.escape(part) for part in words.split()]
        found = re.compile(r"\s+".join(parts)).search(self.english, start, end) if parts else None
        if found is None:
            return ""
        return " ".join(self.sheet[self.place(found.start()) : self._end(found.end())].split())


def heard(text: str, language: str = "") -> Heard:
    """Return a sheet with its words in English; ``language`` is its code, "" for whatever it seems to be in.

    Raises SettingError for a language that is not there.

    >>> heard("1 rechten Fuß nach vorn setzen", "de").english
    '1 right foot forward step'
    """
    if language and language not in LANGUAGES:
        raise SettingError("language", f"there is no language “{language}”", "sheets are read in a few languages only",
                           f"choose one of {', '.join(LANGUAGES)}")  # fmt: skip
    spoken = language or language_of(text)
    if spoken == "en":
        return Heard(text, text, "en")
    return _put(text, spoken)


def language_of(text: str) -> str:
    """Return the code of the language that a sheet's words tell; English where they do not.

    >>> language_of("1-2 Step right forward, touch left beside right")
    'en'
    """
    words = {plain(word) for word in set(WORD.findall(text[:HEARD_BY]))}
    best, most = "en", max(FEWEST - 1, len(words & ENGLISH))
    if len(words - ENGLISH - _english_words()) <= most:
        return best  # too few words are left that could tell another language
    for code in LANGUAGES:
        told = len(words & tongue(code).telling) if code != "en" else 0
        if told > most:
            best, most = code, told
    return best


@lru_cache(maxsize=4096)
def plain(word: str) -> str:
    """Return a word without capitals and accents.

    >>> plain("Füße"), plain("DERRIÈRE")
    ('fusse', 'derriere')
    """
    apart = unicodedata.normalize("NFD", word.casefold().replace("’", "'").replace("`", "'"))
    return "".join(c for c in apart if not unicodedata.combining(c))


def pieces(words: str) -> Words:
    """Return the words of a phrase, plain, without blanks and hyphens."""
    return tuple(plain(m.group()) for m in PIECE.finditer(words) if not m.group().isspace() and m.group() not in "-‐‑")


@lru_cache(maxsize=8)
def tongue(language: str) -> Tongue:
    """Return the table of a language ("de", "fr", "es")."""
    known: dict[str, list[tuple[Words, str]]] = {}
    alone: set[str] = set()
    for row in table(f"tongue_{language}.csv"):
        for phrase in _spellings(row["words"]):
            words = pieces(phrase)
            if words:
                known.setdefault(words[0], []).append((words, row["english"]))
                alone |= {w for w in words if len(w) > 2}
    listed = {first: tuple(sorted(rows, key=lambda r: -len(r[0]))) for first, rows in known.items()}
    return Tongue(listed, frozenset(alone - ENGLISH - _english_words()))


def _spellings(words: str) -> list[str]:
    """Return the phrases of a row, and those with dots once more as they are typed without."""
    listed = [phrase for phrase in words.split(";") if phrase.strip()]
    for phrase in list(listed):
        typed = phrase.casefold()
        for dotted, spelled in SPELLED_OUT:
            typed = typed.replace(dotted, spelled)
        listed += [typed] if typed != phrase.casefold() else []
    return listed


@lru_cache(maxsize=1)
def _english_words() -> frozenset[str]:
    """Return the words of the English table, which tell no other language."""
    from softshoe.wording.vocabulary import phrases

    return frozenset(word for listed in phrases().values() for phrase, _ in listed for word in phrase)


def _put(text: str, language: str) -> Heard:
    """Go through the sheet once and put each phrase that is known into English."""
    known = tongue(language).phrases
    found = [(m.group(), m.start(), m.end()) for m in PIECE.finditer(text[:LONGEST])]
    out: list[str] = []
    joints: list[tuple[int, int]] = [(0, 0)]
    length = i = 0
    while i < len(found):
        hit = None if _counting(found, i) else _match(found, i, known)
        if hit is None:
            word = found[i][0]
            i += 1
        else:
            word, j = hit
            joints.append((length, found[i][1]))
            word, i = _fitted(word, found, i, j), j
            joints.append((length + len(word), found[j][1] if j < len(found) else len(text)))
        out.append(word)
        length += len(word)
    joints.append((length, len(text[:LONGEST])))
    return Heard(text, "".join((*out, text[LONGEST:])), language, tuple(joints))


def _counting(found: list[tuple[str, int, int]], i: int) -> bool:
    """Return whether a letter belongs to a count, as in "1a" and "1&e"."""
    return found[i][0].casefold() in ("a", "e") and i > 0 and (found[i - 1][0].isdigit() or found[i - 1][0] in "&ae")


def _fitted(word: str, found: list[tuple[str, int, int]], i: int, j: int) -> str:
    """Return the English words parted from what stands glued behind an apostrophe, with the capital of the phrase."""
    if not word:
        return word
    glued = j < len(found) and found[j - 1][0][-1:] in "'’`" and found[j][0][:1].isalnum()
    first = found[i][0]
    raised = word[:1].upper() + word[1:] if first[:1].isupper() and first[1:2].islower() else word
    return f"{raised} " if glued else raised


def _match(
    found: list[tuple[str, int, int]], i: int, known: dict[str, tuple[tuple[Words, str], ...]]
) -> tuple[str, int] | None:
    """Return the English of the longest phrase that begins at i, and the index behind it."""
    for phrase, english in known.get(plain(found[i][0]), ()):
        j = _follow(found, i + 1, phrase)
        if j:
            return english, j
    return None


def _follow(found: list[tuple[str, int, int]], j: int, phrase: Words) -> int:
    """Return the index behind the rest of the phrase, or 0; blanks and hyphens may stand between its words."""
    for word in phrase[1:]:
        while j < len(found) and (found[j][0] in "-‐‑" or (found[j][0].isspace() and "\n" not in found[j][0])):
            j += 1
        if j >= len(found) or plain(found[j][0]) != word:
            return 0
        j += 1
    return j
