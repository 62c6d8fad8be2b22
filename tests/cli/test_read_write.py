"""Reading with certain mends, and writing in every style, as a person runs them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from softshoe.wording.read import read
from softshoe.wording.write import STYLES

if TYPE_CHECKING:
    from pathlib import Path

    from .conftest import Softshoe


def slipped(sheet: Path, old: str, new: str) -> Path:
    words = sheet.read_text(encoding="utf-8")
    assert old in words
    sheet.write_text(words.replace(old, new, 1), encoding="utf-8")
    return sheet


def test_a_certain_mend_is_written_beside_the_sheet_and_shown(softshoe: Softshoe, sheet: Path) -> None:
    before = slipped(sheet, "1 wall", "2 walls").read_text(encoding="utf-8")
    answer = softshoe("read", sheet, "--mend")
    assert answer.code == 0
    mended = sheet.with_name("tin kettle é-mended.txt")
    assert "was: 8 counts, 2 walls" in answer.out
    assert "now: 8 counts, 1 wall," in answer.out
    assert f"written: {mended}" in answer.out
    assert read(mended.read_text(encoding="utf-8")).walls == 1
    assert sheet.read_text(encoding="utf-8") == before


def test_the_mended_sheet_goes_where_it_is_told_to(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    out = tmp_path / "right.txt"
    answer = softshoe("read", slipped(sheet, "8 counts", "16 counts"), "--mend", "-o", out)
    assert answer.code == 0
    assert read(out.read_text(encoding="utf-8")).counts == 8
    assert sorted(p.name for p in tmp_path.glob("*.txt")) == ["right.txt", sheet.name]


def test_an_uncertain_slip_is_told_and_nothing_is_written(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    answer = softshoe("read", slipped(sheet, "5-8", "6-8"), "--mend")
    assert answer.code == 1
    assert "nothing was written" in answer.out
    assert "ERROR" in answer.out
    assert [p.name for p in tmp_path.glob("*.txt")] == [sheet.name]


def test_a_place_to_write_without_a_mend_is_a_plain_mistake(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    answer = softshoe("read", sheet, "-o", tmp_path / "out.txt")
    assert answer.code == 2
    assert "--mend" in answer.err
    assert not (tmp_path / "out.txt").exists()


@pytest.mark.parametrize("style", sorted(STYLES))
def test_every_style_gives_the_same_dance_back(softshoe: Softshoe, sheet: Path, style: str) -> None:
    answer = softshoe("write", sheet, "--style", style)
    assert answer.code == 0
    assert read(answer.out) == read(sheet.read_text(encoding="utf-8"))


def test_a_style_that_is_none_is_told_with_those_there_are(softshoe: Softshoe, sheet: Path) -> None:
    answer = softshoe("write", sheet, "--style", "verse")
    assert answer.code == 2
    assert all(style in answer.err for style in STYLES)


def test_a_sheet_goes_to_another_language_and_back(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    german = tmp_path / "deutsch.txt"
    assert softshoe("write", sheet, "--language", "de", "-o", german).code == 0
    assert "Abschnitt 1" in german.read_text(encoding="utf-8")
    assert softshoe("read", german).code == softshoe("read", sheet).code
    back = softshoe("write", german, "--style", "short")
    assert back.out == softshoe("write", sheet, "--style", "short").out


def test_the_language_may_be_said(softshoe: Softshoe, tmp_path: Path) -> None:
    short = tmp_path / "kurz.txt"
    short.write_text("Kessel\n1 RF vor\n2 LF an RF\n", encoding="utf-8")
    answer = softshoe("read", short, "--language", "de", "--json")
    assert [event["dir"] for event in json.loads(answer.out)["events"]] == ["forward", "together"]


def test_a_word_is_looked_up(softshoe: Softshoe) -> None:
    answer = softshoe("words", "jazz", "box")
    assert answer.code == 0
    assert "1  Cross right foot over left" in answer.out
    assert "Did you mean “shuffle”?" in softshoe("words", "shufle").out
    assert softshoe("words", "shufle").code == 1
    assert "What hands do: clap" in softshoe("words").out
