"""Minimum-jerk movement: Flash & Hogan 1985, The coordination of arm movements, J Neurosci 5:1688-1703.

The formula is published; values are arithmetic on it. The endpoint example is from Duarte's open notebook.
"""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.figure.minjerk import acceleration, bump, share, speed

ROWS = [  # share of time, position, speed, acceleration
    (0.0, 0.0, 0.0, 0.0),
    (0.1, 0.00856, 0.243, 4.32),
    (0.25, 0.103515625, 1.0546875, 5.625),
    (0.5, 0.5, 1.875, 0.0),
    (0.75, 0.896484375, 1.0546875, -5.625),
    (1.0, 1.0, 0.0, 0.0),
]


@pytest.mark.parametrize(("s", "position", "rate", "change"), ROWS)
def test_position_speed_and_acceleration(s: float, position: float, rate: float, change: float) -> None:
    time = np.array([s])
    assert share(time)[0] == pytest.approx(position, abs=1e-12)
    assert speed(time)[0] == pytest.approx(rate, abs=1e-12)
    assert acceleration(time)[0] == pytest.approx(change, abs=1e-12)


def test_the_peaks_are_where_the_formula_puts_them() -> None:
    time = np.linspace(0, 1, 200001)
    assert speed(time).max() == pytest.approx(1.875)
    assert acceleration(time).max() == pytest.approx(5.773503, abs=1e-6)
    assert time[acceleration(time).argmax()] == pytest.approx(0.211325, abs=1e-5)


def test_the_jerk_is_sixty_at_both_ends_and_minus_thirty_in_the_middle() -> None:
    step = 1e-5
    time = np.array([step, 0.5, 1 - step])
    jerk = (acceleration(time + step / 2) - acceleration(time - step / 2)) / step
    assert jerk == pytest.approx([60, -30, 60], abs=0.02)


def test_duarte_an_endpoint_from_0_05_to_05_0_in_one_second() -> None:
    t = np.linspace(0, 1, 11)
    x = 0.0 + 0.5 * share(t)
    y = 0.5 - 0.5 * share(t)
    assert x == pytest.approx(3 * t**5 - 7.5 * t**4 + 5 * t**3)
    assert (x[5], y[5]) == pytest.approx((0.25, 0.25))


def test_a_bump_rises_and_falls_at_rest_at_both_ends() -> None:
    """Our own curve for the lift of a foot: 16 s^2 (1 - s)^2."""
    assert bump(np.array([0.0, 0.5, 1.0, 1.5])).tolist() == [0.0, 1.0, 0.0, 0.0]
