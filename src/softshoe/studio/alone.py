"""One step of work in a process of its own, waited for: its memory goes back, and it can't take the studio along."""

from __future__ import annotations

import os
import time
from typing import TYPE_CHECKING

from softshoe.errors import WorkbenchError
from softshoe.files import folder_for

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.jobs.step import Step

LOOK_S = 0.1


def done_alone(step: Step, *, waiting: Callable[[float], None] = lambda _: None) -> None:
    """Do a step and return when its files are there; raises what it raises.

    waiting : is told the seconds gone, again and again, and may raise to stop the step.
    """
    from softshoe.jobs.child import Child

    handle = os.open(folder_for(step.leaves[0].parent), os.O_RDONLY)
    child, begun = Child.of(step, handle), time.monotonic()
    try:
        while (told := child.hear()) is None or told[0] == "share":
            waiting(time.monotonic() - begun)
            time.sleep(LOOK_S)
        if isinstance(told[1], WorkbenchError):
            raise told[1]
    finally:
        child.end()
        os.close(handle)
