"""Columns for each foot and hand, letters for limbs, sections named by any letter, hours in brackets, tags in rows."""

from __future__ import annotations

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read

from .saying import reads_as

SEATED = "Probe\nseated, 1 wall, beginner, 100 bpm, intro 16\n\n"
STANDING = "Probe\n1 wall, beginner, intro 16, start with the right foot\n\n"
TAPS = "1 right toe forward\n2 right foot home\n3 left heel forward\n4 left foot home"


@pytest.mark.parametrize(
    "table",
    [
        "ct | R foot | L foot\n1 | toe forward |\n2 | home |\n3 | | heel forward\n4 | | home",
        "| count | left foot | right foot |\n|---|---|---|\n| 1 | still | toe forward |\n| 2 | still | home |\n"
        "| 3 | heel forward | still |\n| 4 | home | still |",
        "ct | R leg | L leg\nHERE WE GO\n1 | toe forward | -\n2 | home | -\n3 | - | heel forward\n4 | - | home",
    ],
)
def test_a_column_for_each_foot_names_the_foot(table: str) -> None:
    reads_as(table, TAPS, SEATED)


def test_feet_that_both_wait_in_their_columns_hold_once() -> None:
    table = "ct | R foot | L foot\n1 | toe forward |\n2 | hold | hold\n3 | home |\n4 | hold | hold"
    reads_as(table, "1 right toe forward\n2 hold\n3 right foot home\n4 hold", SEATED)


def test_a_column_for_each_hand_names_the_hand_and_what_both_do_is_done_once() -> None:
    table = (
        "count | right hand | left hand\n1 | reach right, shoulder height | still\n2 | to lap | still\n"
        "3 | clap | clap\n4 | still | pat left knee"
    )
    plain = (
        "1 right hand reach right, shoulder height\n2 right hand to lap\n3 clap both hands\n4 left hand pat left knee"
    )
    reads_as(table, plain, SEATED)


def test_the_heads_of_two_tables_are_no_beats() -> None:
    head = "Count | Foot | What it does | Facing\n"
    rows = "1 | R | steps to right side | 12\n2 | L | steps beside R | 12\n"
    plain = "1 step right to the side\n2 step left beside right"
    reads_as(f"{head}{rows}\n{head}{rows.replace('1 |', '3 |').replace('2 | L', '4 | L')}",
             f"{plain}\n{plain.replace('1 ', '3 ').replace('2 ', '4 ')}", STANDING)  # fmt: skip


def test_letters_for_limbs_are_feet_and_hands() -> None:
    short = (
        "1 - 4   F: R toe forward, R home, L toe forward, L home\n        H: clap on 2 and 4\n"
        "5 - 8   F: rest\n        H: both up overhead on 5, down to the lap on 7\n"
    )
    reads_as(short, short.replace("F:", "Feet:").replace("H:", "Hands:"), SEATED)


WALK = "1-4 walk right, left, right, hold; 5-8 walk back left, right, left, hold"
BOX = "1-4 jazz box right; 5-8 stomp right, stomp left, clap, clap"


@pytest.mark.parametrize(
    ("one", "two", "three"),
    [
        ("K1: ", "K2: ", "K3: = K1"),
        ("S1: ", "S2: ", "S3: = S1"),
        ("P1 - ", "P2 - ", "P3 - same as P1"),
        ("Section 1\n", "Section 2\n", "Section 3\nRepeat section 1"),
        ("Eight no. 1\n", "Eight no. 2\n", "Eight no. 3\nAll of eight no. 1 again"),
        ("First verse, line 1\n", "First verse, line 2\n", "First verse, line 3\nLine 1 once more"),
        ("Reel, part 1\n", "Reel, part 2\n", "Reel, part 3\nas part 1"),
        ("S1 | ", "S2 | ", "S3 | same as S1"),
    ],
)
def test_sections_of_any_name_are_asked_for_again(one: str, two: str, three: str) -> None:
    got = dance_json(read(f"Probe\n24 counts, 1 wall, intro 16, weight on left\n\n{one}{WALK}\n{two}{BOX}\n{three}\n"))
    assert [s["counts"] for s in got["sections"]] == [8, 8, 8]
    moves = [(e["foot"], e["action"], e["dir"]) for e in got["events"]]
    assert moves[:8] == moves[-8:]
    assert [f["kind"] for f in got["findings"] if f["severity"] == "error" and f["kind"] != "free-foot"] == []


def test_an_hour_in_brackets_behind_a_turn_is_no_count() -> None:
    told = "17-24: R forward, hold, pivot 1/4 L, hold (9); stomp R, stomp L, clap, clap"
    found = read(f"Probe\n4 walls, intro 16\n\n1-8 Walk R L R L, back R L R L\n9-16 Hold 8\n{told}\n").findings
    assert [f.kind for f in found if f.severity == "error"] == []


def test_an_hour_in_brackets_that_the_turns_do_not_lead_to_is_told() -> None:
    found = read("Probe\n4 walls, intro 16\n\n21-24 R forward, hold, pivot 1/4 L, hold (3)\n").findings
    assert [f.kind for f in found if f.severity == "error"] == ["facing"]


