"""The repertoire keeps every word and finds it again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from softshoe.dance.dance import Dance
from softshoe.dance.feet import Weight
from softshoe.errors import OutputError
from softshoe.home import HOME, data_home
from softshoe.repertoire.store import Repertoire

if TYPE_CHECKING:
    from pathlib import Path


def dance(title: str) -> Dance:
    return Dance(title, 32, 1, None, True, "4/4", 100.0, 16, Weight.SEAT, (), ())


@pytest.fixture
def repertoire(tmp_path: Path) -> Repertoire:
    return Repertoire.at(tmp_path)


def test_a_kept_dance_comes_back_with_its_words(repertoire: Repertoire) -> None:
    repertoire.keep("Café Quai\n1 R heel forward", dance("Café Quai"))
    (kept,) = Repertoire.at(repertoire.path.parent).all()
    assert kept.words == "Café Quai\n1 R heel forward"
    assert kept.dance == dance("Café Quai")


def test_the_same_words_are_kept_once(repertoire: Repertoire) -> None:
    numbers = {repertoire.keep("words", dance("A")).number for _ in range(3)}
    assert len(numbers) == 1


def test_a_new_text_of_a_dance_is_the_one_listed(repertoire: Repertoire) -> None:
    repertoire.keep("old words", dance("A"))
    repertoire.keep("new words", dance("A"))
    assert [kept.words for kept in repertoire.all()] == ["new words"]
    assert len(repertoire.find("words")) == 2


@pytest.mark.parametrize("asked", ["café", "cafe", "CAFÉ qu", "heel"])
def test_words_are_found_without_regard_to_accents_and_endings(repertoire: Repertoire, asked: str) -> None:
    repertoire.keep("Café Quai\n1 R heel forward", dance("Café Quai"))
    repertoire.keep("Other\n1 R toe", dance("Other"))
    assert [kept.dance.title for kept in repertoire.find(asked)] == ["Café Quai"]


@pytest.mark.parametrize("asked", ["heel-toe", "step: right", "O'Neil", '"', "*", "a AND", "'; drop table sheet; --"])
def test_no_words_can_break_the_search(repertoire: Repertoire, asked: str) -> None:
    repertoire.keep("words", dance("A"))
    assert repertoire.find(asked) == ()
    assert len(repertoire.all()) == 1


def test_a_damaged_file_is_told_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "repertoire.sqlite3").write_bytes(b"not a database at all" * 100)
    with pytest.raises(OutputError, match="the repertoire can't be used"):
        Repertoire.at(tmp_path)
    assert (tmp_path / "repertoire.sqlite3").read_bytes().startswith(b"not a database")


def test_the_home_can_be_said(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(HOME, str(tmp_path))
    assert data_home() == tmp_path
