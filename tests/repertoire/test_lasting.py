"""What is kept outlasts damage, full disks, wrong clocks and half copies; every failure says what to do."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from datetime import date, timedelta
from random import Random
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe import base as base_module
from softshoe.dance.dance import Dance
from softshoe.dance.feet import Weight
from softshoe.errors import OutputError, SettingError, UnreadableError
from softshoe.repertoire import originals, people
from softshoe.repertoire.copies import copies, daily, wanted
from softshoe.repertoire.packed import packed, put_back
from softshoe.repertoire.store import Repertoire

if TYPE_CHECKING:
    from pathlib import Path

TODAY = date(2026, 11, 28)


def dance(title: str) -> Dance:
    return Dance(title, 32, 1, None, True, "4/4", 100.0, 16, Weight.SEAT, (), ())


def titles(home: Path) -> list[str]:
    return [title for title, _ in Repertoire.at(home).all()]


@pytest.fixture
def kept(tmp_path: Path) -> Repertoire:
    repertoire = Repertoire.at(tmp_path / "home")
    for k in range(3):
        repertoire.keep(f"words {k}", dance(f"Dance {k}"))
    originals.put(repertoire.folder, b"an old sheet")
    return repertoire


def test_the_first_change_of_a_day_is_preceded_by_a_copy(kept: Repertoire) -> None:
    (copy,) = copies(kept.folder)
    assert copy.day == date.today()
    assert daily(kept.folder, kept.path, today=date.today()) is None


def test_a_copy_of_an_earlier_day_comes_back_and_the_present_becomes_a_copy(kept: Repertoire) -> None:
    daily(kept.folder, kept.path, today=TODAY + timedelta(days=1000))
    kept.keep("later", dance("Later"))
    told = put_back(kept.folder, (TODAY + timedelta(days=1000)).isoformat())
    assert "3 dances" in told
    assert titles(kept.folder) == ["Dance 0", "Dance 1", "Dance 2"]
    name = next(copy.name for copy in copies(kept.folder) if copy.name.startswith("before-restore"))
    put_back(kept.folder, name)
    assert "Later" in titles(kept.folder)


def test_a_backup_comes_back_on_another_computer_byte_for_byte(kept: Repertoire, tmp_path: Path) -> None:
    (kept.folder / people.NAME).write_bytes(b"locked")
    made = packed(kept.folder, tmp_path / "all.zip")
    assert (made.dances, made.texts, made.files) == (3, 3, 1)
    there = tmp_path / "there"
    put_back(there, str(made.path))
    assert titles(there) == titles(kept.folder)
    assert originals.got(there, originals.sha256_of(b"an old sheet")) == b"an old sheet"
    assert (there / people.NAME).read_bytes() == b"locked"


@pytest.mark.parametrize("share", [0.0, 0.3, 0.9, 0.999])
def test_a_half_copied_backup_changes_nothing(kept: Repertoire, tmp_path: Path, share: float) -> None:
    made = packed(kept.folder, tmp_path / "all.zip").path
    data = made.read_bytes()
    made.write_bytes(data[: int(len(data) * share)])
    kept.keep("later", dance("Later"))
    with pytest.raises(UnreadableError, match="can't be trusted"):
        put_back(kept.folder, str(made))
    assert len(titles(kept.folder)) == 4


def test_any_changed_byte_of_a_backup_is_found(kept: Repertoire, tmp_path: Path) -> None:
    made = packed(kept.folder, tmp_path / "all.zip").path
    whole, dice = made.read_bytes(), Random(8)
    for at in dice.sample(range(len(whole)), 12):
        data = bytearray(whole)
        data[at] ^= 0xFF
        made.write_bytes(bytes(data))
        try:
            put_back(tmp_path / f"there-{at}", str(made))
        except UnreadableError:
            continue
        assert titles(tmp_path / f"there-{at}") == titles(kept.folder)  # a byte that says nothing, as a file's time


def test_a_copy_with_a_wrong_checksum_is_refused(kept: Repertoire) -> None:
    (copy,) = copies(kept.folder)
    copy.path.write_bytes(copy.path.read_bytes()[:-10])
    with pytest.raises(UnreadableError, match="can't be trusted"):
        put_back(kept.folder, copy.name)


def test_a_backup_takes_no_other_file_s_place_and_there_must_be_something(kept: Repertoire, tmp_path: Path) -> None:
    (tmp_path / "mine.zip").write_text("mine")
    with pytest.raises(SettingError, match="there already"):
        packed(kept.folder, tmp_path / "mine.zip")
    with pytest.raises(SettingError, match="nothing to back up"):
        packed(tmp_path / "empty", tmp_path / "other.zip")


def hurt(path: Path) -> None:
    """Overwrite pages in the middle of the database, as a failing disk does."""
    base = sqlite3.connect(path)
    base.execute("pragma wal_checkpoint(truncate)")
    base.close()
    with path.open("rb+") as file:
        for page in range(4, path.stat().st_size // 4096, 2):
            file.seek(page * 4096)
            file.write(os.urandom(4096))


def test_a_corrupt_page_is_told_and_a_copy_puts_all_back_beside_the_damaged_file(kept: Repertoire) -> None:
    name = copies(kept.folder)[0].name
    hurt(kept.path)
    with pytest.raises(OutputError, match="the repertoire is damaged"):
        Repertoire.at(kept.folder)
    told = put_back(kept.folder, name)
    assert "the damaged file lies in damaged-" in told
    assert titles(kept.folder) == ["Dance 0"]


def test_a_damaged_database_is_never_copied_over_a_good_copy(kept: Repertoire) -> None:
    before = copies(kept.folder)[0].path.read_bytes()
    hurt(kept.path)
    with pytest.raises(OutputError, match="damaged"):
        daily(kept.folder, kept.path, today=date.today() + timedelta(days=1))
    assert [copy.path.read_bytes() for copy in copies(kept.folder)] == [before]


def test_a_full_disk_is_told_and_what_was_kept_stays(kept: Repertoire, monkeypatch: pytest.MonkeyPatch) -> None:
    real = base_module.open_sqlite

    def small(*words: object, **more: object) -> base_module.Base:
        base = real(*words, **more)  # type: ignore[arg-type]
        base.value(f"pragma max_page_count = {base.value('pragma page_count')}")
        return base

    monkeypatch.setattr("softshoe.repertoire.store.open_sqlite", small)
    with pytest.raises(OutputError, match="the disk is full"):
        kept.keep("long " * 20_000, dance("Long"))
    monkeypatch.undo()
    assert titles(kept.folder) == ["Dance 0", "Dance 1", "Dance 2"]


def test_a_folder_that_can_only_be_read_is_read_and_nothing_else(
    kept: Repertoire, monkeypatch: pytest.MonkeyPatch
) -> None:
    base = sqlite3.connect(kept.path)
    base.execute("pragma wal_checkpoint(truncate)")
    base.close()
    before = {path: path.stat().st_mtime_ns for path in kept.folder.rglob("*")}
    monkeypatch.setattr(os, "access", lambda *_: False)
    opened = Repertoire.at(kept.folder)
    assert [title for title, _ in opened.all()] == ["Dance 0", "Dance 1", "Dance 2"]
    with pytest.raises(OutputError, match="can only be read"):
        opened.keep("more", dance("More"))
    assert {path: path.stat().st_mtime_ns for path in kept.folder.rglob("*")} == before


def test_a_clock_set_back_loses_no_copy_and_no_text(kept: Repertoire, monkeypatch: pytest.MonkeyPatch) -> None:
    for k in range(5):
        daily(kept.folder, kept.path, today=TODAY + timedelta(days=k))
    before = {copy.name for copy in copies(kept.folder)}
    daily(kept.folder, kept.path, today=date(1999, 1, 1))
    assert before <= {copy.name for copy in copies(kept.folder)}
    monkeypatch.setattr("softshoe.repertoire.dances.now_iso", lambda: "1999-01-01T00:00:00+00:00")
    put = kept.keep("words of the nineties", dance("Dance 0"))
    assert kept.dance(put.dance).newest.words == "words of the nineties"


@given(st.sets(st.integers(0, 4000), min_size=1, max_size=60))
def test_thinning_keeps_the_oldest_and_the_newest_seven(ages: set[int]) -> None:
    days = {TODAY - timedelta(days=age) for age in ages}
    stays = wanted(days)
    assert {max(days), min(days)} <= stays <= days
    assert set(sorted(days)[-7:]) <= stays
    assert wanted(stays) == stays


SAVING = """
import sys
from pathlib import Path
from softshoe.dance.dance import Dance
from softshoe.dance.feet import Weight
from softshoe.repertoire.store import Repertoire
from softshoe.repertoire import originals
kept = Repertoire.at(Path(sys.argv[1]))
for k in range(int(sys.argv[2]), 10_000):
    put = kept.keep(f"words {k}", Dance(f"Dance {k % 7}", 32, 1, None, True, "4/4", 100.0, 16, Weight.SEAT, (), ()))
    content = originals.put(kept.folder, f"file {k}".encode() * 1000)
    print(k, put.text, content, flush=True)
