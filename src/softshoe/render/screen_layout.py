"""Where everything stands on a film's page: one layout for the wide film (16:9), one for the tall one (9:16).

Pixels of a page of 1280 by 720, or 720 by 1280. Nothing here draws.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
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
    below: bool = False


WIDE = Layout(
    width=1280,
    height=720,
    stage=(396.0, 80.0, 920.0, 572.0),
    floor_width=584.0,
    band_top=606.0,
    title=(44.0, 54.0, 32),
    view=(1236.0, 54.0, 30),
    now=Words(44.0, 170.0, 340.0, (66, 54, 46, 40, 34), 3),
    next_=Words(44.0, 458.0, 340.0, (42, 38, 34, 30, 28), 3),
    inset=(962.0, 104.0, 1202.0, 318.0),
    ring=(1082.0, 464.0, 106.0),
    rail=(1246.0, 92.0, 490.0),
    caption=(654.0, 44.0, 38, 42, 2),
    card=CardLayout(
        left=124.0,
        top=76.0,
        narrow=690.0,
        wide=1060.0,
        low=582.0,
        beside=(880.0, 70.0, 1220.0, 522.0),
        titles=(64, 54, 44),
        sizes=(44, 40, 36, 34, 32, 28, 25),
        least_beside=34,
        sides_y=570.0,
    ),
)
TALL = Layout(
    width=720,
    height=1280,
    stage=(40.0, 424.0, 680.0, 944.0),
    floor_width=600.0,
    band_top=1004.0,
    title=(36.0, 62.0, 34),
    view=(36.0, 104.0, 28),
    now=Words(36.0, 148.0, 640.0, (64, 54, 46, 40), 2),
    next_=Words(36.0, 368.0, 640.0, (38, 34, 30), 1),
    inset=(20.0, 772.0, 206.0, 958.0),
    ring=(618.0, 872.0, 80.0),
    rail=(688.0, 140.0, 600.0),
    caption=(1070.0, 54.0, 42, 30, 3),
    follow=1.0,  # her feet stay between inset and ring
    card=CardLayout(
        left=76.0,
        top=70.0,
        narrow=600.0,
        wide=600.0,
        low=600.0,
        beside=(190.0, 620.0, 530.0, 930.0),
        titles=(60, 52, 44),
        sizes=(44, 40, 36, 34, 32, 28, 25),
        least_beside=28,
        sides_y=982.0,
    ),
)
