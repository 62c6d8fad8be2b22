"""The rail of walls: the song down an edge. One link a wall with its number, a small ring for a tag, a cut link for a
restart, a hook for the ending.

One drawing for sheet and film; on a film the links danced are filled, and the present one has the accent.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from softshoe.render.look import palette
from softshoe.render.stage import Arc, Capsule, Line, Mark, Polygon, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

LinkKind = Literal["wall", "cut", "tag", "end"]
LINK_R, TAG_R, HOOK_R = 15.0, 10.0, 9.0
LINK_HIGH, TAG_HIGH, TAG_HIGH_WITH_WORDS, END_HIGH = 44.0, 26.0, 34.0, 40.0
THICK = 4.2
WORDS, NUMBER, SMALL_NUMBER = 14, 17, 13


@dataclass(frozen=True, slots=True)
class Link:
    """One thing on the rail: what it is, the number in it and the words beside it."""

    kind: LinkKind
    number: str = ""
    beside: tuple[str, ...] = ()

    @property
    def high(self) -> float:
        """How much of the rail it takes before it is squeezed."""
        if self.kind == "tag":
            return TAG_HIGH_WITH_WORDS if len(self.beside) > 1 else TAG_HIGH
        return END_HIGH if self.kind == "end" else LINK_HIGH


def rail_marks(
    links: Sequence[Link], x: float, top: float, *, longest: float, present: int | None = None, size: float = 1.0
) -> tuple[list[Mark], float]:
    """Return the rail that hangs at ``x`` from ``top``, at most ``longest`` from its first link to its end, and where
    it ends; ``present`` is the link danced now (-1: none yet), None on paper; ``size`` multiplies all that is drawn.
    """
    squeeze = min(size, longest / max(1.0, sum(link.high for link in links)))
    marks: list[Mark] = []
    y = top
    for k, link in enumerate(links):
        high = link.high * squeeze
        marks += _DRAWN[link.kind](link, x, y, high, _Paint.of(k, present, size))
        y += high
    return marks, y


@dataclass(frozen=True, slots=True)
class _Paint:
    """How a link is painted: its line, what fills it, its number; ``size`` of line and letters."""

    line: str
    fill: str | None
    number: str
    size: float

    @classmethod
    def of(cls, k: int, present: int | None, size: float) -> _Paint:
        colours = palette()
        if present is None:
            return cls(colours["ink"], None, colours["ink"], size)
        if k > present:
            return cls(colours["soft"], None, colours["soft"], size)
        full = colours["accent"] if k == present else colours["ink"]
        return cls(full, full, colours["paper"], size)


def _wall(link: Link, x: float, y: float, high: float, paint: _Paint) -> list[Mark]:
    r = min(LINK_R * paint.size, high * 0.46)
    gap = 2.0 * paint.size
    top, bottom = y + r - gap, y + high - r + gap
    thick = THICK * paint.size
    marks: list[Mark] = []
    if paint.fill is not None:  # a gap of paper keeps filled links apart
        marks.append(Capsule(x, top, r + thick / 2, x, bottom, r + thick / 2, paint.fill, palette()["paper"], 2 * gap))
    else:
        marks += _open(link, x, (top, bottom), r, paint)
    if link.kind == "cut":
        marks += _cut(x, r, bottom, paint)
    mid = (top + bottom) / 2
    number = round((NUMBER if high > 30 * paint.size else SMALL_NUMBER) * paint.size)
    marks.append(Text(x, mid + number * 0.36, link.number, number, paint.number, bold=True, anchor="middle"))
    return marks + _beside(link, x + r + 9 * paint.size, mid, paint)


def _open(link: Link, x: float, ends: tuple[float, float], r: float, paint: _Paint) -> list[Mark]:
    """A link in outline; one that is cut has no foot."""
    top, bottom = ends
    thick, foot = THICK * paint.size, bottom - 1 if link.kind == "cut" else bottom
    marks: list[Mark] = [Arc(x, top, r, -90, 90, paint.line, thick)]
    marks += [Line(((x + side, top), (x + side, foot)), paint.line, thick) for side in (-r, r)]
    return marks if link.kind == "cut" else [*marks, Arc(x, bottom, r, 90, 270, paint.line, thick)]


def _cut(x: float, r: float, bottom: float, paint: _Paint) -> list[Mark]:
    """The open end of a link that is cut: two slanting strokes; a filled link loses its foot."""
    accent, size = palette()["accent"], paint.size
    marks: list[Mark] = []
    if paint.fill is not None:
        low = bottom + r + 2 * size
        corners = ((x - r - 3, bottom + 5 * size), (x + r + 3, bottom - 2 * size), (x + r + 3, low), (x - r - 3, low))
        marks.append(Polygon(corners, palette()["paper"]))
    ends = (-r, r - 1)
    return marks + [
        Line(((x + s - 3 * size, bottom + 5 * size), (x + s + 4 * size, bottom - 1)), accent, 2.6 * size) for s in ends
    ]


def _tag(link: Link, x: float, y: float, high: float, paint: _Paint) -> list[Mark]:
    accent, mid, thick = palette()["accent"], y + high / 2, THICK * paint.size
    r = min(TAG_R * paint.size, high / 2)
    if paint.fill is not None:
        r += thick / 2
        ball: Mark = Capsule(x, mid, r, x, mid, r, paint.fill, palette()["paper"], 4.0 * paint.size)
    else:
        waits = paint.line == palette()["soft"]
        ball = Arc(x, mid, r, 0, 360, paint.line if waits else accent, thick)
    marks: list[Mark] = [ball]
    return marks + _beside(link, x + (LINK_R + 9) * paint.size, mid, paint, bold=True)


def _hook(link: Link, x: float, y: float, high: float, paint: _Paint) -> list[Mark]:
    down, thick, r = min(12.0 * paint.size, high * 0.3), THICK * paint.size, HOOK_R * paint.size
    return [
        Line(((x, y), (x, y + down)), paint.line, thick),
        Arc(x - r, y + down, r, 90, 250, paint.line, thick),
        *_beside(link, x + 14 * paint.size, y + down, paint),
    ]


def _beside(link: Link, x: float, mid: float, paint: _Paint, *, bold: bool = False) -> list[Mark]:
    """The words beside a link, one below the other, about its middle."""
    marks: list[Mark] = []
    for k, words in enumerate(link.beside):
        down = mid + (5 + (k - (len(link.beside) - 1) / 2) * 16) * paint.size
        marks.append(Text(x, down, words, round(WORDS * paint.size), palette()["ink"], bold=bold))
    return marks


_DRAWN = {"wall": _wall, "cut": _wall, "tag": _tag, "end": _hook}
