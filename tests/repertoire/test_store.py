"""The repertoire keeps every word of every text, and forgets nothing."""

from __future__ import annotations

import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from softshoe.dance.dance import Dance
from softshoe.dance.feet import Weight
from softshoe.errors import OutputError, SettingError
from softshoe.home import HOME, data_home
from softshoe.repertoire.difference import differences
from softshoe.repertoire.store import Repertoire
from softshoe.wording.read import read

OLD = Path(__file__).parent / "shape_1.sql"


def dance(title: str) -> Dance:
    return Dance(title, 32, 1, None, True, "4/4", 100.0, 16, Weight.SEAT, (), ())


@pytest.fixture
def repertoire(tmp_path: Path) -> Repertoire:
    return Repertoire.at(tmp_path)


def test_a_kept_dance_comes_back_with_its_words(repertoire: Repertoire) -> None:
    put = repertoire.keep("Café Quai\n1 R heel forward", dance("Café Quai"))
    (text,) = Repertoire.at(repertoire.folder).dance(put.dance).texts
    assert text.words == "Café Quai\n1 R heel forward"
    assert text.dance == dance("Café Quai")


def test_the_same_words_are_kept_once(repertoire: Repertoire) -> None:
    puts = [repertoire.keep("words", dance("A")) for _ in range(3)]
    assert [put.how for put in puts] == ["new dance", "known", "known"]
    assert len({put.text for put in puts}) == 1


def test_a_new_text_is_listed_and_the_old_one_stays(repertoire: Repertoire) -> None:
    repertoire.keep("old words", dance("A"))
    put = repertoire.keep("new words", replace(dance("a"), counts=48))
    assert [(title, one.counts) for title, one in repertoire.all()] == [("a", 48)]
    kept = repertoire.dance(put.dance)
    assert [text.words for text in kept.texts] == ["old words", "new words"]
    assert kept.newest.based_on == (kept.texts[0].uid,)


def test_a_dance_changed_in_two_places_keeps_both_and_the_difference_is_in_counts(repertoire: Repertoire) -> None:
    words = (
        "Tin Lane, 4 counts\n1 Step right to the side\n2 Touch left together\n3 Step left to the side\n4 Touch right"
    )
    here, there = words.replace("2 Touch left", "2 Kick left"), words.replace("side\n4", "side, turning 1/4 left\n4")
    first = repertoire.keep(words, read(words))
    one = repertoire.edit(first.dance, here, read(here), based_on=(first.text,))
    other = repertoire.edit(first.dance, there, read(there), based_on=(first.text,))
    assert (one.how, other.how) == ("new text", "side by side")
    heads = repertoire.dance(first.dance).heads
    assert [text.words for text in heads] == [here, there]
    told = [one.words for one in differences(heads[0].dance, heads[1].dance)]
    assert any(words.startswith("count 2") for words in told)
    assert any(words.startswith("count 3") for words in told)
    settled = repertoire.edit(first.dance, here + "\n", read(here), based_on=(one.text, other.text))
    assert settled.how == "new text"
    assert len(repertoire.dance(first.dance).heads) == 1


def test_a_text_that_names_no_title_leaves_the_dance_its_own(repertoire: Repertoire) -> None:
    first = repertoire.keep("words", dance("A"))
    repertoire.edit(first.dance, "other words", dance(""), based_on=(first.text,))
    assert repertoire.dance(first.dance).title == "A"


def test_a_text_can_only_be_based_on_one_of_its_own_dance(repertoire: Repertoire) -> None:
    one, other = repertoire.keep("a", dance("A")), repertoire.keep("b", dance("B"))
    with pytest.raises(SettingError, match="no such text"):
        repertoire.edit(one.dance, "c", dance("A"), based_on=(other.text,))
    assert len(repertoire.dance(one.dance).texts) == 1


def test_a_damaged_file_is_told_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "repertoire.sqlite3").write_bytes(b"not a database at all" * 100)
    with pytest.raises(OutputError, match="the repertoire is damaged"):
        Repertoire.at(tmp_path)
    assert (tmp_path / "repertoire.sqlite3").read_bytes().startswith(b"not a database")


def test_a_repertoire_of_the_first_shape_is_brought_up_with_every_text_after_a_copy(tmp_path: Path) -> None:
    old = sqlite3.connect(tmp_path / "repertoire.sqlite3")
    old.executescript(OLD.read_text(encoding="utf-8"))
    old.close()
    brought = Repertoire.at(tmp_path)
    (copy,) = (tmp_path / "copies").glob("before-shape-4-*.gz")
    assert copy.stat().st_size
    titles = [title for title, _ in brought.all()]
    assert titles == ["Biscuit Bend", "Paper Boats"]
    with brought.reading() as base:
        uid = base.value("select uid from dance where title = 'Paper Boats'")
    kept = brought.dance(uid)
    assert [text.words.splitlines()[-1] for text in kept.texts] == ["1 Step right forward", "1 Step left forward"]
    assert [text.kept_at[:4] for text in kept.texts] == ["2024", "2025"]
    assert [title for title, _ in Repertoire.at(tmp_path).all()] == titles


def test_a_repertoire_of_a_newer_softshoe_is_left_untouched(repertoire: Repertoire) -> None:
    base = sqlite3.connect(repertoire.path)
    base.execute("pragma user_version = 99")
    base.close()
    with pytest.raises(OutputError, match="newer softshoe"):
        Repertoire.at(repertoire.folder)
    base = sqlite3.connect(repertoire.path)
    assert base.execute("pragma user_version").fetchone() == (99,)
    base.close()


def test_nothing_is_kept_of_what_fails_half_way(repertoire: Repertoire) -> None:
    with pytest.raises(OutputError, match="can't be used"), repertoire.writing() as base:
        base.script("insert into word (word) values ('half');\ninsert into nothing values (1);\n")
    with repertoire.reading() as base:
        assert base.rows("select * from word") == []


def test_two_programs_keep_in_one_folder_one_after_the_other(repertoire: Repertoire) -> None:
    other = Repertoire.at(repertoire.folder)
    for k in range(5):
        repertoire.keep(f"here {k}", dance(f"Here {k}"))
        other.keep(f"there {k}", dance(f"There {k}"))
    assert len(repertoire.all()) == len(other.all()) == 10


def test_the_home_can_be_said(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(HOME, str(tmp_path))
    assert data_home() == tmp_path
