"""Keeping: found while typing, texts compared in counts, sheets taken in, booklets ordered, backed up and put back."""

from __future__ import annotations

import zipfile
from io import BytesIO
from typing import TYPE_CHECKING, Any

import pytest

from studio.conftest import SHEET

if TYPE_CHECKING:
    from starlette.testclient import TestClient

    from softshoe.jobs.door import Door
    from softshoe.studio.desk import Desk

HOSTILE = (
    "<script>alert(1)</script>\n8 counts, 1 wall, seated\n1-4 R heel forward, R home, L heel forward, L home\n5-8 hold"
)


@pytest.fixture
def kept(desk: Desk, dance: str) -> str:
    """A dance with two texts."""
    desk.keep(dance)
    draft = desk.draft(dance)
    draft.write("a", SHEET.replace("5-8 hold", "5-8 clap, clap, hold, hold"), made_from=draft.tip)
    desk.keep(dance)
    return dance


def found(person: TestClient, q: str) -> dict[str, Any]:
    told: dict[str, Any] = person.get("/keep/found", params={"q": q}).json()
    return told


def test_a_dance_is_found_by_what_it_is_while_the_words_come(person: TestClient, kept: str) -> None:
    for words in ("", "tin", "seated", "ket", "heel"):
        assert [one["dance"] for one in found(person, words)["hits"]] == [kept]
    assert found(person, "four walls")["hits"] == []
    assert "kettel" in found(person, "kettel")["told"][0]


@pytest.mark.parametrize("q", ['"', "'); drop table dance", "x" * 5000, "\x00", "* - :", HOSTILE])
def test_whatever_is_asked_is_answered(person: TestClient, kept: str, q: str) -> None:
    assert person.get("/keep/found", params={"q": q}).status_code == 200


def test_texts_are_told_with_what_changed_in_counts(person: TestClient, kept: str) -> None:
    told = person.get("/keep/texts", params={"dance": kept}).json()
    assert [text["number"] for text in told["texts"]] == [1, 2]
    assert any("counts 5" in line for line in told["texts"][1]["changed"])
    beside = person.get("/keep/compare", params={"dance": kept, "one": "1", "other": "2"}).json()
    assert beside["changed"] == told["texts"][1]["changed"]
    assert beside["words"][0] == SHEET
    assert person.get("/keep/compare", params={"dance": kept, "one": "1", "other": "9"}).status_code == 404
    assert person.get("/keep/texts", params={"dance": "nobody"}).status_code == 400


def test_what_she_says_about_a_dance_stands_beside_it_and_is_found_by_it(person: TestClient, kept: str) -> None:
    for said in ({"label": "#Christmas"}, {"note": "slower for the Monday group"},
                 {"day": "2026-05-03", "group": "Tuesday group"}):  # fmt: skip
        answer = person.post("/keep/say", json={"dance": kept, **said})
    beside = answer.json()
    assert beside == person.get("/keep/texts", params={"dance": kept}).json()["beside"]
    assert beside["labels"] == ["Christmas"]
    assert beside["danced"] == ["2026-05-03, Tuesday group"]
    assert [note["words"] for note in beside["notes"]] == ["slower for the Monday group"]
    assert [one["dance"] for one in found(person, "#christmas")["hits"]] == [kept]
    assert found(person, "never danced")["hits"] == []
    assert person.post("/keep/say", json={"dance": kept, "unlabel": "christmas"}).json()["labels"] == []


@pytest.mark.parametrize("said", [{"label": "a,b;c"}, {"label": "x" * 41}, {"day": "yesterday"}, {"day": "2026-13-40"}])
def test_what_can_t_be_said_about_a_dance_is_told_and_changes_nothing(
    person: TestClient, kept: str, said: dict[str, str]
) -> None:
    before = person.get("/keep/texts", params={"dance": kept}).json()["beside"]
    answer = person.post("/keep/say", json={"dance": kept, **said})
    assert answer.status_code == 400
    assert set(answer.json()) >= {"where", "what", "why", "mend"}
    assert person.get("/keep/texts", params={"dance": kept}).json()["beside"] == before


def test_a_dance_taken_out_lies_in_the_bin_and_comes_back_whole(person: TestClient, kept: str) -> None:
    person.post("/keep/say", json={"dance": kept, "label": "summer"})
    told = person.get("/keep/texts", params={"dance": kept}).json()
    assert [one["dance"] for one in person.post("/keep/remove", json={"dance": kept}).json()["bin"]] == [kept]
    assert found(person, "")["hits"] == []
    assert person.post("/keep/back", json={"dance": kept}).json()["bin"] == []
    assert person.get("/keep/texts", params={"dance": kept}).json() == told
    assert person.post("/keep/back", json={"dance": kept}).status_code == 400


