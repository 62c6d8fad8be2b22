"""The studio of an association: who was invited comes in, sees what is theirs, and goes again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from starlette.testclient import TestClient

from softshoe.repertoire import accounts as book
from softshoe.repertoire.store import Repertoire
from softshoe.studio.association import association
from softshoe.wording.read import read

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.repertoire.accounts import Role

PASSWORD = "kettle moss lantern four"
TIN = "Tin Kettle, 8 counts\n1-4 Vine right, touch\n5-8 Vine left, touch"


@pytest.fixture
def kept(shared_database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Repertoire:
    monkeypatch.setattr(book, "MEMORY_KIB", 64)
    return Repertoire.at(tmp_path, url=shared_database)


def browser(kept: Repertoire) -> TestClient:
    return TestClient(association(kept.folder, kept, hosts=["dances.example"]), base_url="https://dances.example",
                      follow_redirects=False)  # fmt: skip


def joined(kept: Repertoire, name: str, role: Role = "leader") -> TestClient:
    with kept.writing() as base:
        code = book.invite(base, role=role)
    person = browser(kept)
    assert code in person.get("/join", params={"code": code}).text
    answer = person.post("/join", data={"code": code, "name": name, "password": PASSWORD})
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    assert {"HttpOnly", "Secure", "SameSite=strict"} <= set(answer.headers["set-cookie"].split("; "))
    return person


def test_who_was_invited_comes_in_sees_her_own_dances_and_goes(kept: Repertoire) -> None:
    assert browser(kept).get("/").headers["location"] == "/enter"
    anna, bert = joined(kept, "Anna"), joined(kept, "Bert")
    assert anna.get("/").status_code == 200
    with kept.reading() as base:
        mine = kept.seen_by(book.account_named(base, "Anna")).keep(TIN, read(TIN))
    assert "Tin Kettle" in anna.get(f"/dance/{mine.dance}/write").text
    assert bert.get(f"/dance/{mine.dance}/write").status_code == 404
    anna.post("/leave")
    assert anna.get("/").headers["location"] == "/enter"
    assert anna.post("/enter", data={"name": "Anna", "password": PASSWORD}).status_code == 303
    assert anna.get("/").status_code == 200


def test_a_wrong_password_a_used_code_and_another_page_are_refused_in_plain_words(kept: Repertoire) -> None:
    person = browser(kept)
    refused = person.post("/enter", data={"name": "<Anna>", "password": "wrong"})
    assert refused.status_code == 403
    assert "belong together" in refused.text
    assert "&lt;Anna&gt;" in refused.text
    assert person.post("/join", data={"code": "x", "name": "A", "password": PASSWORD}).status_code == 400
    foreign = {"sec-fetch-site": "cross-site"}
    assert person.post("/enter", data={"name": "Anna", "password": PASSWORD}, headers=foreign).status_code == 403
    assert person.get("/enter", headers={"host": "other.example"}).status_code == 400
    assert person.post("/enter", data={"name": "x" * 9000}).status_code == 413
    assert "content-security-policy" in person.get("/enter").headers
