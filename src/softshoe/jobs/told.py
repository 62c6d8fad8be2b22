"""What is told of a job, and how long it will still take."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from softshoe.jobs.step import Step

State = Literal["waiting", "doing", "done", "failed", "stopped"]
OVER: tuple[State, ...] = ("done", "failed", "stopped")
TOO_EARLY_S = 2.0
QUIET = 0.05  # a step that told no more than this share is judged by its time


@dataclass(frozen=True, slots=True)
class Told:
    """How a job stands.

    share : done so far, 0 to 1
    left_s : about how long it will still take [s]; None where nobody can say
    words : what is done now, or how it ended, in a few words
    made : the files and folders that it left
    fault : what went wrong, with why and how to mend it; None where nothing did
    why : why it is done again, "" for the first time; attempt : how often it was begun, from 1
    changed : grows with every change of any job; see ``Door.changes``
    """

    job: str
    kind: str
    state: State
    share: float
    left_s: float | None
    words: str
    made: tuple[Path, ...]
    fault: str | None
    why: str = ""
    attempt: int = 1
    asked_at: str = ""
    ended_at: str = ""
    changed: int = 0

    @property
    def over(self) -> bool:
        """Nothing more will happen unless it is asked again."""
        return self.state in OVER


@dataclass(slots=True)
class Pace:
    """How far steps have come together, judged by about how long each takes; ``lanes`` are done at a time."""

    steps: Sequence[Step]
    lanes: int
    shares: dict[str, float] = field(default_factory=dict)
    kept: set[str] = field(default_factory=set)
    steps_begun_s: dict[str, float] = field(default_factory=dict)
    begun_s: float = field(default_factory=time.monotonic)

    def begins(self, step: Step) -> None:
        """A step begins."""
        self.steps_begun_s[step.name] = time.monotonic()
        self.shares[step.name] = 0.0

    def _share_of(self, step: Step) -> float:
        """What the step told, or what its time says where that is more: many tell nothing until they are over."""
        told = self.shares.get(step.name, 0.0)
        if told >= 1.0 or step.name not in self.steps_begun_s:
            return told
        spent_s = time.monotonic() - self.steps_begun_s[step.name]
        return max(told, 1.0 - math.exp(-spent_s / max(0.1, step.hint_s)) if told < QUIET else told)

    def _done_and_todo_s(self) -> tuple[float, float]:
        rows = [(step.hint_s, self._share_of(step)) for step in self.steps if step.name not in self.kept]
        done = sum(hint_s * share for hint_s, share in rows)
        return done, sum(hint_s for hint_s, _ in rows) - done

    @property
    def share(self) -> float:
        """Return the share done, 0 to 1; what was kept from before counts as never asked."""
        done, todo = self._done_and_todo_s()
        return 1.0 if not todo else done / (done + todo)

    @property
    def left_s(self) -> float:
        """Return about how long the rest takes, from the hints at first and from the time taken later. [s]"""
        done, todo = self._done_and_todo_s()
        spent_s = time.monotonic() - self.begun_s
        if done < TOO_EARLY_S or spent_s < TOO_EARLY_S:
            return todo / self.lanes
        return todo * spent_s / done