def test_hostile_titles_stay_words(person: TestClient, desk: Desk) -> None:
    desk.keep(desk.new(HOSTILE))
    assert "script>alert(1)<" in found(person, "")["hits"][0]["title"]
    assert "<script>alert" not in person.get("/keep", params={"q": "<script>alert(1)</script>"}).text


def test_sheets_are_sent_one_by_one_and_taken_in_by_a_job(person: TestClient, desk: Desk, door: Door) -> None:
    batch = "ab" * 16
    for name in ("lantern.txt", "../../lantern.txt", "C:\\old\\<b>.txt", ""):
        answer = person.put("/keep/come", params={"batch": batch, "name": name}, content=SHEET.encode())
        assert answer.status_code == 200
    folder = desk.home / "studio" / "incoming" / batch
    assert sorted(path.name for path in folder.iterdir()) == ["2-lantern.txt", "_b_.txt", "lantern.txt", "sheet.txt"]
    job = person.post("/keep/take", json={"batch": batch}).json()["job"]
    assert door.told(job).kind == "import"
    assert person.get("/keep/jobs").json()["jobs"][0]["job"] == job


@pytest.mark.parametrize("batch", ["", "../secret", "ff" * 16])
def test_a_batch_that_was_never_sent_is_told(person: TestClient, door: Door, batch: str) -> None:
    assert person.post("/keep/take", json={"batch": batch}).status_code in (400, 404)


def test_a_sheet_too_large_is_refused(person: TestClient) -> None:
    answer = person.put("/keep/come", params={"batch": "ab" * 16, "name": "big.txt"}, content=b"x" * 20_000_001)
    assert answer.status_code == 413


def test_a_booklet_is_ordered_in_the_order_of_its_marks(person: TestClient, desk: Desk, kept: str, door: Door) -> None:
    other = desk.new(HOSTILE)
    desk.keep(other)
    job = person.post("/keep/booklet", json={"dances": [other, kept], "title": "Tuesday"}).json()["job"]
    assert door.told(job).kind == "booklet"
    folder = next((desk.home / "studio" / "booklets").iterdir())
    assert [path.read_text("utf-8").splitlines()[0] for path in sorted(folder.iterdir())] == [
        HOSTILE.splitlines()[0], "Tin Kettle",
    ]  # fmt: skip
    assert person.post("/keep/booklet", json={"dances": []}).status_code == 400
    assert person.post("/keep/booklet", json={"dances": ["nobody"]}).status_code == 400


def test_only_what_a_job_left_is_given_out(person: TestClient, kept: str, door: Door) -> None:
    job = person.post("/keep/booklet", json={"dances": [kept]}).json()["job"]
    for name in ("booklet.pdf", "..%2f..%2frepertoire.sqlite3", ".ledger.json"):
        assert person.get(f"/keep/out/{job}/{name}").status_code == 404
    assert person.get("/keep/out/nobody/booklet.pdf").status_code == 400


def test_everything_is_backed_up_and_put_back(person: TestClient, desk: Desk, kept: str) -> None:
    answer = person.get("/keep/backup")
    assert "attachment" in answer.headers["content-disposition"]
    assert "repertoire.sqlite3" in zipfile.ZipFile(BytesIO(answer.content)).namelist()
    desk.keep(desk.new(HOSTILE))
    assert found(person, "")["total"] == 2
    assert person.put("/keep/unpack", content=answer.content).json()["told"]
    assert found(person, "")["total"] == 1


@pytest.mark.parametrize("data", [b"", b"no zip", b"PK\x03\x04 cut short"])
def test_what_is_no_backup_changes_nothing(person: TestClient, desk: Desk, kept: str, data: bytes) -> None:
    assert person.put("/keep/unpack", content=data).status_code == 422
    assert found(person, "")["total"] == 1
    assert not list((desk.home / "studio" / "incoming").glob("*.zip"))


def test_only_copies_that_are_listed_can_be_put_back(person: TestClient, kept: str) -> None:
    assert person.post("/keep/restore", json={"name": "../../etc/passwd"}).status_code == 404
    copies = person.get("/keep/copies").json()["copies"]
    assert all(one["bytes"] > 0 for one in copies)
