"""The shapes of words: regular expressions that are made ready when they are first asked for, not at the import."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Callable

LOOKING = ("search", "match")
ASKED = (*LOOKING, "fullmatch", "finditer", "findall", "sub", "split", "groups")


class _Shape:
    """Stands for a regular expression; what it is asked first makes it ready, then it answers as fast as one."""

    __slots__ = ("_flags", "_needs", "_words", *ASKED)

    def __init__(self, words: str, flags: int, needs: tuple[str, ...]) -> None:
        self._words, self._flags, self._needs = words, flags, needs

    def __getattr__(self, asked: str) -> object:
        if asked not in ASKED:
            raise AttributeError(asked)
        made = re.compile(self._words, self._flags)
        for name in ASKED:
            setattr(self, name, getattr(made, name))
        for name in LOOKING if self._needs else ():
            setattr(self, name, _guarded(getattr(made, name), self._needs))
        return getattr(self, asked)


def _guarded(look: Callable[[str], re.Match[str] | None], needs: tuple[str, ...]) -> Callable[[str], object]:
    def guarded(text: str) -> re.Match[str] | None:
        low = text.casefold()
        for word in needs:
            if word in low:
                return look(text)
        return None

    return guarded


def shape(words: str, flags: int = 0, *, needs: str = "") -> re.Pattern[str]:
    """Return a regular expression that is made ready on its first use.

    ``needs`` are words in small letters, parted by "|", one of which stands in every text that it finds: other texts
    are not looked at closely.

    >>> shape(r"wall \\d", re.IGNORECASE, needs="wall").search("on Wall 3").group()
    'Wall 3'
    """
    return cast("re.Pattern[str]", _Shape(words, flags, tuple(filter(None, needs.split("|")))))
