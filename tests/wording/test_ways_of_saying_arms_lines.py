"""Feet and hands told apart: on lines of their own, around a count in brackets, in sentences; the same dance."""

from __future__ import annotations

import pytest

from .saying import reads_as

SEATED = "Probe\nseated, 1 wall, beginner, 100 bpm, intro 16\n\n"
TOES = "1 R toe to the side, R arm reaches to the right\n2 R home, R hand rests in the lap\n"
TOES += "3 L toe to the side, L arm reaches to the left\n4 L home, L hand rests in the lap"


@pytest.mark.parametrize(
    "words",
    [
        "Feet: 1-2 R toe side, home; 3-4 L toe side, home\n"
        "Arms: 1 R arm out to R, 2 R hand home to lap, 3 L arm out to L, 4 L hand home to lap",
        "R toe to the side (1) ... R arm out to the right\nR home (2) ... R hand rests in the lap\n"
        "L toe to the side (3) ... L arm out to the left\nL home (4) ... L hand rests in the lap",
        "1-2 R toe to the side, R home\n3-4 L toe to the side, L home\n"
        "Right arm reaches to the right on 1, right hand rests in the lap on 2. "
        "Left arm reaches to the left on 3, left hand rests in the lap on 4.",
        "FEET\n1-2 R toe side, home\n3-4 L toe side, home\nARMS\n1 R arm reaches R\n2 R hand in lap\n"
        "3 L arm reaches L\n4 L hand in lap",
        "1 R toe to the side, right arm reaches to the right\n2 R home, rest that hand in the lap\n"
        "3 L toe to the side, the other arm reaches to the left\n4 L home, rest that hand in the lap",
    ],
)
def test_hands_are_laid_over_the_feet_wherever_they_are_told(words: str) -> None:
    reads_as(words, TOES, SEATED)


@pytest.mark.parametrize(
    "words",
    [
        "1-8 march, R first\nArms: swing as in walking",
        "March on the spot for eight counts, starting with the right foot, and let the arms swing.",
        "1-8 March R, L, R, L, R, L, R, L\nThe arms swing gently the whole way through these eight counts.",
        "1-8 March on the spot, right foot first, swinging the arms\n",
        "1-4 March R, L, R, L\n5-8 March R, L, R, L\nArms swing throughout.",
        "1-4 March R, L, R, L\n5-8 again\nBoth arms swing from start to finish",
    ],
)
def test_arms_that_swing_go_on_through_all_of_it(words: str) -> None:
    plain = "1-8 March R, L, R, L, R, L, R, L"
    reads_as(words, plain + ", swinging both arms", SEATED)


@pytest.mark.parametrize(
    "words",
    [
        "Feet: still\nArms: 1-4 drum on the knees, R L R L; 5-6 clap, clap; 7-8 pat the knees, pat the knees",
        "1-4 feet still, drum on the knees R, L, R, L\n5-6 clap, clap\n7-8 pat the knees twice",
        "The feet have a rest here.\n1-4 Drum on the knees, right, left, right, left\n5-6 Clap twice\n7-8 Pat knees x2",
        "1-4 drum on the knees, right first\n5-6 clap, clap\n7-8 tap your knees, tap your knees",
    ],
)
def test_feet_that_rest_are_no_step(words: str) -> None:
    plain = "1-4 drum on the knees R, L, R, L\n5 clap\n6 clap\n7 pat the knees\n8 pat the knees"
    reads_as(words, plain, SEATED)


@pytest.mark.parametrize(
    "words",
    [
        "1-3 Right foot slides forward, slowly, over three counts\n4-6 and slides home again, over three "
        "counts\n7-8 hold",
        "1-3 Slide the right foot forward for three counts\n4-6 Slide it home for three counts\n7-8 Hold",
        "1-3 Draw the right foot forward along the floor over three counts\n4-6 Draw it home over three "
        "counts\n7-8 Hold",
    ],
)
def test_a_foot_drawn_slowly_moves_on_every_count(words: str) -> None:
    plain = (
        "1 drag R forward\n2 drag R forward\n3 drag R forward\n4 drag R home\n5 drag R home\n6 drag R home\n7-8 hold"
    )
    reads_as(words, plain, SEATED)
