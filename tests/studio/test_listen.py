"""Listening and fitting in the studio: a song comes in and is counted, her word wins, a run is chosen and kept."""

from __future__ import annotations

import json
import os
import time
from typing import TYPE_CHECKING, Any

import pytest

from softshoe.files import PART
from softshoe.repertoire.originals import FOLDER
from softshoe.studio.desk import Desk
from softshoe.studio.failing import TooLargeError
from softshoe.studio.hearing import Hearings
from softshoe.studio.incoming import taken_in
from studio.conftest import SHEET, client_of
from studio.songs import song_wav

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


class Room:
    """A dance in a studio, and the person who works on it."""

    def __init__(self, folder: Path) -> None:
        self.desk = Desk.at(folder)
        self.person, link = client_of(self.desk)
        self.person.get("/", params={"key": link})
        self.dance = self.desk.new(SHEET)

    def get(self, path: str) -> Any:
        return self.person.get(f"/dance/{self.dance}/{path}")

    def post(self, path: str, **said: Any) -> Any:
        return self.person.post(f"/dance/{self.dance}/{path}", json=said)

    def come(self, content: bytes, name: str) -> list[dict[str, Any]]:
        """Send a song and return everything the progress told."""
        answer = self.person.put(f"/dance/{self.dance}/listen/come", params={"name": name}, content=content)
        assert answer.status_code == 200, answer.text
        told = self.get(f"listen/progress?content={answer.json()['content']}").text
        return [json.loads(line[6:]) for line in told.splitlines() if line.startswith("data: ")]


@pytest.fixture(scope="module")
def heard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Room]:
    """A dance with a song that was heard."""
    with pytest.MonkeyPatch.context() as patch:
        folder = tmp_path_factory.mktemp("studio")
        patch.setenv("SOFTSHOE_HOME", str(folder))
        room = Room(folder)
        assert room.come(song_wav(), "../Copper Lane.wav")[-1]["state"] == "heard"
        yield room


@pytest.fixture
def room(desk: Desk) -> Room:
    return Room(desk.home)


def test_a_song_that_comes_in_is_counted_and_drawn(heard: Room) -> None:
    song = heard.get("listen/song").json()
    assert song["title"] == "Copper Lane"
    assert round(song["tempo"]) in (50, 100, 200)
    assert song["lines"]
    assert song["wave"]
    assert "counts" in song["words"]


def test_the_browser_gets_the_pieces_of_the_recording_that_it_plays(heard: Room) -> None:
    sound = heard.person.get(f"/dance/{heard.dance}/listen/sound", headers={"range": "bytes=4-11"})
    assert sound.status_code == 206
    assert sound.headers["content-type"] == "audio/wav"
    assert sound.content[4:] == b"WAVE"


def test_her_word_wins_and_can_be_taken_back_and_said_again(heard: Room) -> None:
    before = heard.get("listen/song").json()
    beats = [at for line in before["lines"] for at in line["beats"]]
    said = heard.post("listen/said", first_count_s=beats[16]).json()
    assert said["first"] == pytest.approx(beats[16], abs=0.01)
    assert heard.post("listen/back", back=1).json()["first"] == before["first"]
    assert heard.post("listen/back", back=-1).json()["first"] == said["first"]
    halved = heard.post("listen/said", times=0.5).json()
    assert halved["tempo"] == pytest.approx(before["tempo"] / 2, rel=0.02)
    assert heard.post("listen/back", back=2).json()["said"] == 0


def test_a_word_that_can_t_be_changes_nothing(heard: Room) -> None:
    before = heard.get("listen/song").json()
    assert heard.post("listen/said", tempo_bpm=100_000.0).status_code == 400
    assert heard.get("listen/song").json() == before


