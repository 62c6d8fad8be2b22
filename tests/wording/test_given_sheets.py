"""The project's first nine sheets and six slips: every dance exact, every slip found on its line, nobody accused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text

from .judged import RANK, amiss

SHEETS = Path(__file__).parents[1] / "sheets"
SOUND = sorted((SHEETS / "sound").glob("*.json"))
FAULTY = sorted((SHEETS / "faulty").glob("*.json"))
assert len(SOUND) == 9
assert len(FAULTY) == 6


@pytest.mark.parametrize("path", SOUND, ids=lambda p: p.stem)
def test_a_sound_sheet_is_read_exactly_and_gets_no_error(path: Path) -> None:
    truth = json.loads(path.read_text(encoding="utf-8"))
    answer = dance_json(read(sheet_text(path.with_suffix(".txt"))))
    assert amiss(truth, answer) == []


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
def test_a_slip_is_found_on_its_line_with_its_kind_and_nothing_else_is_accused(path: Path) -> None:
    fault = json.loads(path.read_text(encoding="utf-8"))
    found = read(sheet_text(path.with_suffix(".txt"))).findings
    errors = [f for f in found if f.severity == "error"]
    assert [(f.kind, f.line) for f in errors] == [(fault["fault"], fault["line"])]
    assert RANK.index(errors[0].severity) >= RANK.index(fault["severity"])
    assert errors[0].mend
