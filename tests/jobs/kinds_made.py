"""Kinds of long work for the tests of the door: importable by name, so that a worker can do them."""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jobs import steps_made as made
from softshoe.errors import OutputError
from softshoe.files import whole
from softshoe.jobs.kinds import Place, Plan
from softshoe.jobs.step import Step

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

TABLE = (
    "kind,heading,steps,reads,queue\nrow,Row,jobs.kinds_made:row,sheet,long\nsmall,Small,jobs.kinds_made:row,,quick\n"
)


def kinds(folder: Path) -> Path:
    """Write the table of these kinds."""
    table = folder / "kinds.csv"
    table.write_text(TABLE, encoding="utf-8")
    return table


def row(asked: Mapping[str, Any], place: Place) -> Plan:
    """So many steps after one another; each takes so long [s], and one may fail or be killed the first time."""
    steps = []
    for k in range(asked["many"]):
        settings = {**asked, "k": k, "log": str(place.home / "log")}
        steps.append(Step(f"s{k}", f"Step {k}", work, settings, (), (place.folder / f"s{k}.txt",),
                          (f"s{k - 1}",) if k else (), hint_s=asked.get("each_s", 0.1), apart=True))  # fmt: skip
    return Plan(tuple(steps), place.folder, tuple(step.leaves[0] for step in steps))


def work(step: Step, tell: Callable[[float], None]) -> None:
    """Write half, wait, write the rest; the log says when it began and was over."""
    asked, k = step.settings, step.settings["k"]
    mark = step.leaves[0].parent / f"was-{k}"
    first = not mark.exists()
    mark.touch()
    log(asked["log"], f"begun {step.leaves[0].parent.name} {k} {os.getppid()}")
    if asked.get("fails") == k and not Path(asked["mended"]).exists():
        raise OutputError("the disk", "can't be written", "it is full", "make room")
    if asked.get("killed") == k and first:
        made.killed(step, tell)
    with whole(step.leaves[0]) as part:
        part.write_text("half")
        for share in range(5):
            time.sleep(asked.get("each_s", 0.1) / 5)
            tell((share + 1) / 5)
        part.write_text(f"whole {k}")
    log(asked["log"], f"over {step.leaves[0].parent.name} {k}")


def log(path: str, words: str) -> None:
    """Add a line in one write."""
    handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT)
    os.write(handle, f"{time.monotonic():.3f} {os.getpid()} {words}\n".encode())
    os.close(handle)
