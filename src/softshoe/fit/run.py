"""A run: the whole song as walls, tags, restarts and an ending.

``beats_per_count`` is 1 when a count is a beat, 2 at half time, 0.5 at double time. Facings are degrees clockwise from
12 where a wall begins. A wall's ``counts`` are those danced of the dance, without tags; a wall cut by the end of the
song is no restart.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.dance.action import Action


@dataclass(frozen=True, slots=True)
class Start:
    """Where count 1 of wall 1 falls, the counts that pass before it, and the sign one hears there."""

    time_s: float
    intro_counts: int
    sign: str


@dataclass(frozen=True, slots=True)
class RunWall:
    """One time through the dance."""

    wall: int
    start_s: float
    counts: int
    facing_deg: int


@dataclass(frozen=True, slots=True)
class RunTag:
    """Extra counts: ``after_wall`` when the wall is over, or ``in_wall`` as a bridge (exactly one of them is set).

    ``actions`` are what is danced there, counted from ``Count(1)``; ``written`` when the sheet itself says them.
    """

    after_wall: int | None
    in_wall: int | None
    at_count: int
    counts: int
    actions: tuple[Action, ...]
    written: bool


@dataclass(frozen=True, slots=True)
class RunRestart:
    """The wall stops after that count. ``change`` names the altered last action that frees the foot, or None."""

    wall: int
    after_count: int
    change: str | None


@dataclass(frozen=True, slots=True)
class RunEnding:
    """How the last wall closes: at that count and second, after a turn [degrees], in words.

    ``actions`` are what is danced to close, counted from ``Count(1)``; they take the place of the last ``counts`` up to
    ``at_count``, which may be the beat after the wall's last count.
    """

    wall: int
    at_count: int
    time_s: float
    facing_deg: int
    turn_deg: int
    what: str
    actions: tuple[Action, ...] = ()
    counts: int = 0

    @property
    def after_count(self) -> int:
        """The last count of the wall danced as usual before a written ending."""
        return self.at_count - self.counts


@dataclass(frozen=True, slots=True)
class Score:
    """A sum of named parts; 100 is a fit without a fault."""

    total: float
    parts: dict[str, float]

    @property
    def charged(self) -> float:
        """What the parts charge together, 0 or more; it goes on rising where the total has come down to 0."""
        return -sum(self.parts.values())


@dataclass(frozen=True, slots=True)
class Run:
    """One way to lay the dance on the song."""

    beats_per_count: float
    start: Start
    walls: tuple[RunWall, ...]
    tags: tuple[RunTag, ...]
    restarts: tuple[RunRestart, ...]
    ending: RunEnding | None
    score: Score
    why: tuple[str, ...]
