"""Files read in other processes: the words, the dance, what is told of it, or why it can't be read.

A sheet that breaks its process, or takes far too long, is told as unreadable; the others are read all the same.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections import deque
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from softshoe.errors import WordingError, WorkbenchError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from concurrent.futures import Future
    from pathlib import Path
    from types import FrameType

    from softshoe.errors import Finding
    from softshoe.repertoire.dances import Sheet

Kind = Literal["sheet", "picture", "other"]
SHEETS = (".txt", ".text", ".md", ".markdown", ".docx", ".odt", ".pdf", ".html", ".htm", ".rtf", ".doc", ".pages", "")
PICTURES = (".jpg", ".jpeg", ".png", ".tif", ".tiff", ".gif", ".bmp", ".webp", ".heic")
LONGEST_S = 20  # seconds that one sheet may take
FEW = 12  # so many files are not worth other processes
AHEAD = 6  # sheets that are read ahead for each process
PLAIN = "save the sheet as plain text and take in that file"


@dataclass(frozen=True, slots=True)
class ReadSheet:
    """What was read of a file, with its findings but notes and the lines kept as written; or what is wrong with it."""

    sheet: Sheet | None = None
    findings: tuple[Finding, ...] = ()
    unread: tuple[tuple[int, str], ...] = ()
    what: str = ""
    why: str = ""
    mend: str = ""
    scan: bool = False
    stepless: bool = False


Read = tuple["Path", ReadSheet]


def kind_of(path: Path) -> Kind:
    """Return what a file is by its name."""
    ending = path.suffix.casefold()
    return "sheet" if ending in SHEETS else "picture" if ending in PICTURES else "other"


def titled(path: Path) -> str:
    """Return a file's name as a title.

    >>> from pathlib import Path
    >>> titled(Path("old/tin_kettle-v2.docx"))
    'tin kettle v2'
    """
    return " ".join(path.stem.replace("_", " ").replace("-", " ").split())


def read_sheet(path: Path) -> ReadSheet:
    """Read one file; never raises."""
    try:
        with _in_time():
            return _read(path)
    except TimeoutError:
        return ReadSheet(what="reading it took too long", why=f"it was stopped after {LONGEST_S} seconds", mend=PLAIN)
    except WorkbenchError as wrong:
        return ReadSheet(what=wrong.what, why=wrong.why, mend=wrong.mend, scan="scan" in wrong.why,
                         stepless=isinstance(wrong, WordingError))  # fmt: skip
    except (OSError, RecursionError, MemoryError) as wrong:
        return ReadSheet(what="the file can't be read", why=str(wrong) or type(wrong).__name__, mend=PLAIN)


def _read(path: Path) -> ReadSheet:
    from softshoe.repertoire.dances import Sheet
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    words = sheet_text(path)
    dance = read(words)
    findings = tuple(finding for finding in dance.findings if finding.severity != "note")
    return ReadSheet(Sheet.of(words, dance, title=titled(path)), findings, dance.kept)


@contextmanager
def _in_time() -> Iterator[None]:
    """Raise TimeoutError when the block takes too long, where signals can be used."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def stop(_number: int, _frame: FrameType | None) -> None:
        raise TimeoutError

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(LONGEST_S)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


@contextmanager
def reader(workers: int, files: int) -> Iterator[Callable[[list[Path]], Iterator[Read]]]:
    """Yield what reads a list of files in their order, in so many processes, or here where they are few."""
    if workers < 2 or files <= FEW:
        yield lambda paths: ((path, read_sheet(path)) for path in paths)
        return
    pool = _Pool(workers)
    try:
        yield pool.read
    finally:
        pool.close()


def ends_with_parent() -> None:
    """Let this process end when the one that started it is gone, however that came about."""

    def wait() -> None:
        parent = multiprocessing.parent_process()
        if parent is not None:
            parent.join()
            os._exit(1)

    threading.Thread(target=wait, daemon=True).start()


class _Pool:
    """Processes that read, replaced when a sheet breaks them."""

    def __init__(self, workers: int) -> None:
        self.workers = workers
        self.pool = ProcessPoolExecutor(workers, initializer=ends_with_parent)

    def close(self) -> None:
        self.pool.shutdown(wait=True, cancel_futures=True)

    def read(self, paths: list[Path]) -> Iterator[Read]:
        left = deque(paths)
        asked: deque[tuple[Path, Future[ReadSheet]]] = deque()
        while left or asked:
            while left and len(asked) < AHEAD * self.workers:
                path = left.popleft()
                asked.append((path, self.pool.submit(read_sheet, path)))
            path, future = asked.popleft()
            try:
                yield path, future.result()
            except BrokenProcessPool:
                self.close()
                for one in (path, *(other for other, _ in asked)):
                    yield one, self._alone(one)
                asked.clear()
                self.pool = ProcessPoolExecutor(self.workers, initializer=ends_with_parent)

    @staticmethod
    def _alone(path: Path) -> ReadSheet:
        """Read a file in a process of its own: one of these breaks it."""
        with ProcessPoolExecutor(1, initializer=ends_with_parent) as pool:
            try:
                return pool.submit(read_sheet, path).result()
            except BrokenProcessPool:
                return ReadSheet(
                    what="the file can't be read", why="the reader broke off in the middle of it", mend=PLAIN
                )
