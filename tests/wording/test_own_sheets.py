"""Sheets in many hands, each with a truth written by hand from its meaning."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text
from softshoe.wording.write import write
from softshoe.wording.write_book import STYLES

SHEETS = Path(__file__).parents[1] / "sheets"
sys.path.insert(0, str(SHEETS))
from truths import differences, truth_of  # noqa: E402

OWN = sorted((SHEETS / "own").glob("*.truth"))
TEXTS = sorted([*(SHEETS / "own").glob("*.txt"), *(SHEETS / "sound").glob("*.txt")])
assert len(OWN) >= 12
assert len(TEXTS) >= 20


@pytest.mark.parametrize("path", OWN, ids=lambda p: p.stem)
def test_a_sheet_is_read_as_its_author_meant_it(path: Path) -> None:
    truth = truth_of(path)
    answer = dance_json(read(sheet_text(path.with_suffix(".txt"))))
    assert differences(truth.events, answer["events"]) == []
    header = {**answer, "title": answer["title"].casefold()}
    assert {k: header[k] for k in truth.header} == {**truth.header, "title": truth.header["title"].casefold()}
    assert answer["sections"] == truth.sections
    assert [f for f in answer["findings"] if f["severity"] == "error"] == []


@pytest.mark.parametrize("path", OWN, ids=lambda p: p.stem)
def test_tags_and_restarts_are_placed_where_the_sheet_says(path: Path) -> None:
    truth = truth_of(path)
    answer = dance_json(read(sheet_text(path.with_suffix(".txt"))))
    assert answer["restarts"] == truth.restarts
    assert len(answer["tags"]) == len(truth.tags)
    for want, got in zip(truth.tags, answer["tags"], strict=True):
        assert differences(want["events"], got["events"]) == []
        assert {k: got[k] for k in want if k != "events"} == {k: v for k, v in want.items() if k != "events"}


@pytest.mark.parametrize("style", sorted(STYLES))
@pytest.mark.parametrize("path", TEXTS, ids=lambda p: p.stem)
def test_a_sheet_written_again_reads_back_to_an_equal_dance(path: Path, style: str) -> None:
    dance = read(sheet_text(path))
    again = read(write(dance, style=style))
    assert again == dance
    assert [f for f in again.findings if f.severity == "error"] == []
