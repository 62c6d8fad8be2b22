"""A studio over an empty folder, and the person whose browser it let in."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from starlette.testclient import TestClient

from softshoe.jobs.book import Book
from softshoe.jobs.door import Door
from softshoe.studio import orders
from softshoe.studio.app import app
from softshoe.studio.desk import Desk
from softshoe.studio.entry import entry_of

if TYPE_CHECKING:
    from pathlib import Path

SHEET = """Tin Kettle
8 counts, 1 wall, beginner, seated, 100 bpm, intro 16
1-4 R heel forward, R home, L heel forward, L home
5-8 hold
"""


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    """A desk whose door to long work has nobody behind it: what is ordered waits."""
    monkeypatch.setattr(orders, "_DOORS", {(tmp_path, ""): Door(Book.at(tmp_path), None, None)})
    return Desk.at(tmp_path)


@pytest.fixture
def door(desk: Desk) -> Door:
    return orders.door_of(desk)


def client_of(desk: Desk, *, faults: bool = True) -> tuple[TestClient, str]:
    """A browser that nobody let in yet, and the link that would."""
    entry = entry_of(desk.home / "studio")
    client = TestClient(
        app(desk, entry), base_url="http://127.0.0.1", follow_redirects=False, raise_server_exceptions=faults
    )
    return client, entry.link


@pytest.fixture
def person(desk: Desk) -> TestClient:
    client, link = client_of(desk)
    assert client.get("/", params={"key": link}).status_code == 303
    return client


@pytest.fixture
def dance(desk: Desk) -> str:
    """The identity of a dance that was begun."""
    return desk.new(SHEET)


@pytest.fixture
def anyio_backend() -> str:
    return "asyncio"
