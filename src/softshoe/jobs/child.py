"""A step in a process of its own: it can be stopped at once, and its memory is given back when it ends."""

from __future__ import annotations

import multiprocessing
import os
import resource
import signal
import sys
import threading
import time
from dataclasses import dataclass, field
from multiprocessing.reduction import DupFd
from typing import TYPE_CHECKING, Any

from softshoe.errors import WorkbenchError

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import SpawnProcess

    from softshoe.jobs.step import Step

STOP_S = 5.0
LONGEST = 60.0  # so many times the time that it should take, and a step is stopped
LONGEST_S = 900.0  # but never before so many seconds
MEMORY_SHARE = 0.75  # of the computer's memory is the most that one step may have
MEMORY_LEAST = 2 << 30


class StoppedError(WorkbenchError):
    """A step that the computer ended."""


def _ended(*_: object) -> None:
    sys.exit(1)  # so that files in the making are removed on the way out


def _orphaned() -> None:
    """Wait for the parent's end, and end with it: else a killed program's step would go on beside its next start."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _bounded() -> None:
    """Let this process have most of the computer's memory, and no more, where the system can hold it to that."""
    whole = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")
    _, hard = resource.getrlimit(resource.RLIMIT_DATA)
    most = max(MEMORY_LEAST, int(whole * MEMORY_SHARE))
    if sys.platform == "linux" and (hard == resource.RLIM_INFINITY or most < hard):
        resource.setrlimit(resource.RLIMIT_DATA, (most, hard))


def _work(pipe: Connection, step: Step, _held: Any) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent says when to stop
    signal.signal(signal.SIGTERM, _ended)
    threading.Thread(target=_orphaned, daemon=True).start()
    _bounded()
    try:
        step.work(step, lambda share: pipe.send(("share", share)))
        pipe.send(("done", None))
    except WorkbenchError as wrong:
        pipe.send(("wrong", wrong))
    except MemoryError:
        pipe.send(("wrong", StoppedError(step.title, "was stopped", "it wanted more memory than this computer can give",
                                         "close other programs and run the same command again")))  # fmt: skip
    except Exception as wrong:  # a fault of the program: told in the parent's words
        pipe.send(("wrong", WorkbenchError(step.title, "stopped", f"a fault of the program ({wrong!r})",
                                           "run the same command again; if it stops again, report it")))  # fmt: skip
    finally:
        signal.signal(signal.SIGTERM, signal.SIG_IGN)  # the work is over: nothing is left to stop
        pipe.close()


class _Handed:
    """An open handle on its way to a process that is being started."""

    def __init__(self, handle: int) -> None:
        self.handle = handle

    def __reduce__(self) -> Any:
        return _open_in_child, (DupFd(self.handle),)


def _open_in_child(handed: Any) -> int:
    handle: int = handed.detach()
    return handle


@dataclass(slots=True)
class Child:
    """A running step. ``hear`` returns what it told since the last time."""

    step: Step
    pipe: Connection
    process: SpawnProcess
    begun_s: float = field(default_factory=time.monotonic)

    @classmethod
    def of(cls, step: Step, held: int) -> Child:
        """Start the step; ``held`` is the open handle of the folder that is held for it."""
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe(duplex=False)
        process = context.Process(target=_work, args=(theirs, step, _Handed(held)), daemon=not step.spreads)
        process.start()
        theirs.close()
        return cls(step, ours, process)

    def hear(self) -> tuple[str, object] | None:
        """Return ("share", x), ("done", None), ("wrong", error), or None when nothing was told."""
        try:
            if not self.pipe.poll():
                if self.process.is_alive() or self.pipe.poll():
                    return self._too_long()
                return "wrong", self._killed()
            told: tuple[str, object] = self.pipe.recv()
        except (EOFError, OSError):
            return "wrong", self._killed()
        return told

    def _killed(self) -> StoppedError:
        return StoppedError(self.step.title, "was stopped by the computer", "often there is too little memory left",
                       "close other programs and run the same command again: what is done is kept")  # fmt: skip

    def _too_long(self) -> tuple[str, object] | None:
        most_s = max(LONGEST_S, LONGEST * self.step.hint_s)
        if time.monotonic() - self.begun_s < most_s:
            return None
        return "wrong", WorkbenchError(self.step.title, "was stopped", f"it took more than {most_s / 60:.0f} minutes",
                                       "try a shorter song or sheet; if it stops again, report it")  # fmt: skip

    def end(self) -> None:
        """Stop the step if it still runs, and wait for it."""
        if self.process.is_alive():
            self.process.terminate()
        self.process.join(STOP_S)
        if self.process.is_alive():
            self.process.kill()
            self.process.join()
        self.pipe.close()
