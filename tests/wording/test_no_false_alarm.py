"""Sheets that look odd but are sound: counts in many places, tables, prose, bullets, capitals; nobody is accused."""

from __future__ import annotations

from pathlib import Path

import pytest

from softshoe.wording.read import read
from softshoe.wording.source import sheet_text
from softshoe.wording.write import write

ODD = sorted((Path(__file__).parents[1] / "sheets" / "odd").glob("*.txt"))
assert len(ODD) >= 20


@pytest.mark.parametrize("path", ODD, ids=lambda p: p.stem)
def test_an_odd_but_sound_sheet_gets_no_error_and_fills_every_count(path: Path) -> None:
    dance = read(sheet_text(path))
    assert [(f.kind, f.line, f.message) for f in dance.findings if f.severity == "error"] == []
    assert {a.at.whole for a in dance.actions if a.at.at >= 1} == set(range(1, dance.counts + 1))
    assert sum(int(s.length.n) for s in dance.sections) == dance.counts


@pytest.mark.parametrize("path", ODD, ids=lambda p: p.stem)
def test_an_odd_sheet_written_again_reads_back_equal(path: Path) -> None:
    dance = read(sheet_text(path))
    assert read(write(dance)) == dance
