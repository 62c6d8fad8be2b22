"""The sheet's own tags and restarts, checked against the song: where each falls, and where it would fall right."""

from __future__ import annotations

from dataclasses import replace
from statistics import fmean
from typing import TYPE_CHECKING

from softshoe.dance.dance import Restart, Tag
from softshoe.errors import Finding
from softshoe.fit.anatomy import anatomy
from softshoe.fit.grid import counted
from softshoe.fit.lattice import lattice
from softshoe.fit.pins import Pins
from softshoe.fit.rules import Weights, limit
from softshoe.fit.solve import Way, cheapest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.run import Run
    from softshoe.fit.steps import Step
    from softshoe.music.songmap import SongMap

FARTHEST_WALLS = 2
OUT_BY = 16  # counts: farther from a phrase start it is not told how far


def written_findings(dance: Dance, song: SongMap, run: Run) -> tuple[Finding, ...]:
    """Return, for each tag and restart the sheet writes, an error where another place of it fits the song better.

    Every other place is really tried: the same repair some walls earlier or later, or after another count. ``run``
    says where and how the dance is counted. A warning, not an error, where the listener is unsure of the phrases.
    """
    if not (dance.tags or dance.restarts):
        return ()
    grid = counted(song, beats_per_count=run.beats_per_count, start_s=run.start.time_s)
    now = _laid(dance, grid)
    if now is None:
        return ()
    moved = _all_moved(dance, grid, now.cost)
    found = []
    written: list[Restart | Tag] = [*dance.restarts, *dance.tags]
    for one in written:
        for wall in one.walls:
            step = next((step for step in now.steps if step.wall == wall), None)
            better = replace(one, walls=(wall + moved,)) if moved else _better(dance, grid, one, wall, now.cost)
            if better is not None and step is not None:
                found.append(_told(grid, one, wall, step, better, unsure=_unsure(song)))
            elif step is None or step.end >= grid.total:
                found += _never_reached(one, wall, len(now.steps))
    return tuple(found)


def _all_moved(dance: Dance, grid: Grid, cost: float) -> int:
    """By how many walls all the written repairs together would have to move to fit clearly better; 0 for not at all."""
    walls = [*(w for r in dance.restarts for w in r.walls), *(w for t in dance.tags for w in t.walls)]
    tried = [(cost - limit("gain"), 0, 0)]
    for by in range(-FARTHEST_WALLS, FARTHEST_WALLS + 1) if len(walls) > 1 else ():
        if by and min(walls) + by > 0:
            restarts = tuple(replace(r, walls=tuple(wall + by for wall in r.walls)) for r in dance.restarts)
            tags = tuple(replace(t, walls=tuple(wall + by for wall in t.walls)) for t in dance.tags)
            way = _laid(replace(dance, restarts=restarts, tags=tags), grid)
            tried += [(way.cost, abs(by), by)] if way is not None else []
    return min(tried)[2]


def _unsure(song: SongMap) -> bool:
    return not song.confidence.phrases or fmean(song.confidence.phrases) < limit("sure")


def _laid(dance: Dance, grid: Grid) -> Way | None:
    """The dance with its written repairs alone."""
    return cheapest(lattice(dance, grid, Pins(tags=False, restarts=False, bridges=False), Weights(), written=True))


def _better(dance: Dance, grid: Grid, one: Restart | Tag, wall: int, cost: float) -> Restart | Tag | None:
    """The place that charges least, if it charges clearly less than the written one."""
    tried = []
    for other in _elsewhere(dance, one, wall):
        way = _laid(_with(dance, one, wall, other), grid)
        if way is not None:
            tried.append((way.cost, abs(other.walls[0] - wall), abs(other.after_count - one.after_count), other))
    best = min(tried, key=lambda row: row[:3], default=None)
    return best[3] if best is not None and best[0] <= cost - limit("gain") else None


def _elsewhere(dance: Dance, one: Restart | Tag, wall: int) -> Iterator[Restart | Tag]:
    for other in range(max(1, wall - FARTHEST_WALLS), wall + FARTHEST_WALLS + 1):
        if other != wall:
            yield replace(one, walls=(other,))
    if isinstance(one, Restart):
        for counts, _ in anatomy(dance).cuts:
            if counts != one.after_count:
                yield replace(one, walls=(wall,), after_count=counts)


def _with(dance: Dance, one: Restart | Tag, wall: int, other: Restart | Tag) -> Dance:
    """The dance with one repair of one wall elsewhere."""
    left = replace(one, walls=tuple(w for w in one.walls if w != wall))
    restarts = [r for r in dance.restarts if r != one]
    tags = [t for t in dance.tags if t != one]
    for moved in (left, other):
        if isinstance(moved, Restart) and moved.walls:
            restarts.append(moved)
        if isinstance(moved, Tag) and moved.walls:
            tags.append(moved)
    return replace(dance, restarts=tuple(restarts), tags=tuple(tags))


def _name(one: Restart | Tag) -> str:
    return f"tag of {one.counts} counts" if isinstance(one, Tag) else "restart"


def _told(grid: Grid, one: Restart | Tag, wall: int, step: Step, better: Restart | Tag, *, unsure: bool) -> Finding:
    falls = _falls(grid, step.end)
    message = f"The {_name(one)} after {one.after_count} on wall {wall} {falls}."
    where = f"wall {better.walls[0]}" if better.walls[0] != wall else f"after count {better.after_count}"
    mend = f"Is it {where}? The {_name(one)} on wall {better.walls[0]} after count {better.after_count} fits this song."
    return Finding("warning" if unsure else "error", "written-repair", one.line, None, message, mend)


def _falls(grid: Grid, position: int) -> str:
    """How far a position lies from the nearest phrase start."""
    near = min(grid.phrases, key=lambda p: abs(p.at - position), default=None)
    if near is None or abs(near.at - position) > OUT_BY:
        return "leads to no phrase of this song"
    off = near.at - position
    minutes, seconds = divmod(round(grid.times_s[near.at]), 60)
    if off == 0:
        return f"meets the phrase at {minutes}:{seconds:02d}, but a later phrase is missed because of it"
    return f"falls {abs(off)} counts {'before' if off > 0 else 'behind'} the phrase at {minutes}:{seconds:02d}"


def _never_reached(one: Restart | Tag, wall: int, walls: int) -> list[Finding]:
    message = f"The {_name(one)} on wall {wall} never comes: this song holds {walls} walls."
    return [Finding("note", "written-repair", one.line, None, message, None)]
