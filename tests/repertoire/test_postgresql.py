"""An association's repertoire in PostgreSQL, started for real, keeps and finds as a laptop's does."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from repertoire.queries import QUERIES, SHEETS, TODAY, filled
from repertoire.test_intake import TIN, full, tree
from softshoe.base import open_postgresql
from softshoe.errors import OutputError
from softshoe.jobs.book import Book
from softshoe.repertoire import find as finding
from softshoe.repertoire.export import export
from softshoe.repertoire.export_read import read_back
from softshoe.repertoire.find import find
from softshoe.repertoire.intake import take_in
from softshoe.repertoire.shape import SHAPE, shape_of
from softshoe.repertoire.store import Repertoire
from softshoe.wording.read import read

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def kept(database: str, tmp_path: Path) -> Repertoire:
    return Repertoire.at(tmp_path / "home", url=database)


def test_every_query_finds_the_same_as_on_a_laptop(kept: Repertoire) -> None:
    filled(kept)
    for query, there in QUERIES:
        found = find(kept, query, today=TODAY)
        assert (query, sorted(hit.title for hit in found.hits), found.told) == (query, there, ())
    assert find(kept, "kettel").told == ("no kept sheet has the word “kettel”: looked for “kettle”",)
    for query in ("'; drop table dance; --", "a & b", "!", ":*", "<->", "%", "100%", "\\"):
        find(kept, query)
    assert find(kept, "").total == len(SHEETS)


@pytest.mark.parametrize("where", ["here", "server"])
def test_of_words_that_most_sheets_hold_the_newest_come_first(
    where: str, tmp_path: Path, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = request.getfixturevalue("kept") if where == "server" else Repertoire.at(tmp_path / "here")
    for name in ("Barley", "Zinc", "Amber"):
        kept.keep(TIN.replace("Tin", name), read(TIN.replace("Tin", name)))
    monkeypatch.setattr(finding, "RANKED", 2)
    found = find(kept, "touch", most=2)
    assert ([hit.title for hit in found.hits], found.total) == (["Amber Kettle", "Zinc Kettle"], 3)


def test_texts_side_by_side_and_the_same_words_once(kept: Repertoire) -> None:
    first = kept.keep(TIN, read(TIN))
    assert kept.keep(TIN, read(TIN)).how == "known"
    assert kept.edit(first.dance, TIN + "a", read(TIN), based_on=(first.text,)).how == "new text"
    assert kept.edit(first.dance, TIN + "b", read(TIN), based_on=(first.text,)).how == "side by side"
    assert len(kept.dance(first.dance).heads) == 2


def test_opening_it_again_and_from_two_programs_changes_nothing(kept: Repertoire, database: str) -> None:
    other = Repertoire.at(kept.folder, url=database)
    kept.keep(TIN, read(TIN))
    assert [title for title, _ in other.all()] == ["Tin Kettle"]
    base = open_postgresql(database)
    assert shape_of(base) == SHAPE
    base.close()


def test_programs_that_open_an_empty_database_at_the_same_moment_all_get_in(database: str, tmp_path: Path) -> None:
    opened = [open_postgresql(database) for _ in range(3)]
    for base in opened:  # each saw that nothing is there, and waits for its turn
        assert shape_of(base) == 0
        base.begin()
    Repertoire.at(tmp_path, url=database)
    assert [shape_of(base) for base in opened] == [SHAPE] * 3
    for base in opened:
        base.close()
    with ThreadPoolExecutor(3) as together:
        assert len(list(together.map(lambda _: Book.at(tmp_path, url=database), range(3)))) == 3


def test_a_database_that_was_started_again_is_asked_again_by_a_new_connection(kept: Repertoire, database: str) -> None:
    kept.keep(TIN, read(TIN))
    other = open_postgresql(database.replace(f"dbname={kept.url.rpartition('dbname=')[2]}", "dbname=postgres"))
    assert other.rows("select pg_terminate_backend(pid) from pg_stat_activity where datname = :name",
                      name=kept.url.rpartition("dbname=")[2])  # fmt: skip
    other.close()
    assert [title for title, _ in kept.all()] == ["Tin Kettle"]
    kept.keep(TIN + ", clap", read(TIN))


def test_nothing_is_kept_of_what_fails_half_way(kept: Repertoire) -> None:
    with pytest.raises(OutputError, match="can't be used"), kept.writing() as base:
        base.script("insert into word (word, whose) values ('half', '');\ninsert into nothing values (1);\n")
    with kept.reading() as base:
        assert base.rows("select * from word") == []


def test_a_laptop_s_repertoire_moves_to_the_server_and_back_without_a_loss(kept: Repertoire, tmp_path: Path) -> None:
    laptop = full(tmp_path / "laptop")
    export(laptop, tmp_path / "out")
    read_back(kept, tmp_path / "out")
    export(kept, tmp_path / "again")
    assert tree(tmp_path / "again") == tree(tmp_path / "out")


def test_a_folder_of_sheets_is_taken_in(kept: Repertoire, tmp_path: Path) -> None:
    folder = tmp_path / "sheets"
    folder.mkdir()
    for name, words in SHEETS.items():
        (folder / f"{name}.txt").write_text(words, encoding="utf-8")
    there = take_in(kept, folder, workers=1)
    here = take_in(Repertoire.at(tmp_path / "here"), folder, workers=1)
    assert [replace(a, dance="") for a in there.files] == [replace(b, dance="") for b in here.files]


def test_a_newer_shape_is_left_untouched(kept: Repertoire, database: str) -> None:
    with kept.writing() as base:
        base.run("update shape set number = 99")
    with pytest.raises(OutputError, match="newer softshoe"):
        Repertoire.at(kept.folder, url=database)


def test_a_server_that_does_not_answer_is_told(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="the database can't be used") as wrong:
        Repertoire.at(tmp_path, url=f"host={tmp_path} user=nobody password=hushhush dbname=none")
    assert "hushhush" not in str(wrong.value)
