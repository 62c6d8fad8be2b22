from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from softshoe.cli.booklet import command as booklet
from softshoe.cli.print import command as print_
from softshoe.errors import SettingError

if TYPE_CHECKING:
    from pathlib import Path

SHEET = """Kettle Row
8 counts, 1 wall, beginner
1-4 Vine right, touch left beside right
5-8 Vine left, touch right beside left
"""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "kettle.txt").write_text(SHEET, "utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ((), "kettle.pdf"),
        (("--size", "giant", "--paper", "letter", "--binder"), "kettle-giant.pdf"),
        (("--page", "floor"), "kettle-floor.pdf"),
        (("--page", "pictures", "--for", "supported", "--support", "walking frame"), "kettle-pictures.pdf"),
        (("--page", "pictures", "--for", "seated, left arm only", "--view", "side"), "kettle-pictures.pdf"),
        (("--page", "text", "--for", "Seated"), "kettle-text.txt"),
        (("--page", "braille"), "kettle-braille.brf"),
        (("--page", "web"), "kettle-web.html"),
    ],
)
def test_a_page_is_written_beside_where_one_is_and_named_after_the_sheet(
    here: Path, words: tuple[str, ...], name: str
) -> None:
    result = CliRunner().invoke(print_, ["kettle.txt", *words], catch_exceptions=False)
    assert result.output == f"written: {name}\n"
    assert (here / name).stat().st_size > 200


def test_a_size_that_a_page_has_not_is_told_before_anything_is_written(here: Path) -> None:
    with pytest.raises(SettingError, match="one size only"):
        CliRunner().invoke(print_, ["kettle.txt", "--page", "braille", "--size", "large"], catch_exceptions=False)
    assert [p.name for p in here.iterdir()] == ["kettle.txt"]


def test_a_folder_of_sheets_becomes_a_booklet_and_what_can_t_be_read_is_told(here: Path) -> None:
    folder = here / "dances"
    folder.mkdir()
    (folder / "a.txt").write_text(SHEET, "utf-8")
    (folder / "b.txt").write_text("no dance at all", "utf-8")
    result = CliRunner().invoke(booklet, ["dances", "kettle.txt", "-o", "all.pdf"], catch_exceptions=False)
    assert result.exit_code == 1
    assert "left out of the booklet" in result.output
    assert "written: all.pdf (2 dances)" in result.output
