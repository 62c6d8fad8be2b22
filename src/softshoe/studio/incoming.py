"""Songs that come in: streamed to the disk, kept under their own sha256, whole or not at all, up to a limit."""

from __future__ import annotations

import hashlib
import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect

from softshoe.errors import SettingError
from softshoe.files import PART, folder_for, write_failure
from softshoe.repertoire.originals import FOLDER, place_of, sent, settled, swept
from softshoe.studio.failing import TooLargeError

if TYPE_CHECKING:
    from starlette.requests import Request

LARGEST = 2_000_000_000  # bytes of one recording
EMPTY = SettingError("the song", "nothing came in", "the file is empty", "choose another file")
CUT = SettingError("the song", "it did not come in whole", "the page was closed meanwhile", "drop the file once more")


def too_large() -> TooLargeError:
    """Return the failure of a file over the limit."""
    return TooLargeError("the song", "this file is too large", f"a recording may have {LARGEST / 1e9:.0f} GB",
                         "choose the song alone, as mp3, m4a, flac or wav")  # fmt: skip


async def taken_in(request: Request, home: Path) -> str:
    """Keep the body of a request as a file of the repertoire's folder and return its sha256.

    Memory stays small whatever is sent. Raises TooLargeError at the limit, before anything is read where the size is
    told; OutputError where the disk is full.
    """
    said = request.headers.get("content-length", "")
    if said.isdecimal() and int(said) > LARGEST:
        raise too_large()
    folder = folder_for(home / FOLDER)
    swept(folder, f"{PART}*")
    handle, name = tempfile.mkstemp(dir=folder, prefix=PART)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            content = await _written(request, file)
        return await run_in_threadpool(_placed, part, home, content)
    except ClientDisconnect as wrong:
        raise CUT from wrong
    except OSError as wrong:
        raise write_failure(part, wrong) from wrong
    finally:
        part.unlink(missing_ok=True)


async def _written(request: Request, file: BinaryIO) -> str:
    """Write the body as it comes, through to the disk, and return its sha256."""
    digest, size = hashlib.sha256(), 0
    async for block in request.stream():
        size += len(block)
        if size > LARGEST:
            raise too_large()
        digest.update(block)
        file.write(block)
    if not size:
        raise EMPTY
    await run_in_threadpool(_on_disk, file)
    return digest.hexdigest()


def _on_disk(file: BinaryIO) -> None:
    file.flush()
    os.fsync(file.fileno())


def _placed(part: Path, home: Path, content: str) -> str:
    place = place_of(home, content)
    place.parent.mkdir(parents=True, exist_ok=True)
    os.replace(part, place)
    settled(place.parent)
    sent(home, content)
    return content


def kind_of(path: Path) -> str:
    """Return the media type of a recording by its first bytes."""
    with path.open("rb") as file:
        head = file.read(16)
    for start, kind in ((b"fLaC", "audio/flac"), (b"OggS", "audio/ogg"), (b"RIFF", "audio/wav"), (b"ID3", "audio/mpeg"),
                        (b"\x1aE\xdf\xa3", "video/webm")):  # fmt: skip
        if head.startswith(start):
            return kind
    if head[4:8] == b"ftyp":
        return "audio/mp4"
    return "audio/mpeg" if head[:1] == b"\xff" else "application/octet-stream"
