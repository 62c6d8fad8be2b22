"""The signs of a sheet as marks: beads on a thread, the plan of the room, the rail of walls.

Units are those of the marks; a bead is ``BEAD`` wide and a sheet sets it to its own size. Right is a solid ring, left a
striped one, both feet half and half, no foot a thin one: shape first, colour second.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.dance.feet import Foot
from softshoe.render.look import palette
from softshoe.render.look_plan import plan_marks
from softshoe.render.phrase_words import turn_words
from softshoe.render.stage import Line, Mark, Polygon, Text, arc_points
from softshoe.render.stage_svg import svg
from softshoe.teach.words import number_word

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.render.sheet_rows import Bead

COUNTS_FACE = "B612"
BEAD, HALF, QUARTER = 30.0, 23.0, 20.0
RING, THIN = 4.4, 1.3
GAP = 3.0
ROW = 33.0
WHOLE_BEADS_A_ROW = 4
DASHES = {BEAD: 9, HALF: 9, QUARTER: 7}
PLAN = 50.0
FOOT_WORDS = {Foot.RIGHT: "right", Foot.LEFT: "left", Foot.BOTH: "both"}


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing and the words that stand for it; the size is in units of the marks."""

    svg: str
    alt: str
    width: float
    height: float


def _picture(marks: Iterable[Mark], *, width: float, height: float, alt: str) -> Picture:
    return Picture(svg(marks, width=width, height=height, family=COUNTS_FACE), alt, width, height)


@cache
def beads_picture(beads: tuple[Bead, ...], *, per_row: int = WHOLE_BEADS_A_ROW) -> Picture:
    """Return the beads of one line on their thread, at most ``per_row`` whole beads beside each other."""
    rows = _bead_rows(beads, per_row)
    width = max(sum(_bead_width(b) + GAP for b in row) for row in rows) + GAP
    marks: list[Mark] = []
    for k, row in enumerate(rows):
        y = ROW * (k + 0.5)
        end = sum(_bead_width(b) + GAP for b in row)
        marks.append(Line(((0.0, y), (end - GAP, y)), palette()["soft"], 1.2))
        x = GAP
        for bead in row:
            wide = _bead_width(bead)
            marks += bead_marks(bead, x + wide / 2, y)
            x += wide + GAP
    return _picture(marks, width=width, height=ROW * len(rows), alt=beads_alt(beads))


def beads_alt(beads: Sequence[Bead]) -> str:
    """Return the words for a row of beads: "Counts 1 right, 2 left"."""
    told = [f"{b.label} {FOOT_WORDS[b.foot]}" if b.foot else b.label for b in beads]
    return f"Count{'s' if len(told) > 1 else ''} " + ", ".join(told).replace("&", "and")


def _bead_rows(beads: Sequence[Bead], per_row: int) -> list[list[Bead]]:
    rows: list[list[Bead]] = [[]]
    for bead in beads:
        if bead.part == 1.0 and sum(b.part == 1.0 for b in rows[-1]) == per_row:
            rows.append([])
        rows[-1].append(bead)
    return rows


def _bead_width(bead: Bead) -> float:
    return {1.0: BEAD, 0.5: HALF}.get(bead.part, QUARTER)


def bead_marks(bead: Bead, x: float, y: float) -> list[Mark]:
    """Return one bead: whole counts round, parts of a count narrower."""
    wide = _bead_width(bead)
    high = BEAD if bead.part == 1.0 else BEAD * 0.84
    ring = _ring(x, y, wide / 2, high / 2, bead.foot, DASHES[wide])
    size = 18 if bead.part == 1.0 else 13
    return [*ring, Text(x, y + size * 0.37, bead.label, size, palette()["ink"], bold=True, anchor="middle")]


def _oval(
    x: float, y: float, rx: float, ry: float, *, start_deg: float, end_deg: float, steps: int
) -> list[tuple[float, float]]:
    unit = arc_points(0, 0, 1, start_deg=start_deg, end_deg=end_deg, steps=steps)
    return [(x + rx * px, y + ry * py) for px, py in unit]


def _ring(x: float, y: float, rx: float, ry: float, foot: Foot | None, dashes: int) -> list[Mark]:
    colour = palette()
    base: list[Mark] = [Polygon(tuple(_oval(x, y, rx, ry, start_deg=0, end_deg=360, steps=48)[:-1]), colour["paper"])]
    if foot is None:
        return [*base, _band(x, y, rx, ry, THIN, 0, 360, colour["soft"])]
    if foot is Foot.RIGHT:
        return [*base, _band(x, y, rx, ry, RING, 0, 360, colour["right"])]
    if foot is Foot.LEFT:
        return [*base, *_stripes(x, y, rx, ry, 0, 360, dashes * 2)]
    return [*base, _band(x, y, rx, ry, RING, 0, 180, colour["right"]), *_stripes(x, y, rx, ry, 180, 360, dashes)]


def _band(x: float, y: float, rx: float, ry: float, thick: float, start: float, end: float, colour: str) -> Polygon:
    steps = max(2, round((end - start) / 7))
    outer = _oval(x, y, rx, ry, start_deg=start, end_deg=end, steps=steps)
    inner = _oval(x, y, rx - thick, ry - thick, start_deg=start, end_deg=end, steps=steps)
    return Polygon((*outer, *inner[::-1]), colour)


def _stripes(x: float, y: float, rx: float, ry: float, start: float, end: float, count: int) -> list[Mark]:
    """Stripes across the ring, with a thin line outside that holds them together."""
    step = (end - start) / count
    left = palette()["left"]
    dashes = [_band(x, y, rx, ry, RING, start + k * step, start + (k + 0.56) * step, left) for k in range(count)]
    return [*dashes, _band(x, y, rx, ry, 0.8, start, end, left)]


def plan_picture(facing_deg: int, turn_deg: int) -> Picture:
    """The room from above: the turn that led there, and an arrow as one looks now."""
    mid = PLAN / 2
    marks = plan_marks(mid, mid, PLAN - 6.0, facing_deg=facing_deg, turn_deg=turn_deg, when="done")
    alt = f"Plan of the room: {turn_words(turn_deg)}, now facing {clock(facing_deg)}" if turn_deg else (
        f"Plan of the room: facing {clock(facing_deg)}")  # fmt: skip
    return _picture(marks, width=PLAN, height=PLAN, alt=alt)


KEY = {
    Foot.RIGHT: ("R", "solid: right foot"),
    Foot.LEFT: ("L", "striped: left foot"),
    Foot.BOTH: ("", "half and half: both feet"),
    None: ("", "thin: feet still"),
}


def key_pictures(used: set[Foot | None]) -> tuple[tuple[Picture, str], ...]:
    """Return the beads that this sheet uses, with the words that explain them."""
    return tuple((_lone_bead(foot, letter), words) for foot, (letter, words) in KEY.items() if foot in used)


def _lone_bead(foot: Foot | None, letter: str) -> Picture:
    from softshoe.render.sheet_rows import Bead

    return _picture(bead_marks(Bead(letter, 1.0, foot), 17, 17), width=34, height=34, alt="")


def foot_count_words(counts: int) -> str:
    """Return "four counts", "one count"."""
    return f"{number_word(counts)} count{'' if counts == 1 else 's'}"
