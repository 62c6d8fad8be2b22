"""The floor map of a whole dance, printed: for each section where the feet land, count by count, and the way between.

Left prints are striped, right ones solid; filled where the foot bears, open where it only touches; the number is the
count. What the map shows is said beside it in words, for those who hear the page.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from softshoe.dance.footwork import wall_events
from softshoe.figure.motion import JOINT
from softshoe.figure.move import move
from softshoe.render.look import palette
from softshoe.render.page import SMALLEST_PT, listed, margins
from softshoe.render.phrase_words import action_words, sentence
from softshoe.render.picture_camera import smoothed
from softshoe.render.picture_floor import floor_view, front_marks, reach_of, support_marks
from softshoe.render.sheet_content import dance_words, support_words
from softshoe.render.sheet_names import section_name
from softshoe.render.sheet_prints import landed, path_marks, print_marks, rested
from softshoe.render.sheet_signs import Picture
from softshoe.render.stage import Circle, Line, Polygon, Text
from softshoe.render.stage_svg import svg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Event
    from softshoe.dance.dance import Dance, Section
    from softshoe.figure.motion import FloatArray, Motion, Support
    from softshoe.render.page import Edition, Paper
    from softshoe.render.picture_camera import Box
    from softshoe.render.picture_floor import FloorView
    from softshoe.render.stage import Mark

WIDE, HIGH = 340.0, 290.0
FIELD: Box = (4.0, 30.0, WIDE - 4.0, HIGH - 4.0)
INNER: Box = (14.0, 40.0, WIDE - 14.0, HIGH - 14.0)
CLOSEST = 240.0  # units a metre
SIZES_PT: dict[Edition, tuple[float, int]] = {"normal": (SMALLEST_PT, 2), "large": (18.0, 1), "largest": (24.0, 1)}
SHARES = (1.0, 0.92, 0.84, 0.76)  # of a column's width; a little less may save a page
KNOT_R = 15.0
MARGIN_M = 0.13
SMOOTH_COUNTS = 1.0


def floor_pdf(
    dance: Dance, *, support: Support | None = None, edition: Edition = "normal", paper: Paper = "a4",
    bound: bool = False, under: str = "",
) -> bytes:  # fmt: skip
    """Return the floor map of one wall as a PDF tagged to PDF/UA-1.

    ``support`` is what holds the dancer (None: as the dance is danced); ``under`` names the version below the title.
    In large print each map has the width of the page."""
    from softshoe.render.pdf import fewest_pages

    values = floor_values(dance, support=support, paper=paper, bound=bound, under=under)
    size, across = SIZES_PT[edition]
    values |= {"size_pt": size, "across": across}
    return fewest_pages("floor.typ", [values | {"share": share} for share in SHARES])


def floor_values(dance: Dance, *, support: Support | None, paper: Paper, bound: bool, under: str) -> dict[str, Any]:
    """Return what the page is set from."""
    events = wall_events(dance)
    stance = "seated" if dance.seated else "standing"
    motion = move(events, counts=float(dance.counts), stance=stance, loop=True, support=support)  # type: ignore[arg-type]
    maps = [_section(dance, s, events, motion) for s in dance.sections]
    if motion.stance == "standing" and len(dance.sections) > 1:
        maps.append(_whole(dance, motion))
    return {
        "title": dance.title or "A dance without a name",
        "under": under,
        "head": " ".join(filter(None, (*dance_words(dance), support_words(motion.chair)))),
        "paper": paper, "margin": margins(bound), "colour": palette(), "maps": maps,
    }  # fmt: skip


def _section(dance: Dance, section: Section, events: Sequence[Event], motion: Motion) -> dict[str, Any]:
    mine = [e for e in events if dance.section_at(e.action.at) == section]
    first, last = float(section.start.moment), float((section.start + section.length).moment)
    prints = landed(mine, section, motion)
    start = rested(motion, first)
    view = _view([p.points for p in prints] + [start], motion)
    marks = front_marks(FIELD, words=False)
    marks.append(Text(WIDE / 2, 22.0, "front of the room", 17, palette()["soft"], anchor="middle"))
    if motion.chair is not None:
        marks += _inside(support_marks(motion.chair, view))
    if motion.stance == "standing":
        marks += path_marks(_way(motion, first, last), view)
    marks += print_marks(prints, start, view)
    words = _told(mine)
    name = section_name(dance, section, events)
    alt = f"Floor map of section {section.number}, seen from above. {words}"
    return {"number": str(section.number), "name": name, "picture": _drawn(marks, alt)}


def _view(points: Sequence[FloatArray], motion: Motion) -> FloorView:
    """The view of one section: it holds all its prints and the support."""
    return floor_view(reach_of(np.array(points), motion.chair), INNER, most=CLOSEST, margin_m=MARGIN_M)


def _inside(marks: Sequence[Mark]) -> list[Mark]:
    """What stands on the floor, as far as the field reaches."""
    low = FIELD[3] - 1.0
    kept: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Polygon):
            kept.append(mark._replace(points=tuple((x, min(y, low)) for x, y in mark.points)))
        elif isinstance(mark, Line) and max(y for _, y in mark.points) < low:
            kept.append(mark)
    return kept


def _way(motion: Motion, first: float, last: float) -> FloatArray:
    """The dancer's middle over the floor from one moment to another, shape (n, 2)."""
    path = smoothed(motion.frames.points_m[:, JOINT["pelvis"], ::2], round(SMOOTH_COUNTS * motion.per_count))
    low, high = (round(min(max(moment, 0.0), motion.counts) * motion.per_count) for moment in (first - 1.0, last - 0.5))
    return path[low : high + 1 : 3]


