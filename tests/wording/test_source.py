"""Bytes of many makers become the same words; what is no text is named for what it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from softshoe.errors import UnreadableError
from softshoe.wording.source import decoded, sheet_text

if TYPE_CHECKING:
    from pathlib import Path

WORDS = "Chassé right\n1-2 Step right, ½ turn\n"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_encoding_and_line_end_gives_the_same_words(encoding: str, end: str) -> None:
    assert decoded(WORDS.replace("\n", end).encode(encoding)) == WORDS


@pytest.mark.parametrize(
    ("head", "name"),
    [(b"\x89PNG\r\n\x1a\n", "picture"), (b"PK\x03\x04xx", "packed"), (b"ID3\x03xx", "song")],
)
def test_a_file_that_is_no_text_is_named_for_what_it_is(tmp_path: Path, head: bytes, name: str) -> None:
    path = tmp_path / "sheet.txt"
    path.write_bytes(head + b"\x00" * 50)
    with pytest.raises(UnreadableError) as caught:
        sheet_text(path)
    assert name in caught.value.why
    assert all((caught.value.where, caught.value.what, caught.value.why, caught.value.mend))


def test_an_empty_file_a_folder_and_a_missing_file_are_told_apart(tmp_path: Path) -> None:
    empty = tmp_path / "empty.txt"
    empty.write_bytes(b"")
    told = []
    for path in (empty, tmp_path, tmp_path / "none.txt"):
        with pytest.raises(UnreadableError) as caught:
            sheet_text(path)
        told.append(caught.value.what)
    assert told == ["the file is empty", "this is a folder", "there is no such file"]
