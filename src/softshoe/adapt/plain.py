"""Abilities in plain words: "seated, left arm only, nothing overhead", or a sentence as a person would say it.

Phrases are those of ``plain_words.csv``; the longest that fits is taken. A word that belongs to no phrase is told with
the nearest phrase; nothing is guessed and nothing is dropped. Phrases say what is wished, never why.
"""

from __future__ import annotations

import re
from difflib import get_close_matches
from typing import TYPE_CHECKING

from softshoe.adapt.limits import LIMITS, abilities
from softshoe.errors import SettingError
from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.adapt.version import Abilities

# Words that say nothing about what is danced.
FILLERS = frozenset(
    [
        "i",
        "id",
        "i'd",
        "im",
        "i'm",
        "would",
        "rather",
        "please",
        "my",
        "the",
        "a",
        "an",
        "and",
        "but",
        "to",
        "prefer",
        "want",
        "like",
        "need",
        "we",
        "us",
        "our",
        "me",
        "with",
        "for",
        "it",
        "be",
        "is",
        "am",
        "are",
        "also",
        "too",
        "best",
        "better",
        "dance",
        "dancing",
        "feel",
        "keep",
        "have",
        "do",
    ]
)
ON_FEET = "on the feet"  # no limit: a seated dance is wanted standing
LONGEST = 400  # characters of plain words that are read
WORD = re.compile(r"[^\W_]+(?:['-][^\W_]+)*")


def _words(text: str) -> list[str]:
    return [word for word in WORD.findall(text.lower().replace("’", "'")) if word not in FILLERS]


def _phrases() -> dict[tuple[str, ...], tuple[tuple[str, ...], str]]:
    found = {}
    for row in table("adapt/plain_words"):
        limits = tuple(part for part in row["limits"].split(";") if part)
        for phrase in row["words"].split(";"):
            found[tuple(_words(phrase))] = (limits, phrase)
    return found


PHRASES = _phrases()
LONGEST_PHRASE = max(len(words) for words in PHRASES)


def in_plain_words(text: str, *, name: str = "these wishes") -> Abilities:
    """Return the abilities that plain words ask for.

    Raises SettingError where a word belongs to no phrase, with the nearest one.

    >>> sorted(in_plain_words("Seated, left arm only, nothing overhead").limits)
    ['overhead', 'right hand', 'seat']
    """
    if len(text) > LONGEST:
        raise SettingError(name, "too many words", f"{len(text)} characters, and {LONGEST} are read",
                           "say it shorter: a few wishes with commas between")  # fmt: skip
    limits: list[str] = []
    for part in re.split(r"[,;.\n]+", text):
        limits += _of_part(_words(part), name)
    return abilities(name, [one for one in limits if one != ON_FEET], standing=ON_FEET in limits)


def _of_part(words: list[str], name: str) -> list[str]:
    limits: list[str] = []
    while words:
        size = next((n for n in range(min(LONGEST_PHRASE, len(words)), 0, -1) if tuple(words[:n]) in PHRASES), 0)
        if not size:
            raise _unknown(words, name)
        limits += PHRASES[tuple(words[:size])][0] or (ON_FEET,)
        words = words[size:]
    return limits


def _unknown(words: list[str], name: str) -> SettingError:
    said = " ".join(words)
    known = {" ".join(phrase): plain for phrase, (_, plain) in PHRASES.items()}
    near = get_close_matches(said, known, n=1, cutoff=0.6) or get_close_matches(words[0], known, n=1, cutoff=0.7)
    mend = f"did you mean “{known[near[0]]}”?" if near else f"say it as one of: {', '.join(usual_words())}"
    return SettingError(name, f"“{said}” is no wish that is known", "no phrase of the table has these words", mend)


def usual_words() -> list[str]:
    """Return the first phrase for every wish, as an example of how to say it."""
    return [row["words"].split(";")[0] for row in table("adapt/plain_words") if row["limits"]]


def limit_words(given: Abilities) -> str:
    """Return abilities in words again: "seated, right arm rests, nothing above the shoulders"."""
    return ", ".join(limit.say for limit in LIMITS.values() if limit.id in given.limits and limit.ask) or "as written"
