"""What the words leave out is worked out only where footwork leaves one possibility, and a note says so."""

from __future__ import annotations

from pathlib import Path

import pytest

from softshoe.wording.read import read
from softshoe.wording.source import sheet_text

SHEETS = sorted((Path(__file__).parents[1] / "sheets" / "sound").glob("*.txt"))


def notes(steps: str) -> list[str]:
    found = [f for f in read(f"T\n{steps}").findings if f.kind == "inferred"]
    assert {f.severity for f in found} <= {"note"}
    return [f.message for f in found]


def test_the_recover_of_a_rock_that_fills_two_counts_is_told() -> None:
    assert notes("1-2 rock R forward\n3-4 rock R back") == [
        "Worked out from the footwork: the recover on 2.", "Worked out from the footwork: the recover on 4.",
    ]  # fmt: skip


def test_the_step_before_a_pivot_and_the_step_home_are_told() -> None:
    assert notes("1-2 step R to side, L together\n3-4 pivot half left") == [
        "Worked out from the footwork: the step before the pivot on 3."
    ]
    assert "the step home on the “&” on 1&" in notes("1&2& R heel & L heel &\n3-4 walk R, L")[0]


def test_the_foot_that_begins_is_worked_out_where_only_one_can() -> None:
    dance = read("T\n1-4 walk, walk, walk, hold\n5-8 step L to side, R together, L to side, touch R")
    assert [a.foot.value for a in dance.actions if a.foot][:3] == ["R", "L", "R"]
    assert not any(f.severity == "error" for f in dance.findings)
    assert any(f.kind == "inferred" and "the right foot begins" in f.message for f in dance.findings)


def test_the_foot_that_begins_stays_an_error_where_either_could() -> None:
    kinds = [
        f.kind for f in read("T\n1-2 rock side, recover\n3-4 rock side, recover").findings if f.severity == "error"
    ]
    assert kinds == ["foot-missing"]


def test_the_trades_own_shorthand_is_not_told() -> None:
    assert notes("1-4 vine right, touch\n5-6 step L forward, pivot half right\n7-8 walk L, R") == []


def test_one_line_gets_one_note() -> None:
    assert len(notes("1-4 rock R forward, rock R back\n5-8 walk R, L, R, L")) == 1


@pytest.mark.parametrize("path", SHEETS, ids=lambda p: p.stem)
def test_a_sheet_that_says_everything_gets_few_notes(path: Path) -> None:
    assert sum(f.kind in ("inferred", "ambiguous") for f in read(sheet_text(path)).findings) <= 2
