"""What is left unread: told, line by line, and kept as it is written. Nothing is dropped in silence."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from softshoe.errors import Finding
from softshoe.wording.account import lost_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.blocks import Outline, Paint
    from softshoe.wording.stage import Stage

LONGEST_SHEET = 2_000_000
MOST_TOLD = 50
MOST_ROWS = 3000
MEND = "If it is a step, give it a count and a step's own name."
Rows = tuple[tuple[int, str], ...]


def all_lines(text: str, start: int = 0) -> Rows:
    """Return the written lines from a place on, with their numbers; what comes behind very many of them in one row."""
    out: list[tuple[int, str]] = []
    number = text.count("\n", 0, start) + 1
    while start < len(text):
        end = text.find("\n", start)
        end = len(text) if end < 0 or len(out) == MOST_ROWS else end
        if text[start:end].strip():
            out.append((number, text[start:end]))
        start, number = end + 1, number + 1
    return tuple(out)


class Unread:
    """The lines and words of a sheet that nothing came of: ``kept`` as written, ``findings`` on them, ``paints``."""

    def __init__(self, text: str, outline: Outline, stage: Stage, paints: Sequence[Paint]) -> None:
        self.text = text
        beyond = min((outline.beyond if outline.beyond is not None else len(text)), LONGEST_SHEET, len(text))
        lost = lost_in(text[:beyond], paints)
        self.starts = [0]
        rows = {*outline.loose, *stage.unread, *((self._line(start), text[start:end]) for start, end in lost)}
        over = all_lines(text, beyond) if beyond < len(text) else ()
        self.paints: list[Paint] = [(start, end, "kept") for start, end in (*lost, (beyond, len(text)))]
        self.kept: Rows = tuple(sorted((*outline.notes, *outline.kept, *stage.kept, *rows, *over)))
        self.findings = [_told(line, words) for line, words in sorted(rows)[:MOST_TOLD]]
        if over:
            message = f"The sheet is too long to be read whole; from line {over[0][0]} on it is kept as it is."
            mend = "Give every dance a sheet of its own."
            self.findings.append(Finding("warning", "unread", over[0][0], None, message, mend))

    def _line(self, at: int) -> int:
        if len(self.starts) == 1:
            self.starts += [i + 1 for i, char in enumerate(self.text) if char == "\n"]
        return bisect_right(self.starts, at)


def _told(line: int, words: str) -> Finding:
    message = f"This was left unread and is kept as it is: “{words.strip()[:60]}”."
    return Finding("warning", "unread", line, None, message, MEND)
