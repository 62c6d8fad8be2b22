"""What is left unread: told, line by line, and kept as it is written. Nothing is dropped in silence."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from softshoe.errors import Finding
from softshoe.wording.account import lost_in
from softshoe.wording.lex import tokens_of
from softshoe.wording.shape import shape
from softshoe.wording.strange import is_filler, meant_by
from softshoe.wording.table_rows import NOTHING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.blocks import Outline, Paint, Role
    from softshoe.wording.stage import Stage

CELL = shape(r" *[|\t]")
LONGEST_SHEET = 2_000_000
MOST_TOLD = 50
MOST_JOINING = 4
MOST_LOOKED_AT = 400
TRADE = frozenset(("verb", "pattern", "gest", "dual", "draw", "footpart", "foot", "hand", "amount", "turnword", "num"))
JOINING = frozenset(("join", "fill", "prep", "again", "other", "count", "on", "note"))
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
        self.starts = [0]
        lost = [(_role_of(text[start:end]), start, end) for start, end in lost_in(text[:beyond], paints)]
        asides = [(self._line(start), text[start:end]) for role, start, end in lost if role == "note"]
        rows = {*outline.loose, *stage.unread}
        asides += [row for row in rows if _chat(row[1])]
        rows -= {*asides}
        rows = _longest(rows)
        rows |= {(self._line(start), text[start:end]) for role, start, end in lost if role == "kept"}
        over = all_lines(text, beyond) if beyond < len(text) else ()
        self.paints: list[Paint] = [(start, end, role) for role, start, end in lost]
        self.paints.append((beyond, len(text), "kept"))
        self.kept: Rows = tuple(sorted((*outline.notes, *outline.kept, *stage.kept, *asides, *rows, *over)))
        self.findings = [_told(line, words) for line, words in sorted(rows)[:MOST_TOLD]]
        if over:
            message = f"The sheet is too long to be read whole; from line {over[0][0]} on it is kept as it is."
            mend = "Give every dance a sheet of its own."
            self.findings.append(Finding("warning", "unread", over[0][0], None, message, mend))

    def _line(self, at: int) -> int:
        if len(self.starts) == 1:
            self.starts += [i + 1 for i, char in enumerate(self.text) if char == "\n"]
        return bisect_right(self.starts, at)


def _role_of(words: str) -> Role:
    """Return what words are that no step, label or heading took: joining words, an aside, or something left unread."""
    if CELL.match(words) and NOTHING.fullmatch(words.strip("|\t ")):
        return "filler"  # a cell that says that nothing is done: "| loose"
    tokens = [t for t in tokens_of(words, line=0) if t.kind != "mark"]
    if any(t.kind in TRADE or (t.kind == "word" and meant_by(t.text)) for t in tokens):
        return "kept"
    plain = all(t.kind in JOINING or (t.kind == "word" and is_filler(t.text)) for t in tokens)
    return "filler" if plain and len(tokens) < MOST_JOINING else "note"


def _longest(rows: set[tuple[int, str]]) -> set[tuple[int, str]]:
    """Return the rows without those that are part of another of their line."""
    lines: dict[int, list[str]] = {}
    for line, words in rows:
        lines.setdefault(line, []).append(words)
    return {(n, w) for n, of in lines.items() for w in of if not any(w != more and w in more for more in of)}


def _chat(words: str) -> bool:
    """ "Is anybody in?": words that no step can hide among."""
    tokens = [t for t in tokens_of(words[:MOST_LOOKED_AT], line=0) if t.kind != "mark"]
    return all(t.kind in JOINING or (t.kind == "word" and is_filler(t.text)) for t in tokens)


def _told(line: int, words: str) -> Finding:
    message = f"This was left unread and is kept as it is: “{words.strip()[:60]}”."
    return Finding("warning", "unread", line, None, message, MEND)
