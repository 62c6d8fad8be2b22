"""What is printed besides the step sheet: the floor map, pictures of versions, the booklet, braille."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from render.sheet_dances import HOSTILE, SEATED, STANDING, WALTZ, hostile
from softshoe.adapt.adapt import adapt
from softshoe.dance.footwork import wall_events
from softshoe.errors import OutputError
from softshoe.figure.move import move
from softshoe.render.look import in_guise, palette
from softshoe.render.look_guise import guise_of
from softshoe.render.page import margins
from softshoe.render.sheet import sheet_pdf, sheet_text
from softshoe.render.sheet_booklet import booklet_pdf, index_of
from softshoe.render.sheet_braille import CELLS, LINES, brf
from softshoe.render.sheet_floor import floor_values
from softshoe.render.sheet_pictures import pictures_values
from softshoe.render.sheet_prints import landed

if TYPE_CHECKING:
    from pypdf import PageObject

    from softshoe.figure.motion import Support


def _labels(dance_name: str, number: int) -> dict[str, list[tuple[str, ...]]]:
    dance = {"standing": STANDING, "seated": SEATED, "waltz": WALTZ}[dance_name]
    events = wall_events(dance)
    motion = move(events, counts=float(dance.counts), stance="seated" if dance.seated else "standing", loop=True)
    section = dance.sections[number - 1]
    prints = landed([e for e in events if dance.section_at(e.action.at) == section], section, motion)
    return {side: [p.labels for p in prints if p.side == side] for side in ("left", "right")}


@pytest.mark.parametrize(("name", "number"), [("standing", 1), ("standing", 2), ("seated", 1), ("waltz", 2)])
def test_every_count_on_which_a_foot_lands_stands_on_a_print_of_that_foot(name: str, number: int) -> None:
    dance = {"standing": STANDING, "seated": SEATED, "waltz": WALTZ}[name]
    section = dance.sections[number - 1]
    found = _labels(name, number)
    for side in ("left", "right"):
        mine = [e for e in wall_events(dance) if dance.section_at(e.action.at) == section and e.action.foot]
        landings = sum(e.action.foot.word in (side, "both") for e in mine if e.action.foot)
        assert sum(len(labels) for labels in found[side]) == landings


def test_a_foot_that_comes_back_to_its_place_has_one_print_with_both_counts() -> None:
    assert any(len(labels) > 1 for labels in _labels("seated", 1)["left"])


def test_the_floor_map_says_in_words_what_it_shows_and_ends_with_the_whole_way_of_one_who_travels() -> None:
    standing = floor_values(STANDING, support=None, paper="a4", bound=False, under="")["maps"]
    assert [m["number"] for m in standing] == ["1", "2", "3", "4", ""]
    assert "1 step right to the right side" in standing[0]["picture"]["alt"].casefold()
    assert "90 degrees" in standing[-1]["picture"]["alt"]
    seated = floor_values(SEATED, support=None, paper="a4", bound=False, under="")["maps"]
    assert all(m["number"] for m in seated)


@pytest.mark.parametrize(
    ("support", "colour"), [("chair back", "wood"), ("frame", "rule"), ("wheelchair", "trousers_deep")]
)
def test_what_holds_the_dancer_is_in_every_picture_and_said(support: Support, colour: str) -> None:
    dance = adapt(WALTZ, "arms" if support == "wheelchair" else "supported").dance
    values = pictures_values(dance, support=support, paper="a4", view="mirror", bound=False, under="")
    drawn = [cell["figure"]["svg"] for section in values["sections"] for cell in section["cells"]]
    assert all(palette()[colour] in svg for svg in drawn)
    assert {"chair back": "chair", "frame": "frame", "wheelchair": "wheelchair"}[support] in values["head"]


def test_pictures_show_whom_one_asks_for() -> None:
    with in_guise(guise_of(outfit="dungarees", skin="umber")):
        values = pictures_values(WALTZ, support=None, paper="a4", view="side", bound=False, under="")
        svg = values["sections"][0]["cells"][0]["figure"]["svg"]
        assert palette()["skin"] in svg
    assert palette()["skin"] not in svg
    assert "right side" in values["head"]


def test_a_binder_s_holes_have_room_on_the_inner_edge_of_both_sides() -> None:
    """ISO 838: holes of 6 mm, their middle 12 mm from the edge."""
    assert margins(True)["inside"] >= 12 + 3 + 5
    pages = PdfReader(io.BytesIO(sheet_pdf(STANDING, bound=True))).pages
    first, second = (_leftmost_mm(page) for page in pages)
    assert first > margins(True)["inside"] - 1
    assert second == pytest.approx(margins(True)["outside"], abs=8)


def _leftmost_mm(page: PageObject) -> float:
    """Where the leftmost words of a page begin."""
    found: list[float] = []

    def seen(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            found.append(tm[4] * cm[0] + tm[5] * cm[2] + cm[4])

    page.extract_text(visitor_text=seen)
    return min(found) / 72 * 25.4


def test_the_contents_lead_to_the_pages_of_the_dances_and_the_index_to_what_is_in_them() -> None:
    reader = PdfReader(io.BytesIO(booklet_pdf([SEATED, WALTZ], title="Tuesday", maker="Ida")))
    pages = [page.extract_text() for page in reader.pages]
    starts = {d.title: next(k for k, text in enumerate(pages[1:], 2) if d.title in text) for d in (SEATED, WALTZ)}
    for title, number in starts.items():
        assert title in pages[0]
        assert str(number) in pages[0].split(title)[1]
    assert "Index" in pages[-1]
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.author) == ("Tuesday", "Ida")


def test_the_index_knows_titles_figures_and_kinds() -> None:
    parts = {p["name"]: {e["words"]: e["dances"] for e in p["entries"]} for p in index_of([STANDING, SEATED, WALTZ])}
    assert parts["By title"][WALTZ.title] == [2]
    assert parts["By figure"]["vine"] == [0]
    assert parts["By kind"]["seated"] == [1]
    assert parts["By kind"]["32 counts"] == [0, 1]
    assert list(parts["By figure"]) == sorted(parts["By figure"], key=str.casefold)


def test_a_booklet_takes_any_words_and_needs_a_dance() -> None:
    assert booklet_pdf([hostile(WALTZ)], title=HOSTILE).startswith(b"%PDF")
    with pytest.raises(OutputError, match="no dances"):
        booklet_pdf([])


def test_a_braille_sheet_has_pages_of_twenty_five_lines_of_forty_cells_with_numbers() -> None:
    pages = brf(sheet_text(STANDING)).split("\f")
    assert len(pages) > 1
    for number, page in enumerate(pages, 1):
        lines = page.split("\r\n")
        assert len(lines) == LINES + 1
        assert max(map(len, lines)) <= CELLS
        assert lines[LINES - 1].strip() == "#" + "JABCDEFGHI"[number]
    assert ",LAMPLIGHT ,LADDER" in pages[0]


@given(st.text(max_size=120))
@settings(max_examples=25, deadline=None)
def test_whatever_the_words_braille_stays_on_its_page_and_in_its_code(words: str) -> None:
    for page in brf(words).split("\f"):
        for line in page.split("\r\n"):
            assert len(line) <= CELLS
            assert all(32 <= ord(sign) < 96 for sign in line)
