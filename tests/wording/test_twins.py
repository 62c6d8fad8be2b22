"""Whole sheets written twice: once as a leader would, once in plain words; both are the same dance."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read

from .saying import same

TWINS = sorted((Path(__file__).parents[1] / "sheets" / "twins").glob("*.txt"))
HEADER = ("counts", "walls", "level", "seated", "metre", "tempo_bpm", "intro_counts", "start_weight")
assert TWINS


def told(path: Path) -> dict[str, Any]:
    return dance_json(read(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("path", TWINS, ids=lambda p: p.stem)
def test_a_sheet_and_its_plain_twin_are_one_dance(path: Path) -> None:
    sheet, plain = told(path), told(path.with_suffix(".plain"))
    assert same(plain, sheet, loosely=True)
    assert {k: sheet[k] for k in HEADER} == {k: plain[k] for k in HEADER}
    assert sheet["title"].casefold() == plain["title"].casefold()
    assert [f for d in (sheet, plain) for f in d["findings"] if f["severity"] == "error"] == []
    places = [[(t["walls"], t["after_count"], t["counts"]) for t in d["tags"]] for d in (sheet, plain)]
    assert places[0] == places[1]
