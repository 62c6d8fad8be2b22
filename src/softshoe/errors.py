"""The one family of failures a person can meet, and the findings a reader or checker reports.

Every failure says four things: where (file, line, count or setting), what is wrong, why, and how to mend it.
Only the doors print them; nothing here prints or exits.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, ClassVar, Literal

if TYPE_CHECKING:
    from collections.abc import Iterable

Severity = Literal["error", "warning", "note"]


class WorkbenchError(Exception):
    """A failure a person can meet; its exit code is what the command ends with.

    >>> print(WorkbenchError("sheet.txt", "the file is empty", "it holds no words", "type the steps and save it"))
    sheet.txt: the file is empty
      why: it holds no words
      mend: type the steps and save it
    """

    exit_code: ClassVar[int] = 1

    def __init__(self, where: str, what: str, why: str, mend: str) -> None:
        super().__init__(where, what, why, mend)  # plain arguments, so that it crosses process borders
        self.where, self.what, self.why, self.mend = where, what, why, mend

    def __str__(self) -> str:
        return f"{self.where}: {self.what}\n  why: {self.why}\n  mend: {self.mend}"


class UnreadableError(WorkbenchError):
    """A file that could not be read at all."""

    exit_code = 2


class WordingError(UnreadableError):
    """A sheet in which no dance can be found."""


class MusicError(UnreadableError):
    """A song that can't be heard or counted."""


class FitError(WorkbenchError):
    """A dance that can't be laid on a song."""


class FigureError(WorkbenchError):
    """A body or a pose that can't be."""


class OutputError(WorkbenchError):
    """A file or folder that can't be written."""


class SettingError(WorkbenchError):
    """A setting with a value that can't be used."""

    exit_code = 2


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found in a sheet, a song or a fit.

    ``line`` counts from 1 (None: something the sheet never says); ``count`` is the moment as written in dance events,
    counted from 0 ("0" is count 1), or None. ``mend`` is a sentence, or None when there is nothing to offer.
    """

    severity: Severity
    kind: str
    line: int | None
    count: str | None
    message: str
    mend: str | None = None


def nearest(word: str, known: Iterable[str], *, cutoff: float = 0.6) -> str | None:
    """Return the known word most like ``word``, or None when none is like it.

    >>> nearest("shufle", ["shuffle", "sailor"])
    'shuffle'
    """
    near = get_close_matches(word.casefold(), list(known), n=1, cutoff=cutoff)
    return near[0] if near else None
