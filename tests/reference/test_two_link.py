"""Two-link arm, elbow solution: cos q2 = (x2 + y2 - a2 - b2) / (2ab), q1 = atan2(y, x) - atan2(b sin q2, a + b cos q2).

Source: the closed form of any robotics text (Craig, Introduction to Robotics); the numbers are arithmetic on it.
"""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.figure.reach import angle_deg, plane_angles_rad, two_bone


@pytest.mark.parametrize(
    ("first", "second", "target", "below", "above"),
    [
        (1.0, 1.0, (1.0, 1.0), (0.0, 90.0), (90.0, -90.0)),
        (2.0, 1.0, (2.0, 1.0), (0.0, 90.0), (53.1301, -90.0)),
        (0.30, 0.25, (0.35, 0.20), (-8.4832, 86.1774), (67.9730, -86.1774)),
    ],
)
def test_both_solutions_of_the_elbow(
    first: float, second: float, target: tuple[float, float], below: tuple[float, float], above: tuple[float, float]
) -> None:
    for bend_up, answer in ((False, below), (True, above)):
        angles = plane_angles_rad(*target, first_m=first, second_m=second, bend_up=bend_up)
        assert angles is not None
        assert np.degrees(angles) == pytest.approx(answer, abs=5e-5)


def test_beyond_both_links_and_inside_their_difference_there_is_no_solution() -> None:
    assert plane_angles_rad(0.56, 0.0, first_m=0.30, second_m=0.25) is None
    assert plane_angles_rad(0.04, 0.0, first_m=0.30, second_m=0.25) is None


def test_at_the_very_sum_of_both_links_the_elbow_is_straight() -> None:
    angles = plane_angles_rad(0.55, 0.0, first_m=0.30, second_m=0.25)
    assert angles == pytest.approx((0.0, 0.0), abs=1e-6)


def test_the_arm_in_space_bends_as_the_flat_one() -> None:
    arm = two_bone(
        np.zeros(3), np.array([0.35, 0.20, 0.0]), first_m=0.30, second_m=0.25, pole=np.array([0.0, -1.0, 0.0])
    )
    assert np.degrees(np.arctan2(arm.middle_m[1], arm.middle_m[0])) == pytest.approx(-8.4832, abs=5e-5)
    assert float(angle_deg(arm.middle_m, arm.end_m - arm.middle_m)) == pytest.approx(86.1774, abs=5e-5)
