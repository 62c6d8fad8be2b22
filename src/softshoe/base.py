"""One open database, SQLite or PostgreSQL, behind four small functions; its failures in plain words.

Statements are plain SQL with ``:name`` for values, the same for both. PostgreSQL's driver is loaded only where a
database of that kind is opened.
"""

from __future__ import annotations

import re
import sqlite3
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal

from softshoe.errors import OutputError, WorkbenchError

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from pathlib import Path

Engine = Literal["sqlite", "postgresql"]
Row = Any  # a row of either driver: values by name
NAME = re.compile(r"(?<!:):([a-z_]+)")
WAIT_S = 30.0


class DamagedError(OutputError):
    """A database whose pages don't hold together any more."""


@dataclass(frozen=True, slots=True)
class Base:
    """An open database. Close it when done; nothing is kept before ``commit``."""

    engine: Engine
    raw: Any
    where: str

    def rows(self, sql: str, **values: object) -> list[Row]:
        """Return all rows."""
        return list(self._run(sql, values))

    def one(self, sql: str, **values: object) -> Row | None:
        """Return the first row, or None."""
        return next(iter(self._run(sql, values)), None)

    def value(self, sql: str, **values: object) -> Any:
        """Return the first column of the first row, or None."""
        row = self.one(sql, **values)
        return None if row is None else next(iter(dict(row).values()))

    def run(self, sql: str, **values: object) -> int:
        """Run a statement and return how many rows it touched."""
        return int(self._run(sql, values).rowcount)

    def many(self, sql: str, rows: Iterable[Mapping[str, object]]) -> None:
        """Run a statement once for each row of values."""
        cursor = self.raw.cursor()
        cursor.executemany(_named(sql, self.engine), list(rows))

    def script(self, sql: str) -> None:
        """Run several statements parted by ";" inside the open transaction."""
        for statement in filter(str.strip, sql.split(";\n")):
            self.raw.execute(statement.strip().removesuffix(";"))

    def has_table(self, name: str) -> bool:
        """Return whether a PostgreSQL database has a table of that name, also one that was made this very moment.

        Its ``to_regclass`` may answer from what was known before a lock was waited for; its list of tables does not.
        """
        return self.one("select 1 as there from pg_tables where schemaname = current_schema() and tablename = :name",
                        name=name) is not None  # fmt: skip

    def begin(self) -> None:
        """Begin to write; on SQLite no other program can begin until this is over."""
        self.raw.execute("begin immediate" if self.engine == "sqlite" else "begin")

    def commit(self) -> None:
        """Keep everything since ``begin``, on the disk."""
        self.raw.execute("commit")

    def rollback(self) -> None:
        """Undo everything since ``begin``."""
        if self.engine == "postgresql" or self.raw.in_transaction:
            self.raw.execute("rollback")

    def close(self) -> None:
        """Close the database."""
        self.raw.close()

    def _run(self, sql: str, values: Mapping[str, object]) -> Any:
        return self.raw.execute(_named(sql, self.engine), dict(values))


@lru_cache(maxsize=512)
def _named(sql: str, engine: Engine) -> str:
    """PostgreSQL's driver names values another way, and wants its percent signs doubled."""
    return sql if engine == "sqlite" else NAME.sub(r"%(\1)s", sql.replace("%", "%%"))


def open_sqlite(path: Path, *, read_only: bool = False, fixed: bool = False) -> Base:
    """Open a SQLite file, made where it is not there.

    ``fixed`` reads a file in a folder that nobody can write to. Raises what ``told`` makes of a failure.
    """
    with told(str(path)):
        how = ("?mode=ro" if read_only else "?mode=rwc") + ("&immutable=1" if fixed else "")
        raw = sqlite3.connect(f"{path.absolute().as_uri()}{how}", uri=True, isolation_level=None, timeout=WAIT_S,
                              check_same_thread=False)  # fmt: skip
        raw.row_factory = sqlite3.Row
        try:
            if not read_only:
                raw.execute("pragma journal_mode = wal")
            for line in ("synchronous = full", "foreign_keys = on", "cache_size = -16000", "trusted_schema = off"):
                raw.execute(f"pragma {line}")
        except BaseException:
            raw.close()
            raise
    return Base("sqlite", raw, str(path))


def open_postgresql(url: str) -> Base:
    """Open a PostgreSQL database; raises OutputError where it does not answer."""
    import psycopg
    from psycopg.conninfo import conninfo_to_dict
    from psycopg.rows import dict_row

    with told("SOFTSHOE_DATABASE"):
        named = conninfo_to_dict(url)
    where = f"PostgreSQL, {named.get('dbname', 'postgres')} at {named.get('host', 'this computer')}"
    with told(where):
        raw = psycopg.connect(url, autocommit=True, row_factory=dict_row)
    return Base("postgresql", raw, where)


@contextmanager
def told(where: str, mend: str = "") -> Iterator[None]:
    """Turn the failures of either driver into plain words."""
    try:
        yield
    except sqlite3.Error as wrong:
        raise _sqlite_told(where, wrong, mend) from wrong
    except Exception as wrong:
        if isinstance(wrong, WorkbenchError) or not type(wrong).__module__.startswith("psycopg"):
            raise
        raise OutputError(where, "the database can't be used", " ".join(str(wrong).split()),
                          "see that the database runs and that its address is right") from wrong  # fmt: skip


RESTORE = "“softshoe restore” lists the copies and puts one back; the damaged file is kept beside it"
SAID: tuple[tuple[tuple[str, ...], str, str, str], ...] = (
    (("SQLITE_FULL", "SQLITE_IOERR_WRITE"), "nothing was kept", "the disk is full",
     "make room on the disk and do it again; what was kept before is whole"),
    (("SQLITE_BUSY", "SQLITE_LOCKED"), "the repertoire is busy", "another program has been writing to it for long",
     "wait for it, or close it, and do it again"),
    (("SQLITE_READONLY",), "nothing was kept", "this folder can only be read",
     "choose a folder of your own with SOFTSHOE_HOME, or give yourself the right to write"),
    (("SQLITE_CANTOPEN", "SQLITE_PERM"), "the repertoire can't be opened", "the folder or the file may not be opened",
     "look at the rights of the folder, or choose another with SOFTSHOE_HOME"),
)  # fmt: skip


def _sqlite_told(where: str, wrong: sqlite3.Error, mend: str) -> OutputError:
    name = getattr(wrong, "sqlite_errorname", "") or ""
    if name.startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_IOERR_SHORT_READ")) or "malformed" in str(wrong):
        return DamagedError(
            where, "the repertoire is damaged", f"its pages don't hold together ({wrong})", mend or RESTORE
        )
    for names, what, why, how in SAID:
        if name.startswith(names):
            return OutputError(where, what, why, how)
    return OutputError(where, "the repertoire can't be used", str(wrong), mend or RESTORE)
