"""The account of a sheet: what the reader took every character for, and which moments came of it.

The reader notes what it takes words for as it goes (``Paint``); later notes are nearer to the word and win. From them
the sheet is parted into pieces that cover every character that is no blank, none twice. What nothing was noted for
was lost on the way: it is told and kept as written, so that no word is dropped in silence.
"""

from __future__ import annotations

import re
from array import array
from bisect import bisect_right
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING

from softshoe.wording.remark import talks
from softshoe.wording.shape import shape
from softshoe.wording.strange import NAME, is_filler

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from softshoe.dance.action import Span
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance
    from softshoe.wording.blocks import Paint, Role
    from softshoe.wording.lex import Token
    from softshoe.wording.stage import Ready

WORD = shape(r"\w")


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one line: characters ``start`` to ``end`` (not included) of the whole sheet, the line from 1, what
    it was taken for, and the moments that came of it (those of a tag or an ending count from its own first).
    """

    start: int
    end: int
    line: int
    role: Role
    moments: tuple[Count, ...] = ()


@dataclass(frozen=True, slots=True)
class Account:
    """All pieces of a sheet, in order; between two there are only blanks."""

    text: str
    pieces: tuple[Piece, ...]

    def words(self, piece: Piece) -> str:
        """Return the piece's characters."""
        return self.text[piece.start : piece.end]

    def of(self, role: Role) -> tuple[str, ...]:
        """Return the words of all pieces of one role."""
        return tuple(self.words(piece) for piece in self.pieces if piece.role == role)


def account_json(account: Account) -> list[dict[str, object]]:
    """Return the pieces as rows: line, columns from 0 (end not included), role, words, moments as in the events."""
    starts = {1: 0}
    for number, found in enumerate(re.finditer("\n", account.text), 2):
        starts[number] = found.end()
    return [
        {
            "line": p.line, "start": p.start - starts[p.line], "end": p.end - starts[p.line], "role": p.role,
            "words": account.words(p), "t": [str(at.moment) for at in p.moments],
        }
        for p in account.pieces
    ]  # fmt: skip


def paints_of(done: Iterable[Ready]) -> Iterator[Paint]:
    """Yield what became of the words of items danced or not: count label, words, options, words passed over."""
    for one in done:
        item = one.item
        for start, end in _lines_of(item.heads):
            yield (start, end, "heading")
        for start, end in _lines_of(item.tokens):
            yield (start, end, one.fate)
        if item.label is not None and item.label.end > item.label.start:
            yield (item.label.start, item.label.end, "count" if one.fate == "event" else one.fate)
        for start, end in _lines_of(item.asides):
            yield (start, end, "note")
        for talk in item.talk:
            role: Role = "note" if talks(talk) else "kept"
            yield from ((*span, role) for span in _lines_of(talk))
        if one.fate == "event":
            yield from ((t.start, t.end, "filler" if is_filler(t.text) else "passed") for t in _strange(one))
            yield from ((*span, "kept") for span in one.lost)


def _strange(one: Ready) -> Iterator[Token]:
    """Yield the words that no table has; a section's name behind "repeat" is none of them."""
    return (t for t in one.item.unknown if one.repeat is None or not NAME.fullmatch(t.text))


def _lines_of(tokens: Sequence[Token]) -> Iterator[Span]:
    """Yield the characters from the first to the last word on each line."""
    start = end = line = -1
    for token in tokens:
        if token.line != line:
            if end > start:
                yield start, end
            start, line = token.start, token.line
        end = token.end
    if end > start:
        yield start, end


def lost_in(text: str, paints: Iterable[Paint]) -> list[Span]:
    """Return the stretches that hold a letter or a digit and that nothing was noted for."""
    covered = bytearray(len(text))
    for start, end, _ in paints:
        covered[start:end] = b"\1" * (min(end, len(text)) - start)
    gaps = ((m.start(), m.end()) for m in re.finditer(b"\0+", covered))
    found = ((s, e) for s, e in gaps if not text[s:e].isspace())
    return [(a, b) for s, e in found for a, b in _by_line(text, s, e) if WORD.search(text, a, b)]


