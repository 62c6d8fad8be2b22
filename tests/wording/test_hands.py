"""Sheets by hands that had not seen the reader: sound ones are read exactly and no one is accused, slips are found.

A hand's ``not_yet.csv`` lists its sheets not read right so far. It may only shrink: what is read right must leave it.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from softshoe.dance.document import dance_json
from softshoe.errors import WordingError
from softshoe.wording.read import empty, read
from softshoe.wording.source import sheet_text

from .judged import amiss, found

SHEETS = Path(__file__).parents[1] / "sheets"
SOUND = sorted(SHEETS.glob("hand_*/sound/*.json"))
FAULTY = sorted(SHEETS.glob("hand_*/faulty/*.json"))
NOT_YET = {  # sheet of a hand -> what is not yet understood
    f"{file.parent.name}-{row['sheet']}": row["why"]
    for file in sorted(SHEETS.glob("hand_*/not_yet.csv"))
    for row in csv.DictReader(file.read_text(encoding="utf-8").splitlines())
}
assert len(SOUND) >= 24
assert len(FAULTY) >= 24


def answer_of(path: Path) -> dict[str, object]:
    text = sheet_text(path.with_suffix(".txt"))
    try:
        return dance_json(read(text))
    except WordingError:
        return dance_json(empty(text))


def named(path: Path) -> str:
    return f"{path.parts[-3]}-{path.stem}"


def test_the_list_of_sheets_not_read_yet_names_sheets_that_are_there() -> None:
    assert set(NOT_YET) <= {named(path) for path in (*SOUND, *FAULTY)}


@pytest.mark.parametrize("path", SOUND, ids=named)
def test_a_sound_sheet_of_another_hand_is_read_exactly_and_gets_no_error(path: Path) -> None:
    wrong = amiss(json.loads(path.read_text(encoding="utf-8")), answer_of(path))
    assert (wrong == []) == (named(path) not in NOT_YET), (
        f"{named(path)}: {wrong or 'read right, take it off the list'}"
    )


@pytest.mark.parametrize("path", FAULTY, ids=named)
def test_the_slip_of_another_hand_is_found_and_nothing_else_is_accused(path: Path) -> None:
    fault = json.loads(path.read_text(encoding="utf-8"))
    findings = answer_of(path)["findings"]
    assert isinstance(findings, list)
    kinds = {fault["fault"], *fault["also_ok_faults"]}
    others = [f for f in findings if f["severity"] == "error" and f["kind"] not in kinds]
    right = found(fault, findings) and not others
    assert right if named(path) not in NOT_YET else not right, (
        f"{named(path)}: {[(f['kind'], f['line']) for f in findings]}"
    )
