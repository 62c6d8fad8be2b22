"""A step in a process of its own: it can be stopped at once, and its memory is given back when it ends."""

from __future__ import annotations

import multiprocessing
import signal
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.errors import WorkbenchError

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import SpawnProcess

    from softshoe.jobs.step import Step

STOP_S = 5.0


class StoppedError(WorkbenchError):
    """A step that the computer ended."""


def _ended(*_: object) -> None:
    sys.exit(1)  # so that files in the making are removed on the way out


def _work(pipe: Connection, step: Step) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent says when to stop
    signal.signal(signal.SIGTERM, _ended)
    try:
        step.work(step, lambda share: pipe.send(("share", share)))
        pipe.send(("done", None))
    except WorkbenchError as wrong:
        pipe.send(("wrong", wrong))
    except Exception as wrong:  # a fault of the program: told in the parent's words
        pipe.send(("wrong", WorkbenchError(step.title, "stopped", f"a fault of the program ({wrong!r})",
                                           "run the same command again; if it stops again, report it")))  # fmt: skip
    finally:
        signal.signal(signal.SIGTERM, signal.SIG_IGN)  # the work is over: nothing is left to stop
        pipe.close()


@dataclass(slots=True)
class Child:
    """A running step. ``hear`` returns what it told since the last time."""

    step: Step
    pipe: Connection
    process: SpawnProcess

    @classmethod
    def of(cls, step: Step) -> Child:
        """Start the step."""
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe(duplex=False)
        process = context.Process(target=_work, args=(theirs, step), daemon=True)
        process.start()
        theirs.close()
        return cls(step, ours, process)

    def hear(self) -> tuple[str, object] | None:
        """Return ("share", x), ("done", None), ("wrong", error), or None when nothing was told."""
        try:
            if not self.pipe.poll():
                return None if self.process.is_alive() or self.pipe.poll() else ("wrong", self._killed())
            told: tuple[str, object] = self.pipe.recv()
        except (EOFError, OSError):
            return "wrong", self._killed()
        return told

    def _killed(self) -> StoppedError:
        return StoppedError(self.step.title, "was stopped by the computer", "often there is too little memory left",
                       "close other programs and run the same command again: what is done is kept")  # fmt: skip

    def end(self) -> None:
        """Stop the step if it still runs, and wait for it."""
        if self.process.is_alive():
            self.process.terminate()
        self.process.join(STOP_S)
        if self.process.is_alive():
            self.process.kill()
            self.process.join()
        self.pipe.close()
