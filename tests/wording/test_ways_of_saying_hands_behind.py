"""Hands told behind the feet: on the last count, on the arm of the same side, on the line that is done twice."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

import pytest

from .saying import answer, errors, reads_as

SEATED = "Probe\nseated, 8 counts, 1 wall, beginner, 100 bpm, intro 16\n\n"
TOES = "1 right toe forward\n2 right foot home\n3 right toe forward\n4 right foot home and clap\n"
SWAYS = "5 sway right\n6 sway left\n7 sway right\n8 sway left"


@pytest.mark.parametrize(
    ("words", "plain"),
    [
        # the last count of a line, of its copy, of hands on a line of their own
        (
            "Right toe forward and home, twice, with a clap on the last count (1-4). Sway right, left, right, left, with "
            "a clap on the last beat (5-8).",
            f"{TOES}{SWAYS} and clap",
        ),
        (
            "Both heels up, down, up, down with a clap on the last count, and the same for 5-8.",
            "1 both heels up\n2 both heels down\n3 both heels up\n4 both heels down and clap\n5-8 repeat 1-4",
        ),
        (
            "feet: 1 right toe forward 2 home 3 left toe forward 4 home 5-8 sway R L R L\nhands: one clap on the last count",
            f"1 right toe forward\n2 right foot home\n3 left toe forward\n4 left foot home\n{SWAYS} and clap",
        ),
        (
            "1-8 R toe side, home, L toe side, home, twice through, with a clap on the last count.",
            "1 right toe to the side\n2 right foot home\n3 left toe to the side\n4 left foot home\n"
            "5 right toe to the side\n6 right foot home\n7 left toe to the side\n8 left foot home and clap",
        ),
        # the arm of the foot's own side
        (
            "1-4 left toe forward and the same arm reaches overhead, hold, home with the hand to the lap, clap\n"
            "5-8 right toe forward and the same arm reaches overhead, hold, home with the hand to the lap, clap",
            "1 left toe forward and left hand reaches overhead\n2 hold\n3 left foot home with left hand to the lap\n4 clap\n"
            "5 right toe forward and right hand reaches overhead\n6 hold\n7 right foot home with right hand to the lap\n8 clap",
        ),
        # hands beside the feet: all of it is done twice
        (
            "1-4 R kick forward and clap, home and pat thighs, twice\n5-8 sway R L R L",
            "1 right kick forward and clap\n2 right foot home and pat the thighs\n3 right kick forward and clap\n"
            f"4 right foot home and pat the thighs\n{SWAYS}",
        ),
        # the foot comes down beside the hands
        (
            "1-4 Right knee up with both hands overhead, down with hands to the lap; left knee up with both hands overhead, "
            "down with hands to the lap\n5-8 sway R L R L",
            "1 right knee up with both hands overhead\n2 right foot in place with both hands to the lap\n"
            f"3 left knee up with both hands overhead\n4 left foot in place with both hands to the lap\n{SWAYS}",
        ),
        # a count before where the hand goes
        (
            "1 R hand reaches to the right, shoulder level   2 hold   3 to lap   4 clap\n5-8 sway R L R L",
            f"1 right hand reaches to the right at shoulder height\n2 hold\n3 right hand to the lap\n4 clap\n{SWAYS}",
        ),
        # a heel set out in front comes home
        (
            "Right heel out and home, twice (1-4). Left heel out and home, twice (5-8).",
            "1 right heel forward\n2 right foot home\n3 right heel forward\n4 right foot home\n"
            "5 left heel forward\n6 left foot home\n7 left heel forward\n8 left foot home",
        ),
    ],
)
def test_hands_behind_the_feet(words: str, plain: str) -> None:
    reads_as(words, plain, SEATED)


def test_heels_that_go_out_and_in_turn_out() -> None:
    reads_as("1 right heel out\n2 in", "1 swivel the right heel right\n2 right heel to centre")


def test_standing_up_is_no_error_where_all_stand() -> None:
    assert not errors(answer("1-4 march R L R L\n5-8 stand", "Probe\n8 counts, 1 wall, beginner\n\n"))
