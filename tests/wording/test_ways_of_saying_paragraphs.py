"""Sentences with and without counts in one paragraph, and sheets whose paragraphs are their sections."""

from __future__ import annotations

import pytest

from softshoe.wording.read import read

from .saying import HEAD, answer, errors, events, reads_as

SEATED = "Probe\nseated, 8 counts, 1 wall, beginner, 100 bpm, intro 16\n\n"
HEELS = "1 right heel forward\n2 right foot home\n3 left heel forward\n4 left foot home\n"


@pytest.mark.parametrize(
    ("words", "plain"),
    [
        # the counted sentence first, the other fills what is left of the eight
        (
            "Right heel forward on 1, home on 2, left heel forward on 3, home on 4. Sway right, left, right, left.",
            f"{HEELS}5-8 sway right, left, right, left",
        ),
        # the other way about
        (
            "Right heel forward, home, left heel forward, home. Clap on 5, hold on 6, clap on 7, hold on 8.",
            f"{HEELS}5 clap\n6 hold\n7 clap\n8 hold",
        ),
        # counts of a sentence that go to and fro
        (
            "Right heel forward, home, left heel forward, home; clap on five, clap on seven, and be silent on six and "
            "eight.",
            f"{HEELS}5 clap\n6 hold\n7 clap\n8 hold",
        ),
        # a number behind what is done is the very next count
        (
            "Right heel forward, home, left heel forward, home. Clap on five, keep quiet on six, clap seven and eight.",
            f"{HEELS}5 clap\n6 hold\n7 clap\n8 clap",
        ),
        # what leads up to a range
        (
            "The right hand reaches out to the right at shoulder height, and stays for two and three. Hands in the "
            "lap on four, and rest for five and six. Clap, clap.",
            "1 reach the right hand to the right at shoulder height\n2-3 hold\n4 rest both hands in the lap\n5-6 hold"
            "\n7-8 clap, clap",
        ),
    ],
)
def test_a_sentence_without_counts_stands_where_counts_are_open(words: str, plain: str) -> None:
    reads_as(words, plain, SEATED)


def test_one_count_is_enough_where_a_length_leads_up_to_it() -> None:
    words = (
        "Roll the hands for three counts and clap on four. Then the left hand pats the right knee, the right hand pats "
        "the left knee, and those two again."
    )
    plain = (
        "1-3 roll the hands\n4 clap\n5 left hand pats the right knee\n6 right hand pats the left knee\n"
        "7 left hand pats the right knee\n8 right hand pats the left knee"
    )
    reads_as(words, plain, SEATED)


FACTS_BELOW = (
    "Probe\n\n"
    "Step left and touch. Step right and touch. Sway left, sway right, sway left, then touch the right foot in.\n"
    "Take a wide step right and draw the left foot in over two counts, clap. Hips go right, left, right, left.\n"
    "In all it's sixteen counts, one wall, for beginners, at 100 to the minute.\n"
)


def test_a_length_stated_below_is_the_dance_s_and_a_first_sentence_is_no_heading() -> None:
    dance = read(FACTS_BELOW)
    assert [s.length.n for s in dance.sections] == [8, 8]
    assert [a.verb for a in dance.actions if a.at.at > 12] == ["bump"] * 4


def test_one_that_fills_other_counts_is_told() -> None:
    got = answer("Right heel forward on 1, home on 2, left heel forward on 3, home on 4. Sway right, left.", SEATED)
    assert errors(got)


LETTER = (
    "Probe\n{}\n\n"
    "Both heels up, down, up, down. Then clap on five, hold on six, clap on seven, hold on eight.\n"
    "The right foot goes out to the side and home, the left foot goes out to the side and home. Pat the thighs, clap, "
    "pat the thighs, clap.\n"
    "Lift both arms overhead on 1, leave them there for 2, 3 and 4. Bring them down to your lap on 5, wait on 6, clap "
    "on 7 and wait on 8.\n"
)


def test_a_paragraph_is_a_section_where_the_length_asks_for_as_many() -> None:
    dance = read(LETTER.format("A sitting dance of 24 counts"))
    assert [(s.start.at, s.length.n) for s in dance.sections] == [(1, 8), (9, 8), (17, 8)]
    assert not [f for f in dance.findings if f.severity == "error"]


@pytest.mark.parametrize(
    ("words", "plain"),
    [
        (
            "1-4 Right and touch, left and touch",
            "1-4 step right to the side, touch left, step left to the side, touch right",
        ),
        (
            "1-4 Step right and kick, left and kick",
            "1-4 step right to the side, kick left, step left to the side, kick right",
        ),
        (
            "1-8 Right, touch, left, touch, right, together, right, touch",
            "1-4 step right to the side, touch left, step left to the side, touch right\n"
            "5-8 step right to the side, left together, right to the side, touch left",
        ),
        ("1-4 Right, behind, right, touch", "1-4 step right to the side, left behind, right to the side, touch left"),
        (
            "1-4 Plant the right foot, plant the left foot, hold, clap",
            "1-4 step right in place, step left in place, hold, clap",
        ),
        ("1-4 Nudge the hips right twice, left twice", "1-4 bump right, right, left, left"),
        (
            "1-2 Right foot to the side, right foot back beside the left",
            "1-2 right foot to the side, right foot together",
        ),
    ],
)
def test_sides_alone_and_plain_words_of_the_trade(words: str, plain: str) -> None:
    one, two = answer(words, HEAD), answer(plain, HEAD)
    assert [e | {"line": 0} for e in events(one)] == [e | {"line": 0} for e in events(two)]


def test_hands_chest_high_go_forward_at_chest_height() -> None:
    reads_as(
        "1 push forward, chest high\n2 pull to the chest", "1 push forward at chest height\n2 pull to the chest", SEATED
    )


def test_sentences_that_begin_a_section_each_have_their_own() -> None:
    words = (
        "In the first eight we march right, left, right, left on 1 to 4, then clap on 5 and 6 and hold on 7 and 8. "
        "In the second eight the right heel goes forward on 1, home on 2, the left heel forward on 3, home on 4, and "
        "the whole thing once more on 5 to 8.\nAnd in the last eight raise both hands overhead on 1, hold 2, 3 and 4, "
        "lower both hands to the lap on 5, hold 6, 7 and 8."
    )
    plain = (
        "Section 1\n1-4 march right, left, right, left\n5-6 clap, clap\n7-8 hold\n"
        f"Section 2\n{HEELS}5-8 repeat 1-4\n"
        "Section 3\n1 raise both hands overhead\n2-4 hold\n5 lower both hands to the lap\n6-8 hold"
    )
    reads_as(words, plain, SEATED.replace("8 counts", "24 counts"))
