from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from render.sheet_dances import DANCES
from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURES, PLACES, ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced, wall_events
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERBS
from softshoe.render.phrase_words import action_words, arm_words, cue_word, pictured, turn_words
from softshoe.teach.words import number_word

ONE = Count(Fraction(1))
FEET = (Foot.LEFT, Foot.RIGHT, Foot.BOTH)
DOUBLED = re.compile(r"\b(\w+) \1\b")
actions = st.builds(
    Action,
    at=st.just(ONE),
    foot=st.sampled_from([*FEET, None]),
    verb=st.sampled_from([v.name for v in VERBS]),
    dir=st.sampled_from([*Direction, None]),
    turn_deg=st.integers(-24, 24).map(lambda k: k * 30),
    weight_said=st.sampled_from([*Weight, None]),
)


def act(verb: str, foot: Foot | None, way: Direction | None = None, turn_deg: int = 0, **more: object) -> Action:
    return Action(at=ONE, foot=foot, verb=verb, dir=way, turn_deg=turn_deg, **more)  # type: ignore[arg-type]


def plain(words: str) -> bool:
    """True for words that no code, bracket or doubled word has crept into."""
    letters = re.fullmatch(r"[A-Za-z ,;:().'’\-0-9]+", words)
    return bool(letters) and not DOUBLED.search(words) and "  " not in words and " ," not in words


@pytest.mark.parametrize("foot", FEET, ids=lambda f: f.value)
@pytest.mark.parametrize("verb", VERBS, ids=lambda v: v.name)
def test_every_verb_in_every_direction_is_a_plain_phrase(verb: object, foot: Foot) -> None:
    for way in Direction:
        words = action_words(act(verb.name, foot, way))  # type: ignore[attr-defined]
        assert plain(words), words


@pytest.mark.parametrize("gesture", GESTURES, ids=lambda g: g.name)
def test_every_gesture_at_every_place_and_way_is_a_plain_phrase(gesture: object) -> None:
    for side in FEET:
        for place in (*PLACES, None):
            for way in (*Direction, None):
                words = arm_words([ArmMove(side, gesture.name, place, way)])  # type: ignore[attr-defined]
                assert plain(words), words


@given(actions)
def test_any_action_at_all_has_words_and_a_cue(action: Action) -> None:
    words = action_words(action, facing_deg=action.turn_deg % 360)
    assert plain(words), words
    assert plain(cue_word(action))


def test_the_words_are_those_of_the_trade() -> None:
    cases = {
        "right heel forward": act("heel", Foot.RIGHT, Direction.FORWARD),
        "touch left beside right": act("touch", Foot.LEFT, Direction.TOGETHER),
        "right home": act("step", Foot.RIGHT, Direction.CENTRE),
        "raise both heels": act("raise", Foot.BOTH, Direction.UP),
        "pivot half turn left, weight onto left": act("pivot", Foot.LEFT, Direction.IN_PLACE, -180),
        "stomp right up beside left, no weight": act("stomp-up", Foot.RIGHT, Direction.TOGETHER),
    }
    assert {action_words(action) for action in cases.values()} == set(cases)
    turning = act("step", Foot.RIGHT, Direction.RIGHT, 90)
    assert action_words(turning, facing_deg=90) == "step right to the right side, quarter turn right (3:00)"
    both = [ArmMove(Foot.BOTH, "push", "chest", Direction.RIGHT)]
    assert arm_words(both) == "both hands push to the right, chest height"


def test_after_a_toe_touch_the_heel_comes_down_and_after_a_heel_the_toes() -> None:
    drop = act("drop", Foot.RIGHT, Direction.IN_PLACE)
    assert action_words(drop, before=act("touch", Foot.RIGHT, Direction.FORWARD)) == "lower right heel"
    assert action_words(drop, before=act("heel", Foot.RIGHT, Direction.FORWARD)) == "lower right toes"
    assert action_words(drop, before=act("heel", Foot.LEFT, Direction.FORWARD)) == "lower right flat"


def test_a_mirrored_action_has_mirrored_words() -> None:
    swap = {"left": "right", "right": "left"}
    for verb in VERBS:
        for way in Direction:
            action = act(verb.name, Foot.RIGHT, way, 90)
            mirrored = re.sub(r"\b(left|right)\b", lambda m: swap[m.group()], action_words(action))
            assert action_words(action.mirrored) == mirrored


def test_the_picture_words_say_count_feet_weight_and_facing() -> None:
    (event,) = danced([act("step", Foot.RIGHT, Direction.FORWARD)], weight=Weight.LEFT)
    assert pictured(event) == "Count 1: step right forward; weight on the right foot, facing 12:00."
    (seated,) = danced([act("step", Foot.RIGHT, Direction.FORWARD)], weight=Weight.SEAT)
    assert "seated" in pictured(seated)


@pytest.mark.parametrize(
    ("number", "words"),
    [(0, "no"), (8, "eight"), (32, "thirty-two"), (40, "forty"), (120, "one hundred and twenty"), (1000, "1000")],
)
def test_numbers_are_written_as_words(number: int, words: str) -> None:
    assert number_word(number) == words


def test_turns_are_named_as_leaders_name_them() -> None:
    assert [turn_words(d) for d in (45, -90, 180, -270, 360, 30)] == [
        "eighth turn right",
        "quarter turn left",
        "half turn right",
        "three-quarter turn left",
        "full turn right",
        "turn of 30 degrees right",
    ]


def test_a_whole_dance_has_a_cue_for_each_action() -> None:
    for dance in DANCES:
        assert all(cue_word(e.action) for e in wall_events(dance))