def account_of(text: str, paints: Iterable[Paint], dance: Dance) -> Account:
    """Return the account of a sheet read: every character that is no blank stands in one piece."""
    roles: list[Role] = ["mark"]
    cells = array("i", bytes(4 * len(text)))
    for start, end, role in paints:
        roles.append(role)
        end = min(end, len(text))
        cells[start:end] = array("i", [len(roles) - 1]) * (end - start)
    came = _came_of(dance)
    for start, end in came:
        roles.append("event")
        for i in range(start, min(end, len(text))):
            if roles[cells[i]] == "event":
                cells[i] = len(roles) - 1
    runs = [Piece(s, e, 0, roles[kind]) for s, e, kind in _runs(text, cells)]
    return Account(text, tuple(_joined(text, _with_moments(runs, came))))


def _came_of(dance: Dance) -> dict[Span, list[Count]]:
    """Return the moments that came of each stretch of words."""
    out: dict[Span, list[Count]] = {}
    parts = (dance.actions, *(tag.actions for tag in dance.tags), *(ending.actions for ending in dance.endings))
    for action in (action for part in parts for action in part):
        for span in {action.span, *(arm.span for arm in action.arms)} - {None}:
            out.setdefault(span, []).append(action.at)  # type: ignore[arg-type]
    return out


def _with_moments(pieces: Iterable[Piece], came: dict[Span, list[Count]]) -> Iterator[Piece]:
    """Yield the pieces in order with the moments that came of them."""
    ahead = sorted(came.items(), key=lambda pair: pair[0])
    ahead.reverse()
    here: list[tuple[Span, list[Count]]] = []
    for piece in pieces:
        while ahead and ahead[-1][0][0] < piece.end:
            here.append(ahead.pop())
        here = [pair for pair in here if pair[0][1] > piece.start]
        if piece.role in ("event", "count"):
            yield replace(piece, moments=tuple(sorted({at for _, moments in here for at in moments})))
        else:
            yield piece


def _runs(text: str, cells: array[int]) -> Iterator[tuple[int, int, int]]:
    """Yield the stretches of one kind on one line, without the blanks at their ends: start, end, kind."""
    start = 0
    for start, stop in _by_line(text, 0, len(text)):
        i = start
        for kind, run in groupby(cells[start:stop]):
            j = i + sum(1 for _ in run)
            words = text[i:j]
            if words.strip():
                yield i + len(words) - len(words.lstrip()), i + len(words.rstrip()), kind
            i = j


def _joined(text: str, pieces: Iterable[Piece]) -> list[Piece]:
    """Return the pieces with their lines; marks go with what they stand behind, like with like."""
    starts = [0, *(m.end() for m in re.finditer("\n", text))]
    out: list[Piece] = []
    for piece in pieces:
        piece = replace(piece, line=bisect_right(starts, piece.start))
        before = out[-1] if out and out[-1].line == piece.line else None
        if before is not None and _goes_with(before, piece):
            moments = before.moments or piece.moments
            role = piece.role if before.role == "mark" else before.role
            out[-1] = replace(before, end=piece.end, role=role, moments=moments)
        else:
            out.append(piece)
    return out


def _goes_with(before: Piece, piece: Piece) -> bool:
    if "mark" in (before.role, piece.role):
        return True
    same = before.moments == piece.moments or (piece.role == "event" and not (before.moments and piece.moments))
    return before.role == piece.role and same


def _by_line(text: str, start: int, end: int) -> Iterator[Span]:
    while start < end:
        at = text.find("\n", start, end)
        stop = end if at < 0 else at
        if stop > start:
            yield start, stop
        start = stop + 1
