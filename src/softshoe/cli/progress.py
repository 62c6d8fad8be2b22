"""How long work is told: a moving bar where a person looks on, plain lines in a log; both with the time left."""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import click

from softshoe.cli.show import clock_time

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.errors import WorkbenchError
    from softshoe.jobs.ledger import State
    from softshoe.jobs.step import Step

WIDTH = 100
KEPT = {"made before": "as before, kept", "mended by hand": "mended by hand, kept and used"}


@dataclass(slots=True)
class Told:
    """Tells each step on standard error. ``lanes`` steps run at a time; the time left is judged from the time taken."""

    steps: Sequence[Step]
    lanes: int
    moving: bool = field(default_factory=lambda: sys.stderr.isatty())
    begun_s: float = field(default_factory=time.monotonic)
    shares: dict[str, float] = field(default_factory=dict)
    spent_s: dict[str, float] = field(default_factory=dict)
    redone: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    by_hand: list[str] = field(default_factory=list)
    failed_steps: list[str] = field(default_factory=list)

    def started(self, step: Step) -> None:
        """A step begins."""
        self.shares[step.name] = 0.0
        self._line(f"{step.title} …{self._left()}")

    def told(self, step: Step, share: float) -> None:
        """A step is so far."""
        self.shares[step.name] = min(1.0, share)
        if self.moving:
            self._bar(f"{step.title}  {share:.0%}{self._left()}")

    def ended(self, step: Step, state: State, seconds: float) -> None:
        """A step is over: done, or kept from before."""
        self.shares[step.name] = 1.0
        if state == "to do":
            self.redone.append(step.name)
            self.spent_s[step.name] = seconds
        else:
            self.kept.append(step.name)
            self.by_hand += [step.name] if state == "mended by hand" else []
            self._line(f"{step.title}: {KEPT[state]}")

    def failed(self, step: Step, wrong: WorkbenchError) -> None:
        """A step failed; the steps that don't need it go on."""
        self.shares[step.name] = 1.0
        self.failed_steps.append(step.title)
        self._line(f"{step.title}: not done")

    def _left(self) -> str:
        """Judge the time left from the hints of the steps and the time taken so far."""
        done = sum(step.hint_s * self.shares.get(step.name, 0.0) for step in self.steps if step.name not in self.kept)
        todo = sum(step.hint_s for step in self.steps if step.name not in self.kept) - done
        spent_s = time.monotonic() - self.begun_s
        if done < 2.0 or spent_s < 2.0:
            return f"  (about {clock_time(todo / self.lanes)} to go)" if todo > 1.0 else ""
        return f"  (about {clock_time(todo * spent_s / done)} to go)" if todo > 1.0 else ""

    def _line(self, words: str) -> None:
        click.echo(("\r\x1b[K" if self.moving else "") + words, err=True)

    def _bar(self, words: str) -> None:
        sys.stderr.write(f"\r\x1b[K{words[:WIDTH]}")
        sys.stderr.flush()

    def close(self) -> None:
        """Leave the terminal as it was."""
        if self.moving:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()
