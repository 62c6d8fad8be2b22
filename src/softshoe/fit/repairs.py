"""Everything a dance could have done to one of its walls that nobody wrote: tags behind it, restarts, bridges inside.

Tags and restarts may come in any wall; no wall is cut within its first section. A bridge, and a tag behind a wall that
is cut, come only where a phrase begins behind them or the music comes back after a pause: elsewhere a tag behind the
same or another wall does as much for less.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.fit.rules import tag_lengths
from softshoe.fit.steps import Extra, Step

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.anatomy import Anatomy
    from softshoe.fit.pins import Pins
    from softshoe.fit.steps import Key


@dataclass(frozen=True, slots=True)
class Repair:
    """What is done to a wall: its keys, the counts of the dance that are danced then, where and how many are added."""

    keys: tuple[Key, ...]
    danced: int
    after: int
    added: int
    change: str | None = None

    @property
    def inside(self) -> bool:
        """True when the wall goes on behind it, as behind a bridge."""
        return self.danced > self.after

    @property
    def cuts(self) -> bool:
        """True when the wall is cut."""
        return any(kind == "restart" for kind, _, _ in self.keys)

    @property
    def only_home(self) -> bool:
        """True when it comes only where something begins behind it."""
        return self.inside or len(self.keys) > 1

    @property
    def length(self) -> int:
        """Counts from the beginning of the wall to that of the next."""
        return self.danced + self.added

    def step(self, wall: int, at: int) -> Step:
        """Return the wall danced so."""
        extras = (Extra(self.after, self.added),) if self.added else ()
        return Step(wall, at, self.danced, extras, cut=self.cuts, change=self.change)


def repairs_of(dance: Dance, seen: Anatomy, pins: Pins) -> tuple[Repair, ...]:
    """Return what the footwork of the dance and the pins allow: tags, restarts, tags behind them, then bridges."""
    whole = dance.counts
    lengths = tag_lengths(three=dance.metre == "3/4")
    short = [n for n in lengths if 2 * n <= whole]  # a tag longer than half the dance is none
    cuts = [cut for cut in seen.cuts if cut[0] >= seen.section] if pins.restarts else []
    breaks = seen.breaks if pins.bridges else ()
    tags = [Repair((("tag", 0, n),), whole, whole, n) for n in short] if pins.tags else []
    restarts = [Repair((("restart", at, 0),), at, at, 0, change) for at, change in cuts]
    both = [
        Repair((("restart", at, 0), ("tag", 0, n)), at, at, n, change)
        for at, change in cuts
        for n in short
        if pins.tags and lengths[n] and at + n < whole
    ]
    bridges = [Repair((("bridge", after, n),), whole, after, n) for after in breaks for n in short if lengths[n]]
    return (*tags, *restarts, *both, *bridges)
