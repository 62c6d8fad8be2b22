"""A finished run turned back into steps on its song, for whoever looks at it again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.fit.steps import Extra, Step

if TYPE_CHECKING:
    from softshoe.fit.grid import Grid
    from softshoe.fit.run import Run


def steps_of(run: Run, grid: Grid) -> tuple[Step, ...]:
    """Return the run's walls as steps on the counts of its song.

    A run that a hand has mended may be longer than the song: what would begin after its end is left out.
    """
    cut = {restart.wall: restart for restart in run.restarts}
    steps, at = [], 0
    for wall in run.walls:
        if at >= grid.total:
            break
        tags = sorted(
            (tag for tag in run.tags if wall.wall in (tag.after_wall, tag.in_wall)), key=lambda tag: tag.at_count
        )
        extras = tuple(Extra(tag.at_count, tag.counts, tag.actions, tag.written) for tag in tags)
        restart = cut.get(wall.wall)
        change = restart.change if restart else None
        counts = min(wall.counts, grid.total - at)
        extras = extras if counts == wall.counts else ()
        steps.append(Step(wall.wall, at, counts, extras, restart is not None, change))
        at = steps[-1].end
    return tuple(steps)
