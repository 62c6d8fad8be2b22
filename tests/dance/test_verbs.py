"""The tables of verbs and gestures are whole and agree with the machine that reads them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURE, GESTURES, PLACES
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import weight_after
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB, VERBS, Verb

BY_NAME = {"ids": lambda verb: verb.name}
LIFTED_BUT_LANDS = {"hop", "jump"}


def one(verb: Verb, foot: Foot) -> Action:
    return Action(Count(Fraction(1)), foot, verb.name)


def test_no_verb_and_no_gesture_has_two_rows() -> None:
    assert (len(VERB), len(GESTURE), len(set(PLACES))) == (len(VERBS), len(GESTURES), len(PLACES))


@pytest.mark.parametrize("verb", VERBS, **BY_NAME)
def test_a_verb_has_a_meaning_and_a_home_direction_that_is_no_side(verb: Verb) -> None:
    assert verb.meaning
    assert verb.home is None or verb.home.mirrored is verb.home
    assert verb.home is not Direction.CENTRE


@pytest.mark.parametrize("verb", VERBS, **BY_NAME)
def test_a_verb_that_lifts_the_foot_leaves_the_weight_where_it_was_unless_it_lands(verb: Verb) -> None:
    if verb.lifts:
        assert verb.weight == "same" or verb.name in LIFTED_BUT_LANDS


@pytest.mark.parametrize("foot", [Foot.LEFT, Foot.RIGHT])
@pytest.mark.parametrize("verb", VERBS, **BY_NAME)
def test_the_machine_gives_the_weight_that_the_table_says(verb: Verb, foot: Foot) -> None:
    other = Weight(foot.other.value)
    expected = {"foot": Weight(foot.value), "both": Weight.BOTH, "same": other, "said": other}[verb.weight]
    assert weight_after(one(verb, foot), other) is expected


@pytest.mark.parametrize("verb", VERBS, **BY_NAME)
def test_on_a_chair_the_seat_bears_whatever_the_feet_do(verb: Verb) -> None:
    assert all(weight_after(one(verb, foot), Weight.SEAT) is Weight.SEAT for foot in Foot)


@pytest.mark.parametrize("verb", VERBS, **BY_NAME)
def test_both_feet_together_leave_the_weight_on_both(verb: Verb) -> None:
    assert weight_after(one(verb, Foot.BOTH), Weight.LEFT) is Weight.BOTH


def test_what_the_words_say_about_the_weight_wins() -> None:
    said = Action(Count(Fraction(1)), Foot.BOTH, "unwind", weight_said=Weight.LEFT)
    assert weight_after(said, Weight.RIGHT) is Weight.LEFT
