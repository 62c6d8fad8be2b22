"""Properties of the footwork machine: the mirror, the walls, the weight, and what is kept when nothing moves."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dance.made_dances import actions, dances
from softshoe.dance.action import Action
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Tag
from softshoe.dance.facing import turned
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import (
    danced,
    mirrored,
    net_turn_deg,
    state_after,
    tag_events,
    wall_events,
    weight_after,
)  # fmt: skip
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB, VERBS

from .steps_made import made, steps

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.dance.verbs import Verb

weights = st.sampled_from(Weight)
facings = st.sampled_from((0, 90, 180, 270))


def step(count: int | str, foot: Foot, verb: str = "step", *, turn_deg: int = 0) -> Action:
    return Action(Count(Fraction(count)), foot, verb, Direction.FORWARD, turn_deg)


@given(actions())
def test_a_dance_mirrored_twice_is_the_dance(done: tuple[Action, ...]) -> None:
    assert mirrored(mirrored(done)) == done


@given(actions(), weights, facings)
def test_the_mirrored_dance_bears_on_the_other_side_and_looks_the_other_way(
    done: tuple[Action, ...], weight: Weight, facing: int
) -> None:
    plain = danced(done, weight=weight, facing_deg=facing)
    other = danced(mirrored(done), weight=weight.other, facing_deg=-facing % 360)
    assert [(e.weight.other, -e.facing_deg % 360) for e in plain] == [(e.weight, e.facing_deg) for e in other]


@given(actions(), weights, facings)
def test_the_facing_at_the_end_is_the_sum_of_the_turns(done: tuple[Action, ...], weight: Weight, facing: int) -> None:
    events = danced(done, weight=weight, facing_deg=facing)
    assert (events[-1].facing_deg if events else facing) == turned(facing, sum(a.turn_deg for a in done))


@given(actions())
def test_a_dancer_on_a_chair_never_leaves_it(done: tuple[Action, ...]) -> None:
    assert {event.weight for event in danced(done, weight=Weight.SEAT)} <= {Weight.SEAT}


@given(actions(), weights)
def test_weight_moves_only_by_an_action_that_can_move_it(done: tuple[Action, ...], weight: Weight) -> None:
    before = weight
    for event in danced(done, weight=weight):
        if event.weight is not before:
            assert VERB[event.action.verb].weight != "same" or event.action.foot is Foot.BOTH
        before = event.weight


@given(actions(), st.fractions(min_value=0, max_value=64, max_denominator=4))
def test_a_dance_moved_in_time_keeps_its_distances(done: tuple[Action, ...], span: Fraction) -> None:
    later = tuple(action.later(Counts(span)) for action in done)
    assert [b.at - a.at for a, b in zip(done, later, strict=True)] == [Counts(span)] * len(done)


@given(dances)
def test_one_wall_danced_to_its_end_leaves_the_state_that_is_told(dance: Dance) -> None:
    events = wall_events(dance)
    end = (events[-1].weight, events[-1].facing_deg) if events else (dance.start_weight, 0)
    assert state_after(dance, dance.counts) == end
    assert net_turn_deg(dance) == end[1]


@given(dances)
def test_before_the_first_count_nothing_has_happened(dance: Dance) -> None:
    assert state_after(dance, 0) == (dance.start_weight, 0)


@given(dances)
def test_what_is_written_on_the_and_of_a_count_belongs_to_that_count(dance: Dance) -> None:
    done = (step(1, Foot.RIGHT), step("3/2", Foot.LEFT, turn_deg=90), step(2, Foot.RIGHT))
    short = replace(dance, actions=done, start_weight=Weight.LEFT)
    assert state_after(short, 1) == (Weight.LEFT, 90)


def test_feet_hand_the_weight_over_step_by_step_and_a_touch_does_not() -> None:
    done = (step(1, Foot.RIGHT), step(2, Foot.LEFT), step(3, Foot.RIGHT), step(4, Foot.LEFT, "touch"))
    assert [e.weight for e in danced(done, weight=Weight.LEFT)] == [
        Weight.RIGHT, Weight.LEFT, Weight.RIGHT, Weight.RIGHT,
    ]  # fmt: skip


def test_a_dance_without_actions_has_no_events() -> None:
    assert danced((), weight=Weight.LEFT) == ()


@pytest.mark.parametrize("verb", VERBS, ids=lambda verb: verb.name)
def test_each_verb_leaves_the_weight_as_its_row_says(verb: Verb) -> None:
    want = {"foot": Weight.RIGHT, "both": Weight.BOTH, "same": Weight.LEFT, "said": Weight.LEFT}[verb.weight]
    assert weight_after(Action(Count(Fraction(1)), Foot.RIGHT, verb.name), Weight.LEFT) is want
    assert weight_after(Action(Count(Fraction(1)), Foot.BOTH, verb.name), Weight.LEFT) is Weight.BOTH
    assert weight_after(Action(Count(Fraction(1)), Foot.RIGHT, verb.name), Weight.SEAT) is Weight.SEAT
    said = Action(Count(Fraction(1)), Foot.RIGHT, verb.name, weight_said=Weight.LEFT)
    assert weight_after(said, Weight.BOTH) is Weight.LEFT
    if verb.weight != "both":
        assert weight_after(Action(Count(Fraction(1)), None, verb.name), Weight.RIGHT) is Weight.RIGHT


def test_a_tag_begins_with_the_weight_of_the_dance_and_a_facing_of_its_own() -> None:
    dance = made("1 R step forward +90; 2 L step forward; 3 R step forward")
    tag = Tag((2,), 2, 2, "start", steps("1 - hold; 2 R step right -90"))
    assert [(e.weight, e.facing_deg) for e in tag_events(dance, tag)] == [(Weight.LEFT, 0), (Weight.RIGHT, 270)]
    assert tag_events(dance, replace(tag, after_count=3))[0].weight is Weight.RIGHT
