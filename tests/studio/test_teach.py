"""Teaching: the lesson in words, kept as she changes it, previewed at once; what is ordered comes, and only that."""

from __future__ import annotations

import threading
import wave
from io import BytesIO
from typing import TYPE_CHECKING, Any

import pytest

from softshoe.jobs.book import asked_of
from softshoe.studio import app, orders, spoken
from softshoe.studio.chosen import Wish, choose_wishes

if TYPE_CHECKING:
    from starlette.testclient import TestClient

    from softshoe.jobs.door import Door
    from softshoe.studio.desk import Desk

HTML = "<script>alert(1)</script>"


def lesson(person: TestClient, dance: str) -> dict[str, Any]:
    view: dict[str, Any] = person.get(f"/dance/{dance}/teach/lesson").json()
    return view


def test_a_lesson_stands_ready_without_a_song(person: TestClient, dance: str) -> None:
    view = lesson(person, dance)
    assert view["words"].startswith("lesson: Tin Kettle")
    assert view["wrong"] is None
    plan = view["plan"]
    assert len(plan["passages"]) > 4
    assert plan["passages"][-1]["end"] == plan["end"]
    starts = [one["start"] for one in plan["passages"]]
    assert starts == sorted(starts)


def test_words_that_were_changed_are_kept_and_said_on_their_count(person: TestClient, dance: str) -> None:
    words = lesson(person, dance)["words"]
    first = next(line for line in words.splitlines() if line.startswith("1: "))
    changed = words.replace(first, "1: heel out", 1)
    view = person.post(f"/dance/{dance}/teach/words", json={"words": changed}).json()
    assert view["wrong"] is None
    assert any("heel out" in caption[2] for caption in view["plan"]["captions"])
    assert lesson(person, dance)["words"] == changed


def test_what_can_t_be_read_is_told_with_its_line_and_kept_all_the_same(person: TestClient, dance: str) -> None:
    words = lesson(person, dance)["words"] + "\nthis has no colon"
    view = person.post(f"/dance/{dance}/teach/words", json={"words": words}).json()
    assert view["plan"] is None
    assert view["line"] == len(words.splitlines())
    assert view["wrong"]["mend"]
    assert lesson(person, dance)["words"] == words


def test_a_lesson_is_as_long_as_asked(person: TestClient, dance: str) -> None:
    short = person.post(f"/dance/{dance}/teach/anew", json={"minutes": 2}).json()["plan"]["end"]
    long = person.post(f"/dance/{dance}/teach/anew", json={"minutes": 6}).json()["plan"]["end"]
    assert short < long
    assert person.post(f"/dance/{dance}/teach/anew", json={"minutes": 1000}).status_code == 400


def test_every_motion_of_the_lesson_can_be_seen(person: TestClient, dance: str) -> None:
    rows = lesson(person, dance)["plan"]["rows"]
    for motion in sorted({row[8] for row in rows if row[8]})[:3]:
        asked = {"motion": motion, "first": "0", "last": "1"}
        assert person.get(f"/dance/{dance}/teach/figure", params=asked).json()["frames"]
    assert person.get(f"/dance/{dance}/teach/figure", params=asked | {"motion": HTML}).status_code == 404


def test_what_is_ordered_is_a_job_with_her_own_run_and_words(
    person: TestClient, desk: Desk, dance: str, door: Door
) -> None:
    words = lesson(person, dance)["words"].replace("lesson: Tin Kettle", "lesson: Tin Kettle, slowly")
    person.post(f"/dance/{dance}/teach/words", json={"words": words})
    job = person.post(f"/dance/{dance}/teach/order", json={"parts": ["sheet"], "kinds": ["seated"]}).json()["job"]
    assert door.told(job).kind == "make"
    folder = desk.home / "studio" / "made" / dance
    assert (folder / "lesson.txt").read_text("utf-8") == words
    assert (folder / "run.json").is_file()
    told = person.get(f"/dance/{dance}/teach/jobs").json()["jobs"]
    assert [(one["job"], one["dance"], one["state"]) for one in told] == [(job, dance, "waiting")]
    again = person.post(f"/dance/{dance}/teach/order", json={"parts": ["sheet"], "kinds": ["seated"]}).json()["job"]
    assert again == job


