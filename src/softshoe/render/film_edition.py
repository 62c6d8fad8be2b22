"""Editions of a film: wide or tall, moving or held pose by pose, plain or in high contrast, in any combination.

**Reduced motion** is for those whom moving pictures make unwell: the pose of each count stands until the next, nothing
fades, the view never moves; an arrow shows the way the limb came.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.errors import SettingError, nearest
from softshoe.render.look import PLAIN, Guise
from softshoe.render.screen_layout import TALL, WIDE

if TYPE_CHECKING:
    from softshoe.render.screen_layout import Layout

PARTS = {
    "portrait": ("portrait", "upright", "tall", "phone", "9:16"),
    "reduced-motion": ("reduced motion", "reduced-motion", "still", "held", "calm"),
    "high-contrast": ("high contrast", "high-contrast", "contrast"),
}


@dataclass(frozen=True, slots=True)
class Edition:
    """How a film is drawn: who dances, on which page, and whether poses are held."""

    guise: Guise = PLAIN
    layout: Layout = WIDE
    held: bool = False


def edition_of(name: str, guise: Guise = PLAIN) -> tuple[Edition, str]:
    """Return the edition that these words ask for, and its name in files; parts are joined by "+" or "and".

    Raises SettingError at an unknown word.

    >>> edition_of("portrait + high contrast")[1]
    'portrait-high-contrast'
    """
    asked = [_part(words) for words in name.replace(" and ", "+").replace(",", "+").split("+") if words.strip()]
    parts = [part for part in PARTS if part in asked]
    edition = Edition(
        guise=replace(guise, page="high") if "high-contrast" in parts else guise,
        layout=TALL if "portrait" in parts else WIDE,
        held="reduced-motion" in parts,
    )
    return edition, "-".join(parts)


def _part(words: str) -> str:
    said = " ".join(words.casefold().split())
    meant = {one: part for part, several in PARTS.items() for one in several}
    if said in meant:
        return meant[said]
    near = nearest(said, meant)
    raise SettingError(
        "--film-edition",
        f"“{words.strip()}” is no edition of a film",
        "nothing is drawn that way",
        (f"did you mean “{near}”? " if near else "")
        + "There is portrait, reduced motion, high contrast; join them with +",
    )
