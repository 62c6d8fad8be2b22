"""Whatever is asked of the studio's own addresses: an answer in words, never a fault of the program."""

from __future__ import annotations

import dataclasses
import json
import os
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.routing import Route

from softshoe.music.songmap import Confidence, SongMap
from softshoe.repertoire.songs import keep_song
from softshoe.studio.desk import Desk
from softshoe.studio.table import PLACES
from softshoe.studio.work import Work
from studio.conftest import SHEET, client_of

if TYPE_CHECKING:
    from starlette.testclient import TestClient

# These begin long work, stream without end, open a door to the network, or put a whole backup in place of all.
LEFT_OUT = {
    "demo", "asked", "in", "order", "jobs", "stop", "again", "booklet", "coming", "restore", "unpack", "backup", "take",
}  # fmt: skip
ODD = ["", "0", "-1", "1e9", "٣", "9" * 30, "..", "%2e%2e%2f", "\x00", "a\nb", "<script>", "é" * 40, "mirror", "nan"]
VALUES = st.one_of(
    st.none(), st.booleans(), st.integers(-(2**70), 2**70), st.floats(), st.sampled_from(ODD), st.text(max_size=20),
    st.just(SHEET), st.lists(st.floats(0, 100), max_size=5), st.just([[[]]]), st.just({"a": {"b": 1}}),
    st.sampled_from([0, 1, 2, 0.5, 3, 4]),
)  # fmt: skip


def fields() -> list[str]:
    """The names that the pages' own values have."""
    found = set()
    for place in PLACES:
        module = __import__(f"softshoe.studio.pages.{place.name}", fromlist=["PAGE"])
        kinds = [kind for kind in vars(module).values() if isinstance(kind, type) and dataclasses.is_dataclass(kind)]
        found |= {
            field.name for kind in kinds if kind.__module__ == module.__name__ for field in dataclasses.fields(kind)
        }
    return sorted(found)


NAMES = fields()
ASKED = st.sampled_from([*NAMES, "first", "last", "view", "run", "name", "content", "key"])
BEATS = tuple(0.5 * k for k in range(200))
SONG = SongMap(
    BEATS, BEATS[::4], BEATS[::8], BEATS[::32], BEATS[32], BEATS[-1] + 1, 120.0, 4,
    Confidence(0.9, 0.9, 0.9, 0.9, 0.9, 0.9, (0.9,) * 7),
)  # fmt: skip
BODIES = st.one_of(
    st.binary(max_size=40),
    st.dictionaries(st.sampled_from(NAMES), VALUES, max_size=6).map(lambda said: json.dumps(said).encode()),
    VALUES.map(lambda said: json.dumps(said).encode()),
    st.sampled_from([b'{"words":"\\ud800"}', b"[" * 2000, b"{" * 2000, b"1e999", b'{"back":1e400}']),
)


def addresses(client: TestClient) -> list[tuple[str, str]]:
    """Every address of the app with its method."""
    app: Any = client.app
    return sorted(
        (route.path, method) for route in app.routes if isinstance(route, Route) for method in route.methods or ()
        if route.path.rpartition("/")[2] not in LEFT_OUT
    )  # fmt: skip


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> tuple[TestClient, str]:
    desk = Desk.at(tmp_path_factory.mktemp("fuzz"))
    client, link = client_of(desk, faults=False)
    client.get("/", params={"key": link})
    dance = desk.new(SHEET)
    with desk.repertoire.writing() as base:
        song = keep_song(base, "Copper Lane", SONG)
    desk.works.put(dance, Work(song))
    return client, dance


@settings(suppress_health_check=list(HealthCheck), max_examples=int(os.environ.get("FUZZ", "70")))
@given(data=st.data())
def test_no_request_finds_a_fault_of_the_program(room: tuple[TestClient, str], data: st.DataObject) -> None:
    client, dance = room
    path, method = data.draw(st.sampled_from(addresses(client)))
    said = data.draw(st.sampled_from([dance, dance, dance, "0" * 32, *ODD]))
    address = path.replace("{dance}", said or "x")
    while "{" in address:
        before, _, rest = address.partition("{")
        address = before + (data.draw(st.sampled_from(ODD)) or "x") + rest.partition("}")[2]
    query = data.draw(st.dictionaries(ASKED, st.sampled_from([*ODD, "0", "1", "4"]), max_size=5))
    accept = data.draw(st.sampled_from(["application/json", "text/html", "*/*"]))
    body = data.draw(BODIES) if method in ("POST", "PUT") else None
    answer = client.request(method, address.replace("\n", "%0a").replace("\x00", "%00"), params=query, content=body,
                            headers={"accept": accept})  # fmt: skip
    assert answer.status_code != 500, (method, address, query, body, answer.text)
    assert "Traceback" not in answer.text
