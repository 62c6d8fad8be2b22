"""The book of jobs: one row for each, in a file of its own or in an association's PostgreSQL.

A row is what was asked and how it stands; it is written before anybody is told that a job was taken. Every write
raises ``changed``, one after the other, so that whoever follows misses none.
"""

from __future__ import annotations

import json
import os
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from softshoe.base import DamagedError, open_postgresql, open_sqlite, told
from softshoe.errors import OutputError, SettingError
from softshoe.files import folder_for
from softshoe.jobs.told import Told

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.base import Base, Row
    from softshoe.jobs.bell import Bell
    from softshoe.jobs.told import State

FOLDER, NAME = "jobs", "jobs.sqlite3"
SHAPE = 2
LOCK = 5078  # the number of PostgreSQL's lock under which jobs are written
CHANNEL = "softshoe_jobs"
SHORT = 6  # letters of a name that must be said


def now_iso() -> str:
    """Return this moment, ISO 8601 in UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


@dataclass(frozen=True, slots=True)
class Book:
    """The jobs of a home, or of a database. ``url`` is that of a PostgreSQL database, "" for the home's own file;
    ``owner`` the account whose jobs alone are seen, "" for all.
    """

    home: Path
    url: str = ""
    owner: str = ""

    @classmethod
    def at(cls, home: Path, *, url: str = "", owner: str = "") -> Book:
        """Open the book, made where there is none; raises OutputError where it can't be, or is of a newer softshoe.

        owner : the account whose jobs alone are seen, and asked for; "" for all

        A damaged file is set aside and a new one begun: what jobs left stays, and what was asked is asked anew.
        """
        folder_for(home / FOLDER)
        book = cls(home, url, owner)
        try:
            book._shape()
        except DamagedError:
            book._set_aside()
            book._shape()
        return book

    def _shape(self) -> None:
        with self._open() as base:
            _shaped(base)
            if not self.url and (found := base.value("pragma quick_check(1)")) != "ok":
                raise DamagedError(base.where, "the list of jobs is damaged", str(found), "it is set aside")

    def _set_aside(self) -> None:
        path = self.home / FOLDER / NAME
        for ending in ("-wal", "-shm"):
            path.with_name(NAME + ending).unlink(missing_ok=True)
        os.replace(path, path.with_name(f"jobs-damaged-{datetime.now(UTC):%Y-%m-%d-%H%M%S}.sqlite3"))

    def damaged(self) -> list[Path]:
        """Return the damaged files that were set aside."""
        return sorted((self.home / FOLDER).glob("jobs-damaged-*.sqlite3"))

    @contextmanager
    def _open(self) -> Iterator[Base]:
        base = open_postgresql(self.url) if self.url else open_sqlite(self.home / FOLDER / NAME)
        try:
            with told(base.where):
                yield base
        finally:
            base.close()

    @contextmanager
    def writing(self) -> Iterator[Base]:
        """Yield the database inside one transaction, which nobody else writes in meanwhile."""
        with self._open() as base:
            base.begin()
            try:
                if self.url:
                    base.run(f"select pg_advisory_xact_lock({LOCK})")
                yield base
                if self.url:
                    base.run(f"notify {CHANNEL}")
                base.commit()
            except BaseException:
                with told(base.where):
                    base.rollback()
                raise

    def bell(self) -> Bell:
        """Return a bell that rings when any job changed."""
        from softshoe.jobs.bell import FileBell, ServerBell

        return ServerBell(self.url) if self.url else FileBell(self.home / FOLDER / NAME)

    def row(self, job: str) -> Row:
        """Return the row of a job by its name, or the beginning of it; raises SettingError where there is none."""
        with self._open() as base:
            found = base.rows("select * from job where name like :start and :owner in ('', owner)", start=f"{job}%",
                              owner=self.owner)  # fmt: skip
        if len(job) < SHORT or len(found) != 1:
            raise SettingError(f"“{job}”", "there is no such job", "no job, or more than one, has that name",
                               "“softshoe jobs” lists them")  # fmt: skip
        return found[0]

    @staticmethod
    def held(base: Base, job: str) -> Row:
        """Return the row of a job that is there, inside a transaction."""
        (row,) = base.rows("select * from job where name = :job", job=job)
        return row

    def rows(self, where: str = "1 = 1", **values: object) -> list[Row]:
        """Return rows, the one that was asked first first."""
        with self._open() as base:
            return base.rows(f"select * from job where ({where}) and :owner in ('', owner) order by asked_at, name",
                             owner=self.owner, **values)  # fmt: skip

    def unfinished(self) -> bool:
        """Say whether there is something to be done."""
        with self._open() as base:
            return base.one("select 1 as there from job where state in ('waiting', 'doing') limit 1") is not None

    def worked_on(self) -> bool:
        """Say whether somebody may be at work: of a home, whether its worker lives; of a database, always."""
        from softshoe.jobs.keeper import free

        return bool(self.url) or not free(self.home)

    def put(self, base: Base, job: str, **columns: object) -> None:
        """Change a row."""
        told = ", ".join(f"{name} = :{name}" for name in columns)
        base.run(f"update job set {told}, changed = (select max(changed) from job) + 1 where name = :job", job=job,
                 **columns)  # fmt: skip


def _shaped(base: Base) -> None:
    if _shape(base) == SHAPE:
        return
    base.begin()
    try:
        if base.engine == "postgresql":
            base.run(f"select pg_advisory_xact_lock({LOCK})")
        shape = _shape(base)
        if shape > SHAPE:
            raise OutputError(base.where, "the jobs are of a newer softshoe", f"they have shape {shape}, and this "
                              f"program knows shapes up to {SHAPE}; nothing was touched",
                              "bring softshoe up to date here too")  # fmt: skip
        for number in range(shape + 1, SHAPE + 1):
            base.script((files("softshoe") / "data" / "jobs" / f"{number:04}.sql").read_text(encoding="utf-8"))
        if base.engine == "sqlite":
            base.run(f"pragma user_version = {SHAPE}")
        else:
            base.script("create table if not exists job_shape (number integer not null);\ndelete from job_shape;\n"
                        f"insert into job_shape (number) values ({SHAPE});\n")  # fmt: skip
        base.commit()
    except BaseException:
        base.rollback()
        raise


def _shape(base: Base) -> int:
    if base.engine == "sqlite":
        return int(base.value("pragma user_version") or 0)
    return int(base.value("select number from job_shape") or 0) if base.has_table("job_shape") else 0


def told_of(row: Row) -> Told:
    """Return what is told of a row."""
    made = tuple(Path(path) for path in json.loads(row["made"]))
    return Told(row["name"], row["kind"], cast("State", row["state"]), row["share"], row["left_s"], row["words"], made,
                row["fault"], row["why"], row["attempt"], row["asked_at"], row["ended_at"],
                row["changed"])  # fmt: skip


def asked_of(row: Row) -> dict[str, Any]:
    """Return what was asked."""
    asked: dict[str, Any] = json.loads(row["asked"])
    return asked
