"""A run told to people: the table of its walls, and the lines that belong on the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.dance.facing import clock, turned
from softshoe.fit.grid import Grid, counted
from softshoe.fit.material import fillings, words_of
from softshoe.fit.timeline import turn_after

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run, RunTag, RunWall
    from softshoe.music.songmap import SongMap


@dataclass(frozen=True, slots=True)
class WallRow:
    """One wall as the table shows it: where it lies in the song's phrases, and what happens in it ("" nothing)."""

    wall: int
    start_s: float
    facing_deg: int
    counts: int
    phrase: str
    happens: str


def wall_rows(dance: Dance, run: Run, song: SongMap) -> tuple[WallRow, ...]:
    """Return a row for every wall of the run."""
    grid = counted(song, beats_per_count=run.beats_per_count, start_s=run.start.time_s)
    rows, at = [], 0
    for wall in run.walls:
        tags = [tag for tag in run.tags if wall.wall in (tag.after_wall, tag.in_wall)]
        rows.append(
            WallRow(
                wall.wall, wall.start_s, wall.facing_deg, wall.counts, _phrase(grid, at), _happens(dance, run, wall)
            )
        )
        at += wall.counts + sum(tag.counts for tag in tags)
    return tuple(rows)


def _phrase(grid: Grid, at: int) -> str:
    phrase = grid.phrase_before(at)
    if phrase is None:
        return "before the first" if grid.phrases else ""
    number = grid.phrases.index(phrase) + 1
    into = at - phrase.at
    return f"{number}" if not into else f"{into} into {number}"


def _happens(dance: Dance, run: Run, wall: RunWall) -> str:
    tags = [tag for tag in run.tags if wall.wall in (tag.after_wall, tag.in_wall)]
    cut = next((restart.after_count for restart in run.restarts if restart.wall == wall.wall), None)
    said = [f"bridge of {tag.counts} after count {tag.at_count}" for tag in tags if tag.in_wall == wall.wall]
    behind = [f"a tag of {tag.counts}" for tag in tags if tag.after_wall == wall.wall]
    if cut is None:
        said += [f"then {tag}" for tag in behind]
    elif behind:
        said += [f"after count {cut} {behind[0]}, then restart"]
    else:
        said = [f"restart after count {cut}", *said]
    if run.ending is not None and run.ending.wall == wall.wall:
        said.append("the end")
    elif wall.wall == run.walls[-1].wall and wall.counts == dance.counts:
        said.append("the end, at the front")
    return ", ".join(said)


def sheet_lines(dance: Dance, run: Run) -> tuple[str, ...]:
    """Return what the sheet has to say for this song: start, tags, restarts, bridges, ending; like ones in one line."""
    return (f"Start: {run.start.sign}.", *_tag_lines(dance, run), *_restart_lines(dance, run), *_ending_line(run))


def _tag_lines(dance: Dance, run: Run) -> Iterator[str]:
    alike: dict[tuple[bool, int, int, bool, object], list[RunTag]] = {}
    for tag in run.tags:
        alike.setdefault((tag.after_wall is None, tag.at_count, tag.counts, tag.written, tag.actions), []).append(tag)
    for tags in alike.values():
        one = tags[0]
        walls = [tag.after_wall or tag.in_wall or 0 for tag in tags]
        facing = "" if dance.seated else f", facing {_facings(dance, run, walls, one.at_count)}"
        what = "as written" if one.written else words_of(one.actions)
        if one.after_wall is None:
            yield (
                f"Bridge: in {_walls(walls)}, after count {one.at_count}{facing}, add {one.counts} counts: {what}; "
                f"then go on with count {one.at_count + 1}."
            )
            continue
        where = "at the end of" if one.at_count >= dance.counts else f"after count {one.at_count} of"
        cut = next((restart for restart in run.restarts if restart.wall == walls[0]), None)
        altered = f"{cut.change}; " if cut is not None and cut.change else ""
        others = "" if one.written or cut is not None else _others(dance, one)
        yield (
            f"Tag: {where} {_walls(walls)}{facing}, {altered}add {one.counts} counts: {what}{others}. Then begin again."
        )


def _others(dance: Dance, tag: RunTag) -> str:
    offered = [filling.words for filling in fillings(dance, tag.counts) if filling.actions != tag.actions]
    return f" (or: {'; or: '.join(offered)})" if offered else ""


def _facings(dance: Dance, run: Run, walls: list[int], at_count: int) -> str:
    begins = {wall.wall: wall.facing_deg for wall in run.walls}
    seen = [clock(turned(begins[wall], turn_after(dance, at_count))) for wall in walls]
    return _listed(list(dict.fromkeys(seen)))


def _restart_lines(dance: Dance, run: Run) -> Iterator[str]:
    alike: dict[tuple[int, str | None], list[int]] = {}
    for restart in run.restarts:
        if not any(tag.after_wall == restart.wall for tag in run.tags):
            alike.setdefault((restart.after_count, restart.change), []).append(restart.wall)
    for (after, change), walls in alike.items():
        facing = "" if dance.seated else f", facing {_facings(dance, run, walls, after)}"
        altered = f"; {change}" if change else ""
        yield f"Restart: in {_walls(walls)}, after count {after}{facing}{altered}. Begin again with count 1."


def _ending_line(run: Run) -> Iterator[str]:
    if run.ending is not None:
        yield f"Ending: in wall {run.ending.wall}, {run.ending.what}."


def _walls(walls: list[int]) -> str:
    return f"wall{'s' if len(walls) > 1 else ''} {_listed([str(wall) for wall in walls])}"


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def gives(run: Run) -> str:
    """Return a run in few words: its score and its repairs."""
    cut = {r.wall: r.after_count for r in run.restarts}
    tags = [_tag_in_few_words(tag, tag.after_wall, cut) for tag in run.tags if tag.after_wall is not None]
    bridges = [f"a bridge of {t.counts} in wall {t.in_wall}" for t in run.tags if t.in_wall is not None]
    tagged = {tag.after_wall for tag in run.tags}
    cuts = [f"a restart after {r.after_count} on wall {r.wall}" for r in run.restarts if r.wall not in tagged]
    repairs = [*tags, *cuts, *bridges]
    if not repairs:
        return f"it scores {run.score.total:.0f}, with no tag and no restart"
    shown = repairs if len(repairs) <= 3 else [*repairs[:2], f"{len(repairs) - 2} more"]
    return f"it scores {run.score.total:.0f}, with {_listed(shown)}"


def _tag_in_few_words(tag: RunTag, wall: int, cut: Mapping[int, int]) -> str:
    where = f"after {cut[wall]} on wall {wall}, then a restart" if wall in cut else f"after wall {wall}"
    return f"a tag of {tag.counts} {where}"
