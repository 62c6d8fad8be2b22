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
