"""The look: our colours as data, who is drawn and how strongly, and contrast as the web's guidelines count it.

Left and right never rest on colour alone: every sign that uses these two also has stripes or none, and a letter.
A **guise** is the dancer's outfit, skin and hair, and whether the page is plain, in high contrast, or both at once. It
is in force inside ``with in_guise(guise)``; every mark made there has its colours. Contrast follows WCAG 2.2, "relative
luminance" and "contrast ratio".
"""

from __future__ import annotations

from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.render.stage_pixels import Typeface

REGULAR, BOLD = "AtkinsonHyperlegible-Regular.ttf", "AtkinsonHyperlegible-Bold.ttf"
COUNT, FURTHER = "B612-Bold.ttf", "NotoSans-MoreLetters.ttf"


@dataclass(frozen=True, slots=True)
class Guise:
    """Who is drawn, by names of the tables ``data/look``, and on what kind of page."""

    outfit: str = "shirt"
    skin: str = "sand"
    hair: str = "bun"
    hair_colour: str = "grey"
    page: Literal["plain", "high", "both"] = "plain"


PLAIN = Guise()
ONE_COLOUR = len("#rrggbb")
_IN_FORCE: ContextVar[Guise] = ContextVar("guise", default=PLAIN)
_COLOURS: ContextVar[dict[str, str] | None] = ContextVar("colours", default=None)


@contextmanager
def in_guise(guise: Guise) -> Iterator[None]:
    """Have marks made inside take this guise."""
    before, colours = _IN_FORCE.set(guise), _COLOURS.set(colours_of(guise))
    try:
        yield
    finally:
        _IN_FORCE.reset(before)
        _COLOURS.reset(colours)


def guise_now() -> Guise:
    """Return the guise in force."""
    return _IN_FORCE.get()


def palette() -> dict[str, str]:
    """Return the colours of the guise in force by name, "#rrggbb"."""
    return _COLOURS.get() or colours_of(PLAIN)


@cache
def colours_of(guise: Guise) -> dict[str, str]:
    """Return the colours of a guise by name: the page's, and "skin", "blush", "hair", "top", "trousers".

    On both pages at once a colour of the page is two, one behind the other: "#rrggbb#rrggbb"."""
    columns = {"plain": ("hex",), "high": ("high",), "both": ("hex", "high")}[guise.page]
    outfit, skin = _row("outfits", guise.outfit), _row("skins", guise.skin)
    return {row["name"]: "".join(row[column] for column in columns) for row in table("look/palette")} | {
        "top": outfit["top"],
        "trousers": outfit["trousers"],
        "skin": skin["hex"],
        "blush": skin["blush"],
        "hair": _row("hair_colours", guise.hair_colour)["hex"],
    }


def cut_now() -> str:
    """Return what the outfit in force draws on the body."""
    return _row("outfits", _IN_FORCE.get().outfit)["cut"]


def _row(name: str, wanted: str) -> dict[str, str]:
    return next(row for row in table(f"look/{name}") if row["name"] == wanted)


@cache
def typeface() -> Typeface:
    """Return the typeface of films and pictures: the font files that come with the package."""
    from softshoe.render.stage_pixels import Typeface

    folder = Path(str(files("softshoe").joinpath("data/fonts")))
    return Typeface(folder / REGULAR, folder / BOLD, count=folder / COUNT, further=folder / FURTHER, held=_held())


def _held() -> frozenset[str]:
    """The letters that the face for words holds itself."""
    rows = files("softshoe").joinpath("data/look/words-face.txt").read_text("utf-8").splitlines()
    ends = [row.split("-") for row in rows if not row.startswith("#")]
    return frozenset(chr(code) for first, last in ends for code in range(int(first, 16), int(last, 16) + 1))


def of_page(colour: str, page: int) -> str:
    """Return a colour as it is on the plain page (0) or the one of high contrast (1), where it is two.

    >>> of_page("#ffffff#000000", 1), of_page("#a98d68", 1)
    ('#000000', '#a98d68')
    """
    return colour[ONE_COLOUR * page :][:ONE_COLOUR] or colour


def channels(colour: str) -> tuple[int, int, int]:
    """Return red, green, blue of "#rrggbb", 0 to 255."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour, 0 (black) to 1 (white).

    >>> round(luminance("#808080"), 6)
    0.215861
    """
    red, green, blue = (_linear(value / 255) for value in channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21; never rounded, for 4.499 fails 4.5.

    >>> contrast("#000000", "#ffffff")
    21.0
    """
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def mix(one: str, other: str, share: float) -> str:
    """Return a colour between two: ``share`` 0 is the first, 1 the second.

    >>> mix("#000000", "#ffffff", 0.5)
    '#808080'
    """
    if len(one) > ONE_COLOUR or len(other) > ONE_COLOUR:  # of both pages
        return "".join(mix(of_page(one, page), of_page(other, page), share) for page in (0, 1))
    parts = zip(channels(one), channels(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in parts)
