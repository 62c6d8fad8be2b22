"""A folder held while steps are done in it: by one program at a time, until it and all its steps' processes are gone.

The lock lies on the folder itself, leaves nothing behind, and goes with the last process that has it open: a killed
program's steps keep it until they are over.
"""

from __future__ import annotations

import fcntl
import os
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

from softshoe.errors import OutputError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

TICK_S = 0.2


@contextmanager
def held(folder: Path, *, waiting: Callable[[], None] | None = None) -> Iterator[int]:
    """Hold a folder and yield its open handle, which is handed to the steps' processes.

    waiting : is called again and again while another program holds the folder, and may raise; without it OutputError is
        raised at once
    """
    handle = os.open(folder, os.O_RDONLY)
    try:
        while not _got(handle):
            if waiting is None:
                raise OutputError(str(folder), "another program is at work in this folder",
                                  "two would write the same files",
                                  "wait until it is over, or choose another folder")  # fmt: skip
            waiting()
            time.sleep(TICK_S)
        yield handle
    finally:
        os.close(handle)


def _got(handle: int) -> bool:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:  # a disk of another computer that knows no locks: nobody can hold it
        return True
    return True
