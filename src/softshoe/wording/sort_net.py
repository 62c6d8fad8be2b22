"""The sorting network, run by plain numpy: a whole sheet in, for each of its lines what it is.

It reads the sheet piece by piece, all of it at once, and answers at the end of each line. Names of weights are those of
training/sorting/net.py.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from softshoe.wording.text_net import TextNet

if TYPE_CHECKING:
    from pathlib import Path

WEIGHTS = "sorting.npz"
MOST_PIECES = 1400  # of a sheet: about a hundred lines
MOST_LETTERS = 20_000  # of a sheet that is looked at at all


class SortNet(TextNet):
    """The network with its words; ``codes`` are the kinds of lines."""

    def __init__(self, source: Path | str | None = None) -> None:
        super().__init__(WEIGHTS, source)

    def kinds(self, text: str) -> dict[int, str]:
        """Return what each written line is, by its number from 1; nothing for a sheet that is too long."""
        if len(text) > MOST_LETTERS:
            return {}
        end = self.cutter.numbers(self.cutter.cut("\n"))[0]
        row: list[int] = []
        ends: list[tuple[int, int]] = []
        for number, line in enumerate(text.split("\n"), 1):
            row += [*self.cutter.numbers(self.cutter.cut(line)), end]
            if line.strip():
                ends.append((number, len(row) - 1))
        if len(row) > MOST_PIECES or not ends:
            return {}
        x = np.array([row], np.int64)
        marks = self.linear(self.read(x, np.ones_like(x, dtype=bool))[0, [at for _, at in ends]], "out")
        return {number: self.codes[k] for (number, _), k in zip(ends, marks.argmax(axis=-1), strict=True)}


@cache
def net() -> SortNet:
    """Return the network that comes with the package."""
    return SortNet()


def kinds_of(text: str) -> dict[int, str]:
    """Return what the network takes each line of a sheet for."""
    return net().kinds(text)
