from __future__ import annotations

from fractions import Fraction
from importlib.resources import files
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import all_dances, dance_named
from softshoe.adapt.adapt import adapt
from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURES, ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERBS
from softshoe.teach.patterns import pattern_words
from softshoe.teach.words import ARMS, FEET, cue_for, foot_words, shown_for
from softshoe.wording.read import read

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

DANCES = all_dances()
VERSIONS = [adapt(dance, kind).dance for dance in DANCES for kind in ("standing", "seated")]
every_version = pytest.mark.parametrize(
    "dance", VERSIONS, ids=lambda dance: f"{dance.title}, {'seated' if dance.seated else 'standing'}"
)


def group(name: str, first: int, counts: int, kind: str = "seated") -> list[Action]:
    actions = adapt(dance_named(name), kind).dance.actions  # type: ignore[arg-type]
    return [action for action in actions if first <= action.at.whole < first + counts]


def test_heels_are_called_heel_home_heel_home() -> None:
    actions = dance_named("porchlight").actions
    assert [cue_for(actions, count) for count in range(5, 9)] == ["heel", "home", "heel", "home"]


def test_a_circle_that_lasts_is_named_once_and_then_counted() -> None:
    actions = dance_named("harbour").actions
    assert [cue_for(actions, count) for count in range(17, 21)] == ["circle", "two", "three", "four"]


def test_steps_in_place_are_called_by_their_foot() -> None:
    actions = dance_named("shoelace").actions
    assert [cue_for(actions, count) for count in range(9, 13)] == ["right", "left", "right", "left"]


def test_arms_being_learned_are_called_before_the_feet() -> None:
    actions = dance_named("cushion").actions
    assert [cue_for(actions, count) for count in range(1, 5)] == ["step right", "home", "step left", "home"]
    assert [cue_for(actions, count, arms=True) for count in range(1, 5)] == ["push right", "pull", "push left", "pull"]


def test_what_is_written_always_names_the_foot() -> None:
    actions = dance_named("tea_trolley").actions
    assert [shown_for(actions, count) for count in (1, 6, 25)] == [
        "right step forward",
        "right home, clap",
        "right knee, pat knees",
    ]


@pytest.mark.parametrize(
    ("name", "kind", "first", "words"),
    [
        ("copper_kettle", "standing", 9, "vine right, scuff"),
        ("copper_kettle", "standing", 13, "rocking chair"),
        ("brass_button", "standing", 1, "side shuffle right, rock back"),
        ("brass_button", "standing", 13, "step forward, pivot half left, walk forward"),
        ("signal_box", "standing", 1, "toe struts"),
        ("signal_box", "standing", 13, "V step"),
        ("tea_trolley", "seated", 21, "punches"),
        ("tea_trolley", "seated", 29, "wave right"),
        ("shoelace", "seated", 9, "march"),
        ("cushion", "seated", 13, "open, pat, clap"),
        ("harbour", "seated", 29, "arms down"),
        ("porchlight", "seated", 17, "kicks"),
    ],
)
def test_four_counts_are_called_by_the_name_a_leader_gives_them(name: str, kind: str, first: int, words: str) -> None:
    assert pattern_words(group(name, first, 4, kind)) == words


def test_on_a_chair_a_foot_that_comes_home_from_outside_takes_no_weight_back() -> None:
    dance = read(
        "Kettle Lid\n8 counts, 1 wall\n1-4 vine right, touch left\n5-8 rock left to side, recover, step together, hold"
    )
    seated = adapt(dance, "seated").dance.actions
    assert pattern_words([action for action in seated if action.at.whole < 5]) == "out out in, touch"
    assert pattern_words([action for action in dance.actions if action.at.whole > 4]).startswith("side rock")


def test_a_waltz_has_patterns_of_three() -> None:
    assert pattern_words(group("millpond", 1, 3, "standing"), waltz=True) == "waltz forward"
    assert pattern_words(group("millpond", 19, 3, "standing"), waltz=True) == "waltz forward, quarter left"


@pytest.mark.parametrize(
    "dance", VERSIONS, ids=lambda dance: f"{dance.title}, {'seated' if dance.seated else 'standing'}"
)
def test_every_count_has_a_cue_of_at_most_four_words_and_something_written(dance: Dance) -> None:
    for count in range(1, dance.counts + 1):
        cue = cue_for(dance.actions, count)
        assert 1 <= len(cue.split()) <= 4, cue
        assert shown_for(dance.actions, count)


@pytest.mark.parametrize(
    "dance", VERSIONS, ids=lambda dance: f"{dance.title}, {'seated' if dance.seated else 'standing'}"
)
def test_a_call_names_at_most_three_things(dance: Dance) -> None:
    size = dance.counts_per_section // 2
    for first in range(1, dance.counts + 1, size):
        called = pattern_words([a for a in dance.actions if first <= a.at.whole < first + size], waltz=size == 3)
        assert 1 <= len(called.split(", ")) <= 3
        assert len(called.split()) <= 7


def test_every_verb_and_gesture_has_its_word() -> None:
    assert set(FEET) == {verb.name for verb in VERBS} - {"arms", "hold"}
    assert set(ARMS) == {gesture.name for gesture in GESTURES}


def test_a_mirrored_action_is_called_with_the_other_side() -> None:
    step = Action(Count(Fraction(1)), Foot.RIGHT, "point", Direction.RIGHT, arms=(ArmMove(Foot.RIGHT, "punch"),))
    assert foot_words(step).replace("right", "left") == foot_words(step.mirrored)


def test_what_is_written_agrees_with_what_is_said_standing_and_seated() -> None:
    standing = adapt(dance_named("porchlight"), "standing").dance.actions
    seated = dance_named("porchlight").actions
    assert [shown_for(standing, n) for n in range(5, 9)] == [shown_for(seated, n) for n in range(5, 9)]
    assert [cue_for(standing, n) for n in range(5, 9)] == [cue_for(seated, n) for n in range(5, 9)]


def test_what_is_written_says_foot_way_and_what_the_hands_do() -> None:
    """Without the voice nothing else tells that a heel goes forward, or whose the side is that is named."""
    dance = read((files("softshoe") / "data/demo/sheet.txt").read_text("utf-8"))
    written = {count: shown_for(dance.actions, count) for count in range(1, 33)}
    assert written[1].startswith("right heel forward")
    assert written[5] == "right point to side, push hands"
    assert written[9] == "right step in place, swing arms"
    assert (written[29], written[31]) == ("roll hands", "pat thighs")
