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


@pytest.mark.parametrize(
    "line",
    [
        "chair/beginner/16c/1w/110/i16",
        "seated;16;beginner;110;16;one wall",
        "beginner :: 1 wall :: 16 counts :: 110 :: wait 16 :: sitting",
        "16 COUNTS   BEGINNER   110   INTRO 16   ONE WALL   SEATED",
        "Seated. 110; sixteen counts; one wall; beginner; 16 beats.",
        "Beginner, seated. It's 110, sixteen counts in your chair, one wall. Sixteen beats of church organ.",
        "seated beginner | 16 counts | 1 wall | 110 bpm | 16 beats",
        "Seated beginners. A lively 110, sixteen counts, one wall. Sixteen beats and off we go.",
        "Seated. Somewhere near 110, begin when sixteen beats have passed; sixteen counts, one wall, beginner",
        "Level . . . . beginner, seated\nCounts . . . . 16\nWalls . . . . 1\nTempo . . . . 110\nIntro . . . . 16",
        "level   beginner\nbeats   16\nbpm     110\nin ......... 16\nwalls .. just one\nsitting",
        "Sitting only, beginner, one wall. 110 or near it. Sixteen counts in all, sixteen in front.",
        "16c 1w beg 110bpm 16in, seated",
        "Beginner, one wall, seated, 110 on the metronome. Sixteen beats then go. Total: 16",
        "counts . walls . level . tempo . intro\n16 . 1 . beginner . 110 . 16\nsitting",
    ],
)
def test_facts_without_their_names_are_told_by_what_is_left(line: str) -> None:
    dance = read(f"Red Kettle\n{line}{EIGHTS}")
    told = (dance.counts, dance.walls, dance.level, dance.seated, dance.tempo_bpm, dance.intro_counts)
    assert told == (16, 1, "beginner", True, 110, 16)


@pytest.mark.parametrize(
    ("line", "tempo"),
    [
        ("any tune between 104 and 112", (104, 112)),
        ("somewhere from 98 to 106", (98, 106)),
        ("Pace: 84 to 92", (84, 92)),
        ("105 ish", 105),
        ("a steady 115", 115),
        ("slow, say ninety-two", 92),
        ("waltz, 3/4 @ 92", 92),
    ],
)
def test_a_tempo_between_two_others_or_near_one(line: str, tempo: object) -> None:
    assert read(f"Red Kettle\n16 counts, 1 wall\n{line}{EIGHTS}").tempo_bpm == tempo


@pytest.mark.parametrize("said", ["abs. beginner", "absolute beg.", "ABS. BEG.", "very first steps", "abs beg"])
def test_an_absolute_beginner_may_be_cut_short(said: str) -> None:
    assert read(f"Red Kettle\n16 counts, {said}\n1 wall{EIGHTS}").level == "absolute beginner"


def test_counts_in_waltz_time_are_no_lead_in() -> None:
    dance = read(f"Red Kettle\n24 counts in waltz time, 12 count intro{EIGHTS}")
    assert (dance.counts, dance.intro_counts, dance.metre) == (24, 12, "3/4")


@pytest.mark.parametrize(
    ("line", "weight"), [("Stand on your right foot", "R"), ("The left foot has your weight at first", "L")]
)
def test_the_foot_that_is_stood_on_bears_the_weight(line: str, weight: str) -> None:
    steps = "1-4 Sway right, sway left, sway right, sway left\n5-8 Hold 4"
    assert read(f"Red Kettle\n8 counts, 1 wall. {line}.\n\n{steps}\n").start_weight.value == weight


@pytest.mark.parametrize(
    ("last", "seated"), [("rest both hands in the lap", True), ("hold", False), ("let the hands sink to the lap", True)]
)
def test_a_lap_is_made_by_sitting(last: str, seated: bool) -> None:
    steps = f"1-4 Right heel forward, together, left heel forward, together\n5 clap\n6 clap\n7 clap\n8 {last}"
    assert read(f"Red Kettle\n8 counts, 1 wall\n\n{steps}\n").seated is seated


@pytest.mark.parametrize(
    "line",
    ["behind-the-chair dance", "Everyone at the back of their own chair", "standing; rest the hands in the lap after"],
)
def test_who_stands_at_a_chair_does_not_sit(line: str) -> None:
    assert read(f"Red Kettle\n{line}\n16 counts{EIGHTS}").seated is False


@pytest.mark.parametrize(
    "line", ["Red Kettle - a waltz", "Red Kettle, which I made up for my sister", "Red Kettle (you may stand)"]
)
def test_what_the_name_is_said_to_be_is_no_part_of_it(line: str) -> None:
    assert read(f"{line}\n16 counts, 1 wall{EIGHTS}").title == "Red Kettle"
