"""The project's first nine sheets and six slips: every dance exact, every slip found on its line, nobody accused."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text

SHEETS = Path(__file__).parents[1] / "sheets"
SOUND = sorted((SHEETS / "sound").glob("*.json"))
FAULTY = sorted((SHEETS / "faulty").glob("*.json"))
HEADER = ("counts", "walls", "level", "seated", "metre", "tempo_bpm", "intro_counts", "start_weight")
PARTS = ("action", "dir", "weight", "turn", "facing")
RANK = ("note", "warning", "error")
assert len(SOUND) == 9
assert len(FAULTY) == 6


def one_of(truth: dict[str, Any], answer: dict[str, Any], key: str) -> bool:
    return answer[key] in [truth[key], *truth.get(f"{key}_alt", [])]


def arms_agree(truth: list[dict[str, Any]], answer: list[dict[str, Any]]) -> bool:
    return len(truth) == len(answer) and all(
        (t["side"], t["gesture"]) == (a["side"], a["gesture"]) and one_of(t, a, "place")
        and (t["toward"] is None or t["toward"] == a["toward"])
        for t, a in zip(truth, answer, strict=True)
    )  # fmt: skip


def agree(truth: list[dict[str, Any]], answer: list[dict[str, Any]]) -> bool:
    def order(event: dict[str, Any]) -> tuple[Fraction, str]:
        return Fraction(event["t"]), str(event["foot"])

    if [order(e) for e in sorted(truth, key=order)] != [order(e) for e in sorted(answer, key=order)]:
        return False
    pairs = zip(sorted(truth, key=order), sorted(answer, key=order), strict=True)
    return all(all(one_of(t, a, p) for p in PARTS) and arms_agree(t["arms"], a["arms"]) for t, a in pairs)


@pytest.mark.parametrize("path", SOUND, ids=lambda p: p.stem)
def test_a_sound_sheet_is_read_exactly_and_gets_no_error(path: Path) -> None:
    truth = json.loads(path.read_text(encoding="utf-8"))
    answer = dance_json(read(sheet_text(path.with_suffix(".txt"))))
    assert agree(truth["events"], answer["events"])
    assert {k: answer[k] for k in HEADER} == {k: truth[k] for k in HEADER}
    assert answer["title"].casefold() == truth["title"].casefold()
    assert answer["sections"] == truth["sections"]
    assert answer["restarts"] == truth["restarts"]
    for key in ("tags", "endings"):
        assert len(answer[key]) == len(truth[key])
        for t, a in zip(truth[key], answer[key], strict=True):
            assert agree(t.pop("events"), a.pop("events"))
            assert t == a
    assert [f for f in answer["findings"] if f["severity"] == "error"] == []


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
def test_a_slip_is_found_on_its_line_with_its_kind_and_nothing_else_is_accused(path: Path) -> None:
    fault = json.loads(path.read_text(encoding="utf-8"))
    found = read(sheet_text(path.with_suffix(".txt"))).findings
    errors = [f for f in found if f.severity == "error"]
    assert [(f.kind, f.line) for f in errors] == [(fault["fault"], fault["line"])]
    assert RANK.index(errors[0].severity) >= RANK.index(fault["severity"])
    assert errors[0].mend