def test_a_run_is_offered_decided_about_chosen_and_kept(heard: Room) -> None:
    told = heard.get("fit/runs").json()
    assert told["runs"]
    assert told["chosen"] == -1
    walls = heard.get("fit/walls?run=0").json()
    danced = [one for one in walls["moments"] if one[1] == "wall"]
    assert danced[0][3] == 0
    assert sum(piece["counts"] for row in walls["rows"] for piece in row["pieces"]) == len(walls["moments"])
    held = heard.post("fit/pin", wall=1, tag=4).json()
    assert held["pins"]["walls"] == {"1": {"counts": None, "tag": 4}}
    assert "tag" in [one[1] for one in heard.get("fit/walls?run=0").json()["moments"]]
    assert heard.post("fit/back", back=1).json()["pins"]["walls"] == {}
    assert heard.post("fit/choose", run=0).status_code == 200
    assert heard.get("fit/runs").json()["chosen"] == 0
    assert heard.desk.run(heard.dance).walls
    assert heard.desk.repertoire.dance(heard.dance).songs[0].title == "Copper Lane"


def test_a_decision_that_can_t_hold_changes_nothing_and_says_why(heard: Room) -> None:
    before = heard.get("fit/runs").json()
    answer = heard.post("fit/pin", wall=1, counts=4000)
    assert answer.status_code == 409
    assert answer.json()["mend"]
    assert heard.get("fit/runs").json() == before


def test_a_run_that_is_not_there_is_told(heard: Room) -> None:
    for number in ("99", "-1", "x", ""):
        assert heard.get(f"fit/walls?run={number}").status_code == 404


def test_without_a_song_fit_and_listen_say_what_to_do(room: Room) -> None:
    for path in ("fit/runs", "listen/song", "listen/sound"):
        answer = room.get(path)
        assert answer.status_code == 404
        assert "listen" in answer.json()["mend"]


def test_broken_sound_is_told_in_words_and_the_studio_goes_on(room: Room) -> None:
    told = room.come(b"RIFF" + bytes(range(256)) * 40, "broken.wav")[-1]
    assert told["state"] == "failed"
    assert set(told["wrong"]) == {"where", "what", "why", "mend"}
    assert room.get("write").status_code == 200


def test_a_hearing_that_fails_in_any_way_ends_and_says_so(tmp_path: Path) -> None:
    hearings, content = Hearings(tmp_path), "a" * 64
    (tmp_path / f"{content}.wave").write_bytes(b"")

    def then() -> None:
        raise OSError("the disk is full")

    hearings.begin(tmp_path / "song.flac", content, "song.flac", then)
    while (now := hearings.told(content)).state == "hearing":
        time.sleep(0.01)
    assert now.state == "failed"
    assert "the disk is full" in str(now.wrong)


def test_an_empty_file_is_no_song(room: Room) -> None:
    answer = room.person.put(f"/dance/{room.dance}/listen/come", content=b"")
    assert answer.status_code == 400


def test_two_gigabytes_are_refused_before_anything_is_read(room: Room) -> None:
    answer = room.person.put(
        f"/dance/{room.dance}/listen/come", content=b"x", headers={"content-length": "2000000001"}
    )  # fmt: skip
    assert answer.status_code == 413
    assert answer.json()["mend"]


@pytest.mark.anyio
async def test_a_song_that_grows_past_the_limit_is_refused_and_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from starlette.requests import Request

    monkeypatch.setattr("softshoe.studio.incoming.LARGEST", 2_500)

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": b"x" * 1_000, "more_body": True}

    request = Request({"type": "http", "method": "PUT", "headers": [], "path": "/", "query_string": b""}, receive)
    with pytest.raises(TooLargeError):
        await taken_in(request, tmp_path)
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def test_what_a_killed_studio_left_half_sent_is_gone_with_the_next_song_once_it_is_old(room: Room) -> None:
    folder = room.desk.home / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    old, new = folder / f"{PART}old", folder / f"{PART}new"
    for path in (old, new):
        path.write_bytes(b"half of a song")
    os.utime(old, (0, 0))
    room.person.put(f"/dance/{room.dance}/listen/come", content=b"no song")
    assert (old.exists(), new.exists()) == (False, True)
