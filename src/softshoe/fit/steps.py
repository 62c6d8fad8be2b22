"""Steps: the walls of a run one after another, each with what is added to it or cut from it.

A step is one wall with its extras (tags behind it, bridges inside it) or cut by a restart. Positions are whole counts
from the start of the dance.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.dance.action import Action

# What makes two repairs the same: their kind, where in the wall, how many counts.
Key = tuple[str, int, int]


@dataclass(frozen=True, slots=True)
class Extra:
    """Counts added after count ``after`` of a wall: a tag when the wall is over, a bridge when it goes on.

    ``actions`` are what is danced there when the sheet says it; empty: it is still to be proposed.
    """

    after: int
    counts: int
    actions: tuple[Action, ...] = ()
    written: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One wall: where it begins, how many counts of the dance are danced, what is added, whether a restart ends it.

    ``change``: how the last action before the restart is altered to free the foot, or None.
    """

    wall: int
    at: int
    counts: int
    extras: tuple[Extra, ...] = ()
    cut: bool = False
    change: str | None = None

    @property
    def end(self) -> int:
        """Where the next wall begins."""
        return self.at + self.counts + sum(extra.counts for extra in self.extras)

    @property
    def tag(self) -> Extra | None:
        """The extra behind the wall."""
        return next((extra for extra in self.extras if extra.after >= self.counts), None)

    @property
    def bridges(self) -> tuple[Extra, ...]:
        """The extras inside the wall, in order."""
        return tuple(extra for extra in self.extras if extra.after < self.counts)

    def places(self) -> tuple[tuple[Extra, int], ...]:
        """Return the extras, each with the position where it begins."""
        found, shift = [], self.at
        for extra in self.extras:
            found.append((extra, shift + min(extra.after, self.counts)))
            shift += extra.counts
        return tuple(found)

    @property
    def repairs(self) -> tuple[Key, ...]:
        """Return what is repaired in this step; a written repair is one too."""
        found: list[Key] = [("restart", self.counts, 0)] if self.cut else []
        for extra in self.extras:
            is_tag = extra.after >= self.counts
            found.append(("tag", 0, extra.counts) if is_tag else ("bridge", extra.after, extra.counts))
        return tuple(found)
