"""The page of keys: every key that does something, by place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.studio.table import Page
from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.studio.asking import Asked


def values(_: Asked) -> dict[str, object]:
    """Return the keys of ``data/studio/keys.csv`` by place, in the order of the table."""
    places: dict[str, list[dict[str, str]]] = {}
    for row in table("studio/keys"):
        places.setdefault(row["place"], []).append(row)
    return {"keys": places}


PAGE = Page("keys", "Keys", values)
