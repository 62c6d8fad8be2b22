"""The repertoire on one laptop: dances kept in one SQLite file in the user's data folder, found by words.

Every text a sheet ever had is kept; the newest is the one that is listed. SQLite comes with Python.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from softshoe.dance.document import dance_from_json, whole_json
from softshoe.errors import OutputError
from softshoe.files import folder_for

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from softshoe.dance.dance import Dance

SHAPE = 1
TABLES = """
create table if not exists sheet (
  id integer primary key, title text not null, words text not null, events text not null,
  content text not null unique, kept_at text not null);
create virtual table if not exists sheet_words using fts5(title, words, tokenize = 'unicode61 remove_diacritics 2');
"""


@dataclass(frozen=True, slots=True)
class Kept:
    """One kept dance: its words as written, the dance read from them, and when it was kept (ISO 8601, UTC)."""

    number: int
    words: str
    dance: Dance
    kept_at: str


@dataclass(frozen=True, slots=True)
class Repertoire:
    """The kept dances of one folder. Opening makes the file when it is not there."""

    path: Path

    @classmethod
    def at(cls, folder: Path) -> Repertoire:
        """Open the repertoire of a folder; raises OutputError when it can't be written or is damaged."""
        repertoire = cls(folder_for(folder) / "repertoire.sqlite3")
        with repertoire._open() as base:
            base.executescript(TABLES)
            base.execute(f"pragma user_version = {SHAPE}")
        return repertoire

    @contextmanager
    def _open(self) -> Iterator[sqlite3.Connection]:
        try:
            base = sqlite3.connect(self.path)
            try:
                for line in ("journal_mode = wal", "synchronous = full", "busy_timeout = 5000"):
                    base.execute(f"pragma {line}")
                with base:
                    yield base
            finally:
                base.close()
        except sqlite3.Error as wrong:
            raise OutputError(str(self.path), "the repertoire can't be used", str(wrong),
                              "close other programs that use it; if it is damaged, move the file away "
                              "and keep your sheets again") from wrong  # fmt: skip

    def keep(self, words: str, dance: Dance) -> Kept:
        """Keep a dance with its words; the same words are kept once."""
        content = hashlib.sha256(words.encode()).hexdigest()
        now = datetime.now(UTC).isoformat(timespec="seconds")
        row = (dance.title, words, json.dumps(whole_json(dance)), content, now)
        with self._open() as base:
            done = base.execute("insert or ignore into sheet (title, words, events, content, kept_at) "
                                "values (?, ?, ?, ?, ?)", row)  # fmt: skip
            if done.rowcount:
                base.execute("insert into sheet_words (rowid, title, words) values (?, ?, ?)",
                             (done.lastrowid, dance.title, words))  # fmt: skip
            kept = base.execute("select id, words, events, kept_at from sheet where content = ?", (content,)).fetchone()
        return _kept(kept)

    def all(self) -> tuple[Kept, ...]:
        """Return the newest text of every dance, by title."""
        with self._open() as base:
            rows = base.execute("select max(id), words, events, kept_at from sheet group by title collate nocase "
                                "order by title collate nocase").fetchall()  # fmt: skip
        return tuple(_kept(row) for row in rows)

    def find(self, words: str) -> tuple[Kept, ...]:
        """Return the kept dances that hold all the words (or words that begin so), the likeliest first."""
        asked = " ".join('"' + word.replace('"', '""') + '"*' for word in words.split())
        if not asked:
            return self.all()
        with self._open() as base:
            rows = base.execute(
                "select sheet.id, sheet.words, events, kept_at "
                "from sheet_words join sheet on sheet.id = sheet_words.rowid "
                "where sheet_words match ? order by bm25(sheet_words, 5.0, 1.0)", (asked,)).fetchall()  # fmt: skip
        return tuple(_kept(row) for row in rows)


def _kept(row: tuple[int, str, str, str]) -> Kept:
    number, words, events, kept_at = row
    return Kept(number, words, dance_from_json(json.loads(events)), kept_at)
