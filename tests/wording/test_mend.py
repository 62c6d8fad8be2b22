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


@pytest.mark.parametrize(
    ("words", "slip"),
    [("PART THREE", "PART TWO"), ("(counts 17-24)", "(counts 9-16)"), ("PART FOUR", "PART SIX"),
     ("8  Touch right foot beside left and clap\n", "8  Touch right foot beside left and clap\n" * 2),
     ("scuff left heel", "scfuf left heel")],
)  # fmt: skip
def test_numbers_out_of_turn_and_lines_written_twice_are_mended(words: str, slip: str) -> None:
    assert words in KETTLE
    faulty = KETTLE.replace(words, slip, 1)
    assert mended(faulty, read(faulty)) == KETTLE


@pytest.mark.parametrize("label", ["5-6", "5,6", "5 6"])
def test_an_and_forgotten_in_a_triple_step_is_written(label: str) -> None:
    strut = sheet_text(SHEETS / "sound" / "04_signal_box_strut.txt")
    faulty = strut.replace("5&6 | Right coaster", f"{label} | Right coaster", 1)
    assert faulty != strut
    assert mended(faulty, read(faulty)) == strut


def test_three_slips_are_mended_one_after_the_other() -> None:
    faulty = KETTLE.replace("PART THREE", "PART TWO").replace("(now facing 9:00)", "(now facing 3:00)")
    faulty = faulty.replace("scuff left heel", "scfuf left heel")
    assert mended(faulty, read(faulty)) == KETTLE


def test_a_line_written_twice_with_other_words_is_left_to_the_author() -> None:
    faulty = KETTLE.replace("6  Touch left", "6  Tap left foot beside right\n6  Touch left", 1)
    assert mended(faulty, read(faulty)) is None


def test_a_sound_sheet_is_left_alone() -> None:
    assert mended(KETTLE, read(KETTLE)) is None


def test_a_slip_with_two_possible_mends_is_left_to_the_author() -> None:
    faulty = KETTLE.replace("hitch left knee", "hitch right knee")
    assert mended(faulty, read(faulty)) is None
