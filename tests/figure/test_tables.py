"""Every word of the vocabulary has a rule, a place and a body that can do it."""

from __future__ import annotations

import pytest

from softshoe.dance.arms import GESTURES, PLACES
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERBS
from softshoe.errors import FigureError
from softshoe.figure.arm_rules import AIR_PLACES, ARM_RULES, BODY_PLACES, HEIGHTS
from softshoe.figure.body import Body, seat_gap_m, table
from softshoe.figure.feet_rules import SEATED, STANDING, foot_rule
from softshoe.figure.footing import Planner
from softshoe.figure.handing import Handler
from softshoe.figure.places import foot_spot, hand_point, place_name, rows


def test_every_verb_has_a_rule_standing_and_seated() -> None:
    names = {verb.name for verb in VERBS}
    assert set(STANDING) == names
    assert set(SEATED) == names


def test_every_gesture_has_a_rule() -> None:
    assert set(ARM_RULES) == {gesture.name for gesture in GESTURES}


def test_lasting_gestures_last_and_no_others_do() -> None:
    lasting = {gesture.name for gesture in GESTURES if gesture.lasting}
    assert {name for name, rule in ARM_RULES.items() if rule.after == "lasts"} == lasting


def test_every_solver_of_the_tables_exists() -> None:
    assert all(hasattr(Planner, f"_{rule.solver}") for rule in (*STANDING.values(), *SEATED.values()))
    assert all(hasattr(Handler, f"_{rule.solver}") for rule in ARM_RULES.values())


def test_every_place_of_the_arms_is_known_but_the_foot() -> None:
    for known in (AIR_PLACES, BODY_PLACES, HEIGHTS):
        assert set(known) == set(PLACES) - {"foot"}


def test_a_verb_that_no_table_has_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        foot_rule("moonwalk", "standing")


@pytest.mark.parametrize("way", [*Direction, None])
def test_left_and_right_foot_go_to_mirrored_places(way: Direction | None) -> None:
    mirrored = way and way.mirrored
    for stance in ("standing", "seated"):
        right = foot_spot(Foot.RIGHT, way, stance=stance, body=Body())  # type: ignore[arg-type]
        left = foot_spot(Foot.LEFT, mirrored, stance=stance, body=Body())  # type: ignore[arg-type]
        assert right == left


def test_a_foot_that_goes_to_the_other_side_crosses() -> None:
    assert place_name(Foot.RIGHT, Direction.LEFT) == "cross"
    assert place_name(Foot.RIGHT, Direction.RIGHT) == "side"
    assert foot_spot(Foot.RIGHT, Direction.ACROSS_FRONT, stance="standing", body=Body()).out_m < 0


def test_two_feet_side_by_side_do_not_overlap() -> None:
    body = Body()
    assert foot_spot(Foot.RIGHT, Direction.TOGETHER, stance="standing", body=body).out_m > body.foot_width_m


def test_nineteen_hand_places_with_numbers_are_read_and_scale_with_the_body() -> None:
    named = set(rows("hand")) - {"up"}
    assert len(named) >= 19
    small, tall = hand_point("chest", Body(1.5)), hand_point("chest", Body(1.8))
    assert tall[0] > small[0]
    assert tall[1] > small[1]


def test_a_seat_fits_the_body_it_is_made_for_and_hangs_a_shorter_one() -> None:
    body = Body(1.62)
    assert seat_gap_m(body, body.chair.seat_m) == pytest.approx(0.0)
    assert seat_gap_m(Body(1.45), body.chair.seat_m) > 0.03
    assert seat_gap_m(Body(1.80), body.chair.seat_m) < 0


@pytest.mark.parametrize("stature_m", [0.5, 1.1, 2.5])
def test_a_stature_nobody_has_is_refused_in_plain_words(stature_m: float) -> None:
    with pytest.raises(FigureError, match="can't be drawn"):
        Body(stature_m)


def test_every_number_of_the_body_has_its_source() -> None:
    for name in ("segments", "ranges"):
        assert all(row.source for row in table(name).values())
        assert len(table(name)) > 5
