"""Certain mends are applied; a sound sheet and an uncertain slip are left alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from softshoe.wording.mend import mended
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text

SHEETS = Path(__file__).parents[1] / "sheets"
KETTLE = sheet_text(SHEETS / "sound" / "01_copper_kettle_canter.txt")


@pytest.mark.parametrize(
    ("words", "slip"),
    [("Walls: 4", "Walls: 2"), ("(now facing 9:00)", "(now facing 3:00)"), ("Length: 32 counts", "Length: 40 counts"),
     ("6  Touch left", "6  touhc left")],
)  # fmt: skip
def test_a_certain_mend_gives_the_sound_sheet_back(words: str, slip: str) -> None:
    faulty = KETTLE.replace(words, slip, 1)
    again = mended(faulty, read(faulty))
    assert again is not None
    assert again.casefold() == KETTLE.casefold()


def test_a_sound_sheet_is_left_alone() -> None:
    assert mended(KETTLE, read(KETTLE)) is None


def test_a_slip_with_two_possible_mends_is_left_to_the_author() -> None:
    faulty = KETTLE.replace("hitch left knee", "hitch right knee")
    assert mended(faulty, read(faulty)) is None
