"""Every count of a song with its second: what the teaching rooms and the films rest on."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from softshoe.dance.counts import Count
from softshoe.dance.facing import turned
from softshoe.dance.footwork import net_turn_deg, state_after
from softshoe.fit.grid import counted

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run, RunTag, RunWall
    from softshoe.music.songmap import SongMap

Part = Literal["intro", "wall", "tag", "after"]


@dataclass(frozen=True, slots=True)
class Moment:
    """One whole count at one second.

    ``part`` says what is going on; ``count`` is the count of the wall, or of the tag from 1, and in the intro the
    counts still to come (…, 4, 3, 2, 1 before the first) are in ``to_go``. ``wall`` is 0 in the intro; in a tag it is
    the wall just danced. ``tag`` is the index in the run's tags. ``facing_deg`` is where the wall (or tag) began. A
    closing step on the beat after the last count is one more count of its wall.
    """

    at_s: float
    part: Part
    count: Count | None
    wall: int
    facing_deg: int
    to_go: int = 0
    tag: int | None = None


@dataclass(frozen=True, slots=True)
class _Slot:
    part: Part
    count: int
    wall: int
    facing_deg: int
    tag: int | None = None


def timeline(dance: Dance, run: Run, song: SongMap) -> tuple[Moment, ...]:
    """Return every count of the song in order of time: intro, walls with their tags, then what is left after the last.

    ``dance`` is the dance as the run's standing dancers do it (its turns give the facings of tags). Seconds are those
    of the song's beats; counts after the last beat are not invented, so a run longer than the song is cut there.
    Raises FitError when the song has fewer than two beats.
    """
    grid = counted(song, beats_per_count=run.beats_per_count, start_s=run.start.time_s)
    before = len(grid.intro_s)
    moments = [Moment(t, "intro", None, 0, 0, to_go=before - i) for i, t in enumerate(grid.intro_s)]
    slots = [slot for wall in run.walls for slot in _wall_slots(dance, run, wall)]
    last = slots[-1] if slots else _Slot("after", 0, 0, 0)
    for at_s, slot in zip(grid.times_s, slots, strict=False):
        count = Count(Fraction(slot.count))
        moments.append(Moment(at_s, slot.part, count, slot.wall, slot.facing_deg, tag=slot.tag))
    rest = grid.times_s[len(slots) :]
    moments += [Moment(t, "after", None, last.wall, last.facing_deg) for t in rest]
    return tuple(moments)


def _wall_slots(dance: Dance, run: Run, wall: RunWall) -> Iterator[_Slot]:
    tags = [(i, tag) for i, tag in enumerate(run.tags) if wall.wall in (tag.after_wall, tag.in_wall)]
    facing = wall.facing_deg
    for count in range(1, wall.counts + 1):
        yield _Slot("wall", count, wall.wall, facing)
        for index, tag in tags:
            if tag.at_count == count:
                yield from _tag_slots(dance, tag, index, wall)
    if run.ending is not None and run.ending.actions and run.ending.wall == wall.wall:  # one may close a beat later
        for count in range(wall.counts + 1, run.ending.at_count + 1):
            yield _Slot("wall", count, wall.wall, facing)


def _tag_slots(dance: Dance, tag: RunTag, index: int, wall: RunWall) -> Iterator[_Slot]:
    facing = turned(wall.facing_deg, turn_after(dance, tag.at_count))
    for count in range(1, tag.counts + 1):
        yield _Slot("tag", count, wall.wall, facing, index)


def turn_after(dance: Dance, counts: int) -> int:
    """Return how far the wall has turned [degrees] after so many counts; 0 on a chair."""
    if dance.seated:
        return 0
    return net_turn_deg(dance) if counts >= dance.counts else state_after(dance, counts)[1]
