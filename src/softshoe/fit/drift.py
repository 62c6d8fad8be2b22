"""Where a song's tempo changes: over the whole of it, and in a last slowing down."""

from __future__ import annotations

from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING

from softshoe.errors import Finding
from softshoe.fit.rules import limit

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

TOGETHER = 16  # counts whose tempo is told together
LAST = 4  # counts that a song slows down in at its end


def drift_findings(times_s: Sequence[float]) -> tuple[Finding, ...]:
    """Return what is to say of the tempo of these counts [s]: nothing where it changes by no more than 3 %."""
    steps = [b - a for a, b in pairwise(times_s)]
    if len(steps) < 2 * TOGETHER:
        return ()
    rates = [
        (60 * TOGETHER / (times_s[at + TOGETHER] - times_s[at]), times_s[at])
        for at in range(0, len(steps) - LAST - TOGETHER + 1, TOGETHER)
        if max(steps[at : at + TOGETHER]) < limit("pause") * median(steps[at : at + TOGETHER])
    ]
    return (*_over_the_song(rates), *_slowing(times_s, steps))


def _over_the_song(rates: Sequence[tuple[float, float]]) -> Iterator[Finding]:
    """A change between two stretches; each is its counts a minute and where it begins [s]."""
    slow, fast = min(rates, default=(1.0, 0.0)), max(rates, default=(1.0, 0.0))
    if fast[0] / slow[0] - 1 <= limit("drift"):
        return
    (before, early_s), (after, late_s) = sorted((slow, fast), key=lambda rate: rate[1])
    word = "faster" if after > before else "slower"
    message = (
        f"The song gets {word}: {before:.0f} counts a minute at {_clock(early_s)}, {after:.0f} at {_clock(late_s)}."
    )
    mend = "The counts follow its beats; practise with the song itself, not with a steady click."
    yield Finding("note", "drift", None, None, message, mend)


def _slowing(times_s: Sequence[float], steps: Sequence[float]) -> Iterator[Finding]:
    """A ritardando: each of the last counts longer than the one before, the last by far."""
    last, usual = steps[-LAST:], median(steps[-LAST - TOGETHER : -LAST])
    if last[-1] > usual * (1 + 2 * limit("drift")) and all(b > a for a, b in pairwise(last)):
        message = f"The song slows down at its end, from {_clock(times_s[-LAST - 1])} on."
        yield Finding("note", "drift", None, None, message, "Listen for the last beat before you strike the ending.")


def _clock(at_s: float) -> str:
    minutes, seconds = divmod(round(at_s), 60)
    return f"{minutes}:{seconds:02d}"
