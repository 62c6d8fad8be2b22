"""Every way to dance one wall, from every position of a song at once, as arrays: where it leads and what it charges."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from math import gcd
from typing import TYPE_CHECKING

import numpy as np

from softshoe.fit.anatomy import Anatomy, anatomy
from softshoe.fit.charges import Charges
from softshoe.fit.ending import needs_ending
from softshoe.fit.repairs import Repair, repairs_of
from softshoe.fit.rules import limit, tag_lengths
from softshoe.fit.steps import Step

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.pins import Pins
    from softshoe.fit.rules import Weights

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

LEAST_WALL = int(limit("least_wall"))
TIE = 1e-5  # of two ways that cost the same, the one with fewer repairs, that lead to a phrase, then the shorter tag
MOST_ADDED = max(max(tag_lengths(three=three)) for three in (False, True))
FEW, NOWHERE = 10, 20  # ties that each repair charges, and one that leads to nothing that begins
WHOLE, NONE = 0, -1  # what is danced: a wall without repairs, no such edge; other numbers: the repair before


@dataclass(frozen=True, slots=True)
class Edges:
    """Edges out of some positions, one row each.

    ``alone`` [points] by the facing at the wall's beginning (last axis), infinite where there is no such edge; ``to``
    the position of the next wall, or the song's last where it is over; ``turn`` in units of facing; ``what`` is danced.
    """

    alone: Floats
    to: Ints
    turn: Ints
    what: Ints

    def at(self, positions: Ints) -> Edges:
        """Return the rows of these positions, without edges that none of them has."""
        kept = np.flatnonzero((self.what[positions] != NONE).any(axis=0))
        rows = np.ix_(positions, kept)
        return Edges(self.alone[rows], self.to[rows], self.turn[rows], self.what[rows])


@dataclass(frozen=True)
class Ground:
    """What every edge rests on: one dance with its pins on the counts of one song."""

    dance: Dance
    grid: Grid
    pins: Pins
    weights: Weights
    _closings: dict[object, Floats] = field(default_factory=dict)

    @cached_property
    def seen(self) -> Anatomy:
        """The dance, looked at."""
        return anatomy(self.dance)

    @cached_property
    def repairs(self) -> tuple[Repair, ...]:
        """What may be done to a wall."""
        return repairs_of(self.dance, self.seen, self.pins)

    @cached_property
    def unit_deg(self) -> int:
        """The turn that all facings at wall starts are multiples of."""
        turns = (sum(action.turn_deg for action in tag.actions) for tag in self.dance.tags)
        return gcd(self.seen.unit_deg, 360, *turns)

    @property
    def facings(self) -> int:
        """How many facings a wall may begin on."""
        return 360 // self.unit_deg

    @cached_property
    def home(self) -> NDArray[np.bool_]:
        """Whether a repair that leads to a position leads to something that begins there."""
        found = np.zeros(self.grid.total + 2 * self.dance.counts + MOST_ADDED, dtype=bool)
        found[list(self.grid.landings)] = True
        return found

    def over(self, end: Ints) -> NDArray[np.bool_]:
        """Return whether the song is over for the dance at these positions."""
        least = self.dance.counts if self.grid.fades else min(LEAST_WALL, self.dance.counts)
        return self.grid.total - end < least

    def closing(self, step: Step) -> Floats:
        """Return what closing the song with this wall charges, by the facing at its beginning."""
        left = self.grid.total - step.end
        kind = step.wall, step.counts, left > 0, left == 0, step.tag is None
        if kind not in self._closings:
            faced = range(0, 360, self.unit_deg)
            asks = [needs_ending(self.dance, self.grid, step, facing, self.seen) for facing in faced]
            self._closings[kind] = self.weights.of("ending") * np.array(asks, dtype=float)
        return self._closings[kind]


def edges_anywhere(ground: Ground, wall: int) -> Edges:
    """Return every way to dance a wall that nothing is said of, from every position; the first repairs nothing.

    ``wall`` is its number where the sheet has an ending for that wall alone, else 0.
    """
    at = np.arange(ground.grid.total)
    charges = Charges(ground.dance, ground.grid, ground.weights)
    anywhere = [n for n, repair in enumerate(ground.repairs, 1) if not repair.only_home]
    what = np.concatenate((np.tile(np.array(anywhere, dtype=np.intp), (len(at), 1)), _homing(ground, at)), axis=1)
    whole, repaired = _whole(ground, charges, at, wall), _repaired(ground, charges, what, wall)
    return Edges(
        np.concatenate((whole.alone, repaired.alone), axis=1),
        np.concatenate((whole.to, repaired.to), axis=1),
        np.concatenate((whole.turn, repaired.turn), axis=1),
        np.concatenate((whole.what, repaired.what), axis=1),
    )


def _homing(ground: Ground, at: Ints) -> Ints:
    """For each position the bridges and cuts with a tag that bring somebody home, in as many columns as are needed."""
    homing = [(n, repair) for n, repair in enumerate(ground.repairs, 1) if repair.only_home]
    if not homing:
        return np.empty((len(at), 0), dtype=np.intp)
    lands = at[:, None] + np.array([repair.after + repair.added for _, repair in homing])
    ends = at[:, None] + np.array([repair.length for _, repair in homing])
    fits = ground.home[lands] & (ends <= ground.grid.total)
    first = np.argsort(~fits, axis=1, kind="stable")[:, : int(fits.sum(axis=1).max(initial=0))]
    numbers = np.array([n for n, _ in homing])[first]
    return np.where(np.take_along_axis(fits, first, axis=1), numbers, NONE)


def _whole(ground: Ground, charges: Charges, at: Ints, wall: int) -> Edges:
    total = ground.grid.total
    end = np.minimum(at + ground.dance.counts, total)
    over = ground.over(end)
    turn = np.array(ground.seen.facings_deg)[end - at] // ground.unit_deg
    alone = np.repeat(charges.whole(at)[:, None], ground.facings, axis=1)
    for here in np.flatnonzero(over).tolist():
        alone[here] += ground.closing(Step(wall, here, int(end[here]) - here))
    to = np.where(over, total, end)
    return Edges(alone[:, None], to[:, None], turn[:, None], np.full_like(at, WHOLE)[:, None])


def _repaired(ground: Ground, charges: Charges, what: Ints, wall: int) -> Edges:
    """The walls with the repairs of these numbers, one row a position, infinite where there is none."""
    total, repairs = ground.grid.total, ground.repairs
    alone = np.full((*what.shape, ground.facings), np.inf)
    to, turn = np.full_like(what, total), np.zeros_like(what)
    lengths = np.array([0, *(repair.length for repair in repairs)])
    at, column = np.nonzero((what > 0) & (np.arange(total)[:, None] + lengths[what] <= total))
    number = what[at, column] - 1
    danced, after, added = (
        np.array([(r.danced, r.after, r.added) for r in repairs], dtype=np.intp).reshape(-1, 3)[number]
    ).T
    end = at + danced + added
    over = ground.over(end)
    tie = TIE * (FEW + added + NOWHERE * ~(ground.home[end] | (danced > after)))
    alone[at, column] = (charges.repaired(at, after, added, end) + tie)[:, None]
    to[at, column] = np.where(over, total, end)
    turn[at, column] = np.array(ground.seen.facings_deg)[danced] // ground.unit_deg
    for row in np.flatnonzero(over).tolist():
        repair, place = repairs[number[row]], (at[row], column[row])
        # after a tag or restart the dance begins again: at the end there is none
        alone[place] += ground.closing(repair.step(wall, int(at[row]))) if repair.inside else np.inf
    return Edges(alone, to, turn, what)
