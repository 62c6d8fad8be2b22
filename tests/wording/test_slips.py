"""One slip planted at a time into sound sheets: it is found with its kind on its line (or one next to it)."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

from pathlib import Path

import pytest

from softshoe.wording.read import read
from softshoe.wording.source import sheet_text

SOUND = Path(__file__).parents[1] / "sheets" / "sound"
# sheet, words, slip, kind ("ok": the sheet stays sound), line
SLIPS = (
    ("01_copper_kettle_canter", '8  Touch right foot beside left and clap\n',
     '8  Step right foot beside left and clap\n', "weight", 16),
    ("01_copper_kettle_canter", '7-8  Stomp left beside right, stomp up right beside left (no weight)',
     '7-8  Stomp left beside right, stomp right beside left', "free-foot", 26),
    ("01_copper_kettle_canter", '4  Touch right foot beside left and clap\n',
     '', "count-missing", 9),
    ("01_copper_kettle_canter", '3  Step left foot to the forward left diagonal\n',
     '3  Step left foot to the forward left diagonal\n3  Step left foot to the forward left diagonal\n',
     "count-twice", 9),
    ("01_copper_kettle_canter", '5-8  Left rocking',
     '4-8  Left rocking', "count-twice", 17),
    ("01_copper_kettle_canter", '5-6  Walk back left, right\n',
     '', "count-missing", 25),
    ("01_copper_kettle_canter", '7-8  Stomp left beside right, stomp up right beside left (no weight)',
     '7  Stomp left beside right', "section-length", 26),
    ("01_copper_kettle_canter", 'Length: 32',
     'Length: 40', "total", 2),
    ("01_copper_kettle_canter", 'PART THREE',
     'PART TWO', "section-number", 19),
    ("01_copper_kettle_canter", '(now facing 9:00)',
     '(now facing 3:00)', "facing", 20),
    ("01_copper_kettle_canter", 'quarter turn left stepping',
     'quarter turn right stepping', "facing", 20),
    ("01_copper_kettle_canter", 'Walls: 4',
     'Walls: 1', "walls", 2),
    ("01_copper_kettle_canter", '3  Step left foot to the forward left diagonal',
     '3  Step left foot', "direction-missing", 8),
    ("01_copper_kettle_canter", 'Left to the side, right behind',
     'Left to the right side, right behind', "side", 20),
    ("01_copper_kettle_canter", 'scuff left heel',
     'zwoggle left heel', "word", 16),
    ("01_copper_kettle_canter", '6  Touch left foot beside',
     '6  Tuoch left foot beside', "word", 11),
    ("01_copper_kettle_canter", '1  Step right foot',
     '1  Step foot', "ok", 6),
    ("02_brass_button_bustle", '5+6 L chassé L',
     '5 6 L chassé L', "steps-per-count", 3),
    ("02_brass_button_bustle", '1+2 R kick ball chg',
     '1 2 R kick ball chg', "steps-per-count", 4),
    ("02_brass_button_bustle", '(6h)',
     '(9h)', "facing", 4),
    ("02_brass_button_bustle", '2w',
     '4w', "walls", 1),
    ("02_brass_button_bustle", 'C: 1 2',
     'B: 1 2', "section-number", 5),
    ("02_brass_button_bustle", '7 8 walk R L',
     '7 8 walk L R', "weight", 4),
    ("02_brass_button_bustle", 'piv 1/2 L',
     'piv 1/2', "ok", 4),
    ("02_brass_button_bustle", 'R over L + pt L side',
     'R over L + pt L to R', "side", 5),
    ("03_millpond_moon_waltz", '(5) left drags',
     '(5) right drags', "weight", 11),
    ("03_millpond_moon_waltz", '24 counts, four',
     '30 counts, four', "total", 3),
    ("03_millpond_moon_waltz", '(2) right closes to left, (3) left in place.\n(4) right back',
     '(2) right closes to left.\n(4) right back', "count-missing", 8),
    ("03_millpond_moon_waltz", '9:00',
     '3:00', "facing", 16),
    ("03_millpond_moon_waltz", 'four walls',
     'two walls', "walls", 3),
    ("03_millpond_moon_waltz", '(2) right points to the right',
     '(2) right points to the left', "side", 13),
    ("03_millpond_moon_waltz", '(1) left forward, (2)',
     '(1) left, (2)', "direction-missing", 7),
    ("04_signal_box_strut", 'TAG (end of wall 2, 8 counts)',
     'TAG (end of wall 2, 4 counts)', "tag-length", 27),
    ("04_signal_box_strut", '5-8 | Walk in place right, left, right, left.\n',
     '', "tag-length", 27),
    ("04_signal_box_strut", 'Walk in place right, left, right, left.',
     'Walk in place right, left, right, hold.', "free-foot", 29),
    ("04_signal_box_strut", 'Wall 5: restart after 16',
     'Wall 5: restart after 40', "place", 3),
    ("04_signal_box_strut", 'dance 16 counts',
     'dance 48 counts', "place", 31),
    ("04_signal_box_strut", '\nTAG (end of wall 2, 8 counts)\n1-4 | Sway right, left, right, left.\n5-8 | Walk in place right, left, right, left.\n',
     '', "promise", 3),
    ("04_signal_box_strut", '>>> Restart here on wall 5\n',
     '', "ok", 0),
    ("04_signal_box_strut", 'Wall 5: restart after 16 counts.',
     '', "promise", 3),
    ("04_signal_box_strut", 'to face 12:00',
     'to face 6:00', "facing", 32),
    ("04_signal_box_strut", '5&6 | Shuffle forward right, left, right.',
     '5,6 | Shuffle forward right, left, right.', "steps-per-count", 19),
    ("04_signal_box_strut", '5&6 | Right coaster',
     '5-6 | Right coaster', "steps-per-count", 24),
    ("04_signal_box_strut", '3,4 | Rock right forward, recover left.\n',
     '3,4 | Rock right forward, recover left.\n3,4 | Rock right forward, recover left.\n', "count-twice", 24),
    ("04_signal_box_strut", '#3 Paddle',
     '#2 Paddle', "section-number", 16),
    ("04_signal_box_strut", 'Cross right over left, hold',
     'Cross left over left, hold', "weight", 9),
    ("04_signal_box_strut", 'Rock left to left',
     'Rock left to right', "side", 11),
    ("04_signal_box_strut", 'paddle 1/4 turn left with weight to left (9:00)',
     'paddle 1/4 turn right with weight to left (9:00)', "facing", 17),
    ("05_tea_trolley_tango", '32 counts long',
     '24 counts long', "total", 3),
    ("05_tea_trolley_tango", 'On 3 lift the left knee',
     'On 3 jump with both feet', "seated", 16),
    ("05_tea_trolley_tango", 'On 1 step the right foot forward',
     'On 1 pivot half a turn to the left', "seated", 6),
    ("05_tea_trolley_tango", 'on 2 lower both hands to the lap',
     'on 2 lower both hands to the lap and clap', "arms", 9),
    ("05_tea_trolley_tango", 'on 3 step the left foot forward',
     'on 3 step the left foot', "direction-missing", 6),
    ("06_shoelace_serenade", '1-4 feet: twist heels R, L, R, centre',
     '1-4 feet: twist heels R, L, R', "steps-per-count", 20),
    ("06_shoelace_serenade", 'reach to the left at shoulder height on 5',
     'reach to the right at shoulder height on 5', "side", 18),
    ("06_shoelace_serenade", 'clap on 4',
     'clap and hands on hips on 4', "arms", 21),
    ("06_shoelace_serenade", '1-4 feet: march R L R L',
     '1-4 feet: march R L R L R', "steps-per-count", 10),
    ("06_shoelace_serenade", '[17-24]',
     '[9-16]', "section-number", 14),
    ("06_shoelace_serenade", '* 32 counts',
     '* 48 counts', "total", 2),
    ("07_cushion_cove", '8. Clap.',
     '', "section-length", 18),
    ("07_cushion_cove", '3. Left foot out to the side, both hands push out to the left',
     '3. Left foot out to the side, both hands push out to the right', "side", 7),
    ("07_cushion_cove", '6. Lower both hands to the thighs.',
     '5. Lower both hands to the thighs.', "count-twice", 17),
    ("07_cushion_cove", 'SECOND EIGHT',
     'FIRST EIGHT', "section-number", 11),
    ("07_cushion_cove", 'Sixteen counts. One',
     'Twenty-four counts. One', "total", 2),
    ("07_cushion_cove", '7. Pat the thighs.',
     '7. Jump up from the chair.', "seated", 18),
    ("07_cushion_cove", '8. Clap.',
     '8. Flumph.', "word", 19),
    ("08_porchlight_polka", '3&4 LF RF LF on spot',
     '3-4 LF RF LF on spot', "steps-per-count", 3),
    ("08_porchlight_polka", 'III  1-2',
     'II  1-2', "section-number", 5),
    ("08_porchlight_polka", '7 clap, 8 hold',
     '7 clap', "section-length", 6),
    ("08_porchlight_polka", '5-6 RF pt side',
     '5-6 RF pt L', "side", 5),
    ("08_porchlight_polka", '6 L hand punches up, ',
     '', "count-missing", 6),
    ("09_harbour_rope_hum", '5-8 hold, clap, hold, clap\nII.',
     '5-8 hold, clap, hold\nII.', "steps-per-count", 6),
    ("09_harbour_rope_hum", '5 lower both hands to the lap\n',
     '', "count-missing", 16),
    ("09_harbour_rope_hum", '32 counts',
     '16 counts', "total", 3),
    ("09_harbour_rope_hum", '1 reach both arms forward at chest height',
     '1 reach both arms forward at chest height and pat the knees', "arms", 14),
)  # fmt: skip


@pytest.mark.parametrize(
    ("sheet", "words", "slip", "kind", "line"), SLIPS, ids=[f"{s[0][:2]}-{s[3]}-{i}" for i, s in enumerate(SLIPS)]
)
def test_a_planted_slip_is_found(sheet: str, words: str, slip: str, kind: str, line: int) -> None:
    text = sheet_text(SOUND / f"{sheet}.txt")
    assert words in text
    findings = read(text.replace(words, slip, 1)).findings
    errors = [f for f in findings if f.severity == "error"]
    if kind == "ok":
        assert errors == []
        return
    told = [f for f in (findings if kind == "word" else errors) if f.kind == kind]
    assert any(f.line is not None and abs(f.line - line) <= 1 for f in told)


@pytest.mark.parametrize(
    ("sheet", "words", "slip", "kind", "line"), SLIPS, ids=[f"{s[0][:2]}-{s[3]}-{i}" for i, s in enumerate(SLIPS)]
)
def test_one_slip_is_told_at_most_twice(sheet: str, words: str, slip: str, kind: str, line: int) -> None:
    findings = read(sheet_text(SOUND / f"{sheet}.txt").replace(words, slip, 1)).findings
    assert len([f for f in findings if f.severity == "error"]) <= 2


def test_a_section_that_tells_every_count_and_its_rests_stops_where_its_last_count_does() -> None:
    feet = "right foot forward (1), home (2), left foot forward (3), home (4), clap (5), hold (6), clap (7), hold (8)."
    arms = "open both arms to the sides at shoulder height (1), hold (2), cross both arms on the chest (3), hold (4)"
    sheet = f"Kettle\n24 counts, 1 wall, seated, beginner, 100 bpm, intro 16\n\nFirst eight: {feet}\nSecond eight: {arms}, clap (5), clap (6).\nThird eight: {feet}\n"
    assert [(f.kind, f.line) for f in read(sheet).findings if f.severity == "error"] == [("section-length", 5)]
    assert [
        f for f in read(sheet.replace("clap (6).", "clap (6), clap (7, 8).")).findings if f.severity == "error"
    ] == []


@pytest.mark.parametrize("facing", ["(3) to face {}", "(3) ({})", "(3) facing {}", "to face {} (3)"])
def test_a_facing_behind_a_count_is_that_of_the_turn_before_it(facing: str) -> None:
    head = "Kettle\n8 counts, 4 walls, beginner, 118 bpm, intro 16\n\nPart 1\n"
    words = "Cross R over L (1), step L back (2), turn 1/4 right stepping R to side {}, step L together (4)\n"
    bumps = "Bump hips R (5), L (6), R (7), L (8)"
    told = [
        [f.kind for f in read(head + words.format(facing.format(hour)) + bumps).findings if f.severity == "error"]
        for hour in ("3:00", "9:00")
    ]
    assert told == [[], ["facing"]]


def test_a_number_before_heels_is_a_count_where_counts_lead_to_it() -> None:
    words = "1-4 step right to the side, touch left, step left to the side, touch right\n5 heels up, 7 heels up, 8 heels down"
    found = read(f"Probe\n8 counts, 1 wall, intro 16\n\n{words}\n").findings
    assert [(f.kind, f.line) for f in found if f.severity == "error"] == [("count-missing", 5)]
