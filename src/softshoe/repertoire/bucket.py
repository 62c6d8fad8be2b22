"""A store of files that is reached as S3: for a server whose recordings and sheets lie elsewhere than on its disk.

``SOFTSHOE_FILES`` names the bucket; where it is and with which keys one comes in, the client's own settings say
(``AWS_ENDPOINT_URL``, ``AWS_ACCESS_KEY_ID``, ``AWS_SECRET_ACCESS_KEY``, ``AWS_REGION``). Files lie there as they lie in
``files``: by their sha256, never changed, so that neither locks nor renaming are asked of it. Only
``repertoire/originals.py`` asks here.
"""

from __future__ import annotations

import hashlib
import os
import re
import tempfile
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from softshoe.errors import OutputError, SettingError, UnreadableError
from softshoe.files import PART, write_failure
from softshoe.home import FILES, files_url

if TYPE_CHECKING:
    from collections.abc import Iterator

    from obstore.store import S3Store

ADDRESS = re.compile(r"s3:([a-z0-9][a-z0-9.-]{1,61}[a-z0-9])(?:/([\w./-]*))?")
TRIES = 3
CHUNK = 1 << 20


@dataclass(frozen=True, slots=True)
class Bucket:
    """A bucket, by the address that names it."""

    address: str
    store: S3Store

    def send(self, place: Path, content: str) -> None:
        """Bring a file there, once; it is there whole when this returns. Raises OutputError."""
        if self._size(content) == place.stat().st_size:
            return
        with self._told():
            self.store.put(_key(content), place)

    def fetch(self, content: str, place: Path) -> bool:
        """Bring a file here, whole and proved by its sha256; False where the store has none of that content.

        Raises UnreadableError for one that is not what it was, OutputError where the store or the disk can't be used.
        """
        if self._size(content) is None:
            return False
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            handle, part = tempfile.mkstemp(dir=place.parent, prefix=PART)
            try:
                with os.fdopen(handle, "wb") as file:
                    proved = self._written(content, file) == content
                if proved:
                    os.replace(part, place)
            finally:
                Path(part).unlink(missing_ok=True)
        except OSError as wrong:
            raise write_failure(place, wrong) from wrong
        if not proved:
            raise UnreadableError(f"{self.address}/{_key(content)}", "a kept file is damaged", "its content is not "
                                  "what it was when it was kept", "put it back from a copy of the store")  # fmt: skip
        return True

    def contents(self) -> set[str]:
        """Return the sha256 of everything that is there. Raises OutputError."""
        with self._told():
            return {one["path"].rpartition("/")[2] for page in self.store.list() for one in page}

    def _written(self, content: str, file: BinaryIO) -> str:
        """Write what the store has, and return the sha256 of that."""
        digest = hashlib.sha256()
        with self._told():
            blocks = self.store.get(_key(content)).stream(min_chunk_size=CHUNK)
        while True:
            with self._told():
                block = next(blocks, None)
            if block is None:
                return digest.hexdigest()
            digest.update(block)
            file.write(block)

    def _size(self, content: str) -> int | None:
        with self._told():
            try:
                return int(self.store.head(_key(content))["size"])
            except FileNotFoundError:
                return None

    @contextmanager
    def _told(self) -> Iterator[None]:
        from obstore.exceptions import BaseError

        try:
            yield
        except (BaseError, OSError) as wrong:
            first = str(wrong).partition("\n")[0].strip()
            raise OutputError(self.address, "the store of files can't be used", first,
                              "see that it runs, and that its address, the bucket and the keys are right; nothing that "
                              "was kept is lost") from wrong  # fmt: skip


def _key(content: str) -> str:
    return f"{content[:2]}/{content}"


def bucket() -> Bucket | None:
    """Return the bucket that the settings name; None where files lie in the folder alone.

    Raises SettingError for a name that is none, or where its client is not installed.
    """
    said = files_url()
    return _opened(said) if said else None


@lru_cache(maxsize=4)
def _opened(said: str) -> Bucket:
    found = ADDRESS.fullmatch(said)
    if found is None:
        raise SettingError(FILES, "it names no store", f"“{said}” is not written like s3:bucket/folder",
                           "write the bucket's name after s3:")  # fmt: skip
    try:
        from obstore.store import S3Store
    except ImportError as wrong:
        raise SettingError(FILES, "the store can't be reached", "what speaks to it is not installed",
                           "pip install 'softshoe[s3]'") from wrong  # fmt: skip
    store = S3Store(found[1], prefix=(found[2] or "").strip("/") or None, retry_config={"max_retries": TRIES},
                    client_options={"allow_http": True, "connect_timeout": "10s", "timeout": "30min"})  # fmt: skip
    return Bucket(said.rstrip("/"), store)
