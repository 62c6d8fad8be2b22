"""Where everything stands on a film's page: one layout for the wide film (16:9), one for the tall one (9:16).

Pixels of a page of 1280 by 720, or 720 by 1280. Nothing here draws.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.render.picture_camera import Box


@dataclass(frozen=True, slots=True)
class Words:
    """A column of words: its left edge, the line it hangs from, its width, the sizes tried and the most lines."""

    left: float
    top: float
    width: float
    sizes: tuple[int, ...]
    lines: int


@dataclass(frozen=True, slots=True)
class Layout:
    """The places of one page. ``stage`` holds the dancer, ``inset`` her feet from above; ``ring`` is (x, y, radius);
    ``rail`` is (x, top, longest); ``caption`` is (first line's y, lead, size, letters a line, lines). ``follow`` 1
    keeps the dancer in the middle."""

    width: int
    height: int
    stage: Box
    floor_width: float
    band_top: float
    title: tuple[float, float, int]
    view: tuple[float, float, int]
    now: Words
    next_: Words
    inset: Box
    ring: tuple[float, float, float]
    rail: tuple[float, float, float]
    caption: tuple[float, float, int, int, int]
    card: CardLayout
    follow: float | None = None


@dataclass(frozen=True, slots=True)
class CardLayout:
    """A card: where its words begin, how wide they are beside (or above) the dancer and without her, how low they may
    go beside her, her box, the sizes of title and words, the least size beside her, where the sides are named."""

    left: float
    top: float
    narrow: float
    wide: float
    low: float
    beside: Box
    titles: tuple[int, ...]
    sizes: tuple[int, ...]
    least_beside: int
    sides_y: float


def layout(name: str) -> Layout:
    """Return the layout of a column of the table ``look/film_layouts``, "wide" or "tall"."""
    at = {row["place"]: tuple(_number(cell) for cell in row[name].split()) for row in table("look/film_layouts")}
    (width, height), (floor_width, band_top) = at["page"], at["floor"]
    left, top, narrow, wide, low = at["card"]
    least, sides_y = at["card beside"]
    return Layout(
        width,
        height,
        at["stage"],
        floor_width,
        band_top,
        at["title"],
        at["view"],
        _words(at, "now"),
        _words(at, "next"),
        at["inset"],
        at["ring"],
        at["rail"],
        at["caption"],
        CardLayout(
            left, top, narrow, wide, low, at["card dancer"], at["card titles"], at["card sizes"], least, sides_y
        ),
        at["follow"][0] if at["follow"] else None,
    )


def _words(at: Mapping[str, tuple[Any, ...]], name: str) -> Words:
    left, top, width, lines = at[name]
    return Words(left, top, width, at[f"{name} sizes"], lines)


def _number(cell: str) -> Any:
    """A whole number as one: sizes and lines are counted, not measured."""
    return int(cell) if cell.lstrip("-").isdecimal() else float(cell)


WIDE, TALL = layout("wide"), layout("tall")
