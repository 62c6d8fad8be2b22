from __future__ import annotations

import itertools
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import all_dances, dance_named
from softshoe.adapt.adapt import adapt, remade_actions
from softshoe.adapt.cautions import cautions, cautions_for
from softshoe.adapt.costs import comes_home, walked
from softshoe.adapt.limits import abilities
from softshoe.adapt.seat_places import seated_place
from softshoe.adapt.tables import ARM_CAUTIONS, SEATED
from softshoe.adapt.version import KINDS, Kind
from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced, wall_events
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB, VERBS

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

DANCES = all_dances()
STANDING = [dance for dance in DANCES if not dance.seated]
SEATED_DANCES = [dance for dance in DANCES if dance.seated]
HOME = (Direction.CENTRE, Direction.TOGETHER, Direction.IN_PLACE, None)
LEFTWARD = (Direction.LEFT, Direction.FORWARD_LEFT, Direction.BACK_LEFT)
RIGHTWARD = (Direction.RIGHT, Direction.FORWARD_RIGHT, Direction.BACK_RIGHT)
CROSSING = (Direction.ACROSS_FRONT, Direction.ACROSS_BEHIND)


def whole_counts(dance: Dance) -> list[int]:
    return sorted({action.at.whole for action in dance.actions if action.at.at.denominator == 1})


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_every_version_keeps_the_counts(dance: Dance, kind: Kind) -> None:
    version = adapt(dance, kind)
    assert version.dance.counts == dance.counts
    lengths = [[(s.number, s.start, s.length) for s in d.sections] for d in (version.dance, dance)]
    assert lengths[0] == lengths[1]
    assert whole_counts(version.dance) == list(range(1, dance.counts + 1))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_every_change_has_words_and_a_reason_at_a_count_of_the_dance(dance: Dance, kind: Kind) -> None:
    moments = {action.at for action in dance.actions}
    for change in adapt(dance, kind).changes:
        assert change.at in moments
        assert change.was
        assert change.now
        assert change.reason
        assert change.was != change.now


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_a_dance_that_is_already_so_is_given_back_unchanged(dance: Dance) -> None:
    version = adapt(dance, "seated" if dance.seated else "standing")
    assert version.dance == dance
    assert version.changes == ()


@pytest.mark.parametrize("kind", ["seated", "arms", "left", "right"])
@pytest.mark.parametrize("dance", STANDING, ids=lambda dance: dance.title)
def test_on_a_chair_nobody_turns_crosses_or_leaves_the_seat(dance: Dance, kind: Kind) -> None:
    version = adapt(dance, kind).dance
    assert version.seated
    assert version.walls == 1
    assert all(event.weight is Weight.SEAT and event.facing_deg == 0 for event in wall_events(version))
    for action in version.actions:
        assert action.dir not in CROSSING
        travels = action.verb not in ("sway", "swivel", "fan")
        assert not (travels and action.foot is Foot.RIGHT and action.dir in LEFTWARD)
        assert not (travels and action.foot is Foot.LEFT and action.dir in RIGHTWARD)
        assert action.verb not in ("pivot", "turn", "unwind", "jump", "hop", "stomp", "scuff", "flick", "hook")


@pytest.mark.parametrize("dance", STANDING, ids=lambda dance: dance.title)
def test_no_foot_drifts_away_on_a_chair(dance: Dance) -> None:
    """Walking twice forward is out and home: no foot steps again to where it already is."""
    where: dict[Foot, Direction | None] = {}
    for action in adapt(dance, "seated").dance.actions:
        if action.foot not in (Foot.LEFT, Foot.RIGHT):
            continue
        if action.verb == "step" and action.dir not in HOME:
            assert where.get(action.foot) is not action.dir, action.at.label
        where[action.foot] = action.dir if action.verb == "step" else None


