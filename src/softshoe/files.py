"""Files written whole or not at all, and folders that can be written to.

A file in the making has a name of its own beside its place (``.part-…``) and takes its place by one rename; what
is left over from a power cut is swept by ``sweep``.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import tempfile
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.errors import OutputError, SettingError

if TYPE_CHECKING:
    from collections.abc import Iterator

PART = ".part-"
CHUNK = 1 << 20
_ENDING = re.compile(r"\.[A-Za-z][A-Za-z0-9]{1,4}$")  # that of "waltz.pdf", not that of "St. Ann" or "No.2"

_WHY = {
    errno.ENOSPC: ("the disk is full", "make room, or choose a folder on another disk with -o"),
    errno.EACCES: ("you have no permission to write here", "choose another folder with -o, one of your own"),
    errno.EPERM: ("you have no permission to write here", "choose another folder with -o, one of your own"),
    errno.EROFS: ("this disk can only be read", "choose a folder on another disk with -o"),
    errno.ENOTDIR: ("there is a file where a folder is needed", "choose another folder with -o"),
    errno.EEXIST: ("there is a file where a folder is needed", "choose another folder with -o"),
    errno.ENOENT: ("there is no such folder", "make the folder first, or choose another folder with -o"),
    errno.EISDIR: ("there is a folder of this name", "choose another name with -o"),
    errno.ENAMETOOLONG: ("the name is too long for this disk", "choose a shorter name with -o"),
}


def write_failure(path: Path, wrong: OSError) -> OutputError:
    """Return the failure to write this file, in plain words."""
    why, mend = _WHY.get(wrong.errno or 0, (wrong.strerror or str(wrong), "choose another folder with -o"))
    return OutputError(str(path), "can't be written", why, mend)


@contextmanager
def whole(path: Path) -> Iterator[Path]:
    """Yield a temporary path beside ``path``; when the block ends well it becomes ``path``, else nothing is left.

    The temporary name keeps the suffix, so that writers which go by it choose the right form.
    Raises OutputError when the folder can't be written or the disk is full.
    """
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=PART, suffix=path.suffix)
        os.close(handle)
    except OSError as wrong:
        raise write_failure(path, wrong) from wrong
    part = Path(name)
    try:
        yield part
        part.chmod(0o644)
        os.replace(part, path)
    except OSError as wrong:
        raise write_failure(path, wrong) from wrong
    finally:
        part.unlink(missing_ok=True)


def write_whole(path: Path, content: str | bytes) -> None:
    """Write the content to the path, whole or not at all."""
    data = content.encode() if isinstance(content, str) else content
    with whole(path) as part:
        part.write_bytes(data)


def named(said: Path | None, usual: str, *endings: str) -> Path:
    """Return the file that ``-o`` means: the usual name where nothing is said, that name in the folder where one is
    said, and the first of the endings where the name has none (the usual name never has).

    Raises SettingError where the name ends like another kind of file.
    """
    if said is None or said.is_dir():
        return (said or Path()) / f"{usual}{endings[0]}"
    ending = _ENDING.search(said.name)
    if ending is None:
        return said.with_name(f"{said.name}{endings[0]}")
    if ending[0].casefold() not in endings:
        raise SettingError("-o", f"“{said.name}” ends like another kind of file",
                           "the ending of the name says the kind",
                           f"end the name in {' or '.join(endings)}, or leave the ending away")  # fmt: skip
    return said


def folder_for(path: Path) -> Path:
    """Make the folder if need be, prove that it can be written to, and return it; raises OutputError."""
    try:
        path.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=path):
            pass
    except OSError as wrong:
        raise write_failure(path, wrong) from wrong
    return path


def sweep(folder: Path) -> None:
    """Remove what unfinished writing left in the folder."""
    for left in folder.glob(f"{PART}*"):
        left.unlink(missing_ok=True)


def content_hash(path: Path) -> str:
    """Return the sha256 of the file's content, "" when there is no such file."""
    digest = hashlib.sha256()
    try:
        with path.open("rb") as file:
            while block := file.read(CHUNK):
                digest.update(block)
    except OSError:
        return ""
    return digest.hexdigest()
