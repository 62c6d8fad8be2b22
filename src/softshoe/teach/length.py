"""How long a lesson becomes: which pieces it has, and how often, so that it takes the minutes asked for.

``lesson_parts.csv`` says how often each part is there when no length is asked for, the least and the most.
``lesson_length.csv`` says in which order parts are taken out of a lesson that is too long and put into one that is too
short. What a section needs most is put in for the hardest section first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.errors import SettingError
from softshoe.tables import table
from softshoe.teach.leads import with_leads
from softshoe.teach.pieces import seconds
from softshoe.teach.words import number_word

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.teach.pieces import Piece

MINUTES = (1.0, 90.0)
NEAR_S = 30.0  # a lesson is as long as asked where it is so near


@dataclass(frozen=True, slots=True)
class Part:
    """A row: how often the part is there, at least, usually and at most, and what it is called."""

    usual: int
    least: int
    most: int
    told: str


@dataclass(frozen=True, slots=True)
class Change:
    """A row: a part taken out, or put in until it is there so often."""

    part: str
    to: int
    out: bool


PARTS = {
    row["part"]: Part(int(row["usual"]), int(row["least"]), int(row["most"]), row["told"])
    for row in table("teach/lesson_parts")
}
CHANGES = tuple(Change(row["part"], int(row["to"]), row["change"] == "out") for row in table("teach/lesson_length"))


def chosen(
    pieces: Sequence[Piece], minutes: float | None, *, seated: bool = False
) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
    """Return the pieces of a lesson of so many minutes, and in sentences how that length was met.

    ``pieces``: every piece once, in order. None: the usual lesson, and nothing is told.
    Raises SettingError for minutes outside 1 to 90.
    """
    often = [PARTS[piece.kind].usual for piece in pieces]
    if minutes is None:
        return _lesson(pieces, often, seated=seated), ()
    low, high = MINUTES
    if not low <= minutes <= high:
        raise SettingError("--minutes", f"a lesson can't last {minutes:g} minutes",
                           f"a lesson of one dance lasts between {low:g} and {high:g}", "say --minutes 15")  # fmt: skip
    usual = tuple(often)
    long = seconds(_lesson(pieces, often, seated=seated)) > minutes * 60
    for change in CHANGES:
        for at in _places(pieces, often, change) if change.out is long else ():
            _changed(pieces, often, at, change, minutes * 60, seated=seated)
    for at, times in enumerate(usual):  # what was taken out before something longer may fit again
        if long and often[at] < times:
            _changed(pieces, often, at, Change(pieces[at].kind, times, out=False), minutes * 60, seated=seated)
    lesson = _lesson(pieces, often, seated=seated)
    return lesson, tuple(_told(pieces, usual, often, seconds(lesson), minutes * 60))


def _lesson(pieces: Sequence[Piece], often: Sequence[int], *, seated: bool) -> tuple[Piece, ...]:
    repeated = [piece for piece, times in zip(pieces, often, strict=True) for _ in range(times)]
    return with_leads(repeated, seated=seated)


def _places(pieces: Sequence[Piece], often: Sequence[int], change: Change) -> list[int]:
    """The pieces a row touches: the easiest is taken out first, the hardest put in first."""
    found = [
        at for at, piece in enumerate(pieces) if piece.kind == change.part and (change.out or often[at] < change.to)
    ]
    return sorted(found, key=lambda at: hardness(pieces[at]), reverse=not change.out)


def hardness(piece: Piece) -> int:
    """Return how many different things are danced in a piece."""
    return len({beat.now for beat in piece.beats})


def _changed(
    pieces: Sequence[Piece], often: list[int], at: int, change: Change, length_s: float, *, seated: bool
) -> None:
    """Take a piece out while the lesson is too long, or put it in where it still fits."""
    before = often[at]
    long = seconds(_lesson(pieces, often, seated=seated)) > length_s
    if change.out:
        often[at] = max(change.to, PARTS[change.part].least) if long else before
        return
    often[at] = change.to
    if seconds(_lesson(pieces, often, seated=seated)) > length_s:
        often[at] = before


def _told(
    pieces: Sequence[Piece], usual: Sequence[int], often: Sequence[int], length_s: float, asked_s: float
) -> Iterator[str]:
    """How the length was met."""
    yield f"{clock(asked_s)} were asked for."
    if length_s > asked_s + NEAR_S:
        yield "A shorter one would leave out something that everybody needs."
    if length_s < asked_s - NEAR_S:
        yield "Nothing is left that is worth repeating: dance it with the song again, after a rest."
    added: list[Piece] = []
    once_more: list[Piece] = []
    out: list[Piece] = []
    for piece, was, now in zip(pieces, usual, often, strict=True):
        rows = added if now and not was else once_more if now > was else out if now < was else []
        rows.append(piece)
    yield from _sentence("Added", added)
    yield from _sentence("Danced more than once", once_more)
    yield from _sentence("Left out", out)


def _sentence(what: str, pieces: Sequence[Piece]) -> Iterator[str]:
    """What happened to these pieces, the sections of one part together."""
    by_part: dict[str, list[int]] = {}
    for piece in pieces:
        by_part.setdefault(PARTS[piece.kind].told, []).append(piece.section)
    if by_part:
        yield f"{what}: {'; '.join(_of_sections(part, sections) for part, sections in by_part.items())}."


def _of_sections(part: str, sections: Sequence[int]) -> str:
    numbers = [number_word(section) for section in sections if section]
    if not numbers:
        return part
    return f"{part} (section{'s' if len(numbers) > 1 else ''} {', '.join(numbers)})"


def clock(length_s: float) -> str:
    """Return a length as people say it.

    >>> clock(895.2), clock(900)
    ('14:55 minutes', '15 minutes')
    """
    minutes, rest = divmod(round(length_s), 60)
    return f"{minutes}:{rest:02d} minutes" if rest else f"{minutes} minutes"