@pytest.mark.parametrize("dance", STANDING, ids=lambda dance: dance.title)
def test_one_foot_has_half_a_second_between_two_actions_on_a_chair(dance: Dance) -> None:
    bpm = max(dance.tempo_bpm) if isinstance(dance.tempo_bpm, tuple) else dance.tempo_bpm
    assert bpm is not None
    for foot in (Foot.LEFT, Foot.RIGHT):
        times = [a.at.at * 60 / Fraction(bpm) for a in adapt(dance, "seated").dance.actions if a.foot is foot]
        gaps = [b - a for a, b in itertools.pairwise(times)]
        assert all(gap >= min(Fraction(1, 2), 60 / Fraction(bpm)) for gap in gaps)


@pytest.mark.parametrize("kind", ["standing", "supported"])
@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_no_foot_takes_a_step_while_it_bears_the_dancer(dance: Dance, kind: Kind) -> None:
    version = adapt(dance, kind).dance
    weight = version.start_weight
    for event in wall_events(version):
        action = event.action
        if VERB[action.verb].takes_weight and action.foot in (Foot.LEFT, Foot.RIGHT):
            assert weight.value != action.foot.value, action.at.label
        weight = event.weight
    assert weight is version.start_weight


@pytest.mark.parametrize("dance", STANDING, ids=lambda dance: dance.title)
def test_behind_a_chair_the_weight_goes_as_it_does_standing(dance: Dance) -> None:
    free, held = wall_events(dance), wall_events(adapt(dance, "supported").dance)
    assert [event.weight for event in held] == [event.weight for event in free]
    assert all(event.facing_deg == 0 for event in held)


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_arms_only_moves_no_foot(dance: Dance) -> None:
    assert all(action.foot is None for action in adapt(dance, "arms").dance.actions)


@pytest.mark.parametrize(("kind", "side"), [("left", Foot.LEFT), ("right", Foot.RIGHT)])
@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_one_sided_versions_use_that_side_alone(dance: Dance, kind: Kind, side: Foot) -> None:
    for action in adapt(dance, kind).dance.actions:
        assert action.foot in (side, None)
        assert all(arm.side is side for arm in action.arms)
        assert all(arm.gesture != "clap" for arm in action.arms)


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_left_and_right_versions_have_actions_at_the_same_moments(dance: Dance) -> None:
    left, right = adapt(dance, "left").dance.actions, adapt(dance, "right").dance.actions
    assert {a.at for a in left} == {a.at for a in right}


def test_a_pivot_becomes_a_floor_circle_of_the_foot_that_stood_forward() -> None:
    step = Action(Count(Fraction(1)), Foot.RIGHT, "step", Direction.FORWARD)
    pivot = Action(Count(Fraction(2)), Foot.LEFT, "pivot", Direction.IN_PLACE, turn_deg=-180)
    dance = replace(dance_named("copper_kettle"), actions=(step, pivot), counts=2)
    now = adapt(dance, "seated").dance.actions[1]
    assert (now.foot, now.verb, now.dir, now.turn_deg) == (Foot.RIGHT, "sweep", Direction.CENTRE, 0)


@pytest.mark.parametrize(
    ("foot", "written", "on_a_chair"),
    [
        (Foot.RIGHT, Direction.RIGHT, Direction.RIGHT),
        (Foot.RIGHT, Direction.LEFT, Direction.CENTRE),
        (Foot.LEFT, Direction.FORWARD_RIGHT, Direction.FORWARD),
        (Foot.LEFT, Direction.BACK_LEFT, Direction.LEFT),
        (Foot.LEFT, Direction.ACROSS_BEHIND, Direction.BACK),
        (Foot.RIGHT, Direction.TOGETHER, Direction.CENTRE),
    ],
)
def test_places_on_a_chair_stay_on_the_foots_own_side(foot: Foot, written: Direction, on_a_chair: Direction) -> None:
    assert seated_place(foot, written) is on_a_chair
    assert seated_place(foot.other, written.mirrored) is on_a_chair.mirrored


def test_abilities_choose_the_kind_and_keep_hands_low() -> None:
    tea = dance_named("tea_trolley")
    version = adapt(tea, abilities("Tuesday group", ("seat", "high arms"), ("shoulder_90",)))
    assert version.kind == "seated"
    assert "shoulder_90" in version.cautions
    places = {arm.place for action in version.dance.actions for arm in action.arms}
    assert not places & {"shoulder", "head", "overhead"}
    reasons = {change.reason for change in version.changes}
    assert reasons == {"hands stay below the shoulders", "reach forward instead of reach up"}