def _whole(dance: Dance, motion: Motion) -> dict[str, Any]:
    """Where the whole wall leads: the way over the floor, a knot where each section begins."""
    colours = palette()
    view = _view(list(motion.frames.points_m[:: motion.per_count]), motion)
    marks = front_marks(FIELD, words=False)
    marks.append(Text(WIDE / 2, 22.0, "front of the room", 17, colours["soft"], anchor="middle"))
    if motion.chair is not None:
        marks += _inside(support_marks(motion.chair, view))
    marks += path_marks(_way(motion, 0.0, motion.counts + 0.5), view)
    taken: list[tuple[float, float]] = []
    for section in dance.sections:
        x, z = motion.at(np.array([float(section.start.moment)])).points_m[0, JOINT["pelvis"], ::2].tolist()
        at = _beside(view.at(x, z), taken)
        taken.append(at)
        marks += _knot(at, str(section.number))
    facing = round(float(motion.facing_deg[-1])) % 360
    turned = f" It ends {facing} degrees clockwise from where it began." if facing else ""
    alt = f"The way of the whole dance over the floor: each number is where that section begins.{turned}"
    return {"number": "", "name": "The whole way", "picture": _drawn(marks, alt)}


def _beside(at: tuple[float, float], taken: list[tuple[float, float]]) -> tuple[float, float]:
    """The place of a knot: to the right of those that stand there already."""
    x, y = at
    while any(abs(x - a) < 2.1 * KNOT_R and abs(y - b) < 2.1 * KNOT_R for a, b in taken):
        x += 2.2 * KNOT_R
    return x, y


def _knot(at: tuple[float, float], number: str) -> list[Mark]:
    colours = palette()
    x, y = at
    return [Circle(x, y, KNOT_R, colours["ink"], colours["paper"], 2.0),
            Text(x, y + 6.5, number, 18, colours["paper"], bold=True, anchor="middle", face="count")]  # fmt: skip


def _told(mine: Sequence[Event]) -> str:
    """The section in words, foot by foot."""
    said = [
        f"{event.action.at.label} {action_words(event.action, facing_deg=event.facing_deg)}"
        for event in mine
        if event.action.foot is not None
    ]
    return f"{sentence(listed(said))}." if said else "The feet stay where they are."


def _drawn(marks: Sequence[Mark], alt: str) -> dict[str, Any]:
    made = Picture(svg(marks, width=WIDE, height=HIGH), alt, WIDE, HIGH)
    return {"svg": made.svg, "alt": made.alt, "width": made.width, "height": made.height}
