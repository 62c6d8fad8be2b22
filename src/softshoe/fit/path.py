"""The search: walls, tags and restarts laid one after another on the counts of a song.

A path is a chain of steps. At each wall start the dance may run whole, run whole with a tag that ends on a phrase
start, or be cut where a phrase begins. The best few partial paths are kept at every position (what is charged depends
on what came before: a tag danced again costs less), so the whole song is laid in one sweep.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.dance.footwork import state_after
from softshoe.fit.score import charges, total_of
from softshoe.fit.tags import restart_change

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance, Tag
    from softshoe.fit.grid import Grid

KEPT = 16
TAG_COUNTS = (2, 4, 6, 8, 12, 16)
TAG_COUNTS_WALTZ = (3, 6, 12, 24)
LEAST_WALL = 5  # fewer counts than these at the end are a closing pose, not a wall


@dataclass(frozen=True, slots=True)
class Step:
    """One wall and the tag behind it. ``bridges`` are written tags inside the wall: (after count, counts, tag)."""

    wall: int
    at: int
    counts: int
    tag: int = 0
    written_tag: Tag | None = None
    bridges: tuple[Tag, ...] = ()
    cut: bool = False
    change: str | None = None

    @property
    def end(self) -> int:
        """Where the next wall begins."""
        return self.at + self.counts + self.tag + sum(b.counts for b in self.bridges)


@dataclass(frozen=True, slots=True)
class Path:
    """A chain of steps and what it has cost so far."""

    steps: tuple[Step, ...]
    cost: float

    @property
    def end(self) -> int:
        """Where the chain ends."""
        return self.steps[-1].end if self.steps else 0


def paths(dance: Dance, grid: Grid, *, written: bool, repairs: bool) -> tuple[Path, ...]:
    """Return the cheapest ways through the song, best first; none when the song has no counts.

    ``written`` honours the sheet's own tags and restarts; ``repairs`` allows new ones.
    """
    waiting: dict[int, list[Path]] = {0: [Path((), 0.0)]}
    done: list[Path] = []
    while waiting:
        position = min(waiting)
        for path in sorted(waiting.pop(position), key=lambda p: p.cost)[:KEPT]:
            if grid.total - position < LEAST_WALL and path.steps:
                done.append(path)
                continue
            for step in _choices(dance, grid, path, written=written, repairs=repairs):
                grown = Path((*path.steps, step), 0.0)
                grown = replace(grown, cost=-total_of(charges(dance, grid, grown.steps)))
                (done if grown.end >= grid.total else waiting.setdefault(grown.end, [])).append(grown)
    return tuple(sorted(done, key=lambda p: (p.cost, len(p.steps))))[:KEPT]


def _choices(dance: Dance, grid: Grid, path: Path, *, written: bool, repairs: bool) -> Iterator[Step]:
    whole = Step(len(path.steps) + 1, path.end, dance.counts)
    if written and (said := _written(dance, whole)) is not None:
        yield _within(said, grid)
        return
    yield _within(whole, grid)
    if repairs:
        yield from _with_tags(dance, grid, whole)
        yield from _cuts(dance, grid, whole)


def _within(step: Step, grid: Grid) -> Step:
    """A wall that the end of the song cuts is no restart and has no tag."""
    left = grid.total - step.at
    if step.end <= grid.total:
        return step
    bridge_counts = sum(b.counts for b in step.bridges if b.after_count < left)
    counts = min(step.counts, left - bridge_counts)
    tag = max(0, min(step.tag, left - bridge_counts - counts))
    whole_tag = step.written_tag if tag == step.tag else None
    return Step(step.wall, step.at, counts, tag if whole_tag else 0, whole_tag, step.bridges if bridge_counts else ())


def _written(dance: Dance, whole: Step) -> Step | None:
    """The wall as the sheet says it, or None when it says nothing of this wall."""
    cut = next((r.after_count for r in dance.restarts if whole.wall in r.walls), None)
    tags = [t for t in dance.tags if whole.wall in t.walls and (cut is None or t.after_count <= cut)]
    after = next((t for t in tags if t.then == "start" or t.after_count == dance.counts), None)
    bridges = tuple(t for t in tags if t is not after)
    if cut is None and not tags:
        return None
    counts = after.after_count if after else cut or dance.counts
    tag = after.counts if after else 0
    return replace(whole, counts=counts, tag=tag, written_tag=after, bridges=bridges, cut=counts < dance.counts)


def _with_tags(dance: Dance, grid: Grid, whole: Step) -> Iterator[Step]:
    lengths = TAG_COUNTS_WALTZ if dance.metre == "3/4" else TAG_COUNTS
    for counts in lengths:
        tagged = replace(whole, tag=counts)
        if tagged.end in grid.phrase_positions:
            yield tagged


def _cuts(dance: Dance, grid: Grid, whole: Step) -> Iterator[Step]:
    unit = 3 if dance.metre == "3/4" else 4
    for counts in range(unit, dance.counts, unit):
        if whole.at + counts not in grid.phrase_positions:
            continue
        weight, facing_deg = state_after(dance, counts)
        change = restart_change(dance, counts)
        if facing_deg % 90 == 0 and (weight is dance.start_weight or change):
            yield replace(whole, counts=counts, cut=True, change=change)
