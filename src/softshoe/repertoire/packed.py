"""Backups: everything that is kept in one file, with the checksum of each part; and everything put back from one.

A backup is an ordinary zip: the database as of one moment, the kept files, the locked notes as they are (locked), and
``checksums.txt`` as ``sha256sum`` writes it. What is to be put back is checked to the last byte before anything is
touched, and what was there is copied first.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sqlite3
import tempfile
import zipfile
import zlib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.base import told
from softshoe.errors import OutputError, SettingError, UnreadableError
from softshoe.files import PART, folder_for, whole, write_failure
from softshoe.repertoire import originals, people
from softshoe.repertoire.copies import Copy, checked, copied, copies, hash_of, snapshot, unpacked
from softshoe.repertoire.shape import SHAPE
from softshoe.repertoire.store import NAME

if TYPE_CHECKING:
    from collections.abc import Iterator

SUMS = "checksums.txt"
CHUNK = 1 << 20
WHAT = """This is a backup of a softshoe repertoire. “softshoe restore” puts it back. Without softshoe: the dances lie
in repertoire.sqlite3, an SQLite database, tables dance and dance_text; files holds what they were read from, by sha256.
“sha256sum -c checksums.txt” proves that every part is whole.
"""


@dataclass(frozen=True, slots=True)
class Packed:
    """What a backup holds: dances, texts and files, and bytes in all."""

    path: Path
    dances: int
    texts: int
    files: int
    size: int


def packed(home: Path, target: Path) -> Packed:
    """Pack everything that is kept into one file, checked before it gets its name.

    Raises SettingError where nothing is kept or the file is there, OutputError where it can't be written.
    """
    if not (home / NAME).is_file():
        raise _nothing(home)
    if target.exists():
        raise SettingError(str(target), "the file is there already", "a backup never takes another's place",
                           "choose another name")  # fmt: skip
    folder_for(target.absolute().parent)
    with (
        tempfile.TemporaryDirectory(dir=target.absolute().parent, prefix=PART) as room,
        whole(target.absolute()) as part,
    ):
        database = Path(room) / NAME
        snapshot(home / NAME, database)
        try:
            _pack(home, database, part)
        except OSError as wrong:
            raise write_failure(target, wrong) from wrong
        dances, texts = _counted(database)
        if not dances and not people.there(home):
            raise _nothing(home)
        with part.open("rb+") as file:
            os.fsync(file.fileno())
        _verified(part, str(target))
        files = sum(1 for _ in originals.all_kept(home))
        size = part.stat().st_size
    return Packed(target, dances, texts, files, size)


def _nothing(home: Path) -> SettingError:
    return SettingError(str(home), "there is nothing to back up", "nothing is kept yet", "“softshoe keep SHEET” begins")


def _pack(home: Path, database: Path, target: Path) -> None:
    sums = []
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as pack:
        for name, path in _parts(home, database):
            pack.write(path, name)
            sums.append(f"{hash_of(path)}  {name}\n")
        pack.writestr("README.txt", WHAT)
        sums.append(f"{hashlib.sha256(WHAT.encode()).hexdigest()}  README.txt\n")
        pack.writestr(SUMS, "".join(sums))


def _parts(home: Path, database: Path) -> Iterator[tuple[str, Path]]:
    yield NAME, database
    for path in originals.all_kept(home):
        yield f"{originals.FOLDER}/{path.name[:2]}/{path.name}", path
    if people.there(home):
        yield people.NAME, home / people.NAME


def _counted(database: Path) -> tuple[int, int]:
    base = sqlite3.connect(database)
    try:
        row = base.execute("select (select count(*) from dance), (select count(*) from dance_text)").fetchone()
    finally:
        base.close()
    return int(row[0]), int(row[1])


def _cut(where: str, why: str) -> UnreadableError:
    return UnreadableError(where, "this backup can't be trusted", why, "choose another backup; nothing was touched")


def _verified(path: Path, where: str) -> dict[str, str]:
    """Return the parts of a backup by name, with their checksums, every one of which holds."""
    try:
        with zipfile.ZipFile(path) as pack:
            lines = pack.read(SUMS).decode().splitlines()
            sums = {name: said for said, name in (line.split(maxsplit=1) for line in lines)}
            wrong = next((name for name, said in sums.items() if _streamed(pack, name) != said), None)
            strange = set(pack.namelist()) - set(sums) - {SUMS}
    except FileNotFoundError as fault:
        raise SettingError(where, "there is no such backup", "nothing has that name here",
                           "“softshoe restore” lists the copies") from fault  # fmt: skip
    except (zipfile.BadZipFile, KeyError, ValueError, OSError, EOFError, NotImplementedError, zlib.error) as fault:
        raise _cut(where, f"it is cut short or no backup ({fault})") from fault
    if wrong is not None:
        raise _cut(where, f"{wrong} is not what it was")
    if strange or NAME not in sums or any(_outside(name) for name in sums):
        raise _cut(where, "it holds something else than a backup does")
    return sums


def _streamed(pack: zipfile.ZipFile, name: str) -> str:
    digest = hashlib.sha256()
    with pack.open(name) as file:
        while block := file.read(CHUNK):
            digest.update(block)
    return digest.hexdigest()


def _outside(name: str) -> bool:
    """Whether a part is none that a backup has."""
    parts = name.split("/")
    kept = len(parts) == 3 and parts[0] == originals.FOLDER and len(parts[2]) == 64 and parts[2].isalnum()
    return not kept and name not in (NAME, people.NAME, "README.txt")


def put_back(home: Path, what: str) -> str:
    """Put everything back from a backup's file, or the database from a copy's name; return what was done, in words.

    Nothing is touched before all of it is checked. The database that was there is copied, or moved aside where it is
    damaged; files that are there stay, and locked notes that differ are kept beside those put back.
    """
    known = {copy.name: copy for copy in copies(home)}
    originals.home_for(home)
    with tempfile.TemporaryDirectory(dir=home, prefix=PART) as room:
        database = Path(room) / NAME
        if what in known:
            unpacked(known[what], database)
            _sound(database, what)
            return _exchanged(home, database, f"the copy {what}")
        path = Path(what)
        sums = _verified(path, what)
        with zipfile.ZipFile(path) as pack:
            with pack.open(NAME) as source, database.open("wb") as target:
                shutil.copyfileobj(source, target, CHUNK)
            _sound(database, what)
            _files_back(home, pack, sums)
        return _exchanged(home, database, path.name)


def _sound(database: Path, where: str) -> None:
    """Raise where a database that is to be put back does not hold together, or is of a newer softshoe."""
    base = sqlite3.connect(database)
    try:
        shape = int(base.execute("pragma user_version").fetchone()[0])
        wrong = checked(base)
    except sqlite3.DatabaseError as fault:
        raise _cut(where, f"its database does not hold together ({fault})") from fault
    finally:
        base.close()
    if wrong:
        raise _cut(where, f"its database does not hold together ({wrong})")
    if shape > SHAPE:
        raise OutputError(where, "the backup is of a newer softshoe", f"it has shape {shape}, this program "
                                                                      f"knows {SHAPE}",
                          "bring softshoe up to date; nothing was touched")  # fmt: skip


def _files_back(home: Path, pack: zipfile.ZipFile, sums: dict[str, str]) -> None:
    for name in sums:
        if name.startswith(originals.FOLDER):
            originals.put(home, pack.read(name))
    if people.NAME in sums:
        mine, theirs = home / people.NAME, pack.read(people.NAME)
        if mine.is_file() and mine.read_bytes() != theirs:
            os.replace(mine, home / f"{people.NAME}.before-restore-{datetime.now():%Y-%m-%d-%H%M%S}")
        originals.written(mine, theirs)


def _exchanged(home: Path, database: Path, name: str) -> str:
    """Let a checked database take the place of the one that is there."""
    place, now = home / NAME, f"{datetime.now():%Y-%m-%d-%H%M%S}"
    before = ""
    if place.is_file():
        try:
            copied(home, place, f"before-restore-{now}")
            before = f"; what was there is the copy before-restore-{now}"
        except (OutputError, OSError):
            aside = home / f"damaged-{now}"
            folder_for(aside)
            for part in home.glob(f"{NAME}*"):
                os.replace(part, aside / part.name)
            before = f"; the damaged file lies in {aside.name}"
    with told(str(place)):
        source, target = sqlite3.connect(database), sqlite3.connect(place, timeout=30)
        try:
            source.backup(target)
            target.execute("pragma journal_mode = wal")
        finally:
            target.close()
            source.close()
    dances, texts = _counted(place)
    return f"{name} is back: {dances} dances in {texts} texts{before}"


def listed(home: Path) -> list[Copy]:
    """Return the copies that can be put back, the newest first."""
    return copies(home)[::-1]
