"""Writing: words are read as they come, kept as they come, and stay words whatever is in them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from studio.conftest import SHEET

if TYPE_CHECKING:
    from starlette.testclient import TestClient

    from softshoe.studio.desk import Desk

HTML = {"accept": "text/html"}


def wrote(
    person: TestClient, dance: str, words: str, made_from: int, window: str = "a", also: int = 0
) -> dict[str, Any]:
    said = {"window": window, "made_from": made_from, "words": words, "also": also}
    answer = person.post(f"/dance/{dance}/write/stroke", json=said)
    assert answer.status_code == 200, answer.text
    told: dict[str, Any] = answer.json()
    return told


def test_a_new_dance_begins_empty_and_is_found_at_the_beginning_again(person: TestClient) -> None:
    address = person.post("/start/new").headers["location"]
    assert person.get(address).status_code == 200
    wrote(person, address.split("/")[2], "Copper Lane\n1-4 Vine right, touch", 1)
    assert "Copper Lane" in person.get("/").text


def test_a_sheet_is_read_line_by_line(person: TestClient, dance: str) -> None:
    view = person.post(f"/dance/{dance}/write/read", json={"words": SHEET}).json()
    assert view["title"] == "Tin Kettle"
    assert [(one["line"], [step["label"] for step in one["events"]]) for one in view["lines"]] == [
        (3, ["1", "2", "3", "4"]), (4, ["5", "6", "7", "8"]),
    ]  # fmt: skip
    assert view["lines"][0]["events"][0]["weight"] == "seat"


@pytest.mark.parametrize("words", ["", "   ", "no dance at all", "\x00", "1", "&" * 500])
def test_whatever_is_typed_is_read_without_a_failure(person: TestClient, dance: str, words: str) -> None:
    assert person.post(f"/dance/{dance}/write/read", json={"words": words}).status_code == 200


def test_what_was_written_is_there_when_the_page_is_opened_again(person: TestClient, dance: str) -> None:
    told = wrote(person, dance, SHEET + "Mind the chairs.", 1)
    page = person.get(f"/dance/{dance}/write").text
    assert "Mind the chairs." in page
    assert f'data-at="{told["at"]}"' in page


def test_two_windows_are_told_of_each_other_and_one_press_settles_it(person: TestClient, dance: str) -> None:
    mine = wrote(person, dance, SHEET.replace("hold", "clap"), 1, "a")
    theirs = wrote(person, dance, SHEET.replace("hold", "march"), 1, "b")
    assert mine["beside"] is None
    assert theirs["beside"]["differences"] == ["line 4", "  was: 5-8 march", "  now: 5-8 clap"]
    settled = wrote(person, dance, SHEET.replace("hold", "march"), theirs["at"], "b", also=theirs["beside"]["at"])
    assert settled["beside"] is None


def test_hostile_words_stay_words(person: TestClient, desk: Desk) -> None:
    dance = desk.new("<script>alert(1)</script>\n{{ 123457*654323 }}</textarea>")
    for address in (f"/dance/{dance}/write", "/"):
        page = person.get(address, headers=HTML).text
        assert "<script>alert" not in page
        assert "&lt;script&gt;" in page
        assert "80780754611" not in page


def test_a_text_is_kept_in_the_repertoire_and_another_one_beside_it(person: TestClient, desk: Desk, dance: str) -> None:
    assert person.post(f"/dance/{dance}/write/keep", json={}).json() == {"number": 1, "how": "new dance"}
    assert person.post(f"/dance/{dance}/write/keep", json={}).json()["how"] == "known"
    wrote(person, dance, SHEET.replace("hold", "clap"), 1)
    assert person.post(f"/dance/{dance}/write/keep", json={}).json() == {"number": 2, "how": "new text"}
    assert [text.number for text in desk.repertoire.dance(dance).texts] == [1, 2]


def test_words_without_a_step_are_not_kept_and_it_is_told_why(person: TestClient, desk: Desk) -> None:
    answer = person.post(f"/dance/{desk.new('only a title')}/write/keep", json={})
    assert answer.status_code == 422
    assert set(answer.json()) == {"where", "what", "why", "mend"}


def test_a_text_that_another_program_kept_is_taken_over_where_nothing_was_written_since(
    desk: Desk, dance: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from softshoe.wording.read import read

    monkeypatch.setattr("softshoe.studio.desk.LOOK_S", 0.0)
    put = desk.keep(dance)
    newer = SHEET.replace("hold", "clap")
    desk.repertoire.edit(dance, newer, read(newer), based_on=(put.text,))
    assert desk.words(dance) == newer


def test_a_sheet_too_long_is_answered_kindly(person: TestClient, dance: str) -> None:
    said = {"window": "a", "made_from": 1, "words": "x" * 300_000}
    assert person.post(f"/dance/{dance}/write/stroke", json=said).status_code == 400
    said["words"] = "x" * 3_000_000
    assert person.post(f"/dance/{dance}/write/stroke", json=said).status_code == 413


@pytest.mark.parametrize(
    "address", ["/dance/nobody/write", f"/dance/{'0' * 32}/write", "/dance/%2e%2e/write", "/nowhere"]
)
def test_what_is_not_there_is_told_in_four_parts_as_a_page_and_as_json(person: TestClient, address: str) -> None:
    page = person.get(address, headers=HTML)
    assert page.status_code == 404
    assert "<h1>" in page.text
    assert person.get(address).json()["mend"]


@pytest.mark.parametrize("body", [b"", b"[]", b'{"words": 3}', b"\xff", b"[" * 5000])
def test_a_body_that_is_nonsense_is_told(person: TestClient, dance: str, body: bytes) -> None:
    assert person.post(f"/dance/{dance}/write/read", content=body).status_code == 400
