"""Leading: every count of the class has its second, its move and its place; a second device is let in by a code."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

import pytest
from starlette.testclient import TestClient

from softshoe.errors import SettingError
from softshoe.fit.timeline import timeline
from softshoe.music.document import song_from_json, song_json
from softshoe.studio.chosen import AS_WRITTEN, Wish, choose_wishes
from softshoe.studio.leading import plan_of
from softshoe.studio.plain_run import plain_run
from softshoe.studio.second import MOST_TRIES, Second, second_of
from softshoe.studio.second_app import second_app
from softshoe.wording.read import read

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.studio.desk import Desk

LANTERN = """Lantern Street
16 counts, 4 walls, improver, 110 bpm, intro 16
1-4 Vine right, touch left beside right
5-8 Vine left, quarter turn left on 7, touch right beside left
1-4 Rock right forward, recover, rock right back, recover
5-8 Step right forward, pivot half left, walk right, left
Tag: after wall 2, 4 counts: sway right, left, right, left
Restart: wall 3 after 8 counts
"""
AT, LABEL, BLOCK, SECTION, FACING, TURN, NOW, NEXT, MOTION, MOMENT = range(10)


@pytest.fixture
def lantern(desk: Desk) -> str:
    return desk.new(LANTERN)


@pytest.fixture
def plan(desk: Desk, lantern: str) -> dict[str, Any]:
    return plan_of(desk, lantern, "")


def test_counts_follow_each_other_at_the_dance_s_own_tempo(plan: dict[str, Any]) -> None:
    steps = {round(b[AT] - a[AT], 2) for a, b in itertools.pairwise(plan["rows"])}
    assert {round(60 / 110, 2)} == steps
    assert plan["tempo"] == 110


@pytest.mark.parametrize("about", ["16 counts, 4 walls, 110 bpm", "24 counts, 1 wall, waltz, 3/4, 96 bpm", "8 counts"])
def test_the_plain_rhythm_is_a_song_s_map_that_can_be_kept_and_heard_again(about: str) -> None:
    dance = read(LANTERN.replace("16 counts, 4 walls, improver, 110 bpm, intro 16", about))
    run, song = plain_run(dance)
    assert song_from_json(song_json(song)) == song
    assert len(timeline(dance, run, song)) >= len(run.walls) * min(wall.counts for wall in run.walls)


def test_walls_tags_and_restarts_stand_in_the_order_of_the_dance(plan: dict[str, Any]) -> None:
    told = [(one["kind"], one["wall"], one["counts"], one["looks"], one["cut"]) for one in plan["blocks"][:5]]
    assert told == [
        ("wall", 1, 16, "12:00", False),
        ("wall", 2, 16, "3:00", False),
        ("tag", 2, 4, "6:00", False),
        ("wall", 3, 8, "6:00", True),
        ("wall", 4, 16, "3:00", False),
    ]


def test_every_count_knows_its_move_the_next_one_and_where_she_looks(plan: dict[str, Any]) -> None:
    first = plan["blocks"][0]["first"]
    seventh = plan["rows"][first + 6]
    assert seventh[LABEL] == "7"
    assert (seventh[FACING], seventh[TURN]) == (0, -90)
    assert seventh[NOW].startswith("vine left")
    assert seventh[NEXT] == "rocking chair"
    assert plan["rows"][first + 7][FACING] == 270
    assert plan["sections"][0]["title"] == "Vine right, vine left"


def test_a_version_that_was_wished_for_can_be_led(desk: Desk, lantern: str) -> None:
    choose_wishes(desk, lantern, (Wish("Tuesday", ("seat",)),))
    led = plan_of(desk, lantern, "Tuesday")
    assert led["seated"]
    assert {row[FACING] for row in led["rows"]} == {0}
    assert plan_of(desk, lantern, AS_WRITTEN)["seated"] is False


def test_a_version_that_is_not_there_is_told(person: TestClient, lantern: str) -> None:
    answer = person.get(f"/dance/{lantern}/lead/plan", params={"version": "<b>nobody</b>"})
    assert answer.status_code == 404


def test_the_figure_of_every_motion_that_the_plan_names_can_be_had(person: TestClient, lantern: str) -> None:
    rows = person.get(f"/dance/{lantern}/lead/plan").json()["rows"]
    motions = {row[MOTION] for row in rows if row[MOTION]}
    assert {"standing:dance", "standing:tag0"} <= motions
    asked = {"version": "", "motion": "standing:tag0", "first": "0", "last": "1"}
    told = person.get(f"/dance/{lantern}/lead/figure", params=asked).json()
    assert len(told["frames"]) == told["a_count"] + 1
    for wrong in ({"motion": "standing:../x"}, {"first": "9", "last": "3"}, {"last": "99999"}, {"first": "-1"}):
        assert person.get(f"/dance/{lantern}/lead/figure", params=asked | wrong).status_code == 404


def test_the_worker_of_the_page_may_serve_every_page_and_nothing_else_may(person: TestClient) -> None:
    assert person.get("/own/offline.js").headers["service-worker-allowed"] == "/"
    assert "service-worker-allowed" not in person.get("/own/ask.js").headers


@pytest.fixture
def second(desk: Desk) -> Iterator[Second]:
    one = second_of(desk)
    one.open(port=0)
    yield one
    one.close()


def device(second: Second, host: str = "192.168.1.20:5078") -> TestClient:
    return TestClient(second_app(second), base_url="http://" + host, raise_server_exceptions=False)


def digits(second: Second) -> str:
    assert second.code is not None
    return second.code.digits


def test_nothing_listens_to_the_network_until_she_asks(person: TestClient, lantern: str, desk: Desk) -> None:
    assert person.get(f"/dance/{lantern}/lead/second").json() == {
        "open": False, "port": 0, "code": "", "left": 0, "addresses": [], "square": [], "devices": 0,
    }  # fmt: skip
    told = person.post(f"/dance/{lantern}/lead/second/in", json={}).json()
    assert told["open"]
    assert len(told["code"]) == 6
    assert person.post(f"/dance/{lantern}/lead/second/away", json={}).json()["open"] is False
    assert second_of(desk).port == 0


def test_a_device_with_the_code_sees_what_is_led_and_is_heard(second: Second, person: TestClient, lantern: str) -> None:
    phone = device(second)
    assert "pair.js" in phone.get("/").text
    assert phone.post("/pair", json={"code": digits(second)}).json() == {"in": True}
    assert "second.js" in phone.get("/").text
    led = {"version": AS_WRITTEN, "running": True, "pos": 4.6, "at": 1000.0, "rate": 0.85}
    assert person.post(f"/dance/{lantern}/lead/led", json=led).status_code == 200
    assert phone.get("/plan").json()["title"] == "Lantern Street"
    assert phone.post("/do", json={"do": "go"}).json() == {"heard": 0}
    assert phone.get("/clock").json()["now"] > 0


def test_without_the_code_there_is_nothing_but_the_question(second: Second) -> None:
    stranger = device(second)
    for address in ("/plan", "/told", "/clock"):
        assert stranger.get(address).status_code == 403
    assert stranger.post("/do", json={"do": "go"}).status_code == 403
    assert stranger.get("/own/second.js").status_code == 404
    for address in (
        "/dance/0/write",
        "/keys",
        "/own/lead.js",
        "/own/..%2ferrors.py",
        "/own/keys.csv",
        "/fonts/README.md",
    ):
        assert stranger.get(address).status_code == 404


def test_a_code_is_good_once_and_for_a_few_tries(second: Second) -> None:
    right = digits(second)
    wrong = f"{(int(right) + 1) % 1_000_000:06}"
    for _ in range(MOST_TRIES):
        assert device(second).post("/pair", json={"code": wrong}).status_code == 403
    assert device(second).post("/pair", json={"code": right}).status_code == 403
    second.open()
    assert device(second).post("/pair", json={"code": digits(second)}).status_code == 200
    with pytest.raises(SettingError):
        second.let_in(right)


def test_a_code_is_good_for_five_minutes(second: Second) -> None:
    assert second.code is not None
    second.code.until -= 301
    assert device(second).post("/pair", json={"code": digits(second)}).status_code == 403
    assert second.shown()["code"] == ""


def test_devices_that_were_sent_away_are_strangers_again(second: Second) -> None:
    phone = device(second)
    phone.post("/pair", json={"code": digits(second)})
    assert phone.get("/clock").status_code == 200
    second.close()
    assert phone.get("/clock").status_code == 403


@pytest.mark.parametrize("host", ["evil.example:5078", "localhost:5078", "192.168.1.20.evil.example"])
def test_a_second_device_is_answered_at_numbers_alone(second: Second, host: str) -> None:
    assert device(second, host).get("/").status_code == 400


def test_another_page_can_t_press_anything(second: Second) -> None:
    phone = device(second)
    phone.post("/pair", json={"code": digits(second)})
    assert phone.post("/do", json={"do": "go"}, headers={"origin": "http://evil.example"}).status_code == 400


@pytest.mark.parametrize("body", [b"", b'{"do": "rm"}', b'{"code": 3}', b"\xff" * 50])
def test_nonsense_is_told(second: Second, body: bytes) -> None:
    phone = device(second)
    phone.post("/pair", json={"code": digits(second)})
    assert phone.post("/do", content=body).status_code == 403
