"""The door to long work: asked once, told truly, stopped and done again; a killed worker costs only its step."""

from __future__ import annotations

import os
import signal
import sqlite3
import sys
import time
from typing import TYPE_CHECKING

import pytest

from jobs.kinds_made import kinds
from softshoe.errors import OutputError, SettingError, UnreadableError
from softshoe.jobs.book import Book
from softshoe.jobs.door import Door, open_door

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from softshoe.jobs.told import Told

LONG_S = 120.0


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


@pytest.fixture(scope="module")
def door(home: Path) -> Iterator[Door]:
    """One door with its worker for all tests: a worker takes seconds to start."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PYTHONPATH", os.pathsep.join(filter(None, sys.path)))
        with open_door(home, kinds=kinds(home)) as opened:
            yield opened


@pytest.fixture
def quiet(tmp_path: Path) -> Door:
    """A door behind which nobody works."""
    return Door(Book.at(tmp_path), None, kinds(tmp_path))


def until(door: Door, job: str, *states: str, share: float = 0.0) -> Told:
    deadline, since = time.monotonic() + LONG_S, 0
    while (told := door.told(job)).state not in states or told.share < share:
        assert time.monotonic() < deadline, told
        since = max([since, *(one.changed for one in door.changes(since, wait_s=5))])
    return told


def lines(home: Path, job: str, what: str) -> list[list[str]]:
    log = home / "log"
    rows = [line.split() for line in log.read_text().splitlines()] if log.exists() else []
    return [row for row in rows if row[2] == what and row[3] == job]


def test_what_is_asked_twice_is_one_job_and_a_killed_worker_costs_only_its_step(door: Door, home: Path) -> None:
    job = door.ask("row", {"many": 3, "words": "killed", "each_s": 0.5})
    assert door.ask("row", {"each_s": 0.5, "words": "killed", "many": 3}) == job
    until(door, job, "doing")
    deadline = time.monotonic() + LONG_S
    while len(begun := lines(home, job, "begun")) < 2:
        assert time.monotonic() < deadline
        time.sleep(0.02)
    os.kill(int(begun[-1][5]), signal.SIGKILL)
    told = until(door, job, "done", "failed")
    assert (told.state, told.share, told.left_s, told.fault) == ("done", 1.0, None, None)
    assert [path.read_text() for path in told.made] == ["whole 0", "whole 1", "whole 2"]
    assert [row[4] for row in lines(home, job, "begun")] == ["0", "1", "1", "2"]
    assert [row[4] for row in lines(home, job, "over")] == ["0", "1", "2"]
    assert door.ask("row", {"many": 3, "words": "killed", "each_s": 0.5}) == job
    assert door.told(job).state == "done"


def test_a_step_ended_by_the_computer_is_done_once_more_and_a_failure_told_and_done_again_with_its_reason(
    door: Door, home: Path
) -> None:
    job = door.ask("small", {"many": 2, "killed": 0, "fails": 1, "mended": str(home / "mended")})
    told = until(door, job, "failed", "done")
    assert told.fault is not None
    assert "mend: make room" in told.fault
    assert [path.name for path in told.made] == ["s0.txt"]
    (home / "mended").touch()
    door.again(job)
    told = until(door, job, "failed", "done")
    assert (told.state, told.attempt, told.why) == ("done", 2, "the disk: can't be written")
    assert [row[4] for row in lines(home, job, "begun")] == ["0", "0", "1", "1"]


def test_a_job_is_stopped_amid_a_step_and_goes_on_when_it_is_asked_again(door: Door, home: Path) -> None:
    job = door.ask("row", {"many": 2, "words": "stopped", "each_s": 2})
    until(door, job, "doing", "done")
    door.stop(job)
    assert until(door, job, "stopped", "done").words == "stopped before it was done"
    assert not list((home / "jobs" / job).glob("*.txt"))
    with pytest.raises(SettingError, match="can't be forgotten"):
        door.forget(door.again(job))
    door.stop(job)
    until(door, job, "stopped")
    door.forget(job)
    assert not (home / "jobs" / job).exists()


def test_what_is_asked_is_kept_before_anybody_works_on_it(quiet: Door, tmp_path: Path) -> None:
    job = quiet.ask("row", {"many": 1})
    other = Door(Book.at(tmp_path), None, None)
    assert (other.told(job[:8]).state, other.all()) == ("waiting", [quiet.told(job)])
    other.stop(job)
    assert [one.state for one in quiet.changes(1)] == ["stopped"]
    assert quiet.changes(quiet.told(job).changed, wait_s=0.01) == []


def test_of_an_association_each_account_asks_for_and_sees_its_own(tmp_path: Path) -> None:
    table = kinds(tmp_path)
    anna, bert, whole = (Door(Book.at(tmp_path, owner=who), None, table) for who in ("anna", "bert", ""))
    mine, his = anna.ask("row", {"many": 1}), bert.ask("row", {"many": 1})
    assert mine != his
    assert [one.job for one in anna.all()] == [one.job for one in anna.changes()] == [mine]
    assert len(whole.all()) == 2
    with pytest.raises(SettingError, match="no such job"):
        bert.stop(mine)


def test_a_changed_file_is_another_job_and_a_missing_one_is_told(quiet: Door, tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.txt"
    with pytest.raises(UnreadableError, match="no such file"):
        quiet.ask("row", {"many": 1, "sheet": str(sheet)})
    sheet.write_text("one")
    job = quiet.ask("row", {"many": 1, "sheet": str(sheet)})
    sheet.write_text("two")
    assert quiet.ask("row", {"many": 1, "sheet": str(sheet)}) != job


def test_what_can_t_be_asked_is_told(quiet: Door, tmp_path: Path) -> None:
    with pytest.raises(SettingError, match="did you mean “make”"):
        quiet.ask("mak", {})
    with pytest.raises(SettingError, match="no such job"):
        quiet.told("abcdefgh")
    book = tmp_path / "jobs" / "jobs.sqlite3"
    book.write_bytes(b"not a database, for it was cut short" * 200)
    for leftover in ("-wal", "-shm"):
        book.with_name(book.name + leftover).unlink(missing_ok=True)
    other = Door(Book.at(tmp_path), None, None)
    assert other.all() == []
    assert len(other.damaged()) == 1
    with sqlite3.connect(tmp_path / "jobs" / "jobs.sqlite3") as base:
        base.execute("pragma user_version = 99")
    base.close()
    with pytest.raises(OutputError, match="newer softshoe"):
        Book.at(tmp_path)
