"""Files by their content: ``files/ab/abcdef…``, whole or not at all, never changed, each once.

Where an association's settings name a store that is reached as S3, every file is there too before it is called kept,
and what lies here is only what was asked for of late.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
import time
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.errors import OutputError, UnreadableError
from softshoe.files import PART, folder_for, write_failure
from softshoe.home import files_url
from softshoe.repertoire.bucket import bucket

if TYPE_CHECKING:
    from collections.abc import Iterator

FOLDER = "files"
LEFT_OVER_S = 86_400.0  # a half-written file as old as this is nobody's any more


def home_for(folder: Path) -> Path:
    """Make the folder of what is kept, if need be, and prove that it can be written to; raises OutputError."""
    try:
        return folder_for(folder)
    except OutputError as wrong:
        mend = "choose a folder of your own with SOFTSHOE_HOME, or give yourself the right to write"
        raise OutputError(wrong.where, wrong.what, wrong.why, mend) from wrong


def sha256_of(data: bytes) -> str:
    """Return the sha256 of the data."""
    return hashlib.sha256(data).hexdigest()


def place_of(home: Path, content: str) -> Path:
    """Return where the file of that content lies."""
    return home / FOLDER / content[:2] / content


def put(home: Path, data: bytes) -> str:
    """Keep a file's bytes under their sha256, on the disk and in the store when this returns. Raises OutputError."""
    content = sha256_of(data)
    place = place_of(home, content)
    if not (place.is_file() and place.stat().st_size == len(data)):
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            written(place, data)
        except OSError as wrong:
            raise write_failure(place, wrong) from wrong
    sent(home, content)
    return content


def sent(home: Path, content: str) -> None:
    """Bring a file that lies here to the store, if there is one; raises OutputError."""
    if files_url() and (store := bucket()) is not None:
        store.send(place_of(home, content), content)


def here(home: Path, content: str) -> Path:
    """Return where the file of that content lies, brought from the store first where it has it and the folder has not.

    Nothing may lie there. Raises OutputError where the store can't be used, UnreadableError for a file that is damaged.
    """
    place = place_of(home, content)
    if content and files_url() and not place.is_file() and (store := bucket()) is not None:
        store.fetch(content, place)
    return place


def all_sent(home: Path) -> int:
    """Bring every file that lies here and not in the store there; return how many. Raises OutputError."""
    store = bucket()
    if store is None:
        return 0
    there = store.contents()
    missing = [path for path in all_kept(home) if path.name not in there]
    for path in missing:
        store.send(path, path.name)
    return len(missing)


def written(place: Path, data: bytes) -> None:
    """Write a file whole, its name included, so that it outlives a loss of power; raises OSError."""
    handle, name = tempfile.mkstemp(dir=place.parent, prefix=PART)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(name, place)
        settled(place.parent)
    finally:
        Path(name).unlink(missing_ok=True)


def settled(folder: Path) -> None:
    """Let the names in a folder reach the disk."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def got(home: Path, content: str) -> bytes:
    """Return a kept file; raises UnreadableError where it is missing or no longer what it was."""
    place = here(home, content)
    try:
        data = place.read_bytes()
    except OSError as wrong:
        raise UnreadableError(str(place), "a kept file is missing", wrong.strerror or str(wrong),
                              "“softshoe restore” puts it back from a packed backup") from wrong  # fmt: skip
    if sha256_of(data) != content:
        raise UnreadableError(str(place), "a kept file is damaged", "its content is not what it was when it was kept",
                              "“softshoe restore” puts it back from a packed backup")  # fmt: skip
    return data


def all_kept(home: Path) -> Iterator[Path]:
    """Yield the places of all kept files, in order."""
    yield from sorted(path for path in (home / FOLDER).glob("??/*") if not path.name.startswith(PART))


def swept(folder: Path, pattern: str) -> None:
    """Remove what a killed program left half-written; what another program may be writing now is left alone."""
    long_ago = time.time() - LEFT_OVER_S
    for left in folder.glob(pattern):
        with suppress(FileNotFoundError):  # another program sweeps too
            if left.stat().st_mtime < long_ago:
                shutil.rmtree(left) if left.is_dir() else left.unlink(missing_ok=True)
