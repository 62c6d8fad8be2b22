from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from render.film_scene import seated, walking
from softshoe.render.film_places import Reach, places
from softshoe.render.film_together import BOX, Dancer, Together
from softshoe.render.look import PLAIN
from softshoe.render.look_guise import guise_of
from softshoe.render.stage import Capsule, Circle, Line, Polygon
from softshoe.tables import table

if TYPE_CHECKING:
    from softshoe.render.stage import Mark


def _reach(left: list[float], right: list[float], *, high: float = 1.3) -> Reach:
    return Reach(np.array(left), np.array(right), legs=0.2, high=high, low=0.2)


def test_two_who_open_their_arms_at_different_moments_may_stand_nearer_than_two_who_open_them_together() -> None:
    one, at_once, in_turn = (
        _reach([0.4, 0.4], [0.4, 0.9]),
        _reach([0.4, 0.9], [0.4, 0.4]),
        _reach([0.9, 0.4], [0.4] * 2),
    )

    def apart(other: Reach) -> float:
        laid = places([one, other], [True, True], BOX, largest=100.0)
        return (laid.at[1][0] - laid.at[0][0]) / laid.scale

    assert apart(at_once) == pytest.approx(1.9)
    assert apart(in_turn) == pytest.approx(1.4)


def test_those_who_stand_are_set_behind_and_between_those_who_sit_where_that_draws_all_larger() -> None:
    wide, tall = _reach([0.9], [0.9]), _reach([0.9], [0.9], high=1.75)
    laid = places([tall, wide, tall, wide, wide], [False, True, False, True, True], BOX, largest=999.0)
    stand, sit = [laid.at[k] for k in (0, 2)], [laid.at[k] for k in (1, 3, 4)]
    assert all(y < sit[0][1] for _, y in stand)
    assert sit[0][0] < stand[0][0] < sit[1][0] < stand[1][0] < sit[2][0]
    assert laid.scale > places([tall, wide, tall, wide, wide], [True] * 5, BOX, largest=999.0).scale


def _xs(mark: Mark) -> list[float]:
    match mark:
        case Polygon() | Line():
            return [x for x, _ in mark.points]
        case Capsule():
            return [mark.x0 - mark.r0, mark.x0 + mark.r0, mark.x1 - mark.r1, mark.x1 + mark.r1]
        case Circle():
            return [mark.x - mark.r, mark.x + mark.r]
    return []


def test_nobody_reaches_into_a_neighbours_place_and_no_hand_is_cut_off() -> None:
    rows = table("look/company")
    dancers = [
        Dancer(str(k), motion, guise_of(rows[k]["outfit"], rows[k]["skin"], rows[k]["hair"]))
        for k, motion in enumerate((seated(), walking(right_m=0.0), seated()))
    ]
    stage = Together(dancers)
    for moment in (0.0, 1.0, 3.0):
        spans = []
        for dancer, rig in zip(dancers, stage._rigs, strict=True):
            xs = [x for mark in stage.dancer(dancer, rig, moment) for x in _xs(mark)]
            spans.append((min(xs), max(xs)))
        assert min(low for low, _ in spans) >= 0
        assert max(high for _, high in spans) <= 1280
        assert spans[0][1] < spans[2][0]


def test_every_look_of_the_company_can_be_asked_for_and_no_two_are_alike() -> None:
    looks = {guise_of(row["outfit"], row["skin"], row["hair"]) for row in table("look/company")}
    assert len(looks) == len(table("look/company"))
    assert guise_of() == PLAIN
