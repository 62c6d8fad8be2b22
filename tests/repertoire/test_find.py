"""Dances are found by what one remembers of them, and what can't be used of a query is told."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repertoire.queries import QUERIES, SHEETS, TODAY, filled
from softshoe.base import open_sqlite
from softshoe.repertoire.asked import asked
from softshoe.repertoire.facts import facts_of, steps_named
from softshoe.repertoire.find import Found, find
from softshoe.repertoire.store import Repertoire
from softshoe.wording.read import read

PIECES = [
    *"aé#:*^(-'\"\x00½🎵",
    " ",
    " no ",
    " has ",
    " under ",
    "110",
    " walls",
    " danced in ",
    "may",
    " fits ",
    " called ",
    "vine",
]


@cache
def folder(place: str) -> Repertoire:
    repertoire = Repertoire.at(Path(place))
    filled(repertoire)
    return repertoire


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Repertoire:
    return folder(str(tmp_path_factory.mktemp("kept")))


def titles(found: Found) -> list[str]:
    return [hit.title for hit in found.hits]


@pytest.mark.parametrize(("query", "there"), QUERIES)
def test_a_query_finds_what_it_says(kept: Repertoire, query: str, there: list[str]) -> None:
    found = find(kept, query, today=TODAY)
    assert sorted(titles(found)) == there
    assert found.told == ()


@pytest.mark.parametrize(
    ("query", "there"), [("kettel", "Tin Kettle"), ("montrey", "Mill Race"), ("bareg", "Barge Waltz")]
)
def test_a_slip_of_the_fingers_is_led_home_and_told(kept: Repertoire, query: str, there: str) -> None:
    found = find(kept, query)
    assert titles(found)[0] == there
    assert f"“{query}”: looked for" in found.told[0]


def test_a_slip_in_a_step_s_name_is_led_home_and_told(kept: Repertoire) -> None:
    found = find(kept, "has a montrey")
    assert titles(found) == ["Mill Race"]
    assert found.told == ("no step is called “montrey”: looked for “monterey”",)


def test_a_word_that_no_sheet_holds_is_told_and_the_rest_is_looked_for(kept: Repertoire) -> None:
    found = find(kept, "xylophone seated")
    assert titles(found) == ["Café Quai"]
    assert found.told == ("no kept sheet has the word “xylophone”: it was left out",)
    assert find(kept, "xylophone").hits == ()


def test_every_beginning_of_a_title_finds_it_while_it_is_typed(kept: Repertoire) -> None:
    for end in range(1, len("Tin Kettle") + 1):
        assert "Tin Kettle" in titles(find(kept, "Tin Kettle"[:end]))


def test_a_found_dance_shows_the_line_that_was_meant(kept: Repertoire) -> None:
    assert find(kept, "heel").hits[0].line == "1-2 Heel right forward, together"


def test_fewer_are_shown_than_there_are_and_the_number_is_told(kept: Repertoire) -> None:
    found = find(kept, "", most=2)
    assert (len(found.hits), found.total) == (2, 5)


def test_a_song_that_is_not_kept_is_told(kept: Repertoire) -> None:
    assert find(kept, "seated fits Copper Lane").told == ("no kept song is called “Copper Lane”",)


@pytest.mark.parametrize(
    "query", ["heel-toe", "step: right", "O'Neil", '"', "*", "a AND", "'; drop table dance; --", "NEAR(", "^"]
)
def test_no_words_can_break_the_search(kept: Repertoire, query: str) -> None:
    find(kept, query)
    assert find(kept, "").total == 5


@given(st.lists(st.sampled_from(PIECES), max_size=12).map("".join))
def test_any_query_is_read(query: str) -> None:
    read = asked(query, today=TODAY)
    assert all(read.told)
    assert all(all(phrase) for phrase in (*read.words, *read.title, *read.without))


@given(st.lists(st.sampled_from(PIECES), max_size=8).map("".join))
def test_any_query_is_answered(query: str) -> None:
    found = find(folder.__wrapped__.kept, query)  # type: ignore[attr-defined]
    assert len(found.hits) <= 5


@pytest.fixture(scope="module", autouse=True)
def _known(kept: Repertoire) -> None:
    folder.__wrapped__.kept = kept  # type: ignore[attr-defined]


def test_what_the_feet_do_has_a_name_even_where_the_sheet_has_none() -> None:
    words = SHEETS["plain"]
    assert "vine" in facts_of(read(words), words).steps
    assert "vine" not in words.casefold()


@pytest.mark.parametrize(("phrase", "name"), [("vines", "vine"), ("jazz boxes", "jazz box"), ("mambo", "side mambo")])
def test_steps_are_named_in_the_plural_and_with_their_family(phrase: str, name: str) -> None:
    assert name in steps_named(tuple(phrase.split()))


def test_days_are_understood_as_people_say_them() -> None:
    def days(query: str) -> tuple[object, object, bool]:
        (one,) = asked(query, today=TODAY).conditions
        return one.low, one.high, one.holds

    assert days("danced last month") == ("2026-10-01", "2026-10-31", True)
    assert days("danced in December") == ("2025-12-01", "2025-12-31", True)
    assert days("not danced since 3 May") == ("2026-05-03", None, False)
    assert days("danced before 2025-02") == (None, "2025-01-31", True)
    assert days("danced on 31 February") == (None, None, True)


def test_the_found_are_read_without_writing_a_thing(kept: Repertoire) -> None:
    base = open_sqlite(kept.path, read_only=True)
    before = base.value("pragma data_version")
    find(kept, "vine")
    assert base.value("pragma data_version") == before
    base.close()
