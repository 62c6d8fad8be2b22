"""Everything a dance could have done to one of its walls that nobody wrote: tags behind it, restarts, bridges inside.

Tags and restarts may come in any wall; no wall is cut within its first section. A bridge comes only where a phrase
begins behind it or the music comes back after a pause: elsewhere a tag behind the same wall does as much for less.
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
    """One repair: what it is, the counts of the dance that are danced with it, where and how many are added."""

    key: Key
    danced: int
    after: int
    added: int
    change: str | None = None

    @property
    def kind(self) -> str:
        """A tag, restart or bridge."""
        return self.key[0]

    @property
    def length(self) -> int:
        """Counts from the beginning of the wall to that of the next."""
        return self.danced + self.added

    def step(self, wall: int, at: int) -> Step:
        """Return the wall danced so."""
        extras = (Extra(self.after, self.added),) if self.added else ()
        return Step(wall, at, self.danced, extras, cut=self.kind == "restart", change=self.change)


def repairs_of(dance: Dance, seen: Anatomy, pins: Pins) -> tuple[Repair, ...]:
    """Return what the footwork of the dance and the pins allow: tags, restarts, then bridges."""
    whole = dance.counts
    lengths = tag_lengths(three=dance.metre == "3/4")
    short = [n for n in lengths if 2 * n <= whole]  # a tag longer than half the dance is none
    tags = [Repair(("tag", 0, n), whole, whole, n) for n in short] if pins.tags else []
    cuts = [cut for cut in seen.cuts if cut[0] >= seen.section] if pins.restarts else []
    restarts = [Repair(("restart", counts, 0), counts, counts, 0, change) for counts, change in cuts]
    breaks = seen.breaks if pins.bridges else ()
    bridges = [Repair(("bridge", after, n), whole, after, n) for after in breaks for n in short if lengths[n]]
    return (*tags, *restarts, *bridges)
