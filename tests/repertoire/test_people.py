"""Notes about people are locked, and open for nobody but her."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from softshoe.errors import SettingError, UnreadableError
from softshoe.repertoire import people
from softshoe.repertoire.people import NAME, added, forgotten, relocked, started, unlocked

PASSPHRASE = "the kettle sings on tuesdays"


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Small numbers for scrypt; the real ones are tried once, below."""
    monkeypatch.setattr(people, "N", 2**4)
    monkeypatch.setattr(people, "LEAST_N", 2**4)


@pytest.fixture
def home(tmp_path: Path) -> Path:
    added(added(started(tmp_path, PASSPHRASE), "Ada Brook", "left knee, sits from June"), "Ben", "likes waltzes")
    return tmp_path


def test_notes_come_back_with_the_passphrase(home: Path) -> None:
    opened = unlocked(home, PASSPHRASE)
    assert [note.words for note in opened.about("ada  brook")] == ["left knee, sits from June"]
    assert opened.people() == ("Ada Brook", "Ben")
    assert [note.person for note in opened.holding("WALTZES")] == ["Ben"]


def test_nothing_of_them_can_be_read_in_any_file(home: Path) -> None:
    for file in filter(Path.is_file, home.rglob("*")):
        data = file.read_bytes()
        assert not any(word in data for word in (b"Ada", b"knee", b"waltzes", b"kettle", PASSPHRASE.encode()))


def test_a_wrong_passphrase_opens_nothing_and_changes_nothing(home: Path) -> None:
    before = (home / NAME).read_bytes()
    with pytest.raises(SettingError, match="not the passphrase"):
        unlocked(home, PASSPHRASE + "!")
    assert (home / NAME).read_bytes() == before


@pytest.mark.parametrize("at", [3, 60, -1])
def test_a_changed_byte_is_told_as_damage(home: Path, at: int) -> None:
    data = bytearray((home / NAME).read_bytes())
    data[at] ^= 1
    (home / NAME).write_bytes(bytes(data))
    with pytest.raises((UnreadableError, SettingError)):
        unlocked(home, PASSPHRASE)


def test_half_a_file_is_told_as_damage(home: Path) -> None:
    data = (home / NAME).read_bytes()
    (home / NAME).write_bytes(data[: len(data) - 20])
    with pytest.raises(UnreadableError, match="cut short"):
        unlocked(home, PASSPHRASE)


def test_numbers_that_would_eat_all_memory_are_not_tried(home: Path) -> None:
    line, _, rest = (home / NAME).read_bytes().partition(b"\n")
    header = json.loads(line) | {"n": 2**30}
    (home / NAME).write_bytes(json.dumps(header).encode() + b"\n" + rest)
    with pytest.raises(UnreadableError, match="damaged"):
        unlocked(home, PASSPHRASE)


def test_every_change_has_a_nonce_of_its_own(tmp_path: Path) -> None:
    opened, nonces = started(tmp_path, PASSPHRASE), []
    for k in range(5):
        opened = added(opened, "Ada", f"note {k}")
        nonces.append(opened.header["nonce"])
    assert len(set(nonces)) == 5


def test_what_another_program_noted_meanwhile_stays(home: Path) -> None:
    here, there = unlocked(home, PASSPHRASE), unlocked(home, PASSPHRASE)
    added(here, "Cleo", "here")
    added(there, "Cleo", "there")
    assert [note.words for note in unlocked(home, PASSPHRASE).about("Cleo")] == ["here", "there"]


def test_a_person_can_be_forgotten(home: Path) -> None:
    _, many = forgotten(unlocked(home, PASSPHRASE), "ada brook")
    assert many == 1
    assert unlocked(home, PASSPHRASE).people() == ("Ben",)


def test_a_new_passphrase_takes_the_place_of_the_old(home: Path) -> None:
    relocked(unlocked(home, PASSPHRASE), "quite another sentence")
    assert len(unlocked(home, "quite another sentence").notes) == 2
    with pytest.raises(SettingError, match="not the passphrase"):
        unlocked(home, PASSPHRASE)


def test_a_short_passphrase_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SettingError, match="too short"):
        started(tmp_path, "tiny")
    assert not (tmp_path / NAME).exists()


def test_the_real_numbers_of_scrypt_are_what_the_docs_say(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.undo()
    opened = started(tmp_path, PASSPHRASE)
    assert (opened.header["n"], opened.header["r"], opened.header["p"]) == (131072, 8, 1)
