"""Steps for the tests of the job engine: importable by name, so that they can be done in another process."""

from __future__ import annotations

import os
import signal
import time
from typing import TYPE_CHECKING

from softshoe.errors import MusicError
from softshoe.files import whole, write_whole

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from softshoe.jobs.step import Step


def join(step: Step, tell: Callable[[float], None]) -> None:
    tell(0.5)
    words = "+".join(path.read_text() for path in step.reads) + str(step.settings.get("sign", ""))
    for path in step.leaves:
        write_whole(path, words)


def refuse(step: Step, _: Callable[[float], None]) -> None:
    raise MusicError("song.ogg", "it can't be heard", "it is a picture", "give a sound file")


def crash(step: Step, _: Callable[[float], None]) -> None:
    raise ZeroDivisionError("a fault of the program")


def killed(step: Step, _: Callable[[float], None]) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def slow(step: Step, tell: Callable[[float], None]) -> None:
    with whole(step.leaves[0]) as part:
        part.write_text("half")
        tell(0.1)
        (step.leaves[0].parent / "begun").write_text("")
        time.sleep(60)


class Silent:
    """A watch that only remembers."""

    def __init__(self) -> None:
        self.states: dict[str, str] = {}
        self.shares: list[float] = []
        self.failures: dict[str, str] = {}

    def started(self, step: Step) -> None:
        self.states[step.name] = "begun"

    def told(self, step: Step, share: float) -> None:
        self.shares.append(share)

    def ended(self, step: Step, state: str, seconds: float) -> None:
        self.states[step.name] = state

    def failed(self, step: Step, wrong: object) -> None:
        self.failures[step.name] = str(wrong)


def files(folder: Path, *names: str) -> tuple[Path, ...]:
    return tuple(folder / name for name in names)
