"""The studio answers its own person on this machine and nobody else, whatever is pasted."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest
from starlette.testclient import TestClient

from softshoe.studio.app import app

KEY = "a-key-of-this-start"
SHEET = """Tin Kettle
8 counts, 1 wall, beginner, seated, 100 bpm, intro 16
1-4 R heel forward, R home, L heel forward, L home
5-8 hold
"""


@pytest.fixture
def stranger() -> TestClient:
    return TestClient(app(key=KEY), base_url="http://127.0.0.1", follow_redirects=False)


@pytest.fixture
def person(stranger: TestClient) -> TestClient:
    assert stranger.get("/", params={"key": KEY}).status_code == 303
    return stranger


def post(client: TestClient, words: str, **headers: str) -> tuple[int, str]:
    answer = client.post("/read", content=urlencode({"words": words}), headers=headers)
    return answer.status_code, answer.text


def test_without_this_start_s_key_nothing_is_shown(stranger: TestClient) -> None:
    assert stranger.get("/").status_code == 403
    assert stranger.get("/", params={"key": "wrong"}).status_code == 403


def test_another_name_for_this_machine_is_refused(person: TestClient) -> None:
    assert person.get("/", headers={"host": "evil.example"}).status_code == 400


@pytest.mark.parametrize("headers", [{"sec-fetch-site": "cross-site"}, {"origin": "http://evil.example"}])
def test_another_page_can_t_make_it_read(person: TestClient, headers: dict[str, str]) -> None:
    assert post(person, SHEET, **headers)[0] == 403


def test_a_sheet_is_read_beside_its_words(person: TestClient) -> None:
    status, page = post(person, SHEET)
    assert status == 200
    assert "Tin Kettle" in page
    assert "What it says" in page


def test_hostile_words_stay_words(person: TestClient) -> None:
    status, page = post(person, "<script>alert(1)</script>\n{{ 7*7 }}")
    assert status == 200
    assert "<script>" not in page
    assert "{{ 7*7 }}" in page


def test_a_page_too_long_is_answered_kindly(person: TestClient) -> None:
    assert post(person, "x" * 2_000_000)[0] == 413


def test_every_answer_forbids_foreign_content(person: TestClient) -> None:
    policy = person.get("/").headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy


def test_a_font_of_another_name_is_not_found(person: TestClient) -> None:
    assert person.get("/fonts/..%2f..%2ferrors.py").status_code == 404
