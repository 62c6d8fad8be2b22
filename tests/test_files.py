"""Files are whole or not there at all."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from softshoe.errors import OutputError, SettingError
from softshoe.files import content_hash, folder_for, named, sweep, whole, write_failure, write_whole


def test_a_written_file_is_whole_and_leaves_nothing_beside_it(tmp_path: Path) -> None:
    write_whole(tmp_path / "sheet.txt", "één twee")
    assert [p.name for p in tmp_path.iterdir()] == ["sheet.txt"]
    assert (tmp_path / "sheet.txt").read_text(encoding="utf-8") == "één twee"


def test_a_failure_while_writing_keeps_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "sheet.txt"
    write_whole(path, "old")

    def fail() -> None:
        with whole(path) as part:
            part.write_text("half")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    assert path.read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["sheet.txt"]


@pytest.mark.parametrize(
    ("number", "words"),
    [(errno.ENOSPC, "the disk is full"), (errno.EACCES, "permission"), (errno.EROFS, "only be read")],
)
def test_what_the_disk_refuses_is_said_in_plain_words(number: int, words: str) -> None:
    assert words in write_failure(Path("x"), OSError(number, "?")).why


def test_a_missing_folder_is_an_output_error(tmp_path: Path) -> None:
    with pytest.raises(OutputError):
        write_whole(tmp_path / "nowhere" / "x", "words")


def test_a_folder_is_made_with_its_parents(tmp_path: Path) -> None:
    assert folder_for(tmp_path / "a b" / "é").is_dir()


def test_left_over_parts_are_swept_and_others_stay(tmp_path: Path) -> None:
    (tmp_path / ".part-x.mp4").write_text("")
    (tmp_path / "film.mp4").write_text("")
    sweep(tmp_path)
    assert [p.name for p in tmp_path.iterdir()] == ["film.mp4"]


def test_a_file_that_is_not_there_has_no_content(tmp_path: Path) -> None:
    assert content_hash(tmp_path / "none") == ""


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        (None, "kettle.pdf"),
        ("hall", "hall/kettle.pdf"),
        ("wall", "wall.pdf"),
        ("wall.pdf", "wall.pdf"),
        ("WALL.PDF", "WALL.PDF"),
        ("Row at St. Ann", "Row at St. Ann.pdf"),
        ("No.2", "No.2.pdf"),
    ],
)
def test_a_name_given_for_a_file_may_be_a_folder_or_lack_its_ending(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, said: str | None, meant: str
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "hall").mkdir()
    assert named(None if said is None else Path(said), "kettle", ".pdf") == Path(meant)


def test_a_name_that_ends_like_another_kind_of_file_is_refused() -> None:
    with pytest.raises(SettingError, match="ends like another kind"):
        named(Path("wall.docx"), "kettle", ".pdf")
