"""A dance as it is danced on one song: the run's intro, tags and restarts in place of those written for another."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.dance.dance import Restart, Tag

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run, RunTag


def on_song(dance: Dance, run: Run) -> Dance:
    """Return the dance with the intro, tags and restarts of the run; like tags are told once, with all their walls."""
    return replace(
        dance,
        intro_counts=run.start.intro_counts,
        tags=_tags(run),
        restarts=tuple(Restart((cut.wall,), cut.after_count) for cut in run.restarts),
    )


def _tags(run: Run) -> tuple[Tag, ...]:
    walls: dict[tuple[object, ...], list[RunTag]] = {}
    for tag in run.tags:
        walls.setdefault((tag.after_wall is None, tag.at_count, tag.counts, tag.actions), []).append(tag)
    return tuple(_tag(alike) for alike in walls.values())


def _tag(alike: list[RunTag]) -> Tag:
    one = alike[0]
    walls = tuple(wall for tag in alike if (wall := tag.after_wall or tag.in_wall) is not None)
    return Tag(walls, one.at_count, one.counts, "continue" if one.after_wall is None else "start", one.actions)
