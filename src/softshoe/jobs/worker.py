"""A worker: the program that does jobs, one of a home or one of many of an association.

It ends when its input is closed (whoever started it is gone) or when it is told to; what it was at is taken up again by
the next one. ``python -m softshoe.jobs.worker HOME`` is how a door starts one; “softshoe jobs work” does it by hand.
"""

from __future__ import annotations

import argparse
import fcntl
import os
import secrets
import signal
import socket
import sys
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.errors import WorkbenchError
from softshoe.home import database_url
from softshoe.jobs.book import FOLDER, Book
from softshoe.jobs.doing import Doing
from softshoe.jobs.keeper import LOCK
from softshoe.jobs.kinds import kind_named

if TYPE_CHECKING:
    from types import FrameType

    from softshoe.base import Base
    from softshoe.jobs.engine import Engine

ALONE = "here"  # the name of a home's one worker: it takes up what the one before it left
LANES = 2
LOOK_S = 0.5
SWEEP_S = 2.0
TIDY_S = 60.0
IDLE_S = 120.0
PARK_S = 15.0
PRESENCE = 5079  # the number of PostgreSQL's locks by which workers are seen to be there
POLITE = 5


class EndingError(Exception):
    """The worker ends; the job that it is at does not."""


@dataclass(slots=True)
class Worker:
    """One worker. ``idle_s``: it ends after so long without work; None for never. [s]"""

    book: Book
    lanes: int = LANES
    at_once: int = 1
    idle_s: float | None = None
    kinds: Path | None = None
    end: threading.Event = field(default_factory=threading.Event)
    busy: int = 0
    lock: threading.Lock = field(default_factory=threading.Lock)
    name: str = ALONE
    presence: Base | None = None

    def work(self) -> None:
        """Do jobs until the end; raises WorkbenchError where the book or the engine can't be used."""
        from softshoe.jobs.engine import Engine

        if self.book.url:
            self.name = f"{socket.gethostname()}-{os.getpid()}-{secrets.token_hex(3)}"
            self._be_seen()
        engine = Engine.started(self.book, worker=self.name, do=self._do, at_once=self.at_once)
        bell = self.book.bell()
        worked_s = time.monotonic()
        swept_s = tidied_s = 0.0
        rang = True
        try:
            while not self.end.is_set():
                now_s = time.monotonic()
                swept = now_s - swept_s > SWEEP_S
                if rang or swept:
                    self._give(engine)
                if swept:
                    self._sweep(engine)
                    swept_s = now_s
                if now_s - tidied_s > TIDY_S:
                    engine.tidied()
                    tidied_s = now_s
                if self.busy or rang:
                    worked_s = now_s
                elif self.idle_s is not None and now_s - worked_s > self.idle_s and not self.book.unfinished():
                    break
                rang = bell.wait(LOOK_S)
        finally:
            self.end.set()
            self._park()

    def _do(self, job: str, attempt: int) -> None:
        """Do a job in the engine's own thread; when the worker ends, stay here until the program is gone."""
        from softshoe.jobs.engine import places_for, step_over

        with self.lock:
            self.busy += 1
        try:

            def noted(steps: list[str]) -> Any:
                places = places_for(steps)
                return lambda step, state: step_over(places, step, state)

            Doing(self.book, self.name, self.lanes, self._ending, self.kinds).do(job, attempt, noted)
        except EndingError:
            with self.lock:
                self.busy -= 1
            threading.Event().wait()  # so that the engine hears of no end, and the next worker takes the job up
        with self.lock:
            self.busy -= 1

    def _ending(self) -> None:
        if self.end.is_set():
            raise EndingError

    def _park(self) -> None:
        until_s = time.monotonic() + PARK_S
        while self.busy and time.monotonic() < until_s:
            time.sleep(0.05)

    def _give(self, engine: Engine) -> None:
        """Give the engine what was asked since the last look."""
        for row in self.book.rows("state = 'waiting' and given = 0"):
            engine.give(row["name"], row["attempt"], kind_named(row["kind"], self.kinds).queue)
            with self.book.writing() as base:
                base.run("update job set given = 1 where name = :job and attempt = :attempt", job=row["name"],
                         attempt=row["attempt"])  # fmt: skip

    def _sweep(self, engine: Engine) -> None:
        """Take over what dead workers left, and end what the engine has given up."""
        if self.presence is not None:
            seen = self.presence
            seen.value("select 1 as there")  # raises where this worker is no longer seen: then it must end
            engine.take_over(lambda worker: self._gone(seen, worker))
        for row in self.book.rows("state in ('waiting', 'doing') and given = 1"):
            lost = engine.lost(row["name"], row["attempt"])
            if lost == "unknown":  # the engine's own file was lost: the job is given to it anew
                engine.give(row["name"], row["attempt"], kind_named(row["kind"], self.kinds).queue)
            elif lost:
                Doing(self.book, self.name, self.lanes, self._ending, self.kinds).give_up(row)

    def _be_seen(self) -> None:
        from softshoe.base import open_postgresql

        self.presence = open_postgresql(self.book.url)
        for line in ("tcp_keepalives_idle = 10", "tcp_keepalives_interval = 5", "tcp_keepalives_count = 3"):
            self.presence.run(f"set {line}")
        self.presence.run(f"select pg_advisory_lock({PRESENCE}, hashtext(:name))", name=self.name)

    @staticmethod
    def _gone(seen: Base, worker: str) -> bool:
        """Say whether a worker is gone: PostgreSQL lets go of its lock the moment its connection is."""
        locks = seen.value("select count(*) as many from pg_locks where locktype = 'advisory' and classid = :presence "
                           "and objid = cast(hashtext(:worker)::bigint & 4294967295 as oid) and granted",
                           presence=PRESENCE, worker=worker)  # fmt: skip
        return not locks


def held_alone(home: Path) -> int | None:
    """Hold a home as its one worker and return the open handle; None where another has it."""
    handle = os.open(home / FOLDER / LOCK, os.O_RDWR | os.O_CREAT, 0o644)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        return None
    return handle


def ends_with_input(worker: Worker) -> None:
    """End the worker when whoever started it is gone, however that came about."""

    def wait() -> None:
        while os.read(sys.stdin.fileno(), 4096):
            pass
        worker.end.set()

    threading.Thread(target=wait, daemon=True).start()


def ends_when_told(worker: Worker) -> None:
    """End the worker on the signals that say so."""

    def stop(_number: int, _frame: FrameType | None) -> None:
        worker.end.set()

    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, stop)


def main(words: list[str] | None = None) -> int:
    """Do the jobs of a home until nothing is left to do or the door that started this is closed."""
    parser = argparse.ArgumentParser(prog="softshoe.jobs.worker")
    parser.add_argument("home", type=Path)
    parser.add_argument("--kinds", type=Path)
    parser.add_argument("--lanes", type=int, default=LANES)
    parser.add_argument("--server", action="store_true", help="one of the workers of the database that is set")
    said = parser.parse_args(words)
    book = Book.at(said.home, url=database_url() if said.server else "")
    if not book.url and held_alone(said.home) is None:
        return 0
    os.nice(POLITE)
    worker = Worker(book, lanes=said.lanes, idle_s=None if said.server else IDLE_S, kinds=said.kinds)
    ends_with_input(worker)
    ends_when_told(worker)
    worker.work()
    return 0


if __name__ == "__main__":
    try:
        code = main()
    except WorkbenchError as wrong:
        sys.stderr.write(f"{wrong}\n")
        code = 1
    sys.stderr.flush()
    os._exit(code)  # the engine's threads wait for work for ever
