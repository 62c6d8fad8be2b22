"""Two workers of an association on a PostgreSQL started for real: each job once, a killed one costs only its step."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

from jobs.kinds_made import kinds
from softshoe.jobs.door import open_door

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

LONG_S = 180.0


@contextmanager
def workers(home: Path, url: str, many: int) -> Iterator[list[subprocess.Popen[bytes]]]:
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path)), "SOFTSHOE_DATABASE": url}
    command = [sys.executable, "-m", "softshoe.jobs.worker", str(home), "--server", "--lanes", "1", "--kinds",
               str(home / "kinds.csv")]  # fmt: skip
    started = [subprocess.Popen(command, stdin=subprocess.PIPE, env=environment) for _ in range(many)]
    try:
        yield started
    finally:
        for one in started:
            assert one.stdin is not None
            one.stdin.close()
            one.wait(30)


def rows(home: Path) -> list[list[str]]:
    log = home / "log"
    return [line.split() for line in log.read_text().splitlines()] if log.exists() else []


def test_a_killed_worker_costs_only_its_step_and_two_never_do_the_same(database: str, tmp_path: Path) -> None:
    kinds(tmp_path)
    with open_door(tmp_path, database=database, kinds=tmp_path / "kinds.csv") as door:
        asked = [door.ask("row", {"many": 2, "words": str(k), "each_s": 0.5}) for k in range(3)]
        with workers(tmp_path, database, 2):
            deadline, killed, since = time.monotonic() + LONG_S, 0, 0
            while not all(one.over for one in door.all()):
                assert time.monotonic() < deadline, door.all()
                second = [row[5] for row in rows(tmp_path) if row[2] == "begun" and row[4] == "1"]
                if second and len({row[5] for row in rows(tmp_path) if row[2] == "begun"}) == 2 and not killed:
                    killed = int(second[-1])
                    os.kill(killed, signal.SIGKILL)
                since = max([since, *(one.changed for one in door.changes(since, wait_s=0.2))])
        assert [one.state for one in door.all()] == ["done"] * 3
    over = sorted((row[3], row[4]) for row in rows(tmp_path) if row[2] == "over")
    assert over == sorted((job, str(k)) for job in asked for k in range(2))
    begun = [(row[3], row[4]) for row in rows(tmp_path) if row[2] == "begun"]
    assert len(begun) <= len(over) + 2  # what the killed worker was at: one job of each queue at most
    assert killed
