"""A guise asked for in plain words: "dungarees", "deep", "short black"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.errors import SettingError, nearest
from softshoe.render.look import PLAIN, Guise
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Literal


def guise_of(outfit: str = "", skin: str = "", hair: str = "", page: Literal["plain", "high"] = "plain") -> Guise:
    """Return the guise that these words ask for; "" leaves a thing as it is. Raises SettingError at an unknown word.

    >>> guise_of(hair="short black").hair, guise_of(hair="short black").hair_colour
    ('short', 'black')
    """
    form, colour = _hair(hair)
    return Guise(_one("--outfit", outfit, "outfits", PLAIN.outfit), _one("--skin", skin, "skins", PLAIN.skin), form,
                colour, page)  # fmt: skip


def choices(name: str) -> tuple[str, ...]:
    """Return the names of a table of ``data/look``, in its order."""
    return tuple(row["name"] for row in table(f"look/{name}"))


def _meant(name: str) -> dict[str, str]:
    """Every word of a table with the name it means."""
    return {word: row["name"] for row in table(f"look/{name}") for word in (row["name"], *row["words"].split("|"))}


def _one(option: str, words: str, name: str, default: str) -> str:
    if not words.strip():
        return default
    return _named(option, words, _meant(name), choices(name))


def _named(option: str, words: str, meant: Mapping[str, str], names: tuple[str, ...]) -> str:
    said = " ".join(words.casefold().split())
    if said in meant:
        return meant[said]
    near = nearest(said, meant)
    raise SettingError(
        option,
        f"“{words.strip()}” is not known here",
        "nothing in the drawer has that name",
        (f"did you mean “{near}”? " if near else "") + f"There is {', '.join(names)}",
    )


def _hair(words: str) -> tuple[str, str]:
    """Form and colour, said in either order; one of them alone leaves the other."""
    forms, colours = _meant("hair_forms"), _meant("hair_colours")
    said = " ".join(words.casefold().replace(",", " ").split())
    if not said:
        return PLAIN.hair, PLAIN.hair_colour
    parts = said.split()
    for k in range(len(parts) + 1):
        one, other = " ".join(parts[:k]), " ".join(parts[k:])
        for form, colour in ((one, other), (other, one)):
            if (not form or form in forms) and (not colour or colour in colours):
                return forms.get(form, PLAIN.hair), colours.get(colour, PLAIN.hair_colour)
    known = {**forms, **colours}
    strange = next((part for part in parts if part not in known), said)
    names = (*choices("hair_forms"), *choices("hair_colours"))
    return _named("--hair", strange, known, names), PLAIN.hair_colour
