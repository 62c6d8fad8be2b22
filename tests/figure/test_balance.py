"""What bears, and how far inside it a point lies; shapes checked against sums made by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.figure.balance import centre_of_mass, foot_outline, hull, margin_m
from softshoe.figure.body import Body
from softshoe.figure.move import move

SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
PLAN = st.lists(st.tuples(st.floats(-1, 1), st.floats(-1, 1)), min_size=6, max_size=30)


@pytest.mark.parametrize(
    ("point", "margin"), [((0.5, 0.5), 0.5), ((0.1, 0.5), 0.1), ((1.2, 0.5), -0.2), ((1.3, 1.4), -0.5), ((0, 0.3), 0)]
)
def test_the_margin_is_the_way_to_the_nearest_edge(point: tuple[float, float], margin: float) -> None:
    assert margin_m(hull(SQUARE), np.array(point)) == pytest.approx(margin)


@given(PLAN)
def test_every_point_lies_inside_the_hull_of_all(points: list[tuple[float, float]]) -> None:
    outline = hull(np.array(points))
    if len(outline) < 3:
        return
    assert all(margin_m(outline, np.array(point)) > -1e-9 for point in points)


def test_a_foot_has_the_length_and_width_it_is_given() -> None:
    outline = foot_outline(np.array([0.0, 0, 0]), np.array([0.25, 0, 0]), width_m=0.09)
    assert np.ptp(outline[:, 0]) == pytest.approx(0.25)
    assert np.ptp(outline[:, 1]) == pytest.approx(0.09)


def test_the_centre_of_mass_moves_with_the_body() -> None:
    points = move((), counts=1, stance="standing").frames.points_m
    moved = centre_of_mass(points + np.array([1.0, 2.0, 3.0]), Body())
    assert moved - centre_of_mass(points, Body()) == pytest.approx(np.full((25, 3), [1.0, 2.0, 3.0]))
