"""A dance taken out lies in the bin, whole, and comes back as it was; old texts are read anew by a better reader."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import pytest

from repertoire.test_intake import TIN, full, tree
from softshoe.errors import SettingError
from softshoe.repertoire import anew
from softshoe.repertoire import bin as away
from softshoe.repertoire.anew import read_anew
from softshoe.repertoire.belonging import share
from softshoe.repertoire.export import export
from softshoe.repertoire.find import find
from softshoe.repertoire.named import named
from softshoe.repertoire.store import Repertoire
from softshoe.wording.read import read

if TYPE_CHECKING:
    from pathlib import Path

NOW = datetime(2026, 5, 3, 18, 0, tzinfo=UTC)


@pytest.mark.parametrize("engine", ["sqlite", "postgresql"])
def test_a_removed_dance_is_found_no_more_and_comes_back_with_all_that_was_its(
    engine: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    if engine == "sqlite":
        kept = full(tmp_path / "home")
    else:
        from softshoe.repertoire.export_read import read_back

        full(tmp_path / "laptop")
        export(Repertoire.at(tmp_path / "laptop"), tmp_path / "from laptop")
        kept = Repertoire.at(tmp_path / "home", url=request.getfixturevalue("database"))
        read_back(kept, tmp_path / "from laptop")
    export(kept, tmp_path / "before")
    with kept.writing() as base:
        uid = named(base, "Tin Kettle")
        away.remove(base, kept.folder, uid)
    assert "Tin Kettle" not in [hit.title for hit in find(kept, "").hits]
    assert find(kept, "#christmas").hits == ()
    with kept.writing() as base:
        assert [(one.title, one.uid) for one in away.binned(base)] == [("Tin Kettle", uid)]
        assert away.put_back(base, kept.folder, "tin kettle") == "Tin Kettle"
        assert away.binned(base) == ()
    export(kept, tmp_path / "after")
    assert tree(tmp_path / "after") == tree(tmp_path / "before")


def test_the_bin_is_emptied_by_age_but_keeps_the_newest_twenty_whatever_the_clock_says(tmp_path: Path) -> None:
    kept = Repertoire.at(tmp_path)
    with kept.writing() as base:
        for k in range(24):
            put = kept_in(base, f"Kettle {k}")
            away.remove(base, tmp_path, put, now=NOW + timedelta(days=k))
        assert len(away.binned(base)) == 24
        late = kept_in(base, "Late")
        away.remove(base, tmp_path, late, now=NOW + timedelta(days=4000))
        assert [one.title for one in away.binned(base)][:2] == ["Late", "Kettle 23"]
        assert len(away.binned(base)) == 20


def kept_in(base: object, title: str) -> str:
    from softshoe.repertoire.dances import Sheet, keep

    words = TIN.replace("Tin Kettle", title)
    return keep(base, Sheet.of(words, read(words))).dance  # type: ignore[arg-type]


def test_what_the_bin_has_not_or_has_twice_is_told(tmp_path: Path) -> None:
    kept = Repertoire.at(tmp_path)
    with kept.writing() as base:
        with pytest.raises(SettingError, match="not in the bin"):
            away.put_back(base, tmp_path, "Kettle")
        for _ in range(2):
            away.remove(base, tmp_path, kept_in(base, "Kettle"))
        with pytest.raises(SettingError, match="several"):
            away.put_back(base, tmp_path, "Kettle")


def test_on_a_server_only_the_owner_removes_a_dance(shared_database: str, tmp_path: Path) -> None:
    from repertoire.test_accounts import joined

    kept = Repertoire.at(tmp_path, url=shared_database)
    anna, bert = kept.seen_by(joined(kept, "Anna")), kept.seen_by(joined(kept, "Bert"))
    mine = anna.keep(TIN, read(TIN)).dance
    with anna.writing() as base:
        share(base, mine, by=anna.viewer)
    with pytest.raises(SettingError, match="somebody else"), bert.writing() as base:
        away.remove(base, tmp_path, mine)
    with anna.writing() as base:
        away.remove(base, tmp_path, mine)
    with bert.reading() as base:
        assert away.binned(base) == ()
    with kept.writing() as base:
        away.put_back(base, tmp_path, mine)
    assert find(bert, "").hits == ()
    assert len(find(anna, "").hits) == 1


def test_texts_of_another_reader_are_read_anew_once_and_what_is_danced_otherwise_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = Repertoire.at(tmp_path)
    put = kept.keep(TIN, read(TIN))
    assert read_anew(kept).texts == 0
    older = TIN.replace("Vine right", "Vine left")
    with kept.writing() as base:
        other = Repertoire.at(tmp_path / "other")
        other.keep(older, read(older))
        with other.reading() as there:
            poorer = there.value("select events from dance_text")
        base.run("update dance_text set events = :events, read_by = 'an older one'", events=poorer)
    done = read_anew(kept, workers=1)
    assert (done.texts, [(title, number) for title, number, _ in done.changed]) == (1, [("Tin Kettle", 1)])
    assert kept.dance(put.dance).newest.dance == read(TIN)
    assert read_anew(kept).texts == 0
    monkeypatch.setattr(anew, "_read", lambda _: None)
    with kept.writing() as base:
        base.run("update dance_text set read_by = ''")
    assert read_anew(kept, workers=1).lost == (("Tin Kettle", 1),)
    assert kept.dance(put.dance).newest.dance == read(TIN)
