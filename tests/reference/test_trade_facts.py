"""Facts of the trade: common practice, no source. Each was counted by hand; none is a number of ours."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np
import pytest

from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import wall_events
from softshoe.dance.patterns import danced_pattern
from softshoe.dance.places import Direction
from softshoe.render.picture_camera import Camera
from softshoe.wording.read import read

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance

START = Count(Fraction(1))
THIRTY_TWO = """Copper Kettle
32 counts, 1 wall, beginner, 100 bpm, intro 16

Section 1
1-4 Step R to side, L behind R, R to side, touch L beside R
5-8 Step L to side, R behind L, L to side, touch R beside L
Section 2
1-8 Repeat 1-8
Section 3
1-8 Repeat 1-8
Section 4
1-8 Repeat 1-8
"""


def sheet(lines: str, *, counts: int, seated: bool = False) -> Dance:
    how = "seated, " if seated else ""
    return read(f"Copper Kettle\n{counts} counts, 1 wall, beginner, {how}100 bpm, intro 16\n\n{lines}\n")


def told(actions: tuple[Action, ...]) -> list[tuple[str, Foot | None, str]]:
    return [(action.at.label, action.foot, action.verb) for action in actions]


def test_a_dance_of_32_counts_is_four_eights() -> None:
    dance = read(THIRTY_TWO)
    assert [(s.start.label, s.length.n) for s in dance.sections] == [("1", 8), ("9", 8), ("17", 8), ("25", 8)]


def test_a_toe_strut_takes_two_counts_toe_then_heel() -> None:
    assert told(danced_pattern("toe strut", lead=Foot.RIGHT, at=START)) == [
        ("1", Foot.RIGHT, "touch"), ("2", Foot.RIGHT, "drop"),
    ]  # fmt: skip


def test_a_side_point_and_its_close_take_two() -> None:
    dance = sheet("1-2 Point R to right side, close R beside L\n3-4 Point L to left side, close L beside R", counts=4)
    assert told(dance.actions) == [
        ("1", Foot.RIGHT, "point"), ("2", Foot.RIGHT, "step"), ("3", Foot.LEFT, "point"), ("4", Foot.LEFT, "step"),
    ]  # fmt: skip
    assert [event.weight for event in wall_events(dance)] == [Weight.LEFT, Weight.RIGHT, Weight.RIGHT, Weight.LEFT]


def test_a_floor_circle_of_one_foot_takes_four() -> None:
    dance = sheet(
        "1-4 R foot draws a circle on the floor\n5-8 L foot draws a circle on the floor", counts=8, seated=True
    )
    circles = [(action.at.label, action.foot) for action in dance.actions]
    assert circles == [(str(k), Foot.RIGHT if k <= 4 else Foot.LEFT) for k in range(1, 9)]


def test_a_sequence_begins_with_the_right_foot() -> None:
    assert sheet("1-4 Walk forward R, L, R, touch L beside R", counts=4).start_weight is Weight.LEFT
    unsaid = sheet("1-4 Walk forward 4 steps", counts=4)
    assert (unsaid.actions[0].foot, unsaid.start_weight) == (Foot.RIGHT, Weight.LEFT)


def test_a_vine_is_side_behind_side_and_a_fourth_action() -> None:
    vine = danced_pattern("vine", lead=Foot.RIGHT, at=START)
    assert [a.dir for a in vine] == [Direction.RIGHT, Direction.ACROSS_BEHIND, Direction.RIGHT, Direction.TOGETHER]


@pytest.mark.parametrize("name", ["coaster step", "sailor step", "shuffle forward", "kick-ball-change"])
def test_three_actions_in_two_counts_are_counted_1_and_2(name: str) -> None:
    assert [a.at.label for a in danced_pattern(name, lead=Foot.LEFT, at=START)] == ["1", "1&", "2"]


@pytest.mark.parametrize("lead", [Foot.LEFT, Foot.RIGHT])
def test_a_jazz_box_is_across_back_side_together(lead: Foot) -> None:
    side = Direction.RIGHT if lead is Foot.RIGHT else Direction.LEFT
    box = danced_pattern("jazz box", lead=lead, at=START)
    assert [a.dir for a in box] == [Direction.ACROSS_FRONT, Direction.BACK, side, Direction.TOGETHER]
    assert [a.foot for a in box] == [lead, lead.other, lead, lead.other]


def test_a_demonstrator_who_faces_the_dancers_goes_to_her_own_left_when_they_go_right() -> None:
    camera = Camera("mirror", scale=200.0, centre_x=320.0, floor_y=400.0)
    middle, their_right, towards_her_front = camera.project(np.array([[0.0, 0, 0], [0, 0, 0.5], [0.5, 0, 0]]))
    assert their_right[0] > middle[0]  # the dancers, who look at the screen, see it go to their right …
    assert towards_her_front[3] > middle[3]  # … while she looks out at them, so that it is her left
