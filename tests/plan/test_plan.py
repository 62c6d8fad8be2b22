"""A class laid out of dances: it fills its minutes, ends easily, and says what it could not keep."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.dance import Dance
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.errors import SettingError
from softshoe.plan.classes import plan_class
from softshoe.plan.effort import asks
from softshoe.plan.groups import group_named, groups
from softshoe.plan.order import breaches, cost, ordered

SEATED = group_named("seated beginners")


def dance(title: str, bpm: float, *, high: bool = False) -> Dance:
    feet = (Foot.RIGHT, Foot.LEFT)
    arms = (ArmMove(Foot.BOTH, "reach", "overhead"),) if high else ()
    actions = tuple(
        Action(Count(Fraction(n + 1)), feet[n % 2], "touch", Direction.FORWARD, arms=arms) for n in range(32)
    )
    return Dance(title, 32, 1, None, True, "4/4", bpm, 16, Weight.SEAT, (), actions)


EASY, LIVELY, FAST = dance("Easy", 90), dance("Lively", 104), dance("Fast", 118, high=True)


def test_effort_follows_tempo_and_high_arms() -> None:
    assert [asks(d).effort for d in (EASY, LIVELY, FAST)] == [1, 2, 4]


def test_a_dance_that_uses_both_feet_alike_does_not_lean() -> None:
    assert asks(EASY).lean == 0


def test_the_liveliest_dance_is_not_the_last() -> None:
    assert ordered([FAST, EASY, LIVELY])[-1] is not FAST


def test_a_class_that_ends_lively_says_so() -> None:
    assert any("lively last dance" in words for words in breaches([EASY, FAST]))


@pytest.mark.parametrize("minutes", [30, 45, 60, 90])
def test_a_class_fills_its_minutes(minutes: int) -> None:
    plan = plan_class([EASY, LIVELY, FAST], group=SEATED, minutes=minutes)
    assert sum(item.length_s for item in plan.items) == pytest.approx(minutes * 60)
    assert [item.start_s for item in plan.items] == sorted(item.start_s for item in plan.items)


def test_a_new_dance_is_taught_before_it_is_danced_twice() -> None:
    what = [item.what for item in plan_class([EASY, LIVELY], group=SEATED, minutes=60, new=["Easy"]).items]
    assert what.index("Teach “Easy”") < what.index("Dance “Easy”")
    assert what.count("Dance “Easy”") == 2


def test_what_finds_no_room_is_said() -> None:
    many = [replace(EASY, title=f"Dance {n}") for n in range(20)]
    assert any("no room" in note for note in plan_class(many, group=SEATED, minutes=45).notes)


def test_a_dance_too_fast_for_the_group_is_said() -> None:
    assert any("“Fast” goes at 118" in note for note in plan_class([FAST], group=SEATED, minutes=45).notes)


def test_a_group_that_is_not_there_is_answered_with_the_nearest() -> None:
    with pytest.raises(SettingError, match="did you mean “seated beginners”"):
        group_named("seated beginers")


@pytest.mark.parametrize("minutes", [0, 5, 1000])
def test_minutes_that_hold_no_class_are_refused(minutes: int) -> None:
    with pytest.raises(SettingError):
        plan_class([EASY], group=SEATED, minutes=minutes)


def test_every_group_has_bands_in_order() -> None:
    for group in groups().values():
        assert group.dancing_min < group.dancing_max < group.whole_max
        assert group.low_bpm < group.high_bpm


DANCES = {"easy": EASY, "lively": LIVELY, "fast": FAST}


@given(st.lists(st.sampled_from(sorted(DANCES)), min_size=1, max_size=9))
def test_an_order_keeps_every_dance_and_costs_no_more_than_as_given(names: list[str]) -> None:
    dances = [DANCES[name] for name in names]
    order = ordered(dances)
    assert sorted(d.title for d in order) == sorted(d.title for d in dances)
    if len(dances) <= 6:
        assert cost(order) <= cost(dances)


def test_a_standing_dance_in_a_seated_class_is_said() -> None:
    standing = replace(EASY, seated=False)
    assert any("written standing" in note for note in plan_class([standing], group=SEATED, minutes=45).notes)
