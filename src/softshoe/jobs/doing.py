"""One job done: its steps run, its row in the book kept true, its end written once."""

from __future__ import annotations

import json
import time
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from softshoe.errors import WorkbenchError
from softshoe.files import folder_for
from softshoe.jobs.book import FOLDER, asked_of, now_iso
from softshoe.jobs.child import StoppedError
from softshoe.jobs.kinds import Place, kind_named
from softshoe.jobs.run import run
from softshoe.jobs.told import OVER, Pace

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from softshoe.base import Row
    from softshoe.jobs.book import Book
    from softshoe.jobs.kinds import Plan
    from softshoe.jobs.ledger import State
    from softshoe.jobs.step import Step

TOLD_S = 0.5  # progress is written no oftener
TRIES = 2  # a step that the computer ended is done once more


class AskedToStopError(Exception):
    """Somebody stopped the job."""


@dataclass(slots=True)
class Doing:
    """What a worker needs to do jobs: the book, its name, how many steps at a time, and its own end.

    ending : raises where the worker itself is about to end
    """

    book: Book
    worker: str
    lanes: int
    ending: Callable[[], None]
    kinds: Path | None = None

    def do(self, job: str, attempt: int, noted: Callable[[list[str]], Callable[[str, str], None]]) -> None:
        """Do a job, unless it is over.

        noted : takes the names of the steps and returns what notes that one of them is over
        """
        row = self._begin(job, attempt)
        if row is None:
            return
        try:
            place = Place(self.book.home, self.book.home / FOLDER / job, self.book.url)
            plan = kind_named(row["kind"], self.kinds).plan(asked_of(row), place)
            if place.folder == plan.folder:
                folder_for(place.folder)
            watch = _Watch(self, row, plan, noted([step.name for step in plan.steps]))
            wrong = self._run(plan, watch)
            self._end(row, wrong, plan.made)
        except AskedToStopError:
            self._over(row, state="stopped", words="stopped before it was done")
        except WorkbenchError as wrong:
            self._end(row, [wrong], ())
        except Exception as wrong:  # a fault of the program: told in plain words, and the worker goes on
            told = WorkbenchError(f"job {job[:8]}", "stopped", f"a fault of the program ({wrong!r})",
                                  "ask for it again; if it stops again, report it")  # fmt: skip
            self._end(row, [told], ())

    def give_up(self, row: Row) -> None:
        """End a job whose worker was killed again and again."""
        wrong = WorkbenchError(f"job {row['name'][:8]}", "was given up", "the program that did it was killed again "
                               "and again", "often there is too little memory: close other programs and ask for it "
                               "again; what is done is kept")  # fmt: skip
        self._end(row, [wrong], ())

    def _run(self, plan: Plan, watch: _Watch) -> list[WorkbenchError]:
        for tried in range(1, TRIES + 1):
            wrong = run(plan.steps, folder=plan.folder, workers=self.lanes, watch=watch, looking=watch.looking)
            if tried == TRIES or not any(isinstance(one, StoppedError) for one in wrong):
                break
            watch.put(why="a step was ended by the computer, and is done once more")
        return wrong

    def _begin(self, job: str, attempt: int) -> Row | None:
        with self.book.writing() as base:
            row = base.one("select * from job where name = :job", job=job)
            if row is None or row["attempt"] != attempt or row["state"] in OVER:
                return None
            self.book.put(base, job, state="doing", worker=self.worker, words="begins")
            return row

    def _end(self, row: Row, wrong: list[WorkbenchError], made: tuple[Path, ...]) -> None:
        there = json.dumps([str(path) for path in made if path.exists()])
        if wrong:
            words = f"not done: {wrong[0].what}" + (f", and {len(wrong) - 1} more" if len(wrong) > 1 else "")
            self._over(row, state="failed", words=words, fault="\n".join(map(str, wrong)), made=there)
        else:
            self._over(row, state="done", words="done", share=1.0, made=there)

    def _over(self, row: Row, **columns: object) -> None:
        with self.book.writing() as base:
            now = base.one("select ends, attempt, state from job where name = :job", job=row["name"])
            if now is not None and now["attempt"] == row["attempt"] and now["state"] not in OVER:
                self.book.put(base, row["name"], **columns, left_s=None, ended_at=now_iso(), ends=now["ends"] + 1,
                              worker="")  # fmt: skip


@dataclass(slots=True)
class _Watch:
    """Writes into the job's row how it goes, and looks there whether somebody wants it stopped."""

    doing: Doing
    row: Row
    plan: Plan
    note: Callable[[str, str], None]
    pace: Pace = field(init=False)
    titles: dict[str, str] = field(default_factory=dict)
    title: str = "looks at what is there"
    over: int = 0
    told_s: float = 0.0

    def __post_init__(self) -> None:
        self.pace = Pace(self.plan.steps, self.doing.lanes)

    def started(self, step: Step) -> None:
        """A step begins."""
        self.titles[step.name] = step.title
        self.pace.begins(step)
        self._tell()

    def told(self, step: Step, share: float) -> None:
        """A step is so far."""
        self.pace.shares[step.name] = max(0.0, min(1.0, share))

    def ended(self, step: Step, state: State, seconds: float) -> None:
        """A step is over."""
        if state != "to do":
            self.pace.kept.add(step.name)
        self._passed(step, state)

    def failed(self, step: Step, wrong: WorkbenchError) -> None:
        """A step failed."""
        self._passed(step, "failed")

    def looking(self) -> None:
        """Raise where the job or its worker is to stop; else tell how far it is, every now and then."""
        self.doing.ending()
        if time.monotonic() - self.told_s >= TOLD_S:
            self._tell()

    def put(self, **columns: Any) -> None:
        """Write into the job's row; raises AskedToStopError where somebody stopped it."""
        name = self.row["name"]
        with self.doing.book.writing() as base:
            now = base.one("select stop, attempt, state from job where name = :job", job=name)
            if now is None or now["attempt"] != self.row["attempt"] or now["state"] in OVER or now["stop"]:
                raise AskedToStopError
            self.doing.book.put(base, name, **columns)

    def _passed(self, step: Step, state: str) -> None:
        self.pace.shares[step.name] = 1.0
        self.titles.pop(step.name, None)
        self.over += 1
        self.note(step.name, state)

    def _tell(self) -> None:
        self.title = title = next(reversed(self.titles.values()), self.title)
        many = len(self.plan.steps)
        count = f" ({min(many, self.over + 1)} of {many})" if many > 1 else ""
        self.told_s = time.monotonic()
        self.put(share=self.pace.share, left_s=self.pace.left_s, words=f"{title}{count}")
