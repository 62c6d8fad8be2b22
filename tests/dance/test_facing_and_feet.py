"""The clock face, the four walls, and the mirror of feet, weights, directions and arms."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.dance.facing import clock, from_clock, turned, walls_of
from softshoe.dance.feet import Foot, Weight, weight_on
from softshoe.dance.places import MIRROR, Direction

degrees = st.integers(-1080, 1080)


@given(st.integers(0, 359))
def test_a_facing_read_off_the_clock_is_the_facing_that_was_written(facing: int) -> None:
    hour, minute = clock(facing).split(":")
    assert from_clock(int(hour), int(minute)) == facing


@pytest.mark.parametrize(("facing", "said"), [(0, "12:00"), (90, "3:00"), (180, "6:00"), (270, "9:00"), (315, "10:30")])
def test_the_four_walls_and_a_corner_are_said_as_clock_times(facing: int, said: str) -> None:
    assert clock(facing) == said


@given(st.integers(0, 359), degrees)
def test_a_turn_and_the_same_turn_back_come_home(facing: int, turn: int) -> None:
    assert turned(turned(facing, turn), -turn) == facing


@pytest.mark.parametrize("turn", [90, -90])
def test_four_quarter_turns_come_home(turn: int) -> None:
    facing = 0
    for _ in range(4):
        facing = turned(facing, turn)
    assert facing == 0


@given(degrees)
def test_a_dance_has_as_many_walls_as_times_through_until_it_faces_home(net: int) -> None:
    walls = walls_of(net)
    homes = [k for k in range(1, 5) if turned(0, k * net) == 0]
    quarters = net % 90 == 0
    assert walls == (homes[0] if homes and quarters else None)


@pytest.mark.parametrize("direction", Direction)
def test_a_direction_mirrored_twice_is_itself(direction: Direction) -> None:
    assert direction.mirrored.mirrored is direction


def test_only_what_lies_to_a_side_changes_in_the_mirror() -> None:
    sided = {d for d in Direction if "left" in d.value or "right" in d.value}
    assert set(MIRROR) == sided
    assert {d for d in Direction if d.mirrored is not d} == sided


@pytest.mark.parametrize("foot", Foot)
def test_the_other_foot_s_other_foot_is_the_foot(foot: Foot) -> None:
    assert foot.other.other is foot
    assert weight_on(foot).other is weight_on(foot.other)


def test_the_foot_that_does_not_bear_is_free_and_on_both_or_on_the_seat_either_may_move() -> None:
    assert {weight: weight.free for weight in Weight} == {
        Weight.LEFT: Foot.RIGHT, Weight.RIGHT: Foot.LEFT, Weight.BOTH: None, Weight.SEAT: None,
    }  # fmt: skip


def test_turns_to_the_right_go_on_round_the_clock() -> None:
    assert [turned(0, 90), turned(270, 90), turned(0, -90), turned(180, 450), turned(315, 90)] == [90, 0, 270, 270, 45]


def test_the_clock_reads_as_people_say_it() -> None:
    said = {0: "12:00", 30: "1:00", 45: "1:30", 90: "3:00", 180: "6:00", 315: "10:30", 330: "11:00", 360: "12:00"}
    assert {deg: clock(deg) for deg in said} == said


def test_a_clock_facing_is_a_whole_number_of_degrees() -> None:
    read = [from_clock(12), from_clock(3), from_clock(9), from_clock(1, 30), from_clock(10, 30), from_clock(11)]
    assert read == [0, 90, 270, 45, 315, 330]
    assert all(type(deg) is int for deg in (*read, from_clock(4, 15)))
