"""The dance as values: what one sheet says, exactly."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from softshoe.dance.counts import Count, Counts

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.feet import Weight
    from softshoe.errors import Finding

Level = Literal["absolute beginner", "beginner", "improver", "intermediate", "advanced"]
Metre = Literal["2/4", "3/4", "4/4", "6/8"]
LEVELS: tuple[Level, ...] = ("absolute beginner", "beginner", "improver", "intermediate", "advanced")


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of the dance: eight counts, six in a waltz. ``title`` is the heading's own words, "" for none."""

    number: int
    start: Count
    length: Counts
    line: int = field(default=0, compare=False)
    title: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Tag:
    """Extra counts: after whole count ``after_count`` of ``walls``; ``then`` the dance begins again or goes on.

    The actions count from ``Count(1)`` where the tag begins, and face 0 there.
    """

    walls: tuple[int, ...]
    after_count: int
    counts: int
    then: Literal["start", "continue"]
    actions: tuple[Action, ...]
    line: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class Restart:
    """These walls stop after that whole count and the dance begins again."""

    walls: tuple[int, ...]
    after_count: int
    line: int = field(default=0, compare=False)
    changed: bool = field(default=False, compare=False)  # its last step is told to be another


@dataclass(frozen=True, slots=True)
class Ending:
    """The last wall, which begins facing ``start_facing_deg`` on the room's clock, closes with actions of its own."""

    wall: int | Literal["last"]
    after_count: int
    counts: int
    start_facing_deg: int
    actions: tuple[Action, ...]
    line: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class Dance:
    """One wall of actions in order of time, with everything the sheet says around them.

    ``counts`` is the length of one wall as stated, or as written out. ``tempo_bpm`` is one number or (low, high).
    ``kept`` are lines kept as written and shown on the sheet: (line number, words).
    """

    title: str
    counts: int
    walls: int | None
    level: Level | None
    seated: bool
    metre: Metre
    tempo_bpm: float | tuple[float, float] | None
    intro_counts: int | None
    start_weight: Weight
    sections: tuple[Section, ...]
    actions: tuple[Action, ...]
    tags: tuple[Tag, ...] = ()
    restarts: tuple[Restart, ...] = ()
    endings: tuple[Ending, ...] = ()
    findings: tuple[Finding, ...] = field(default=(), compare=False)
    kept: tuple[tuple[int, str], ...] = field(default=(), compare=False)

    @property
    def counts_per_section(self) -> int:
        """Eight; six in a waltz."""
        return 6 if self.metre == "3/4" else 8

    @property
    def end(self) -> Count:
        """The first count of the next wall."""
        return Count(Fraction(self.counts + 1))

    def section_at(self, count: Count) -> Section | None:
        """Return the section this count belongs to; the "&" before a section belongs to the section it leads into."""
        at = count.at
        return next((s for s in reversed(self.sections) if s.start.at - 1 < at < (s.start + s.length).at), None)
