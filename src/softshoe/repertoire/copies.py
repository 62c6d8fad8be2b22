"""Copies of the database kept by age: one before the first change of a day, then one a week, a month, a year.

``copies/2026-11-28.sqlite3.gz`` with its sha256 beside it, as ``sha256sum`` writes it. Days are the computer's own;
where its clock stands before the newest copy, that copy's day counts, so that no copy is lost to a wrong clock.
"""

from __future__ import annotations

import gzip
import hashlib
import os
import shutil
import sqlite3
import tempfile
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.base import DamagedError, told
from softshoe.errors import UnreadableError
from softshoe.files import PART, folder_for, write_failure
from softshoe.repertoire.originals import settled, swept, written

if TYPE_CHECKING:
    from collections.abc import Callable

FOLDER, ENDING = "copies", ".sqlite3.gz"
DAYS, WEEKS, MONTHS, YEARS = 7, 8, 24, 1000  # so many of each stay
SPANS: tuple[tuple[int, Callable[[date], tuple[int, ...]]], ...] = (
    (WEEKS, lambda day: day.isocalendar()[:2]), (MONTHS, lambda day: (day.year, day.month)),
    (YEARS, lambda day: (day.year,)),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Copy:
    """A copy of the database: its name (a day, or what it was made before) and its file."""

    name: str
    path: Path

    @property
    def day(self) -> date | None:
        """The day it is of; None for one that was made before something, which is never thinned out."""
        try:
            return date.fromisoformat(self.name)
        except ValueError:
            return None


def copies(home: Path) -> list[Copy]:
    """Return the copies, the oldest first."""
    found = [Copy(path.name.removesuffix(ENDING), path) for path in (home / FOLDER).glob(f"*{ENDING}")]
    return sorted((copy for copy in found if not copy.name.startswith(".")), key=lambda copy: copy.path.name)


def daily(home: Path, database: Path, *, today: date) -> Copy | None:
    """Copy the database, unless this day has its copy, and thin the old ones out; None where nothing was to do."""
    name = today.isoformat()
    if (home / FOLDER / f"{name}{ENDING}").exists():
        return None
    copy = copied(home, database, name)
    thinned(home)
    return copy


def copied(home: Path, database: Path, name: str) -> Copy:
    """Copy the database as it is now under a name, checked before it gets that name.

    Raises DamagedError where the database does not hold together, OutputError where the copy can't be written.
    """
    folder = folder_for(home / FOLDER)
    swept(folder, f"{PART}*")
    place = folder / f"{name}{ENDING}"
    with tempfile.TemporaryDirectory(dir=folder, prefix=PART) as room:
        plain = Path(room) / "plain"
        snapshot(database, plain)
        try:
            packed = Path(room) / "packed"
            with plain.open("rb") as source, gzip.GzipFile(packed, "wb", compresslevel=1, mtime=0) as target:
                shutil.copyfileobj(source, target, 1 << 20)
            with packed.open("rb+") as file:
                os.fsync(file.fileno())
            written(folder / f"{place.name}.sha256", f"{hash_of(packed)}  {place.name}\n".encode())
            os.replace(packed, place)
            settled(folder)
        except OSError as wrong:
            raise write_failure(place, wrong) from wrong
    return Copy(name, place)


def snapshot(database: Path, target: Path) -> None:
    """Copy an open database page by page, as of one moment, and check the copy."""
    with told(str(database)):
        source = sqlite3.connect(f"{database.absolute().as_uri()}?mode=ro", uri=True)
        made = sqlite3.connect(target)
        try:
            source.backup(made)
            made.execute("pragma journal_mode = delete")
            wrong = checked(made)
        finally:
            made.close()
            source.close()
    if wrong:
        raise DamagedError(str(database), "the repertoire is damaged", wrong,
                           "“softshoe restore” lists the copies and puts one back; the damaged file is kept "
                           "beside it")  # fmt: skip


def checked(base: sqlite3.Connection) -> str:
    """Return what is wrong with a database's pages and references, "" where all holds together."""
    try:
        found = [row[0] for row in base.execute("pragma integrity_check(3)") if row[0] != "ok"]
        found += [f"{row[0]} points to what is not there" for row in base.execute("pragma foreign_key_check")]
    except sqlite3.DatabaseError as wrong:
        return str(wrong)
    return "; ".join(found[:3])


def hash_of(path: Path) -> str:
    """Return the sha256 of a file."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def unpacked(copy: Copy, target: Path) -> None:
    """Unpack a copy whose checksum holds; raises UnreadableError where it does not, or there is none."""
    beside = copy.path.with_name(f"{copy.path.name}.sha256")
    said = beside.read_text(encoding="utf-8").split() if beside.is_file() else [""]
    if not said or said[0] != hash_of(copy.path):
        raise UnreadableError(str(copy.path), "this copy can't be trusted", "its checksum does not agree: it is "
                                                                            "cut short or changed",
                              "choose another copy; nothing was touched")  # fmt: skip
    with gzip.open(copy.path) as source, target.open("wb") as plain:
        shutil.copyfileobj(source, plain, 1 << 20)


def thinned(home: Path) -> None:
    """Remove copies that are no longer wanted by their age."""
    dated = {copy.day: copy for copy in copies(home) if copy.day}
    for day in set(dated) - wanted(set(dated)):
        dated[day].path.unlink(missing_ok=True)
        dated[day].path.with_name(f"{dated[day].path.name}.sha256").unlink(missing_ok=True)


def wanted(days: set[date]) -> set[date]:
    """Return the days whose copies stay: the newest, then the first of each of the newest weeks and months, of every
    year.

    Only their order and number counts, not what day it is said to be: a wrong clock can remove no more than its own
    copies.

    >>> from datetime import timedelta
    >>> len(wanted({date(2026, 11, 28) - timedelta(days=k) for k in range(1000)}))
    39
    """
    stays = set(sorted(days)[-DAYS:])
    for most, span in SPANS:
        first: dict[tuple[int, ...], date] = {}
        for day in sorted(days):
            first.setdefault(span(day), day)
        stays |= set([first[key] for key in sorted(first)][-most:])
    return stays
