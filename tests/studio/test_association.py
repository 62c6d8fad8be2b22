"""The studio of an association: who was invited comes in, sees what is theirs, and goes again."""

from __future__ import annotations

import re
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

INLINE = re.compile(r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son[a-z]+=|javascript:", re.I)
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


def sign(person: TestClient, page: str = "/group/password") -> str:
    found = re.search(r'name="sign" value="(\w+)"', person.get(page).text)
    assert found
    return found[1]


def test_an_owner_invites_takes_an_invitation_back_and_closes_an_account_with_its_dances(kept: Repertoire) -> None:
    rosa, anna, bert = joined(kept, "Rosa", "owner"), joined(kept, "Anna"), joined(kept, "Bert")
    mark = sign(rosa)
    shown = rosa.post("/group/invite", data={"sign": mark, "role": "reader"}).text
    code = re.findall(r"<kbd>(\S+)</kbd>", shown)[0]
    assert f"https://dances.example/join?code={code}" in shown
    assert code not in rosa.get("/group").text
    key = re.findall(r'name="key" value="(\w+)"', rosa.get("/group").text)[0]
    assert rosa.post("/group/withdraw", data={"sign": mark, "key": key}).headers["location"] == "/group?done=withdrawn"
    assert browser(kept).post("/join", data={"code": code, "name": "Carl", "password": PASSWORD}).status_code == 400
    with kept.reading() as base:
        whose, heir = (book.account_named(base, name).uid for name in ("Anna", "Bert"))
        mine = kept.seen_by(book.account(base, whose)).keep(TIN, read(TIN))
    assert "1 is seen by nobody else" in rosa.get(f"/group/close/{whose}").text
    close = {"sign": mark, "dances": "give", "heir": heir}
    assert "Open again" in rosa.post(f"/group/close/{whose}", data=close).text
    assert anna.get("/").headers["location"] == "/enter"
    assert "Tin Kettle" in bert.get(f"/dance/{mine.dance}/write").text
    assert bert.post("/group/invite", data={"sign": sign(bert), "role": "leader"}).status_code == 400
    assert bert.get(f"/group/close/{whose}").status_code == 400
    with kept.reading() as base:
        me = book.account_named(base, "Rosa").uid
    assert "last owner" in rosa.post("/group/role", data={"sign": mark, "account": me, "role": "reader"}).text


def test_a_leader_shares_takes_back_and_what_she_took_back_is_gone_for_the_others(kept: Repertoire) -> None:
    anna, bert = joined(kept, "Anna"), joined(kept, "Bert")
    with kept.reading() as base:
        mine = kept.seen_by(book.account_named(base, "Anna")).keep(TIN, read(TIN)).dance
    asked = {"sign": sign(anna), "dance": mine}
    assert "seen by nobody else" in anna.get("/group/dances").text
    assert anna.post("/group/share", data=asked | {"to": "group"}).status_code == 303
    assert "Anna’s, shared" in bert.get("/group/dances?which=shared").text
    assert "Tin Kettle" not in bert.get("/group/dances?which=mine").text
    assert bert.post("/group/share", data={"sign": sign(bert), "dance": mine, "to": "me"}).status_code == 400
    stroke = {"window": "b", "made_from": 1, "words": TIN + ", clap"}
    assert bert.get(f"/dance/{mine}/write").status_code == 200
    assert bert.post(f"/dance/{mine}/write/stroke", json=stroke).status_code == 200
    anna.post("/group/share", data=asked | {"to": "me"})
    assert bert.get(f"/dance/{mine}/write").status_code == 404
    assert bert.post(f"/dance/{mine}/write/keep", json={}).status_code == 404


def test_a_password_is_changed_by_who_knows_it_and_forms_of_other_pages_are_refused(kept: Repertoire) -> None:
    anna, elsewhere = joined(kept, "Anna"), browser(kept)
    elsewhere.post("/enter", data={"name": "Anna", "password": PASSWORD})
    new = {"old": PASSWORD, "new": "five quiet ladders sing", "again": "five quiet ladders sing"}
    for sent in (new, new | {"sign": sign(elsewhere)}):
        assert "another page" in anna.post("/group/password", data=sent).text
    mark = {"sign": sign(anna)}
    for wrong in ({"old": "x"}, {"again": "another"}, {"new": "short", "again": "short"}):
        assert 'role="alert"' in anna.post("/group/password", data=new | mark | wrong).text
    assert anna.post("/group/password", data=new | mark).headers["location"] == "/group?done=password"
    assert "is changed" in anna.get("/group?done=password").text
    assert elsewhere.get("/group").headers["location"] == "/enter"
    assert browser(kept).post("/enter", data={"name": "Anna", "password": PASSWORD}).status_code == 403


def test_nothing_that_keep_asks_shows_a_dance_of_somebody_else(kept: Repertoire) -> None:
    anna, bert = joined(kept, "Anna"), joined(kept, "Bert")
    words = TIN.replace("Tin", "Zanzibar")
    with kept.reading() as base:
        mine = kept.seen_by(book.account_named(base, "Anna")).keep(words, read(words)).dance
    asked = (f"/keep/texts?dance={mine}", f"/keep/compare?dance={mine}&one=1&other=1", "/keep/found?q=kettle",
             "/keep/found?q=zanzibr", "/group/dances", "/group/dances?q=kettle")  # fmt: skip
    for path in asked:
        assert "Zanzibar" in anna.get(path).text, path
        assert "zanzibar" not in bert.get(path).text.casefold(), path
    assert bert.post("/keep/booklet", json={"dances": [mine]}).status_code == 400


def test_the_server_s_own_copies_and_its_network_are_nobody_s_to_use(kept: Repertoire) -> None:
    anna = joined(kept, "Anna")
    with kept.reading() as base:
        mine = kept.seen_by(book.account_named(base, "Anna")).keep(TIN, read(TIN)).dance
    for answer in (anna.get("/keep/backup"), anna.put("/keep/unpack", content=b"PK"),
                   anna.post("/keep/restore", json={"name": "x"}),
                   anna.post(f"/dance/{mine}/lead/second/in")):  # fmt: skip
        assert answer.status_code == 400
        assert "group's server" in answer.json()["why"]


@pytest.mark.parametrize("page", ["/group", "/group/dances", "/group/password", "/group/close/"])
def test_a_page_of_the_group_stands_in_the_frame_and_holds_nothing_inline(kept: Repertoire, page: str) -> None:
    rosa = joined(kept, "Rosa", "owner")
    with kept.reading() as base:
        whole = page + (book.account_named(base, "Rosa").uid if page.endswith("/") else "")
    answer = rosa.get(whole)
    assert answer.status_code == 200
    assert not INLINE.search(answer.text)
    assert answer.text.count('aria-current="page"') == answer.text.count("<h1") == 1
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    assert browser(kept).get(whole).headers["location"] == "/enter"


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