"""


def killed(program: subprocess.Popen[str], dice: Random) -> list[list[str]]:
    """Let a program save until it is killed at a random moment; return what it acknowledged."""
    assert program.stdout
    first = program.stdout.readline()
    time.sleep(dice.random() * 0.2)
    program.send_signal(signal.SIGKILL)
    rest = program.stdout.read()
    program.wait()
    program.stdout.close()
    return [line.split() for line in (first + rest).splitlines() if line.count(" ") == 2 and len(line.split()[2]) == 64]


def test_what_was_acknowledged_outlives_a_kill_at_any_moment(tmp_path: Path) -> None:
    """Four programs at once on one folder."""
    dice = Random(5)
    words = [sys.executable, "-c", SAVING, str(tmp_path)]
    programs = [subprocess.Popen([*words, str(1000 * k)], stdout=subprocess.PIPE, text=True) for k in range(4)]
    said = [line for program in programs for line in killed(program, dice)]
    assert len(said) >= 4
    kept = Repertoire.at(tmp_path)
    with kept.reading() as base:
        texts = {row["uid"]: row["words"] for row in base.rows("select uid, words from dance_text")}
        assert [row[0] for row in base.rows("pragma integrity_check")] == ["ok"]
        assert base.rows("pragma foreign_key_check") == []
        assert (
            base.value("select count(*) from dance d where not exists (select 1 from dance_words where rowid = d.n)")
            == 0
        )
    for number, uid, content in said:
        assert texts[uid] == f"words {number}"
        assert originals.got(tmp_path, content).startswith(f"file {number}".encode())


def test_what_a_killed_program_left_half_written_is_swept_after_a_day_and_not_before(kept: Repertoire) -> None:
    folder = next((kept.folder / "files").iterdir())
    old, new = folder / ".part-old", folder / ".part-new"
    for part in (old, new):
        part.write_bytes(b"half")
    os.utime(old, (1, 1))
    Repertoire.at(kept.folder)
    assert not old.exists()
    assert new.exists()


def test_a_kept_file_that_changed_is_told(kept: Repertoire) -> None:
    content = originals.sha256_of(b"an old sheet")
    originals.place_of(kept.folder, content).write_bytes(b"something else")
    with pytest.raises(UnreadableError, match="damaged"):
        originals.got(kept.folder, content)
    shutil.rmtree(kept.folder / "files")
    with pytest.raises(UnreadableError, match="missing"):
        originals.got(kept.folder, content)
