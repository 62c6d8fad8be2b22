"""The rail of walls on paper: a run's walls, tags, restarts and ending as links down the page's edge, and in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.render.look import palette
from softshoe.render.look_rail import Link, rail_marks
from softshoe.render.sheet_signs import COUNTS_FACE, Picture, foot_count_words
from softshoe.render.stage import Circle, Line, Mark, Text
from softshoe.render.stage_svg import svg

if TYPE_CHECKING:
    from softshoe.fit.run import Run, RunWall

WIDTH = 96.0
AXIS = 26.0  # where the links hang
TOP = 34.0


def rail_picture(run: Run, *, dance_counts: int, seated: bool = False, longest: float = 760.0) -> Picture:
    """Return the rail of this run; ``longest`` is the most it may measure from top to foot, in units of the marks."""
    facing = not seated and len({w.facing_deg for w in run.walls}) > 1
    hung, end = rail_marks(_links(run, dance_counts, facing=facing), AXIS, TOP, longest=longest - TOP)
    marks = [*_start(run), *hung]
    return Picture(
        svg(marks, width=WIDTH, height=end, family=COUNTS_FACE),
        rail_alt(run, dance_counts, facing=facing),
        WIDTH,
        end,
    )


def _links(run: Run, dance_counts: int, *, facing: bool) -> list[Link]:
    cut = {r.wall: r.after_count for r in run.restarts}
    links: list[Link] = []
    for wall in run.walls:
        beside = [clock(wall.facing_deg)] if facing else []
        short = cut.get(wall.wall, wall.counts if wall.counts < dance_counts else None)
        if short is not None:
            beside.append(f"to {short}")
        links.append(Link("cut" if wall.wall in cut else "wall", str(wall.wall), tuple(beside)))
        for tag in run.tags:
            if (tag.after_wall or tag.in_wall) == wall.wall:
                where = () if tag.after_wall else (f"at {tag.at_count}",)
                links.append(Link("tag", "", (f"+{tag.counts}", *where)))
    return [*links, *([Link("end", "", ("end",))] if run.ending is not None else [])]


def _start(run: Run) -> list[Mark]:
    ink, soft = palette()["ink"], palette()["soft"]
    counts = run.start.intro_counts
    return [
        Line(((AXIS, 20.0), (AXIS, TOP)), soft, 2.0),
        Circle(AXIS, 16.0, 4.0, soft),
        Text(AXIS + 14, 21.0, f"after {counts}", 14, ink),
    ]


def rail_alt(run: Run, dance_counts: int, *, facing: bool) -> str:
    """Return the rail in words: every wall, tag, restart and the ending, in order."""
    said = [f"The song. {foot_count_words(run.start.intro_counts).capitalize()} before the first."]
    cut = {r.wall: r.after_count for r in run.restarts}
    for wall in run.walls:
        said.append(_wall_words(wall, dance_counts, cut.get(wall.wall), facing=facing))
        for tag in run.tags:
            if tag.after_wall == wall.wall:
                said.append(f"Then a tag of {foot_count_words(tag.counts)}.")
            if tag.in_wall == wall.wall:
                said.append(f"In it, after count {tag.at_count}, a bridge of {foot_count_words(tag.counts)}.")
    if run.ending is not None:
        said.append(f"The ending comes in wall {run.ending.wall} after count {run.ending.at_count}.")
    return " ".join(said)


def _wall_words(wall: RunWall, dance_counts: int, cut: int | None, *, facing: bool) -> str:
    where = f" facing {clock(wall.facing_deg)}" if facing else ""
    if cut is not None:
        return f"Wall {wall.wall}{where} stops after count {cut} and begins again."
    if wall.counts < dance_counts:
        return f"Wall {wall.wall}{where}, {foot_count_words(wall.counts)}."
    return f"Wall {wall.wall}{where}."