@pytest.mark.parametrize(
    ("limits", "kind"),
    [
        ((), "standing"),
        (("chair",), "supported"),
        (("turning",), "standing"),
        (("feet",), "arms"),
        (("right foot", "right hand"), "left"),
        (("right hand", "seat"), "seated"),
    ],
)
def test_each_set_of_abilities_has_its_kind(limits: tuple[str, ...], kind: Kind) -> None:
    assert adapt(dance_named("copper_kettle"), abilities("somebody", limits)).kind == kind


def test_a_tag_of_a_run_is_remade_like_the_dance() -> None:
    dance = dance_named("signal_box")
    (tag,) = dance.tags
    made = remade_actions(dance, "seated", tag.actions)
    assert made == adapt(dance, "seated").dance.tags[0].actions
    assert [event.weight for event in danced(made, weight=Weight.SEAT)] == [Weight.SEAT] * len(made)


def test_the_tables_know_every_verb_and_every_caution_they_name() -> None:
    assert set(SEATED) == {verb.name for verb in VERBS}
    known = set(cautions())
    for row in SEATED.values():
        assert row.seated_verb in SEATED
        assert set(row.cautions) | set(row.standing_cautions) <= known
    assert all(set(row.cautions) <= known for row in ARM_CAUTIONS)


def test_every_caution_ends_with_whom_to_ask_and_none_promises_safety() -> None:
    for caution in cautions().values():
        assert caution.always_say.startswith("Ask the person's own")
        words = f"{caution.adaptation} {caution.watch}".split()
        assert "safe" not in words


def test_arms_overhead_call_for_the_shoulder_cautions_and_arms_in_the_lap_do_not() -> None:
    still = Action(Count(Fraction(1)), None, "arms", arms=(ArmMove(Foot.BOTH, "rest", "lap"),))
    high = replace(still, arms=(ArmMove(Foot.BOTH, "reach", "overhead"),))
    dance = dance_named("cushion")
    assert "shoulder_90" in cautions_for(replace(dance, actions=(high,)), "seated")
    assert "shoulder_90" not in cautions_for(replace(dance, actions=(still,)), "seated")
    assert {"stop_signs", "warmup"} <= set(cautions_for(replace(dance, actions=(still,)), "seated"))


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_behind_a_chair_the_body_stays_a_step_from_its_place(dance: Dance) -> None:
    x = y = 0
    for action in adapt(dance, "supported").dance.actions:
        right, forward = walked(action)
        x, y = (0, 0) if comes_home(action) else (x + right, y + forward)
        assert max(abs(x), abs(y)) <= 1, action.at.label


def test_a_foot_across_the_midline_calls_for_the_hip_caution_on_the_chair_too() -> None:
    crossed = Action(Count(Fraction(1)), Foot.RIGHT, "step", Direction.ACROSS_FRONT)
    kinds: tuple[tuple[Kind, bool], ...] = (("seated", True), ("standing", False))
    for kind, seated in kinds:
        assert "thr_post_add" in cautions_for(replace(dance_named("cushion"), seated=seated, actions=(crossed,)), kind)


def test_a_heading_goes_where_the_feet_no_longer_do_what_it_says_and_stays_elsewhere() -> None:
    kettle, cove = dance_named("kettle"), dance_named("cushion")
    headed = [replace(d, sections=tuple(replace(s, title="vine right") for s in d.sections)) for d in (kettle, cove)]
    assert {s.title for s in adapt(headed[0], "left").dance.sections} == {""}
    assert {s.title for s in adapt(headed[1], "seated").dance.sections} == {"vine right"}


def test_a_hand_that_pats_the_thigh_pats_it_in_no_direction() -> None:
    pats = [
        arm for dance in DANCES for a in adapt(dance, "arms").dance.actions for arm in a.arms if arm.gesture == "pat"
    ]
    assert pats
    assert all(arm.toward is None for arm in pats)
