"""The one door for long work: ask for it, be told how it goes, stop it, ask again.

What was asked is written down before ``ask`` returns. The work is done by other programs: on one computer by a worker
that the door starts and starts again after a crash, for an association by its workers. Nothing heavy is loaded here.
"""

from __future__ import annotations

import json
import shutil
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.errors import SettingError
from softshoe.jobs.book import FOLDER, Book, now_iso, told_of
from softshoe.jobs.keeper import Keeper
from softshoe.jobs.kinds import kind_named
from softshoe.jobs.told import OVER

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.base import Base, Row
    from softshoe.jobs.kinds import JSON, Kind
    from softshoe.jobs.told import Told

FRESH: dict[str, Any] = {"state": "waiting", "share": 0.0, "left_s": None, "words": "waits for its turn", "fault": None,
                         "given": 0, "stop": 0, "worker": "", "ended_at": ""}  # fmt: skip
PLACES = ("folder",)  # of what is asked, beside the files a kind reads: where its work goes


class Door:
    """See ``open_door``."""

    def __init__(self, book: Book, keeper: Keeper | None, kinds: Path | None) -> None:
        self._book, self._keeper, self._kinds = book, keeper, kinds

    def ask(self, kind: str, asked: Mapping[str, JSON]) -> str:
        """Ask for a job and return its name; the same asked twice, of the same files, is one job.

        One that failed, was stopped, or whose files are gone is done again.
        Raises SettingError for an unknown kind, UnreadableError where a file that it reads is not there.
        """
        row = kind_named(kind, self._kinds)
        asked = _whole(asked, row)
        job = row.name_of(asked | {"account": self._book.owner} if self._book.owner else asked)
        with self._book.writing() as base:
            there = base.one("select * from job where name = :job", job=job)
            if there is None:
                _enter(base, job, kind, asked, self._book.owner)
            elif there["state"] in OVER and not (there["state"] == "done" and _still_there(there)):
                self._anew(base, there, "")
        self._wake()
        return job

    def told(self, job: str) -> Told:
        """Return how a job stands; a name may be cut to six letters. Raises SettingError where there is none."""
        return told_of(self._book.row(job))

    def all(self) -> list[Told]:
        """Return every job, the one that was asked first first."""
        return [told_of(row) for row in self._book.rows()]

    def changes(self, since: int = 0, *, wait_s: float = 0.0) -> list[Told]:
        """Return the jobs that changed after ``since`` (the greatest ``Told.changed`` seen so far), the oldest change
        first; where there is none, wait for one, at most ``wait_s`` seconds.
        """
        bell = self._book.bell() if wait_s > 0 else None
        try:
            if not (rows := self._since(since)) and bell is not None and bell.wait(wait_s):
                rows = self._since(since)
        finally:
            if bell is not None:
                bell.close()
        return [told_of(row) for row in rows]

    def stop(self, job: str) -> None:
        """Stop a job; what is done of it stays for the next time. Nothing happens to one that is over."""
        name = self._book.row(job)["name"]
        with self._book.writing() as base:
            row = self._book.held(base, name)
            if row["state"] in OVER:
                return
            if row["state"] == "waiting" or not self._book.worked_on():
                self._book.put(base, name, state="stopped", words="stopped before it was done", left_s=None,
                               ends=row["ends"] + 1, ended_at=now_iso())  # fmt: skip
            else:
                self._book.put(base, name, stop=1, words="is being stopped")

    def again(self, job: str, why: str = "") -> str:
        """Do a job that is over once more, with the reason why; what is still as it should be is kept."""
        name = str(self._book.row(job)["name"])
        with self._book.writing() as base:
            row = self._book.held(base, name)
            if row["state"] not in OVER:
                raise SettingError(f"job {name[:8]}", "it can't be done again yet", f"it is {row['state']}",
                                   "wait for it, or stop it first")  # fmt: skip
            self._anew(base, row, why or _reason(row))
        self._wake()
        return name

    def forget(self, job: str) -> None:
        """Take a job that is over out of the list, with the folder that it made for itself, if it did."""
        row = self._book.row(job)
        if row["state"] not in OVER:
            raise SettingError(f"job {row['name'][:8]}", "it can't be forgotten yet", f"it is {row['state']}",
                               "stop it first")  # fmt: skip
        shutil.rmtree(self._book.home / FOLDER / row["name"], ignore_errors=True)
        with self._book.writing() as base:
            base.run("delete from job where name = :job", job=row["name"])

    def damaged(self) -> list[Path]:
        """Return lists of jobs that were damaged and set aside."""
        return self._book.damaged()

    def _since(self, since: int) -> list[Row]:
        return sorted(self._book.rows("changed > :since", since=since), key=lambda row: int(row["changed"]))

    def _anew(self, base: Base, row: Row, why: str) -> None:
        self._book.put(base, row["name"], **FRESH, why=why, attempt=row["attempt"] + 1, asked_at=now_iso())

    def _wake(self) -> None:
        if self._keeper is not None:
            self._keeper.wake()


@contextmanager
def open_door(
    home: Path, *, database: str | None = None, kinds: Path | None = None, account: str = ""
) -> Iterator[Door]:
    """Open the door to the jobs of a home, or of an association's PostgreSQL database.

    Without a database a worker on this computer does the work, as long as the door is open; work that was cut short
    goes on the next time. With one, the association's workers do ("softshoe jobs work").

    kinds : a further table of kinds
    account : whose jobs are asked for and seen, of an association; "" for all
    Raises OutputError where the folder or the database can't be used.
    """
    book = Book.at(home, url=database or "", owner=account)
    keeper = None if database else Keeper(book, kinds)
    try:
        if keeper is not None:
            keeper.start()
        yield Door(book, keeper, kinds)
    finally:
        if keeper is not None:
            keeper.close()


def _enter(base: Base, job: str, kind: str, asked: Mapping[str, JSON], owner: str) -> None:
    row = {**FRESH, "name": job, "kind": kind, "asked": json.dumps(asked, sort_keys=True), "made": "[]", "why": "",
           "attempt": 1, "ends": 0, "asked_at": now_iso(), "owner": owner}  # fmt: skip
    base.run(f"insert into job ({', '.join(row)}, changed) values ({', '.join(f':{name}' for name in row)}, "
             "(select coalesce(max(changed), 0) + 1 from job))", **row)  # fmt: skip


def _whole(asked: Mapping[str, JSON], kind: Kind) -> dict[str, JSON]:
    """What is asked, with whole paths: the work is done elsewhere."""

    def path(said: JSON) -> JSON:
        if isinstance(said, (list, tuple)):
            return [path(one) for one in said]
        return str(Path(said).absolute()) if isinstance(said, str) and said else said

    return {name: path(said) if name in (*kind.reads, *PLACES) else said for name, said in asked.items()}


def _still_there(row: Row) -> bool:
    return all(path.exists() for path in told_of(row).made)


def _reason(row: Row) -> str:
    if row["fault"]:
        return str(row["fault"]).splitlines()[0]
    return "it was stopped" if row["state"] == "stopped" else "asked for again"
