"""Titles, seats, lengths and headings as leaders say them: other words, the same dance."""

from __future__ import annotations

import pytest

from softshoe.wording.read import read

from .alike import told

STEPS = "1-4 Tap right toe to the side, home, tap left toe to the side, home\n5-8 Repeat 1-4"
FACTS = "16 counts, 1 wall, beginner, 96 bpm, intro 16 counts"
SECOND = "1-4 Right heel forward, home, left heel forward, home\n5-8 Repeat 1-4"
PLAIN = f"Pebble Beach\n{FACTS}, seated\n\nSection 1\n{STEPS}\n\nSection 2\n{SECOND}\n"


@pytest.mark.parametrize(
    "title",
    [
        "Title: Pebble Beach",
        "Dance: Pebble Beach",
        "The dance: Pebble Beach",
        "Our dance: Pebble Beach",
        "Name of the dance: Pebble Beach",
        "The dance is called Pebble Beach",
        "Step sheet for: Pebble Beach",
        "Pebble Beach (chair version)",
        "Hello everyone,\n\nHere are the words for Thursday.\n\nDance: Pebble Beach",
        "Dear all,\n\nPebble Beach",
        "Good morning!\n\nThis week's dance is called Pebble Beach.",
        "Hi Doris,\n\nas you asked:\n\nName: Pebble Beach",
    ],
)
def test_the_title_is_found_behind_its_key_and_below_a_greeting(title: str) -> None:
    assert told(PLAIN.replace("Pebble Beach", title, 1)) == told(PLAIN)


@pytest.mark.parametrize("title", ["Willow Bridge", "The Tag Rug", "No Bridge Too Far", "Tag Along", "Ending Street"])
def test_a_name_promises_no_tag_and_no_bridge(title: str) -> None:
    assert told(PLAIN.replace("Pebble Beach", title))["errors"] == []


@pytest.mark.parametrize(
    "said",
    [
        "Written for dancers on their feet; the option in brackets is for those who would rather sit.",
        "Danced standing. Seated options below.",
        "For dancers on foot, with a seated version too.",
        "We stand for this one; the chair version is overleaf.",
        "Standing dance (seated option in brackets)",
    ],
)
def test_a_sheet_with_options_for_chairs_is_no_seated_sheet(said: str) -> None:
    assert read(f"Pebble Beach\n{FACTS}\n{said}\n\n{STEPS}\n{SECOND}\n").seated is False


@pytest.mark.parametrize(
    "title", ["Pebble Beach (chair version)", "Pebble Beach, seated version", "Pebble Beach - sitting version"]
)
def test_a_chair_version_is_a_seated_dance(title: str) -> None:
    assert read(f"{title}\n{FACTS}\n\n{STEPS}\n{SECOND}\n").seated is True


@pytest.mark.parametrize(
    "foot",
    [
        f"Start again. ({FACTS}, seated.)",
        "Start again. 16 counts, 1 wall; beginner level, seated. 96 beats a minute, 16 counts in.",
        f"And from the top! {FACTS}, chairs.",
        f"({FACTS}; sitting)",
        f"Facts: {FACTS}, seated",
        "Tempo: 96 bpm\nIntro: 16 counts\nLevel: beginner\n16 counts, 1 wall, seated",
    ],
)
def test_what_the_head_leaves_out_may_stand_at_the_foot(foot: str) -> None:
    assert told(PLAIN.replace(f"{FACTS}, seated\n", "") + foot + "\n") == told(PLAIN)


@pytest.mark.parametrize(
    "words",
    [
        "32 counts",
        "Thirty-two counts",
        "two-and-thirty counts",
        "It comprises two and thirty counts",
        "Counts: 32",
        "32c",
    ],
)
def test_a_length_in_words_of_any_age_is_read(words: str) -> None:
    sheet = f"Pebble Beach\n{words}, 1 wall, seated\n\n{STEPS}\n{SECOND}\n"
    assert read(sheet).counts == 32


@pytest.mark.parametrize(
    "words",
    [
        "88 beats in the minute",
        "88 bpm",
        "88 to the minute",
        "they should keep to 88 beats in every minute",
        "tempo 88",
    ],
)
def test_a_tempo_is_read_however_it_is_told(words: str) -> None:
    assert read(f"Pebble Beach\n16 counts, seated. {words}.\n\n{STEPS}\n{SECOND}\n").tempo_bpm == 88


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("[1]", "[2]"),
        ("=== 1 ===", "=== 2 ==="),
        ("- 1 -", "- 2 -"),
        ("(1)", "(2)"),
        ("No. 1", "No. 2"),
        ("Bit 1 - Knock knock!", "Bit 2 - Who's there?"),
        ("first bit", "second bit"),
        ("The First Figure, in which we greet the garden", "The Second Figure, in which we leave it"),
        ("Verse one", "Verse two"),
        ("1st chunk", "2nd chunk"),
        ("Stage 1: toes", "Stage 2: heels"),
        ("First 8", "Last 8"),
        ("First movement", "Second movement"),
        ("Part 1\nThe hands have a rest here.", "Part 2\nNice and easy now."),
    ],
)
def test_headings_in_all_their_dress_begin_a_section(one: str, two: str) -> None:
    assert told(PLAIN.replace("Section 1", one).replace("Section 2", two)) == told(PLAIN)


