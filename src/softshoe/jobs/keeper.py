"""Keeps a worker at work on this computer while a door is open and something is to be done."""

from __future__ import annotations

import fcntl
import os
import subprocess
import sys
import threading
import time
from typing import TYPE_CHECKING

from softshoe.errors import WorkbenchError
from softshoe.jobs.book import FOLDER

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.jobs.book import Book

LOG, LOCK = "worker.log", "worker.lock"
LOOK_S = 1.0
SOON_S = 10.0  # a worker that ends within so many seconds did no work
LONGEST_PAUSE_S = 60.0
LOG_BYTES = 1 << 20
END_S = 20.0


def free(home: Path) -> bool:
    """Say whether no worker is at work on this home."""
    handle = os.open(home / FOLDER / LOCK, os.O_RDWR | os.O_CREAT, 0o644)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    finally:
        os.close(handle)
    return True


class Keeper:
    """Starts a worker when there is work and none is at it, and again should it be killed; ends it with the door."""

    def __init__(self, book: Book, kinds: Path | None) -> None:
        self.book, self.kinds = book, kinds
        self.worker: subprocess.Popen[bytes] | None = None
        self.begun_s, self.pause_s = 0.0, 0.0
        self.closing, self.ring = False, threading.Event()
        self.thread = threading.Thread(target=self._keep, name="softshoe-keeper", daemon=True)

    def start(self) -> None:
        """Begin to keep watch."""
        self.thread.start()

    def wake(self) -> None:
        """Look at once whether there is work."""
        self.ring.set()

    def close(self) -> None:
        """End the worker: its steps are cut short without half a file left, and go on the next time."""
        self.closing = True
        self.ring.set()
        self.thread.join()
        if self.worker is not None:
            self._let_go()  # its sign to end
            try:
                self.worker.wait(END_S)
            except subprocess.TimeoutExpired:
                self.worker.kill()
                self.worker.wait()

    def _let_go(self) -> None:
        """Close the worker's input."""
        if self.worker is not None and self.worker.stdin is not None:
            self.worker.stdin.close()

    def _keep(self) -> None:
        while not self.closing:
            if self.worker is None or self.worker.poll() is not None:
                self._mind()
            self.ring.wait(LOOK_S)
            self.ring.clear()

    def _mind(self) -> None:
        """Start a worker where there is work; one that keeps ending at once is given longer and longer pauses."""
        if self.worker is not None:
            self._let_go()
            early = time.monotonic() - self.begun_s < SOON_S and self.worker.returncode != 0
            self.pause_s = min(LONGEST_PAUSE_S, 2 * self.pause_s + 1.0) if early else 0.0
            self.worker = None
        if time.monotonic() - self.begun_s < self.pause_s:
            return
        try:
            if self.book.unfinished() and free(self.book.home):
                self._start()
        except (WorkbenchError, OSError):
            return  # a disk that is full or gone for the moment: whoever asks is told; here the next look will do

    def _start(self) -> None:
        log = self.book.home / FOLDER / LOG
        if log.exists() and log.stat().st_size > LOG_BYTES:
            log.unlink()
        more = [] if self.kinds is None else ["--kinds", str(self.kinds)]
        self.begun_s = time.monotonic()
        with log.open("ab") as told:
            self.worker = subprocess.Popen(
                [sys.executable, "-m", "softshoe.jobs.worker", str(self.book.home), *more], stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL, stderr=told, start_new_session=True,
            )  # fmt: skip
