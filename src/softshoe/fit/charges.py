"""What a wall charges by itself, from every position of a song at once: ``score.misfits`` as arrays.

``score`` says what is charged and why; this says the same for thousands of walls in a moment. The tests hold the two
together.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.fit.score import misfits, off_unit
from softshoe.fit.steps import Step

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.rules import Weights

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

SPARE = 64  # positions behind the end of the song that nothing lies on


class Charges:
    """The charges of one dance on one song [points]; every method takes positions and gives an array of their shape."""

    def __init__(self, dance: Dance, grid: Grid, weights: Weights) -> None:
        self.dance, self.grid, self.weights = dance, grid, weights
        size = grid.total + 2 * dance.counts + SPARE
        begins = np.zeros(size)
        begins[list(grid.phrases_at)] = [phrase.weight for phrase in grid.phrases]
        self.phrase = np.zeros(size, dtype=bool)
        self.phrase[list(grid.phrases_at)] = True
        pauses = np.zeros(size)
        pauses[list(grid.pauses)] = 1.0
        self.begun, self.paused = _summed(begins), _summed(pauses)
        self.usual = grid.phrase_counts if dance.counts > grid.phrase_counts > 0 else 0
        self.by_usual = _summed_by(begins, self.usual) if self.usual else begins
        self.off = self._off(np.arange(grid.total))

    def whole(self, at: Ints) -> Floats:
        """What a wall without repairs charges, cut where the song ends."""
        end = np.minimum(at + self.dance.counts, self.grid.total)
        found = self._alone(at, end, self._lost(at, at, end))
        for index in np.flatnonzero(self.phrase[at]):  # here a beginner may dance through
            counts = int(end[index] - at[index])
            found[index] = sum(misfits(self.dance, self.grid, Step(0, int(at[index]), counts), self.weights).values())
        return found

    def repaired(self, at: Ints, after: Ints, added: Ints, end: Ints) -> Floats:
        """What walls charge that have counts ``added`` after a count, or (none added) are cut, without the repairs."""
        place = np.minimum(at + after, end)
        home = place + added
        lost = self._lost(at, at, place) + self._lost(at, place, home) + self._lost(home, home, np.maximum(home, end))
        return self._alone(at, end, lost)

    def _alone(self, at: Ints, end: Ints, lost: Floats) -> Floats:
        pauses = self.paused[end] - self.paused[at + 1]
        return self.weights.of("missed") * lost + self.weights.of("pause") * pauses + self.off[at]

    def _lost(self, anchor: Ints, low: Ints, high: Ints) -> Floats:
        """How sure the phrase starts between two positions are together, without those a long dance passes freely."""
        behind = np.minimum(low + 1, high)
        inside: Floats = self.begun[high] - self.begun[behind]
        if not self.usual:
            return inside
        passed = self._passed(anchor, high) - self._passed(anchor, behind)
        return np.where(self.phrase[anchor], inside - passed, inside)

    def _passed(self, anchor: Ints, before: Ints) -> Floats:
        """The same of those that lie whole phrases behind ``anchor`` and before a position."""
        last = anchor + np.maximum(before - 1 - anchor, 0) // self.usual * self.usual
        found: Floats = self.by_usual[last] - self.by_usual[anchor]
        return found

    def _off(self, at: Ints) -> Floats:
        """What a wall charges that begins off the eight or off the bar."""
        if not self.grid.phrases:
            return np.zeros(len(at))
        before = np.searchsorted(self.grid.phrases_at, at, side="right") - 1
        known = np.maximum(before, 0)
        into = at - np.array(self.grid.phrases_at)[known]
        sure = np.array([phrase.weight for phrase in self.grid.phrases])[known]
        off_eight = (before >= 0) & (into % off_unit(self.dance) != 0)
        off_bar = off_eight & (into % self.grid.counts_per_bar != 0)
        charged: Floats = sure * (self.weights.of("off_eight") * off_eight + self.weights.of("off_bar") * off_bar)
        return charged


def _summed(values: Floats) -> Floats:
    """Entry n is the sum of the values before n."""
    return np.concatenate(([0.0], np.cumsum(values)))


def _summed_by(values: Floats, period: int) -> Floats:
    """Entry n is the sum of the values at n, n - period, n - 2 periods, …"""
    rows = -(-len(values) // period)
    padded = np.zeros(rows * period)
    padded[: len(values)] = values
    return padded.reshape(rows, period).cumsum(axis=0).reshape(-1)
