"""Every way through small songs is tried by hand; none of them is cheaper than the one that is found."""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import made_map
from fit.planted import stepping
from softshoe.dance.facing import turned
from softshoe.fit.anatomy import anatomy
from softshoe.fit.ending import needs_ending
from softshoe.fit.grid import Grid, counted
from softshoe.fit.lattice import lattice
from softshoe.fit.pins import Pins
from softshoe.fit.rules import Weights, tag_lengths
from softshoe.fit.score import parts_of
from softshoe.fit.solve import cheapest
from softshoe.fit.steps import Extra, Step

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance

LENGTHS = [8, 12, 16, 16, 18, 20, 24, 32]


def every_way(dance: Dance, grid: Grid, steps: tuple[Step, ...] = ()) -> Iterator[tuple[Step, ...]]:
    """All chains of walls whose repairs bring somebody home, written anew from the rules."""
    at = steps[-1].end if steps else 0
    if steps and grid.total - at < 5:
        yield steps
        return
    for step in every_wall(dance, grid, len(steps) + 1, at):
        if step.counts < dance.counts and not step.cut:
            yield (*steps, step)
        elif not (step.cut and grid.total - step.end < 5):
            yield from every_way(dance, grid, (*steps, step))


def every_wall(dance: Dance, grid: Grid, wall: int, at: int) -> Iterator[Step]:
    starts = {phrase.at for phrase in grid.phrases if phrase.weight}
    whole = min(dance.counts, grid.total - at)
    yield Step(wall, at, whole)
    for tag in tag_lengths(three=False):
        if at + dance.counts + tag in starts:
            yield Step(wall, at, dance.counts, (Extra(dance.counts, tag),))
        for after in range(8, dance.counts, 8):
            if at + after + tag in starts and at + dance.counts + tag <= grid.total:
                yield Step(wall, at, dance.counts, (Extra(after, tag),))
    for counts, change in anatomy(dance).cuts:
        if at + counts in starts:
            yield Step(wall, at, counts, cut=True, change=change)


def charged(dance: Dance, grid: Grid, steps: tuple[Step, ...], weights: Weights) -> float:
    seen, facing = anatomy(dance), 0
    for step in steps[:-1]:
        facing = turned(facing, seen.facings_deg[step.counts])
    asks = needs_ending(dance, grid, steps[-1], facing, seen)
    return -sum(parts_of(dance, grid, steps, weights).values()) + weights.of("ending") * asks


@pytest.mark.parametrize("number", range(60))
def test_nothing_is_cheaper_than_what_is_found(number: int) -> None:
    random = Random(number)
    dance = stepping(random.choice([16, 16, 24, 32]), turn_deg=random.choice([0, 90, 180]))
    phrases = [random.choice(LENGTHS) for _ in range(random.randint(2, 6))]
    song = made_map(phrases, confidence=tuple(round(random.uniform(0.1, 1.0), 2) for _ in phrases))
    weights = Weights({"again": random.choice([0.0, 1.0, 3.0]), "tag": random.choice([2.0, 6.0])})
    grid = counted(song, beats_per_count=1.0, start_s=song.first_count_s)
    tried = list(every_way(dance, grid))
    best = min(tried, key=lambda steps: charged(dance, grid, steps, weights))
    found = cheapest(lattice(dance, grid, Pins(), weights, written=True))
    assert found is not None
    assert charged(dance, grid, found.steps, weights) == pytest.approx(charged(dance, grid, best, weights), abs=0.02)
    assert found.cost == pytest.approx(charged(dance, grid, found.steps, weights), abs=0.05)
