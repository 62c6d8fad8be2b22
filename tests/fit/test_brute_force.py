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
from softshoe.fit.pattern import again, full
from softshoe.fit.pins import Pins
from softshoe.fit.rules import Weights, tag_lengths
from softshoe.fit.score import misfits, parts_of
from softshoe.fit.solve import cheapest
from softshoe.fit.steps import Extra, Step

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance
    from softshoe.fit.solve import Way

LENGTHS = [8, 12, 16, 16, 18, 20, 24, 32]
IN_PAIRS = [26, 28, 42, 44, 46, 50, 58, 60]  # a dance of 16 or 24 comes home on these by two repairs


def every_way(
    dance: Dance, grid: Grid, weights: Weights, most: float, steps: tuple[Step, ...] = ()
) -> Iterator[tuple[Step, ...]]:
    """All chains of walls, written anew from the rules; those that charge more than ``most`` already are given up."""
    at = steps[-1].end if steps else 0
    if steps and grid.total - at < 5:
        yield steps
        return
    if least(dance, grid, steps, weights) > most:
        return
    for step in every_wall(dance, grid, len(steps) + 1, at):
        if step.counts < dance.counts and not step.cut:
            yield (*steps, step)
        elif not (step.cut and grid.total - step.end < 5):
            yield from every_way(dance, grid, weights, most, (*steps, step))


def least(dance: Dance, grid: Grid, steps: tuple[Step, ...], weights: Weights) -> float:
    """What these walls charge at least: each kind of repair once in full, all others as at like places."""
    alone = sum(sum(misfits(dance, grid, step, weights).values()) for step in steps)
    uses = [key for step in steps for key in step.repairs]
    price = {key: full(dance, weights, key, changed=False) for key in uses}
    like = sum(again(weights, price[key]) for key in uses)
    return alone + like + sum(price[key] - again(weights, price[key]) for key in price)


def every_wall(dance: Dance, grid: Grid, wall: int, at: int) -> Iterator[Step]:
    starts = {phrase.at for phrase in grid.phrases if phrase.weight}
    yield Step(wall, at, min(dance.counts, grid.total - at))
    for tag, usual in tag_lengths(three=False).items():
        if 2 * tag > dance.counts:
            continue
        if at + dance.counts + tag <= grid.total:
            if at + dance.counts + tag <= grid.total - 5:
                yield Step(wall, at, dance.counts, (Extra(dance.counts, tag),))
            for after in range(8, dance.counts, 8):
                if usual and at + after + tag in starts:
                    yield Step(wall, at, dance.counts, (Extra(after, tag),))
    for counts, change in anatomy(dance).cuts:
        if counts >= 8 and at + counts <= grid.total:
            yield Step(wall, at, counts, cut=True, change=change)
        for tag, usual in tag_lengths(three=False).items():
            short = usual and 2 * tag <= dance.counts and counts + tag < dance.counts
            if counts >= 8 and short and at + counts + tag in starts:
                yield Step(wall, at, counts, (Extra(counts, tag),), cut=True, change=change)


def charged(dance: Dance, grid: Grid, steps: tuple[Step, ...], weights: Weights) -> float:
    seen, facing = anatomy(dance), 0
    for step in steps[:-1]:
        facing = turned(facing, seen.facings_deg[step.counts])
    asks = needs_ending(dance, grid, steps[-1], facing, seen)
    return -sum(parts_of(dance, grid, steps, weights).values()) + weights.of("ending") * asks


def found_and_best(dance: Dance, phrases: list[int], weights: Weights, random: Random) -> tuple[Way, float, float]:
    """What is found, what the score charges for it, and the least that any way at all charges."""
    song = made_map(phrases, confidence=tuple(round(random.uniform(0.1, 1.0), 2) for _ in phrases))
    grid = counted(song, beats_per_count=1.0, start_s=song.first_count_s)
    found = cheapest(lattice(dance, grid, Pins(), weights, written=True))
    assert found is not None
    mine = charged(dance, grid, found.steps, weights)
    tried = (charged(dance, grid, steps, weights) for steps in every_way(dance, grid, weights, mine))
    return found, mine, min(tried)


@pytest.mark.parametrize("number", range(40))
def test_nothing_is_cheaper_than_what_is_found(number: int) -> None:
    random = Random(number)
    dance = stepping(random.choice([16, 16, 24, 32]), turn_deg=random.choice([0, 90, 180]))
    phrases = [random.choice(LENGTHS) for _ in range(random.randint(2, 5))]
    weights = Weights({"again": random.choice([0.0, 1.0, 3.0]), "tag": random.choice([2.0, 6.0])})
    found, mine, best = found_and_best(dance, phrases, weights, random)
    assert mine == pytest.approx(best, abs=0.02)
    assert found.cost == pytest.approx(mine, abs=0.05)


@pytest.mark.parametrize("number", range(24))
def test_two_repairs_that_pay_only_together_are_found(number: int) -> None:
    random = Random(f"pair {number}")
    dance = stepping(random.choice([16, 24]), turn_deg=random.choice([0, 90]))
    phrases = [random.choice([*IN_PAIRS, 32]) for _ in range(random.randint(1, 2))]
    _, mine, best = found_and_best(dance, phrases, Weights({"tag": random.choice([1.0, 2.0, 4.0])}), random)
    assert mine == pytest.approx(best, abs=0.02)
