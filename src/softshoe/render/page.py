"""Pages as values: what a sheet says and shows, before any paper. One writer a medium: print, browser, plain text.

Words here are plain text: each writer keeps them from being read as its own code.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from softshoe.render.sheet_signs import Picture

Edition = Literal["normal", "large", "largest"]
Paper = Literal["a4", "us-letter"]
WORDS_PT: dict[Edition, float] = {"normal": 14.0, "large": 18.0, "largest": 24.0}
SIZE_WORDS: dict[str, Edition] = {"normal": "normal", "large": "large", "giant": "largest", "largest": "largest"}
PAPER_WORDS: dict[str, Paper] = {"a4": "a4", "letter": "us-letter", "us-letter": "us-letter"}
BEADS_A_ROW: dict[Edition, int] = {"normal": 4, "large": 4, "largest": 2}
SMALLEST_PT = 12.0
EDGE_MM, BOUND_MM = 14.0, (25.0, 12.0)  # ISO 838 punches its holes 12 mm from the edge; with them 25 mm stay free
SURE, FAIRLY_SURE = 0.9, 0.65


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One line: counts, beads, feet, arms, the plan of the room where the facing changed, what happens after it."""

    counts: str
    beads: Picture
    feet: str
    arms: str
    plan: Picture | None = None
    after: str = ""


@dataclass(frozen=True, slots=True)
class SheetSection:
    """A stretch that never breaks across pages: its name, the counts it holds, words before its lines."""

    name: str
    counts: str
    lines: tuple[SheetLine, ...]
    before: str = ""
    picture: Picture | None = None
    number: str = ""


@dataclass(frozen=True, slots=True)
class SheetNote:
    """Small words below the dance; a sign of care stands before the cautions."""

    name: str
    words: tuple[str, ...]
    care: bool = False


@dataclass(frozen=True, slots=True)
class SheetPage:
    """The whole sheet. ``under`` stands under the title and tells the version; ``foot`` runs along each page's foot."""

    title: str
    under: str
    head: tuple[str, ...]
    sections: tuple[SheetSection, ...]
    again: str
    extras: tuple[SheetSection, ...]
    notes: tuple[SheetNote, ...]
    key: tuple[tuple[Picture, str], ...]
    foot: str
    rail: Picture | None = None
    maker: str = field(default="")


def margins(bound: bool) -> dict[str, float]:
    """Return the margins at the inner and the outer edge [mm]; ``bound`` leaves room for the holes of a binder."""
    inside, outside = BOUND_MM if bound else (EDGE_MM, EDGE_MM)
    return {"inside": inside, "outside": outside}


def sure_words(confidence: float) -> str:
    """Return a confidence, 0 to 1, in words: never stars, never a bare number.

    >>> sure_words(0.95), sure_words(0.7), sure_words(0.3)
    ('sure', 'fairly sure', 'please check')
    """
    if confidence >= SURE:
        return "sure"
    return "fairly sure" if confidence >= FAIRLY_SURE else "please check"


def listed(words: list[str]) -> str:
    """Return "a", "a and b", "a, b and c".

    >>> listed(["2", "4", "6"])
    '2, 4 and 6'
    """
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)
