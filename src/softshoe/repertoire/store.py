"""The repertoire: everything a leader keeps, in one folder on her computer or in one PostgreSQL database.

``repertoire.sqlite3`` is the database, ``files`` what was kept by content, ``copies`` the database of earlier days.
Opening brings the tables up to date and looks whether they hold together; several programs may have one folder open.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from softshoe.base import DamagedError, open_sqlite, told
from softshoe.errors import OutputError, SettingError
from softshoe.files import PART
from softshoe.repertoire import connections as shared
from softshoe.repertoire.originals import FOLDER as FILES
from softshoe.repertoire.originals import home_for, swept
from softshoe.repertoire.shape import SHAPE, bring_up, known_shape

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from softshoe.base import Base
    from softshoe.dance.dance import Dance
    from softshoe.music.songmap import SongMap
    from softshoe.repertoire.accounts import Account
    from softshoe.repertoire.dances import Put
    from softshoe.repertoire.values import KeptDance

NAME = "repertoire.sqlite3"
LOOKED_AT = 60_000_000  # bytes: a larger database is looked at once a day, with its copy, and not at every opening


@dataclass(frozen=True, slots=True)
class Repertoire:
    """What is kept. ``url`` is that of a PostgreSQL database, "" for the folder's own; ``fixed``: nobody can
    write here. ``viewer``: the account for whose eyes it is opened, "" for all there is; ``reads``: that one only
    reads.
    """

    folder: Path
    url: str = ""
    fixed: bool = False
    viewer: str = ""
    reads: bool = False

    @classmethod
    def at(cls, folder: Path, *, url: str = "") -> Repertoire:
        """Open the repertoire of a folder, made where there is none.

        Raises OutputError when it is damaged, of a newer softshoe, or can't be made or opened.
        """
        path = folder / NAME
        there = path.is_file()
        fixed = not url and there and not (os.access(folder, os.W_OK) and os.access(path, os.W_OK))
        if not fixed:
            home_for(folder)
        repertoire = cls(folder, url, fixed)
        with repertoire._open() as base:
            if fixed:
                repertoire._old_shape(base)
            else:
                bring_up(base, repertoire._before)
                swept(folder, f"{PART}*")
                swept(folder / FILES, f"??/{PART}*")
            if there and not url and path.stat().st_size <= LOOKED_AT:
                repertoire._look(base)
        return repertoire

    def seen_by(self, account: Account) -> Repertoire:
        """Return the same for the eyes of an account: its dances, those that are shared, those that are nobody's.

        Raises SettingError without a database that holds to that.
        """
        with self.reading() as base:
            free = not self.url or base.value("select rolsuper or rolbypassrls as free from pg_roles where rolname = "
                                              "current_user")  # fmt: skip
        if free:
            raise SettingError("the repertoire", "it can't be parted between accounts", "that is for a PostgreSQL "
                               "database whose user may not see past its rules", "make a user for softshoe that is no "
                               "superuser; docs/server.md says how")  # fmt: skip
        return replace(self, viewer=account.uid, reads=account.role == "reader")

    @property
    def path(self) -> Path:
        """The database's file."""
        return self.folder / NAME

    @contextmanager
    def reading(self) -> Iterator[Base]:
        """Yield the database to read from."""
        with self._open() as base:
            yield base

    @contextmanager
    def writing(self) -> Iterator[Base]:
        """Yield the database inside one transaction: all of it is kept, or nothing.

        Before the first change of a day the database is copied.
        """
        if self.fixed:
            raise OutputError(str(self.folder), "nothing was kept", "this folder can only be read",
                              "choose a folder of your own with SOFTSHOE_HOME, or give yourself the right to "
                              "write")  # fmt: skip
        if self.reads:
            raise OutputError("the repertoire", "nothing was kept", "you may read here, not write",
                              "ask a leader to make you one too")  # fmt: skip
        from softshoe.repertoire.copies import daily

        with self._open() as base:
            if not self.url and base.one("select 1 as there from dance limit 1") is not None:
                daily(self.folder, self.path, today=date.today())
            base.begin()
            try:
                yield base
                base.commit()
            except BaseException:
                with told(base.where):
                    base.rollback()
                raise

    @contextmanager
    def _open(self) -> Iterator[Base]:
        wal = self.path.with_name(f"{NAME}-wal")
        still = self.fixed and not (wal.is_file() and wal.stat().st_size)  # nothing that waits to be written
        if self.url:
            with shared.postgresql(self.url, viewer=self.viewer, reads=self.reads) as base:
                yield base
            return
        base = open_sqlite(self.path, read_only=self.fixed, fixed=still)
        try:
            with told(base.where):
                yield base
        finally:
            base.close()

    def _before(self, shape: int) -> None:
        """Copy a database that is about to get another shape."""
        from softshoe.repertoire.copies import copied

        if not self.url:
            copied(self.folder, self.path, f"before-shape-{SHAPE}-{datetime.now():%Y-%m-%d-%H%M%S}")

    def _old_shape(self, base: Base) -> None:
        if (shape := known_shape(base)) < SHAPE:
            raise OutputError(str(self.folder), "the repertoire can't be opened",
                              f"it is of an older shape ({shape}, now {SHAPE}), and this folder can only be read",
                              "open it once in a folder that can be written to")  # fmt: skip

    def _look(self, base: Base) -> None:
        """Look whether every page holds together."""
        try:
            found = [row[0] for row in base.rows("pragma quick_check(3)") if row[0] != "ok"]
        except sqlite3.DatabaseError as wrong:
            found = [str(wrong)]
        if found:
            raise DamagedError(base.where, "the repertoire is damaged", "; ".join(found)[:200],
                               "“softshoe restore” lists the copies and puts one back; the damaged file is kept "
                               "beside it")  # fmt: skip

    def keep(self, words: str, dance: Dance, *, title: str = "", source: str = "") -> Put:
        """Keep a dance with its words, as a new text where its title is known; the same words are kept once."""
        from softshoe.repertoire.dances import Sheet, keep

        sheet = Sheet.of(words, dance, title=title)
        with self.writing() as base:
            return keep(base, sheet, source=source)

    def edit(self, uid: str, words: str, dance: Dance, *, based_on: tuple[str, ...]) -> Put:
        """Keep a changed text of a dance, made from these texts; where one of them was changed meanwhile, both stay."""
        from softshoe.repertoire.dances import Sheet, keep

        sheet = Sheet.of(words, dance)
        with self.writing() as base:
            return keep(base, sheet, uid=uid, based_on=based_on)

    def dance(self, uid: str) -> KeptDance:
        """Return a dance with all its texts."""
        from softshoe.repertoire.dances import kept_dance

        with self.reading() as base:
            return kept_dance(base, uid)

    def all(self) -> tuple[tuple[str, Dance], ...]:
        """Return the newest text of every dance with its title, in the order of titles."""
        import json

        from softshoe.dance.document import dance_from_json

        with self.reading() as base:
            rows = base.rows("select d.title as title, t.events as events from dance d join dance_text t on "
                             "t.dance = d.n "
                             "and t.n = (select max(n) from dance_text where dance = d.n and head = 1) "
                             "order by d.title_key, d.n")  # fmt: skip
            return tuple((row["title"], dance_from_json(json.loads(row["events"]))) for row in rows)

    def songs(self) -> tuple[tuple[str, SongMap], ...]:
        """Return the newest map of every song with its title, in the order of titles."""
        from softshoe.repertoire.songs import newest_maps

        with self.reading() as base:
            return newest_maps(base)
