"""Facts in headers laid out in every way: tables, names and values, bare numbers; names that keep their words."""

from __future__ import annotations

import pytest

from softshoe.wording.read import read

EIGHTS = (
    "\n\nSection 1\n1-4 Right heel forward, together, left heel forward, together\n5-8 Repeat 1-4\n\n"
    "Section 2\n1-4 Clap, clap, clap, clap\n5-8 Repeat 1-4\n"
)


@pytest.mark.parametrize(
    "title",
    ["Behind the Blue Chair", "Please Be Seated", "Morning in the Orchard", "Welcome Home Polka", "Hello, Holly!"],
)
def test_a_name_keeps_its_own_words(title: str) -> None:
    assert read(f"{title}\n16 counts, standing, 1 wall{EIGHTS}").title == title


@pytest.mark.parametrize(
    "line", ["Red Kettle seated", "Red Kettle - chair", "A walkthrough of “Red Kettle”", "Red Kettle chair dance"]
)
def test_what_is_said_about_the_sheet_is_no_part_of_the_name(line: str) -> None:
    assert read(f"{line}\n16 counts, 1 wall{EIGHTS}").title == "Red Kettle"


@pytest.mark.parametrize(
    "rows",
    [
        "| Type | Counts | Walls | Level | Tempo | Intro |\n| seated | 16 | 1 | beginner | 110 bpm | 16 |",
        "| Type | Counts | Walls | Level | Tempo | Intro |\n|---|---|---|---|---|---|\n"
        "| seated | 16 | 1 | beginner | 110 | 16 |",
        "Type\tCounts\tWalls\tLevel\tTempo\tIntro\nseated\t16\t1\tbeginner\t110\t16",
        "Seat: yes\nCounts/walls: 16/1\nLevel: beginner\nPulse: 110\nBeginning: after the bell and sixteen counts",
        "16 / 1 / seated / beginner / 110 / intro 16",
        "[seated] [16 counts] [1 wall] [beginner] [110 bpm] [16 in]",
        "LEVEL...... beginner seated\nCOUNTS......16\nWALLS......1\nTEMPO......110\nINTRO......16",
        "Seat-dance, 16/1, beginner, at 110, first step on count 17",
        "Sitting, one wall, sixteen, beginner, music about 110; it starts when 16 counts have gone by",
    ],
)
def test_the_facts_are_read_however_they_are_laid_out(rows: str) -> None:
    dance = read(f"Red Kettle\n{rows}{EIGHTS}")
    told = (dance.counts, dance.walls, dance.level, dance.seated, dance.tempo_bpm, dance.intro_counts)
    assert told == (16, 1, "beginner", True, 110, 16)


@pytest.mark.parametrize(
    ("line", "seated"),
    [
        ("Everybody sits for this one", True),
        ("We stay on our chairs", True),
        ("24 counts, seat, front", True),
        ("Beginner balance dance, hold a stable chair", False),
        ("Beginner line dance (also shown on chairs, see the end)", False),
        ("Clear away the chairs first, we need the room", False),
        ("Supported at a chair", False),
        ("Chair in front, one hand or two", False),
        ("Seated. Sit a hand's width from the back of the chair", True),
    ],
)
def test_who_sits_is_told_from_who_only_has_a_chair(line: str, seated: bool) -> None:
    assert read(f"Red Kettle\n{line}\n16 counts{EIGHTS}").seated is seated


@pytest.mark.parametrize(
    "line", ["Music: waltz-free! Anything in four at 105 bpm", "48 counts in three long sections of 16, no waltz"]
)
def test_a_waltz_that_is_ruled_out_is_none(line: str) -> None:
    assert read(f"Red Kettle\n{line}{EIGHTS}").metre == "4/4"


@pytest.mark.parametrize(
    "line", ["COUNT 16 - WALL 1 - BEGINNER", "16 counts in four rows", "After round two we go back"]
)
def test_a_number_that_is_no_wait_is_no_intro(line: str) -> None:
    assert read(f"Red Kettle\n{line}{EIGHTS}").intro_counts is None
