"""Waiting for a change in the book of jobs without asking it again and again."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Protocol

from softshoe.base import open_postgresql, open_sqlite, told

if TYPE_CHECKING:
    from pathlib import Path

GLANCE_S = 0.1
CHANNEL = "softshoe_jobs"


class Bell(Protocol):
    """Rings when any job changed."""

    def wait(self, most_s: float) -> bool:
        """Wait for a change, at most so long [s]; True where there was one since the bell was made or last rang."""

    def close(self) -> None:
        """Let go of the database."""


class FileBell:
    """Looks at the file's own mark of change, which costs some microseconds and reads no row."""

    def __init__(self, path: Path) -> None:
        self.base = open_sqlite(path)
        self.mark = self._mark()

    def _mark(self) -> int:
        return int(self.base.value("pragma data_version"))

    def wait(self, most_s: float) -> bool:
        """Wait for a change."""
        until_s = time.monotonic() + most_s
        while (mark := self._mark()) == self.mark:
            left_s = until_s - time.monotonic()
            if left_s <= 0:
                return False
            time.sleep(min(GLANCE_S, left_s))
        self.mark = mark
        return True

    def close(self) -> None:
        """Let go of the file."""
        self.base.close()


class ServerBell:
    """Is told by PostgreSQL itself."""

    def __init__(self, url: str) -> None:
        self.base = open_postgresql(url)
        self.base.run(f"listen {CHANNEL}")

    def wait(self, most_s: float) -> bool:
        """Wait for a change."""
        with told(self.base.where):
            rang = False
            for _ in self.base.raw.notifies(timeout=most_s, stop_after=1):
                rang = True
            return rang

    def close(self) -> None:
        """Let go of the database."""
        self.base.close()
