"""Taps in a text file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from softshoe.errors import MusicError
from softshoe.music.said import taps_from

if TYPE_CHECKING:
    from pathlib import Path


def test_taps_are_read_in_order_without_doubles(tmp_path: Path) -> None:
    file = tmp_path / "taps.txt"
    file.write_text("\ufeff# my taps\n2.5\t2.5\tlabel\n1,5\n\n0:59.5 one\n1:00.25\n2.5\n", encoding="utf-8")
    assert taps_from(file) == (1.5, 2.5, 59.5, 60.25)


@pytest.mark.parametrize(
    "text", ["1.0\nsoon\n2.0\n3.0\n4.0\n", "", "1\n1\n1\n1\n", "-1\n2\n3\n4\n", "nan\ninf\n1\n2\n"]
)
def test_what_is_no_list_of_taps_is_refused_with_a_mend(tmp_path: Path, text: str) -> None:
    file = tmp_path / "taps.txt"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(MusicError) as error:
        taps_from(file)
    assert error.value.mend


def test_a_missing_file_a_folder_and_a_picture_are_refused(tmp_path: Path) -> None:
    picture = tmp_path / "p.jpg"
    picture.write_bytes(b"\xff\xd8\xff\xe0" + bytes(range(256)))
    for path in (tmp_path / "none.txt", tmp_path, picture):
        with pytest.raises(MusicError):
            taps_from(path)