def test_work_that_was_cut_short_is_taken_up_when_the_studio_is_started_again(
    desk: Desk, door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken = threading.Event()
    monkeypatch.setattr(app, "SETTLED_S", 0.0)
    monkeypatch.setattr(orders, "door_of", lambda _: taken.set())
    app.studio(desk.home)
    assert taken.wait(20)


def test_a_job_is_stopped_and_gone_on_with(person: TestClient, dance: str, door: Door) -> None:
    job = person.post(f"/dance/{dance}/teach/order", json={"parts": ["sheet"]}).json()["job"]
    person.post(f"/dance/{dance}/teach/stop", json={"job": job})
    assert door.told(job).state == "stopped"
    person.post(f"/dance/{dance}/teach/again", json={"job": job})
    assert door.told(job).state == "waiting"
    assert person.post(f"/dance/{dance}/teach/stop", json={"job": "nobody"}).status_code == 400


@pytest.mark.parametrize("said", [{"parts": []}, {"parts": ["all"]}, {"parts": ["sheet"], "kinds": ["../x"]},
                                  {"parts": ["sheet"], "sound": "loud"}])  # fmt: skip
def test_an_order_of_nothing_known_is_told(person: TestClient, dance: str, door: Door, said: dict[str, Any]) -> None:
    assert person.post(f"/dance/{dance}/teach/order", json=said).status_code == 400
    assert not door.all()


def test_what_was_made_is_given_out_and_nothing_else_is(person: TestClient, desk: Desk, dance: str) -> None:
    folder = desk.home / "studio" / "made" / dance
    folder.mkdir(parents=True)
    (folder / "index.html").write_text("<style>p{}</style><p>All of it</p>", encoding="utf-8")
    (folder / ".ledger.json").write_text("{}", encoding="utf-8")
    shown = person.get(f"/dance/{dance}/teach/made/index.html")
    assert "script-src 'none'" in shown.headers["content-security-policy"]
    for name in (".ledger.json", "..%2f..%2fsecret", "nothing.pdf", "%2e%2e"):
        assert person.get(f"/dance/{dance}/teach/made/{name}").status_code == 404


@pytest.mark.media
def test_a_part_of_the_lesson_is_heard_with_its_voice_and_lasts_as_long_as_it_does(
    person: TestClient, dance: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(spoken, "done_alone", lambda step: step.work(step, lambda _: None))
    parts = lesson(person, dance)["plan"]["passages"]
    number, part = min(enumerate(parts), key=lambda one: one[1]["end"] - one[1]["start"])
    answer = person.get(f"/dance/{dance}/teach/said/{number}")
    assert answer.status_code == 200
    with wave.open(BytesIO(answer.content)) as sound:
        assert sound.getnframes() / sound.getframerate() == pytest.approx(part["end"] - part["start"], abs=0.002)
    assert person.get(f"/dance/{dance}/teach/said/{number}").content == answer.content


@pytest.mark.parametrize("number", ["99", "-1", "x", "1.5", "..%2f..%2fsecret"])
def test_a_part_that_is_not_there_is_told(person: TestClient, dance: str, number: str) -> None:
    assert person.get(f"/dance/{dance}/teach/said/{number}").status_code == 404


def test_what_she_answered_for_a_group_is_filmed_for_it_with_what_she_put_in_by_hand(
    person: TestClient, desk: Desk, dance: str, door: Door
) -> None:
    choose_wishes(desk, dance, (Wish("Seated", ("seat",)), Wish("Tuesday", ("seat", "overhead"), ("5=clap",))))
    page = person.get(f"/dance/{dance}/teach").text
    assert 'name="own" value="Tuesday"' in page
    assert 'name="own" value="Seated"' not in page
    order = {"parts": ["films"], "kinds": [], "own": ["Tuesday"], "sound": "groove"}
    job = person.post(f"/dance/{dance}/teach/order", json=order).json()["job"]
    asked = asked_of(door._book.row(job))
    assert [(one["name"], one["instead"]) for one in asked["own"]] == [("Tuesday", ["5=clap"])]
    assert person.post(f"/dance/{dance}/teach/order", json=order | {"own": ["Nobody"]}).status_code == 404
