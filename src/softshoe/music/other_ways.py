"""Where else "one" could be: the same beats and phrases, counted from another beat of the eight."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.bars import Form

    FloatArray = NDArray[np.float64]

BAR_STEEP, EIGHT_STEEP = 3.2, 2.4


def other_one(bar: FloatArray, eight: FloatArray, form: Form) -> tuple[int, float]:
    """Return by how many beats "one" would move in the likeliest other way to count, and how likely that is, 0 to 1.

    bar, eight : shape (n_beats,), what speaks for a bar and for an eight at each beat, in the same kind of units

    The eight has twice as many places as the bar; the middle of it is the commonest mistake.
    """
    places = np.array(form.eights, dtype=int)
    if len(places) < 2:
        return form.metre, 0.0
    n = len(bar)

    def mean(of: FloatArray, moved: int) -> float:
        spots = places + moved
        return float(of[spots[spots < n]].mean())

    ways = []
    for moved in range(1, 2 * form.metre):
        less = BAR_STEEP * (mean(bar, 0) - mean(bar, moved)) + EIGHT_STEEP * (mean(eight, 0) - mean(eight, moved))
        ways.append((float(np.exp(-np.clip(less, -20, 20))), moved))
    all_ways = 1 + sum(weight for weight, _ in ways)
    weight, moved = max(ways)
    return moved, weight / all_ways
