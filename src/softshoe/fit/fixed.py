"""Walls that leave no choice: what a person has pinned, and what the sheet itself writes for a wall."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.fit.steps import Extra, Step

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.anatomy import Anatomy
    from softshoe.fit.pins import Pins


@dataclass(frozen=True, slots=True)
class Fixed:
    """The fixed walls of one dance on a song of so many counts. ``written``: the sheet's own repairs hold."""

    dance: Dance
    total: int
    pins: Pins
    anatomy: Anatomy
    written: bool

    @property
    def last(self) -> int:
        """The last wall that anything is said of, 0 for none; a written ending of a certain wall is said of it."""
        said = {0, *self.pins.walls, *(e.wall for e in self.dance.endings if isinstance(e.wall, int))}
        if self.written:
            said.update(wall for tag in self.dance.tags for wall in tag.walls)
            said.update(wall for restart in self.dance.restarts for wall in restart.walls)
        return max(said)

    def step(self, wall: int, at: int) -> Step | None:
        """Return the wall as it has to be danced from this position, None where it is free."""
        whole = Step(wall, at, self.dance.counts)
        fixed = self._pinned(whole) or (self._written(whole) if self.written else None)
        return self.within(fixed) if fixed is not None else None

    def within(self, step: Step) -> Step:
        """A wall that the end of the song cuts is no restart; it keeps the extras that are whole before the end."""
        if step.end <= self.total:
            return step
        left = self.total - step.at
        kept = [extra for extra, at in step.places() if at + extra.counts < self.total and extra.after < step.counts]
        counts = min(step.counts, left - sum(extra.counts for extra in kept))
        return Step(step.wall, step.at, counts, tuple(kept))

    def _pinned(self, whole: Step) -> Step | None:
        pin = self.pins.walls.get(whole.wall)
        if pin is None:
            return None
        said = {(t.after_count, t.counts): t.actions for t in self.dance.tags if whole.wall in t.walls}
        extras = tuple(
            Extra(after, counts, said.get((after, counts), ()), (after, counts) in said) for after, counts in pin.extras
        )
        return self._so(whole, pin.counts or whole.counts, extras)

    def _written(self, whole: Step) -> Step | None:
        """The wall as the sheet says it, or None when it says nothing of this wall."""
        cut = next((r.after_count for r in self.dance.restarts if whole.wall in r.walls), None)
        tags = [t for t in self.dance.tags if whole.wall in t.walls and (cut is None or t.after_count <= cut)]
        if cut is None and not tags:
            return None
        ends = next((t.after_count for t in tags if t.then == "start"), cut)
        return self._so(
            whole, ends or whole.counts, tuple(Extra(t.after_count, t.counts, t.actions, True) for t in tags)
        )

    def _so(self, whole: Step, counts: int, extras: tuple[Extra, ...]) -> Step:
        cut = counts < whole.counts
        change = dict(self.anatomy.cuts).get(counts) if cut else None
        ordered = tuple(sorted(extras, key=lambda extra: extra.after))
        return Step(whole.wall, whole.at, min(counts, whole.counts), ordered, cut, change)


def turn_of(step: Step, anatomy: Anatomy) -> int:
    """Return how far a wall turns with what is written to be added to it, 0 to 359; what is proposed turns nobody."""
    own = anatomy.facings_deg[step.counts]
    return (own + sum(action.turn_deg for extra in step.extras for action in extra.actions)) % 360
