"""A booklet of many dances: a title, contents with pages, each dance's sheet, and an index of what is in them.

The index leads from titles, figures of the trade, walls, levels and ways of dancing to the pages of the dances.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from softshoe.dance.footwork import wall_events
from softshoe.errors import OutputError
from softshoe.render.look import palette
from softshoe.render.page import BEADS_A_ROW, SMALLEST_PT, WORDS_PT, margins
from softshoe.render.sheet import CLOSER, sheet_values
from softshoe.render.sheet_content import Around, dance_words, sheet_page
from softshoe.render.sheet_names import patterns_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.dance import Dance
    from softshoe.render.page import Edition, Paper

PARTS = ("By title", "By figure", "By kind")
WALLS = {1: "one wall", 2: "two walls", 4: "four walls"}


def booklet_pdf(
    dances: Sequence[Dance], *, title: str = "", maker: str = "", edition: Edition = "normal", paper: Paper = "a4",
    bound: bool = False, around: Around | None = None,
) -> bytes:  # fmt: skip
    """Return the dances in their order as one PDF tagged to PDF/UA-1, with contents, index and bookmarks.

    ``bound`` leaves room for the holes of a binder and begins each dance on a right-hand page. Raises OutputError when
    there is no dance, or when the booklet can't be set.
    """
    from softshoe.render.pdf import pdf

    if not dances:
        raise OutputError("the booklet", "it has no dances", "none was named", "name at least one sheet")
    laid = replace(around or Around(), beads_a_row=BEADS_A_ROW[edition])
    sheets = [_sheet(dance, laid, edition, paper, bound=bound) for dance in dances]
    size = WORDS_PT[edition]
    return pdf("booklet.typ", {
        "title": title or "Our dances", "under": _how_many(dances), "author": maker, "paper": paper,
        "margin": margins(bound), "bound": bound, "colour": palette(), "size_pt": size, "title_pt": size * 2,
        "small_pt": max(SMALLEST_PT, size * 0.84), "dances": sheets, "index": index_of(dances),
    })  # fmt: skip


def _sheet(dance: Dance, around: Around, edition: Edition, paper: Paper, *, bound: bool) -> dict[str, Any]:
    values = sheet_values(sheet_page(dance, None, None, around), edition=edition, paper=paper, bound=bound)
    return values | CLOSER[edition] | {"short": dance_words(dance)[0]}


def _how_many(dances: Sequence[Dance]) -> str:
    return "One dance." if len(dances) == 1 else f"{len(dances)} dances."


def index_of(dances: Sequence[Dance]) -> list[dict[str, Any]]:
    """Return the index in its parts: titles, figures, kinds of dance; each with its words in the order of the alphabet
    and the places of the dances (from 0) they lead to."""
    found: dict[str, dict[str, list[int]]] = {part: {} for part in PARTS}
    for place, dance in enumerate(dances):
        for part, said in zip(PARTS, _entries(dance), strict=True):
            for words in dict.fromkeys(said):
                found[part].setdefault(words, []).append(place)
    return [
        {"name": part, "entries": [{"words": words, "dances": rows[words]} for words in sorted(rows, key=str.casefold)]}
        for part, rows in found.items()
        if rows
    ]


def _entries(dance: Dance) -> tuple[list[str], list[str], list[str]]:
    """Everything under which a dance may be looked for, part by part."""
    events = wall_events(dance)
    kinds = ["seated" if dance.seated else "standing", f"{dance.counts} counts", WALLS.get(dance.walls or 0, "")]
    kinds += ["waltz" if dance.metre == "3/4" else "", f"for {dance.level}s" if dance.level else ""]
    kinds += ["with a tag" if dance.tags else "", "with a restart" if dance.restarts else ""]
    figures = [name for section in dance.sections for name in patterns_in(dance, section, events)]
    return [dance.title or "A dance without a name"], figures, [words for words in kinds if words]
