"""Two bones reach their target, bend to their pole's side, and say by how much they miss."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.figure.reach import angle_deg, towards, two_bone, unit

COORDINATE = st.floats(-1.0, 1.0)
POINTS = st.tuples(COORDINATE, COORDINATE, COORDINATE).map(np.array)
A_M, B_M = 0.30, 0.25


@given(POINTS, POINTS)
def test_bones_keep_their_length_and_the_middle_lies_on_the_poles_side(target: np.ndarray, pole: np.ndarray) -> None:
    far = float(np.linalg.norm(target))
    if far < 0.05 or np.linalg.norm(np.cross(target / far, pole)) < 0.05:
        return
    leg = two_bone(np.zeros(3), target, first_m=A_M, second_m=B_M, pole=pole)
    assert np.linalg.norm(leg.middle_m) == pytest.approx(A_M, abs=1e-9)
    assert np.linalg.norm(leg.end_m - leg.middle_m) == pytest.approx(B_M, abs=1e-9)
    along = leg.end_m / np.linalg.norm(leg.end_m)
    assert (leg.middle_m - (leg.middle_m @ along) * along) @ pole >= -1e-9
    assert leg.miss_m == pytest.approx(np.linalg.norm(leg.end_m - target), abs=1e-9)


@given(st.floats(0.06, 0.54))
def test_a_target_within_reach_is_reached(far: float) -> None:
    leg = two_bone(np.zeros(3), np.array([far, 0, 0]), first_m=A_M, second_m=B_M, pole=np.array([0.0, 1, 0]))
    assert float(leg.miss_m) < 1e-9


@pytest.mark.parametrize(("far", "miss"), [(0.75, 0.2), (0.01, 0.04)])
def test_a_target_out_of_reach_is_brought_onto_the_line_and_told(far: float, miss: float) -> None:
    leg = two_bone(np.zeros(3), np.array([far, 0, 0]), first_m=A_M, second_m=B_M, pole=np.array([0.0, 1, 0]))
    assert float(leg.miss_m) == pytest.approx(miss, abs=0.001)
    assert leg.end_m[1:] == pytest.approx([0.0, 0.0])


def test_a_joint_bends_no_further_than_allowed() -> None:
    target = np.array([0.05, 0.0, 0.0])
    arm = two_bone(np.zeros(3), target, first_m=A_M, second_m=B_M, pole=np.array([0.0, 1, 0]), most_bent_deg=140)
    assert angle_deg(arm.middle_m, arm.end_m - arm.middle_m) == pytest.approx(140, abs=0.2)
    assert float(arm.miss_m) > 0.1


@given(POINTS, POINTS, st.floats(5, 90))
def test_a_direction_is_brought_near_enough_and_left_alone_where_it_is(
    a: np.ndarray, b: np.ndarray, most: float
) -> None:
    if min(np.linalg.norm(a), np.linalg.norm(b)) < 0.05 or not 1 < angle_deg(a, b) < 179:
        return
    near = towards(a, b, most)
    assert float(angle_deg(near, b)) <= most + 1e-6
    if float(angle_deg(a, b)) < most - 1e-6:
        assert near == pytest.approx(unit(a))
