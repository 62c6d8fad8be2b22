"""The studio answers its own person on this machine and nobody else."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from softshoe.studio.entry import entry_of
from studio.conftest import client_of

if TYPE_CHECKING:
    from pathlib import Path

    from starlette.testclient import TestClient

    from softshoe.studio.desk import Desk


def test_without_the_link_nothing_is_shown(desk: Desk) -> None:
    stranger, _ = client_of(desk)
    assert stranger.get("/").status_code == 403
    assert stranger.get("/own/style.css").status_code == 403
    assert stranger.get("/", params={"key": "wrong"}).status_code == 403


def test_the_link_opens_once(desk: Desk) -> None:
    first, link = client_of(desk)
    assert first.get("/", params={"key": link}).status_code == 303
    assert first.get("/").status_code == 200
    first.cookies.clear()
    assert first.get("/", params={"key": link}).status_code == 403


def test_a_browser_that_was_let_in_stays_so_when_the_studio_is_started_again(desk: Desk, person: TestClient) -> None:
    again, _ = client_of(desk)
    again.cookies = person.cookies
    assert again.get("/").status_code == 200


def test_the_secret_is_for_its_owner_s_eyes_alone(tmp_path: Path) -> None:
    entry_of(tmp_path)
    assert (tmp_path / "secret").stat().st_mode & 0o077 == 0


def test_another_name_for_this_machine_is_refused(person: TestClient) -> None:
    assert person.get("/", headers={"host": "evil.example"}).status_code == 400
    assert person.get("/", headers={"host": "127.0.0.1.evil.example"}).status_code == 400


@pytest.mark.parametrize(
    "headers", [{"sec-fetch-site": "cross-site"}, {"sec-fetch-site": "same-site"}, {"origin": "http://evil.example"}]
)
def test_another_page_can_t_change_anything(person: TestClient, headers: dict[str, str]) -> None:
    assert person.post("/start/new", headers=headers).status_code == 403
    assert person.post("/start/new").status_code == 303


def test_every_answer_forbids_foreign_content(person: TestClient) -> None:
    for address in ("/", "/own/style.css", "/nothing"):
        policy = person.get(address).headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe-inline" not in policy


@pytest.mark.parametrize(
    "address", ["/own/..%2f..%2ferrors.py", "/fonts/README.md", "/own/frame.html", "/own//etc/passwd"]
)
def test_only_files_meant_for_the_browser_are_given_out(person: TestClient, address: str) -> None:
    assert person.get(address).status_code == 404
