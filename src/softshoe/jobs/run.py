"""Long work in steps: each is done once its needs are there and kept when nothing it reads has changed.

A step is whole or not at all. One failure does not stop the steps that don't need it.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from multiprocessing.connection import wait
from typing import TYPE_CHECKING, Protocol

from softshoe.errors import WorkbenchError
from softshoe.files import folder_for, sweep
from softshoe.jobs.child import Child
from softshoe.jobs.held import held
from softshoe.jobs.ledger import Ledger

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from softshoe.jobs.ledger import State
    from softshoe.jobs.step import Step

TICK_S = 0.2


class Watch(Protocol):
    """Who is told how the work goes."""

    def started(self, step: Step) -> None:
        """A step begins."""

    def told(self, step: Step, share: float) -> None:
        """A step is so far, 0 to 1."""

    def ended(self, step: Step, state: State, seconds: float) -> None:
        """A step is over: done, or kept from before."""

    def failed(self, step: Step, wrong: WorkbenchError) -> None:
        """A step failed."""


@dataclass(slots=True)
class _Run:
    ledger: Ledger
    watch: Watch
    workers: int
    waiting: list[Step]
    handle: int
    ended: set[str] = field(default_factory=set)
    failures: dict[str, WorkbenchError] = field(default_factory=dict)
    children: list[Child] = field(default_factory=list)
    begun_s: dict[str, float] = field(default_factory=dict)

    def all(self, looking: Callable[[], None]) -> None:
        while self.waiting or self.children:
            self.turn()
            looking()

    def turn(self) -> None:
        for step in list(self.waiting):
            if any(need in self.failures for need in step.needs):
                self.waiting.remove(step)
                self.failures[step.name] = next(self.failures[n] for n in step.needs if n in self.failures)
                self.ledger.forget(step)
            elif self._ready(step) and self._begin(step):
                self.waiting.remove(step)
        if self.children:
            wait([child.pipe for child in self.children], TICK_S)
        for child in list(self.children):
            self._hear(child)

    def _ready(self, step: Step) -> bool:
        over = self.ended | set(self.failures)
        return all(need in self.ended for need in step.needs) and all(name in over for name in step.likes)

    def _begin(self, step: Step) -> bool:
        if step.apart and len(self.children) >= self.workers:
            return False
        self.begun_s[step.name] = time.monotonic()
        state = self.ledger.state(step, step.key())
        if state != "to do":
            self._end(step, state)
            return True
        self.watch.started(step)
        if step.apart:
            self.children.append(Child.of(step, self.handle))
            return True
        try:
            step.work(step, lambda share: self.watch.told(step, share))
        except WorkbenchError as wrong:
            self._fail(step, wrong)
        else:
            self._end(step, state)
        return True

    def _hear(self, child: Child) -> None:
        while (told := child.hear()) is not None:
            kind, what = told
            if kind == "share" and isinstance(what, float):
                self.watch.told(child.step, what)
                continue
            child.end()
            self.children.remove(child)
            if isinstance(what, WorkbenchError):
                self._fail(child.step, what)
            else:
                self._end(child.step, "to do")
            return

    def _end(self, step: Step, state: State) -> None:
        self.ended.add(step.name)
        if state != "made before":
            self.ledger.note(step, step.key(), mended=state == "mended by hand")
        self.watch.ended(step, state, time.monotonic() - self.begun_s[step.name])

    def _fail(self, step: Step, wrong: WorkbenchError) -> None:
        self.failures[step.name] = wrong
        self.ledger.forget(step)
        self.watch.failed(step, wrong)


def _nothing() -> None:
    pass


def run(
    steps: Sequence[Step], *, folder: Path, workers: int, watch: Watch, looking: Callable[[], None] | None = None
) -> list[WorkbenchError]:
    """Do the steps, at most ``workers`` at a time in processes of their own, and return what failed.

    looking : is called again and again, and may raise to stop the work; with it, a folder in which another program is
        at work is waited for
    Raises OutputError when the folder can't be written, or another program is at work in it. When it is interrupted,
    running steps are ended and nothing half-written is left; run again, it goes on where it stopped.
    """
    folder_for(folder)
    with held(folder, waiting=looking) as handle:
        sweep(folder)
        work = _Run(Ledger.of(folder), watch, workers, list(steps), handle)
        try:
            work.all(looking or _nothing)
        finally:
            for child in work.children:
                child.end()
            sweep(folder)
    return list(dict.fromkeys(work.failures.values()))
