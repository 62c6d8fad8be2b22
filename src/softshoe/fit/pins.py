"""What a person has decided about a run: it always holds, and the rest is solved around it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from softshoe.errors import FitError

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap

NEAR_S = 1.0


@dataclass(frozen=True, slots=True)
class WallPin:
    """How one wall is danced: ``counts`` of the dance (None: all of it) and extras as (after count, counts)."""

    counts: int | None = None
    extras: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Pins:
    """Decisions that hold. Nothing pinned: all is free.

    ``start_s`` where count 1 falls, ``beats_per_count`` 1, 2 or 0.5, ``end_s`` the last moment danced, all of them as
    heard in the song. ``tags``, ``restarts``, ``bridges`` False: no new ones. ``walls``: walls that are danced so.
    """

    start_s: float | None = None
    beats_per_count: float | None = None
    end_s: float | None = None
    tags: bool = True
    restarts: bool = True
    bridges: bool = True
    walls: dict[int, WallPin] = field(default_factory=dict)


def pins_of(run: Run) -> Pins:
    """Return the pins that hold every decision of a run: solved again, it comes back.

    The last wall is left to the song's end.
    """
    walls: dict[int, WallPin] = {}
    cut = {restart.wall: restart.after_count for restart in run.restarts}
    for wall in run.walls[:-1]:
        tags = [tag for tag in run.tags if wall.wall in (tag.after_wall, tag.in_wall)]
        walls[wall.wall] = WallPin(cut.get(wall.wall), tuple((tag.at_count, tag.counts) for tag in tags))
    last = [tag for tag in run.tags if run.walls and run.walls[-1].wall in (tag.after_wall, tag.in_wall)]
    if last:
        walls[run.walls[-1].wall] = WallPin(None, tuple((tag.at_count, tag.counts) for tag in last))
    return Pins(run.start.time_s, run.beats_per_count, None, False, False, False, walls)


def checked(dance: Dance, song: SongMap, pins: Pins) -> Pins:
    """Return the pins; raises FitError for one that this dance or this song can't hold."""
    from softshoe.fit.anatomy import anatomy

    _in_the_song(song, pins)
    cuts = dict(anatomy(dance).cuts)
    written = {restart.after_count for restart in dance.restarts} | {tag.after_count for tag in dance.tags}
    for wall, pin in sorted(pins.walls.items()):
        if wall < 1:
            raise FitError(f"wall {wall}", "there is no such wall", "walls count from 1", "name a wall from 1 on")
        if pin.counts is not None and not 0 < pin.counts < dance.counts:
            raise FitError(f"wall {wall}", f"it can't restart after count {pin.counts}",
                           f"a wall has {dance.counts} counts", "name a count before its last")  # fmt: skip
        if pin.counts is not None and pin.counts not in cuts and pin.counts not in written:
            raise FitError(f"wall {wall}", f"it can't restart after count {pin.counts}",
                           "there the leading foot is not free, or the facing is not square",
                           f"restart after one of these: {_said(list(cuts))}")  # fmt: skip
        for after, counts in pin.extras:
            if not 0 < after <= (pin.counts or dance.counts) or not 0 < counts <= dance.counts:
                raise _no_room(wall, after, counts, pin.counts or dance.counts)
    return pins


def _in_the_song(song: SongMap, pins: Pins) -> None:
    first_s = song.beats_s[0] if song.beats_s else 0.0
    counted = f"it goes from {first_s:.0f} to {song.end_s:.0f} s"
    for what, at_s in (("the start", pins.start_s), ("the end", pins.end_s)):
        if at_s is not None and not first_s - NEAR_S <= at_s <= song.end_s + NEAR_S:
            raise FitError(what, f"{at_s:g} s is not in the counted song", counted, "give a second between the two")
    if pins.start_s is not None and pins.end_s is not None and pins.end_s <= pins.start_s:
        what = f"{pins.end_s:g} s comes before the start at {pins.start_s:g} s"
        raise FitError("the end", what, "nothing would be danced", "give an end after the start")


def _no_room(wall: int, after: int, counts: int, has: int) -> FitError:
    what = f"{counts} counts can't be added after count {after}"
    return FitError(f"wall {wall}", what, f"it has {has} counts", "name a count of the wall, and no more than it has")


def _said(counts: list[int]) -> str:
    return ", ".join(map(str, counts)) if counts else "no count of this dance allows one"