@pytest.mark.parametrize("said", ["seats only", "danced in seats", "all from a seat"])
def test_seats_alone_seat_the_dance(said: str) -> None:
    assert read(f"Pebble Beach\n{FACTS}, {said}\n\n{STEPS}\n{SECOND}\n").seated is True


@pytest.mark.parametrize("said", ["Get up from your seat for this one.", "Rise from a seat before the music starts."])
def test_whoever_leaves_a_seat_does_not_dance_on_it(said: str) -> None:
    assert read(f"Pebble Beach\n{FACTS}\n{said}\n\n{STEPS}\n{SECOND}\n").seated is False


@pytest.mark.parametrize("said", ["leave to stand for 16 counts (intro)", "16 counts [the intro]"])
def test_an_intro_may_be_named_in_a_bracket_behind_its_counts(said: str) -> None:
    facts = "32 counts, 1 wall, beginner, 96 bpm"
    assert read(f"Pebble Beach\n{facts}, {said}\n\n{STEPS}\n{SECOND}\n").intro_counts == 16


HALF_TURN = (
    "1-4 Rock R forward, recover L, rock R back, recover L\n5-8 Step R forward, pivot 1/2 left, stomp R, stomp L"
)


@pytest.mark.parametrize(
    ("said", "walls"),
    [
        ("back wall, front wall", 2),
        ("front wall and back wall", 2),
        ("goes to the front and the back", 2),
        ("Wall count two, step count 8", 2),
        ("you begin facing the front", 2),
        ("Walls: 2", 2),
    ],
)
def test_walls_are_said_in_many_ways_and_a_hint_is_not_held_against_the_dance(said: str, walls: int) -> None:
    dance = read(f"Pebble Beach\n8 counts, beginner, 110 bpm, intro 16\n{said}\n\nSection 1\n{HALF_TURN}\n")
    assert dance.walls == walls
    assert not [f for f in dance.findings if f.kind in ("walls", "total")]


@pytest.mark.parametrize("said", ["1 wall", "Walls: 4", "single wall"])
def test_walls_that_are_counted_are_held_against_the_dance(said: str) -> None:
    dance = read(f"Pebble Beach\n8 counts, beginner, 110 bpm, intro 16\n{said}\n\nSection 1\n{HALF_TURN}\n")
    assert "walls" in {f.kind for f in dance.findings if f.severity == "error"}


@pytest.mark.parametrize(
    "said",
    ["Weight begins on left", "Weight to begin: left", "left foot heavy", "the left foot is heavy", "weight on L"],
)
def test_the_foot_that_bears_at_first_is_said_in_many_ways(said: str) -> None:
    dance = read(f"Pebble Beach\n8 counts, 2 walls, beginner\n{said}\n\nSection 1\n{HALF_TURN}\n")
    assert dance.start_weight.value == "L"
    assert not [f for f in dance.findings if f.severity == "error"]


@pytest.mark.parametrize(
    "steps",
    [
        "1-4 R heel forward, home, L heel forward, home\n5-8 clap, clap, snap the fingers of both hands, hold",
        "1-4 pat thighs, clap, pat thighs, clap\n5-8 roll hands, hold, roll hands, hold",
        "1-4 hands on knees, hold, clap, hold\n5-8 R toe forward, home, L toe forward, home",
    ],
)
def test_hands_on_thighs_and_feet_that_come_home_are_a_chairs(steps: str) -> None:
    assert read(f"Pebble Beach\n8 counts, beginner\n\n{steps}\n").seated
    assert not read(f"Pebble Beach\n8 counts, 1 wall, beginner, standing\n\n{steps}\n").seated


@pytest.mark.parametrize(
    ("said", "seated"),
    [
        ("beginner, seated, chair backs to the wall", True),
        ("Sit. Two rows stand side by side.", True),
        ("Sitting, backs off the back of the chair", True),
        ("danced on the same bench", True),
        ("we stay at the chair", False),
        ("chair (held)", False),
    ],
)
def test_a_chair_is_sat_on_or_held(said: str, seated: bool) -> None:
    assert read(f"Pebble Beach\n16 counts, 1 wall\n{said}\n\n{STEPS}\n{SECOND}\n").seated is seated


@pytest.mark.parametrize(
    ("said", "tempo"),
    [("speed 105 up to 125", (105, 125)), ("120 ticks a minute", 120), ("tempo 105 to 125", (105, 125))],
)
def test_a_tempo_goes_up_to_another(said: str, tempo: object) -> None:
    assert read(f"Pebble Beach\n16 counts, 1 wall, seated\n{said}\n\n{STEPS}\n{SECOND}\n").tempo_bpm == tempo


def test_counts_of_a_word_or_of_columns_are_not_those_of_the_dance() -> None:
    for said in ("all slow, two counts to a word", "count : 1 2 3 4 5 6 7 8"):
        assert read(f"Pebble Beach\n16 counts, 1 wall, seated\n{said}\n\n{STEPS}\n{SECOND}\n").counts == 16, said
