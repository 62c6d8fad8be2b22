"""The rail of walls: the song down the page's edge.

One link a wall, tags small links between, a restart a cut link, the ending a hook.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.render.look import palette
from softshoe.render.sheet_signs import COUNTS_FACE, Picture, foot_count_words
from softshoe.render.stage import Arc, Circle, Line, Mark, Text
from softshoe.render.stage_svg import svg

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.fit.run import Run, RunWall

WIDTH = 96.0
AXIS = 26.0  # where the links hang
LINK_R = 15.0
LINK_HIGH = 44.0
TAG_R = 10.0
TOP, FOOT = 34.0, 40.0
THICK = 4.2


@dataclass(frozen=True, slots=True)
class _Link:
    """One thing on the rail: ``kind`` wall, cut or tag; the number in it and the words beside it."""

    kind: str
    number: str
    beside: tuple[str, ...]
    high: float


def rail_picture(run: Run, *, dance_counts: int, seated: bool = False, longest: float = 760.0) -> Picture:
    """Return the rail of this run; ``longest`` is the most it may measure from top to foot, in units of the marks."""
    facing = not seated and len({w.facing_deg for w in run.walls}) > 1
    links = _links(run, dance_counts, facing=facing)
    wanted = sum(link.high for link in links) + TOP + FOOT
    squeeze = min(1.0, (longest - TOP - FOOT) / max(1.0, wanted - TOP - FOOT))
    marks: list[Mark] = list(_start(run))
    y = TOP
    for link in links:
        high = link.high * squeeze
        marks += _drawn(link, y, high)
        y += high
    if run.ending is not None:
        marks += _hook(y)
    total = y + FOOT
    return Picture(
        svg(marks, width=WIDTH, height=total, family=COUNTS_FACE),
        rail_alt(run, dance_counts, facing=facing),
        WIDTH,
        total,
    )


def _links(run: Run, dance_counts: int, *, facing: bool) -> list[_Link]:
    cut = {r.wall: r.after_count for r in run.restarts}
    links: list[_Link] = []
    for wall in run.walls:
        beside = [clock(wall.facing_deg)] if facing else []
        short = cut.get(wall.wall, wall.counts if wall.counts < dance_counts else None)
        if short is not None:
            beside.append(f"to {short}")
        links.append(_Link("cut" if wall.wall in cut else "wall", str(wall.wall), tuple(beside), LINK_HIGH))
        for tag in run.tags:
            if (tag.after_wall or tag.in_wall) == wall.wall:
                where = () if tag.after_wall else (f"at {tag.at_count}",)
                high = 2 * TAG_R + (14 if where else 6)
                links.append(_Link("tag", "", (f"+{tag.counts}", *where), high))
    return links


def _start(run: Run) -> list[Mark]:
    ink, soft = palette()["ink"], palette()["soft"]
    counts = run.start.intro_counts
    return [
        Line(((AXIS, 20.0), (AXIS, TOP)), soft, 2.0),
        Circle(AXIS, 16.0, 4.0, soft),
        Text(AXIS + 14, 21.0, f"after {counts}", 14, ink),
    ]


def _drawn(link: _Link, y: float, high: float) -> list[Mark]:
    if link.kind == "tag":
        return _tag(link, y, high)
    ink = palette()["ink"]
    r = min(LINK_R, high * 0.46)
    top, bottom = y + r - 2, y + high - r + 2
    mid = (top + bottom) / 2
    cut = link.kind == "cut"
    foot = bottom - 1 if cut else bottom
    marks: list[Mark] = [Arc(AXIS, top, r, -90, 90, ink, THICK)]
    marks += [Line(((AXIS + side, top), (AXIS + side, foot)), ink, THICK) for side in (-r, r)]
    if cut:
        accent = palette()["accent"]
        marks += [Line(((AXIS + side - 3, bottom + 5), (AXIS + side + 4, foot)), accent, 2.6) for side in (-r, r - 1)]
    else:
        marks.append(Arc(AXIS, bottom, r, 90, 270, ink, THICK))
    size = 17 if high > 30 else 13
    marks.append(Text(AXIS, mid + size * 0.36, link.number, size, ink, bold=True, anchor="middle"))
    marks += _beside(link, AXIS + r + 9, mid)
    return marks


def _tag(link: _Link, y: float, high: float) -> list[Mark]:
    accent = palette()["accent"]
    mid = y + high / 2
    ring = Circle(AXIS, mid, min(TAG_R, high / 2), None, accent, THICK)
    return [ring, *_beside(link, AXIS + LINK_R + 9, mid, bold=True)]


def _beside(link: _Link, x: float, mid: float, *, bold: bool = False) -> Iterator[Text]:
    """The words beside a link, one below the other, about its middle."""
    for k, words in enumerate(link.beside):
        down = mid + 5 + (k - (len(link.beside) - 1) / 2) * 16
        yield Text(x, down, words, 14, palette()["ink"], bold=bold)


def _hook(y: float) -> list[Mark]:
    ink = palette()["ink"]
    return [
        Line(((AXIS, y), (AXIS, y + 12)), ink, THICK),
        Arc(AXIS - 9, y + 12, 9.0, 90, 250, ink, THICK),
        Text(AXIS + 14, y + 18, "end", 14, ink),
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
