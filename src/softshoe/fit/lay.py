"""The dance laid on the song: the best ways, ranked, each with its tags, restarts, ending and the reasons.

The numbers behind ranking are in ``score``, the search in ``solve``; this module chooses what to search and builds the
runs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf
from typing import TYPE_CHECKING

from softshoe.errors import FitError
from softshoe.fit.building import run_of
from softshoe.fit.doubts import with_doubts
from softshoe.fit.grid import counted
from softshoe.fit.lattice import lattice
from softshoe.fit.pins import Pins, checked
from softshoe.fit.rules import Weights
from softshoe.fit.solve import cheapest
from softshoe.fit.starts import start_charges, starts
from softshoe.fit.tempo import countings
from softshoe.fit.unfit import findings_of, metre_change, metre_finding
from softshoe.fit.ways import ways

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding
    from softshoe.fit.run import Run
    from softshoe.fit.tempo import Counting
    from softshoe.music.songmap import SongMap

LAST_NOTE = 0.7  # of a count: so long after the pinned note the song is over
FAR = 40.0  # points behind the best: farther off is no choice, except to dance through without any repair


@dataclass(frozen=True, slots=True)
class FitResult:
    """Runs, best first, and what no run can mend. No runs: the dance can't be danced to the song at all."""

    runs: tuple[Run, ...]
    findings: tuple[Finding, ...]


def fit(
    dance: Dance, song: SongMap, *, most: int = 5, pins: Pins | None = None, weights: Weights | None = None
) -> FitResult:
    """Lay the dance on the song; at most ``most`` really different runs, best first.

    ``pins`` hold and the rest is solved around them; ``weights`` are what each thing charges. With ``most`` 1 only the
    best is looked for. Raises FitError when the song has fewer than two beats or a pin can't hold.
    """
    if dance.counts < 1:
        raise FitError(dance.title or "the dance", "it has no counts to dance", "no step was read from its sheet",
                       "look what “softshoe read” says of the sheet")  # fmt: skip
    wrong = metre_finding(dance, song)
    if wrong is not None:
        return FitResult((), (wrong,))
    pins, weights = checked(dance, song, pins or Pins()), weights or Weights()
    song, changes = metre_change(song)
    counted_so = countings(dance, song, pins)
    every = [
        run
        for rank, counting in enumerate(counted_so[: 1 if most == 1 else None])
        for run in _runs(dance, song, counting, pins, weights, other=rank > 0, most=most)
    ]
    runs = _ranked(every, most)
    if most > 1 and runs:
        told = with_doubts(
            runs[0], song, lambda other: next(iter(fit(dance, other, most=1, pins=pins, weights=weights).runs), None)
        )
        runs = (told, *runs[1:])
    found = findings_of(dance, song, counted_so[0], runs, every)
    return FitResult(runs, (*changes, *found))


def _runs(
    dance: Dance, song: SongMap, counting: Counting, pins: Pins, weights: Weights, *, other: bool, most: int
) -> list[Run]:
    """Every run of one way to count: from each start, with the sheet's own repairs and without them.

    Where only the best is wanted, a start that alone charges more than the best so far is left out.
    """
    found: list[Run] = []
    song = _ended(song, counting, pins)
    says = bool(dance.tags or dance.restarts) and not pins.walls
    for number, start_s in enumerate(starts(dance, song, counting, pins)):
        grid = counted(song, beats_per_count=counting.beats_per_count, start_s=start_s)
        for written in (True, False) if says else (True,):
            least = -sum(start_charges(dance, song, grid, counting, weights).values()) if grid.total else inf
            least += 0.0 if written else weights.of("off_sheet")
            least += weights.of("other_pulse") if other else 0.0
            cap = min((run.score.charged for run in found), default=inf) - least + (0.0 if most == 1 else FAR)
            if least == inf or cap <= 0:
                continue
            thorough = most > 1 and number == 0 and not other
            laid = lattice(dance, grid, pins, weights, written=written)
            best_only = cheapest(laid, most=cap) if most == 1 else None
            chosen = ways(laid, thorough=thorough, most=cap) if most > 1 else (best_only,) if best_only else ()
            for way in chosen:
                found.append(run_of(dance, song, grid, way.steps, counting, weights, honoured=written, other=other))
    return found


def _ended(song: SongMap, counting: Counting, pins: Pins) -> SongMap:
    """The song up to the pinned last note: the count nearest to it is the last."""
    if pins.end_s is None:
        return song
    return replace(song, end_s=min(song.end_s, pins.end_s + LAST_NOTE * 60.0 / counting.counts_per_min))


def _ranked(every: list[Run], most: int) -> tuple[Run, ...]:
    """Best first; of those that differ in nothing a dancer would call different, the best."""
    in_order = sorted(every, key=lambda run: run.score.charged)
    kinds: dict[tuple[object, ...], Run] = {}
    for run in in_order:
        kinds.setdefault(_kind(run), run)
    best = in_order[0].score.total if in_order else 0.0
    near = [run for run in kinds.values() if best - run.score.total <= FAR or not (run.tags or run.restarts)]
    return tuple(near[:most])


def _kind(run: Run) -> tuple[object, ...]:
    tags = frozenset((tag.after_wall is None, tag.counts, tag.after_wall is None and tag.at_count) for tag in run.tags)
    cuts = frozenset(restart.after_count for restart in run.restarts)
    return run.start.time_s, run.beats_per_count, "departs from the sheet" in run.score.parts, tags, cuts
