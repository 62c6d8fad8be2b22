"""The engine behind the jobs: DBOS, which hands each job to one worker and takes it up again after a crash.

It keeps which job waits, which worker has it, and which of its steps are over, in a database of its own: a file beside
the jobs, or a schema of the association's PostgreSQL. Only this module knows it, and only workers load it: that takes
two seconds. What a step is and whether it must be done is the folder's ledger's to say; this says who does it, and that
it ends once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from dbos import DBOS, SetWorkflowID

from softshoe.jobs.book import FOLDER
from softshoe.jobs.kinds import queues

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.jobs.book import Book

NAME = "engine-3.sqlite3"  # of the engine's third edition: another would begin with a file of its own
EDITION = "1"  # of the flow below: jobs of another are left to their own workers
LOOK_S = 0.5
MOST_STARTS = 30  # so often a job is taken up after its worker was killed, before it is given up
DRIVER = "postgresql+psycopg"
LOST = ("ERROR", "MAX_RECOVERY_ATTEMPTS_EXCEEDED", "CANCELLED")
OVER = ("SUCCESS", *LOST)


@dataclass(frozen=True, slots=True)
class Engine:
    """The engine of one worker, which has a name of its own."""

    worker: str

    @classmethod
    def started(cls, book: Book, *, worker: str, do: Callable[[str, int], None], at_once: int) -> Engine:
        """Start the engine: from now on ``do(job, attempt)`` is called for jobs whose turn has come.

        at_once : so many jobs of each queue are done at a time by this worker
        """
        DBOS(config={"name": "softshoe", "system_database_url": _address(book), "application_version": EDITION,
                     "executor_id": worker, "enable_otlp": False, "log_level": "ERROR", "max_executor_threads": 16,
                     "notification_listener_polling_interval_sec": 5.0})  # fmt: skip

        def flow(job: str, attempt: int) -> None:
            do(job, attempt)

        global _FLOW
        _FLOW = DBOS.workflow(name="job", max_recovery_attempts=MOST_STARTS)(flow)
        DBOS.launch()
        for queue in queues():
            DBOS.register_queue(queue, worker_concurrency=at_once, polling_interval_sec=LOOK_S)
        return cls(worker)

    def give(self, job: str, attempt: int, queue: str) -> None:
        """Let a job wait in a queue; given twice, it waits once."""
        with SetWorkflowID(_name(job, attempt)):
            DBOS.enqueue_workflow(queue, _FLOW, job, attempt)

    def lost(self, job: str, attempt: int) -> str | None:
        """Return why the engine will never end a job: "unknown" to it, or "given up"; None where it will."""
        found = DBOS.list_workflows(workflow_ids=[_name(job, attempt)], load_input=False, load_output=False)
        if not found:
            return "unknown"
        return "given up" if found[0].status in LOST else None

    def take_over(self, gone: Callable[[str], bool]) -> None:
        """Let the jobs of workers that are gone wait for another. ``gone`` says so of a name, and holds until it is
        asked the next time.
        """
        for left in self._at_work():
            if left.executor_id and left.executor_id != self.worker and gone(left.executor_id):
                self._take_over(left.workflow_id, left.executor_id)

    def _take_over(self, name: str, worker: str) -> None:
        still = [one for one in self._at_work() if (one.workflow_id, one.executor_id) == (name, worker)]
        for left in still:
            DBOS.resume_workflow(left.workflow_id, queue_name=left.queue_name)

    @staticmethod
    def _at_work() -> list[Any]:
        return list(DBOS.list_workflows(status="PENDING", load_input=False, load_output=False))

    @staticmethod
    def tidied() -> None:
        """Forget what is over: the book of jobs remembers it."""
        over = DBOS.list_workflows(status=list(OVER), limit=200, load_input=False, load_output=False)
        if over:
            DBOS.delete_workflows([one.workflow_id for one in over])


_FLOW: Any = None


def step_over(places: dict[str, Any], step: str, state: str) -> None:
    """Note with the engine that a step of the job is over."""
    if place := places.pop(step, None):  # None: the step was done once more
        place.run(None, lambda: state)


def places_for(steps: list[str]) -> dict[str, Any]:
    """Return the engine's places for the steps of the job that is being done, in their order."""
    return {step: DBOS.reserve_step() for step in steps}


def _name(job: str, attempt: int) -> str:
    return f"{job}.{attempt}"


def _address(book: Book) -> str:
    if not book.url:
        return f"sqlite:///{(book.home / FOLDER / NAME).absolute()}"
    from urllib.parse import quote, urlencode

    from psycopg.conninfo import conninfo_to_dict

    said = {name: str(value) for name, value in conninfo_to_dict(book.url).items() if value}
    whose = ":".join(quote(said.pop(name), safe="") for name in ("user", "password") if name in said)
    database = quote(said.pop("dbname", "postgres"), safe="")
    return f"{DRIVER}://{whose}@/{database}?{urlencode(said)}"
