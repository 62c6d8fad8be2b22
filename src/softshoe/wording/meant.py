"""A step's name with one slip of the typing hand: two letters swapped, one left out, one struck twice.

Such a word is read as the step that is meant, and told as a warning. Any other strange word stays strange.
"""

from __future__ import annotations

from functools import lru_cache
from string import ascii_lowercase

from softshoe.wording.numbers import SPELLED
from softshoe.wording.vocabulary import phrases, step_words

SHORTEST = 5  # letters of a word that may be a slip; shorter ones are too easily another word


@lru_cache(maxsize=1)
def known_words() -> frozenset[str]:
    """Return every word that stands in a phrase of the tables."""
    return frozenset(w for listed in phrases().values() for phrase, _ in listed for w in phrase) | frozenset(SPELLED)


@lru_cache(maxsize=2048)
def meant(word: str) -> str:
    """Return the step word that a misspelled one means, or "" when it is known, or none or several are meant.

    >>> meant("tocuh"), meant("shufle"), meant("stommp"), meant("touch"), meant("cousin")
    ('touch', 'shuffle', 'stomp', '', '')
    """
    plain = word.casefold()
    if len(plain) < SHORTEST or plain in known_words() or not plain.isalpha():
        return ""
    near = _slips_undone(plain)
    return next(iter(near)) if len(near) == 1 else ""


def _slips_undone(word: str) -> frozenset[str]:
    """Return the step words that one slip may have made into this one."""
    swapped = {word[:i] + word[i + 1] + word[i] + word[i + 2 :] for i in range(len(word) - 1)}
    twice = {word[:i] + word[i + 1 :] for i in range(1, len(word)) if word[i] == word[i - 1]}
    known = _letter_left_out()
    return frozenset(w for w in swapped | twice if w in known[""]) | known.get(word, frozenset())


@lru_cache(maxsize=1)
def _letter_left_out() -> dict[str, frozenset[str]]:
    """Return step words by what is left of them without one letter, the first kept; under "" stand all of them."""
    known: dict[str, set[str]] = {"": set(step_words())}
    for word in step_words():
        for i in range(1, len(word)):
            if word[i] in ascii_lowercase:
                known.setdefault(word[:i] + word[i + 1 :], set()).add(word)
    return {left: frozenset(words) for left, words in known.items()}