@pytest.mark.parametrize(
    ("words", "plain"),
    [
        ("5-8 rock R forward, recover L, then right and left in place",
         "5-8 rock R forward, recover L, right in place, left in place"),
        ("5-8 rock R forward, recover L, R and L in place", "5-8 rock R forward, recover L, R in place, L in place"),
        ("5-8 R across L, L back, R to right side, L by R", "5-8 R across L, L back, R to right side, L beside R"),
        ("5-8 jazz box follows: R across L, L back, R side, L beside R", "5-8 R across L, L back, R side, L beside R"),
        ("5-8 A grapevine right follows", "5-8 A grapevine right"),
    ],
)  # fmt: skip
def test_what_is_said_of_both_feet_and_what_only_follows(words: str, plain: str) -> None:
    reads_as(f"1-4 Sway R, L, R, L\n{words}", f"1-4 Sway R, L, R, L\n{plain}", STANDING)


def test_a_tag_in_a_row_of_bars_has_its_steps_behind_the_last() -> None:
    sheet = (
        "Probe\n16 counts, 1 wall, intro 16, start with the right foot\n\n"
        "S1 | 1-4 walk R L R, touch L; 5-8 back L R L, touch R\n"
        "S2 | 1-4 walk R L R, touch L; 5-8 back L R L, touch R\n\n"
        "Tag | end of wall 2, 8 counts | 1 R forward, 2 touch L, 3 L back, 4 touch R; 5-8 clap x 4\n"
    )
    dance = read(sheet)
    assert [(t.walls, t.counts) for t in dance.tags] == [((2,), 8)]
    assert [f for f in dance.findings if f.severity == "error"] == []


def test_counts_summed_behind_a_bar_are_those_danced_before_the_ending() -> None:
    sheet = (
        "Probe\n16 counts, 1 wall, intro 16, start with the right foot\n\n"
        "1-4 walk R L R, touch L; 5-8 back L R L, touch R\n9-12 walk R L R, touch L; 13-16 back L R L, touch R\n"
        "Ending: the last wall. Dance up to and including bar 2 (8 counts, still at 12 o'clock), then:\n"
        "1-2 step R forward, step L beside R\n"
    )
    assert [f for f in read(sheet).findings if f.severity == "error"] == []


@pytest.mark.parametrize(
    "words",
    [
        '"And ONE pat the thighs, TWO pat the thighs, THREE clap, FOUR hold,"\n'
        '"FIVE push both hands forward, SIX pull them to the chest, SEVEN clap, EIGHT hold."',
        "ONE pat the thighs, TWO pat the thighs, THREE clap, FOUR hold, FIVE push both hands forward, "
        "SIX pull them to the chest, SEVEN clap, EIGHT hold",
        "On the first count pat the thighs and on the second pat the thighs. On the third clap and hold on the fourth. "
        "On the fifth push both hands forward, and on the sixth pull them to the chest. On the seventh clap, "
        "and on the eighth hold.",
    ],
)
def test_counts_that_are_shouted_or_told_by_their_order(words: str) -> None:
    plain = (
        "1-2 pat the thighs twice\n3 clap\n4 hold\n5 push both hands forward\n6 pull them to the chest\n7 clap\n8 hold"
    )
    reads_as(words, plain, SEATED)


def test_what_is_told_of_the_first_wall_is_no_count() -> None:
    line = "On the first wall smile, on the second wall wave, on the third wall bow."
    reads_as(f"1-4 clap, clap, clap, clap\n{line}", "1-4 clap, clap, clap, clap", SEATED)


@pytest.mark.parametrize(
    ("words", "plain"),
    [
        ('"Right heel in front - and home. Left heel in front - and home." (1 to 4, one move a count)\n5-8 clap x4',
         "1-4 right heel forward, home, left heel forward, home\n5-8 clap x4"),
        ("Counts 1-8: right heel forward, hold, right foot home and clap (that's three), hold, "
         "then march right, left, right, left (that's eight).",
         "1 right heel forward\n2 hold\n3 right foot home and clap\n4 hold\n5-8 march right, left, right, left"),
        ("1-2 the right heel goes out to the right diagonal in front, home\n3-8 hold 6",
         "1-2 right heel forward right diagonal, home\n3-8 hold 6"),
    ],
)  # fmt: skip
def test_counts_that_are_only_summed_up_and_a_diagonal_in_front(words: str, plain: str) -> None:
    reads_as(words, plain, SEATED)


def test_sections_in_small_letters_are_asked_for_again() -> None:
    got = dance_json(
        read(
            "Probe\nseated, 32 counts, 1 wall, intro 16\n\n(a) Right foot looks about\n"
            "1 to 4. Stamp right, stamp left, hold, hold\n5 to 8. Right heel up, down, up, down\n"
            "(b) Left foot looks about\nAs (a) with the left foot\n(c) Step out, step in\n"
            "1 to 8. Right forward, left forward, right home, left home, clap, clap, clap, hold\n"
            "(d) Last of all\n1 to 8. March R, L, R, L, R, L, R, L\n"
        )
    )
    assert [s["counts"] for s in got["sections"]] == [8, 8, 8, 8]
    assert [f for f in got["findings"] if f["severity"] == "error"] == []
    assert [e["foot"] for e in got["events"][8:10]] == ["L", "R"]
