"""Accounts of an association: invited, let in by a password, shown what is theirs and what is shared, nothing else."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import pytest

from softshoe.errors import OutputError, SettingError
from softshoe.repertoire import accounts as house
from softshoe.repertoire import belonging
from softshoe.repertoire.beside import put_label, put_note
from softshoe.repertoire.find import find
from softshoe.repertoire.intake import take_in
from softshoe.repertoire.store import Repertoire
from softshoe.wording.read import read

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.repertoire.accounts import Account, Role

PASSWORD = "kettle moss lantern four"
NOW = datetime(2026, 5, 3, 18, 0, tzinfo=UTC)
TIN = "Tin Kettle, 8 counts\n1-4 Vine right, touch\n5-8 Vine left, touch"


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """A password costs a third of a second and 64 MB; not in every test."""
    monkeypatch.setattr(house, "MEMORY_KIB", 64)


@pytest.fixture
def home(tmp_path: Path) -> Repertoire:
    return Repertoire.at(tmp_path / "home")


def joined(kept: Repertoire, name: str, role: Role = "leader") -> Account:
    with kept.writing() as base:
        return house.join(base, house.invite(base, role=role), name, PASSWORD)


def test_an_invitation_works_once_and_not_for_ever(home: Repertoire) -> None:
    with home.writing() as base:
        code = house.invite(base, role="reader", now=NOW)
        anna = house.join(base, code, "  Änna  Moss ", PASSWORD, now=NOW + timedelta(days=14))
        assert (anna.name, anna.role) == ("Änna Moss", "reader")
        late = house.invite(base, role="leader", now=NOW)
        for said, when in ((code, NOW), ("made up", NOW), (late, NOW + timedelta(days=15))):
            with pytest.raises(SettingError, match="can't be used"):
                house.join(base, said, "Bert", PASSWORD, now=when)
        with pytest.raises(SettingError, match="only an owner invites"):
            house.invite(base, role="leader", by=anna.uid)
        with pytest.raises(SettingError, match="name is taken"):
            house.join(base, house.invite(base, role="leader"), "ANNA MOSS", PASSWORD)


@pytest.mark.parametrize("word", ["short", "a" * 20, "I am Anna Moss, yes", ""])
def test_an_easy_password_is_refused(home: Repertoire, word: str) -> None:
    with home.writing() as base, pytest.raises(SettingError, match="too easy"):
        house.join(base, house.invite(base, role="leader"), "Anna Moss", word)


def test_a_visit_begins_with_the_right_password_and_ends_with_time_leaving_and_closing(home: Repertoire) -> None:
    anna = joined(home, "Anna")
    with home.writing() as base:
        for name, word in (("Anna", "kettle moss lantern five"), ("Nobody", PASSWORD)):
            refused = house.enter(base, name, word).refused
            assert refused is not None
            assert refused.what == "name and password don't belong together"
        token = house.enter(base, " anna ", PASSWORD, now=NOW).token
        assert house.visitor(base, token, now=NOW + timedelta(days=30)) == anna
        assert house.visitor(base, token, now=NOW + timedelta(days=31)) is None
        assert house.visitor(base, "made up") is None
        house.leave(base, token)
        assert house.visitor(base, token, now=NOW) is None
        token = house.enter(base, "Anna", PASSWORD).token
        refused = house.change_password(base, anna.uid, "wrong", "another four words here").refused
        assert refused is not None
        assert refused.where == "the old password"
        new = house.change_password(base, anna.uid, PASSWORD, "another four words here").token
        assert house.visitor(base, token) is None
        assert house.visitor(base, new) == anna
        token = house.enter(base, "Anna", "another four words here").token
        house.close(base, anna.uid)
        assert house.visitor(base, token) is None
        assert house.enter(base, "Anna", "another four words here").token == ""


def test_nothing_secret_lies_in_the_database(home: Repertoire) -> None:
    joined(home, "Anna")
    with home.writing() as base:
        code = house.invite(base, role="leader")
        token = house.enter(base, "Anna", PASSWORD).token
    data = b"".join(path.read_bytes() for path in home.folder.glob("repertoire.sqlite3*"))
    assert b"$argon2id$" in data
    assert not [secret for secret in (PASSWORD, code, token) if secret.encode() in data]


def test_guessing_has_to_wait_longer_and_longer_and_a_clock_set_back_locks_nobody_out(home: Repertoire) -> None:
    joined(home, "Anna")
    with home.writing() as base:
        for _ in range(5):
            house.enter(base, "Anna", "wrong", now=NOW)
        refused = house.enter(base, "Anna", PASSWORD, now=NOW).refused
        assert refused is not None
        assert refused.what == "too many wrong passwords"
        assert house.enter(base, "Anna", PASSWORD, now=NOW + timedelta(seconds=3)).token
        for _ in range(30):
            house.enter(base, "Anna", "wrong", now=NOW + timedelta(days=400))
        assert house.enter(base, "Anna", PASSWORD, now=NOW).refused is not None
        assert house.enter(base, "Anna", PASSWORD, now=NOW + timedelta(days=400, minutes=16)).token


def test_each_leader_sees_her_own_dances_and_those_that_are_shared(shared_database: str, tmp_path: Path) -> None:
    kept = Repertoire.at(tmp_path / "home", url=shared_database)
    anna, bert = kept.seen_by(joined(kept, "Anna")), kept.seen_by(joined(kept, "Bert"))
    mine = anna.keep(TIN, read(TIN))
    with anna.writing() as base:
        put_note(base, "dance", mine.dance, "mind the touch", "2026-05-03T18:00:00+00:00")
    assert find(bert, "kettle").hits == ()
    with pytest.raises(SettingError, match="no such dance"):
        bert.dance(mine.dance)
    with bert.reading() as base:
        for table in ("dance", "dance_text", "note"):
            assert base.rows(f"select * from {table}") == []
    his = bert.keep(TIN, read(TIN))
    assert (his.how, his.dance == mine.dance) == ("new dance", False)
    with bert.writing() as base, pytest.raises(SettingError, match="somebody else"):
        belonging.share(base, mine.dance, by=bert.viewer)
    with anna.writing() as base:
        belonging.share(base, mine.dance, by=anna.viewer)
    assert len(find(bert, "kettle").hits) == 2
    assert bert.edit(mine.dance, TIN + ", clap", read(TIN), based_on=(mine.text,)).how == "new text"
    with bert.writing() as base:
        assert base.run("delete from dance where uid = :uid", uid=mine.dance) == 0
    assert [text.number for text in anna.dance(mine.dance).texts] == [1, 2]
    with anna.writing() as base:
        belonging.share(base, mine.dance, by=anna.viewer, shared=False)
    assert len(find(bert, "kettle").hits) == 1
    assert len(find(kept, "kettle").hits) == 2


def test_no_word_of_a_dance_is_known_to_those_who_may_not_see_it(shared_database: str, tmp_path: Path) -> None:
    kept = Repertoire.at(tmp_path / "home", url=shared_database)
    anna, bert = kept.seen_by(joined(kept, "Anna")), kept.seen_by(joined(kept, "Bert"))
    mine = anna.keep(TIN.replace("Tin", "Zanzibar"), read(TIN))
    bert.keep(TIN.replace("Tin", "Copper"), read(TIN))

    def told(repertoire: Repertoire, words: str) -> str:
        return " ".join(find(repertoire, words).told)

    assert "looked for “zanzibar”" in told(anna, "zanzibr")
    for words in ("zanzibr", "zanzibar"):
        assert "left out" in told(bert, words)
    with bert.reading() as base:
        assert not [row for row in base.rows("select word from word_part") if row["word"] == "zanzibar"]
    with anna.writing() as base:
        belonging.share(base, mine.dance, by=anna.viewer)
    assert "looked for “zanzibar”" in told(bert, "zanzibr")
    anna.edit(mine.dance, TIN.replace("Tin", "Timbuktu"), read(TIN), based_on=(mine.text,))
    assert "looked for “timbuktu”" in told(bert, "timbuctu")
    with anna.writing() as base:
        belonging.share(base, mine.dance, by=anna.viewer, shared=False)
    for words in ("zanzibr", "timbuctu"):
        assert "left out" in told(bert, words)
    assert "looked for “timbuktu”" in told(anna, "timbuctu")
    assert find(bert, "kettle").total == find(anna, "kettle").total == 1


def test_the_database_itself_keeps_secrets_owners_and_lessons_apart(shared_database: str, tmp_path: Path) -> None:
    kept = Repertoire.at(tmp_path / "home", url=shared_database)
    anna, bert = kept.seen_by(joined(kept, "Anna")), kept.seen_by(joined(kept, "Bert"))
    mine = anna.keep(TIN, read(TIN))
    with anna.writing() as base:
        belonging.share(base, mine.dance, by=anna.viewer)
        base.run("insert into lesson (uid, run, lesson, kept_at) values ('l', '', '{}', '')")
        put_label(base, "lesson", "l", "Tuesday")
    with bert.reading() as base:
        for table in ("leader", "visit", "invitation", "lesson", "label"):
            assert base.rows(f"select * from {table}") == []
    with pytest.raises(OutputError, match="somebody else"), bert.writing() as base:
        base.run("update dance set owner = :me", me=bert.viewer)


def test_the_dances_of_a_closed_account_stay_go_to_the_group_or_to_another(
    shared_database: str, tmp_path: Path
) -> None:
    kept = Repertoire.at(tmp_path / "home", url=shared_database)
    rosa, anna, bert = joined(kept, "Rosa", "owner"), joined(kept, "Anna"), joined(kept, "Bert")
    for number, title in enumerate(("Copper", "Zinc")):
        words = TIN.replace("Tin", title)
        put = kept.seen_by(anna).keep(words, read(words))
        with kept.writing() as base:
            belonging.share(base, put.dance, by=anna.uid, shared=number == 1)
    with kept.writing() as base:
        with pytest.raises(SettingError, match="last owner"):
            house.close(base, rosa.uid)
        house.close(base, anna.uid)
    assert find(kept.seen_by(bert), "kettle").total == 1
    with kept.writing() as base:
        assert belonging.give_all(base, bert.uid, of=anna.uid) == belonging.Left(alone=1, shared=1)
    assert find(kept.seen_by(bert), "kettle").total == 2
    assert find(kept.seen_by(rosa), "kettle").total == 1
    with kept.writing() as base:
        with pytest.raises(SettingError, match="can't be given"):
            belonging.give_all(base, anna.uid, of=bert.uid)
        belonging.to_the_group(base, bert.uid)
        house.reopen(base, anna.uid)
    assert find(kept.seen_by(anna), "kettle").total == find(kept.seen_by(rosa), "coppr").total + 1 == 2


def test_a_reader_reads_what_is_shared_and_changes_nothing(shared_database: str, tmp_path: Path) -> None:
    kept = Repertoire.at(tmp_path / "home", url=shared_database)
    anna, rosa = kept.seen_by(joined(kept, "Anna")), kept.seen_by(joined(kept, "Rosa", "reader"))
    mine = anna.keep(TIN, read(TIN))
    with anna.writing() as base:
        belonging.share(base, mine.dance, by=anna.viewer)
    assert [hit.title for hit in find(rosa, "").hits] == ["Tin Kettle"]
    with pytest.raises(OutputError, match="may read here, not write"):
        rosa.keep("Other, 4 counts\n1-4 Vine right", read(TIN))
    with pytest.raises(OutputError, match="read-only"), rosa.reading() as base:
        base.run("delete from dance_text")


def test_a_laptop_s_folder_becomes_one_leader_s_and_the_same_file_may_come_from_two(
    shared_database: str, tmp_path: Path
) -> None:
    sheets = tmp_path / "sheets"
    sheets.mkdir()
    (sheets / "tin.txt").write_text(TIN, encoding="utf-8")
    kept = Repertoire.at(tmp_path / "home", url=shared_database)
    take_in(kept, sheets, workers=1)
    anna, bert = joined(kept, "Anna"), kept.seen_by(joined(kept, "Bert"))
    with kept.writing() as base:
        assert belonging.give_all(base, anna.uid) == belonging.Left(1, 0)
    assert find(bert, "").hits == ()
    assert [one.outcome for one in take_in(bert, sheets, workers=1).files] == ["kept"]
    assert len(find(kept.seen_by(anna), "").hits) == len(find(bert, "").hits) == 1


def test_a_repertoire_that_can_t_be_parted_says_so(home: Repertoire, database: str, tmp_path: Path) -> None:
    anna = joined(home, "Anna")
    for kept in (home, Repertoire.at(tmp_path / "other", url=database)):
        with pytest.raises(SettingError, match="can't be parted"):
            kept.seen_by(anna)
