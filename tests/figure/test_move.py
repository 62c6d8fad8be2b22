"""Motion of a dance: on the count, in place, in the room, and from one wall into the next."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from figure.made_events import SHEETS, at, sound_dance
from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURES, ArmMove
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced as events_of
from softshoe.dance.footwork import net_turn_deg, wall_events
from softshoe.dance.places import Direction
from softshoe.errors import FigureError
from softshoe.figure.body import Body
from softshoe.figure.motion import JOINT, JOINTS, Motion
from softshoe.figure.move import danced, move
from softshoe.figure.smaller import findings
from softshoe.figure.truths import breaches

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.figure.motion import FloatArray, Stance


def joint(motion: Motion, name: str, moment: float) -> FloatArray:
    return motion.frames.points_m[round(moment * motion.per_count), JOINT[name]]


def one(verb: str, foot: Foot | None, way: Direction | None = None, **more: object) -> Action:
    return Action(at(2), foot, verb, way, **more)  # type: ignore[arg-type]


def standing(*actions: Action, counts: float = 4) -> Motion:
    return move(events_of(actions, weight=Weight.LEFT), counts=counts, stance="standing")


def seated(*actions: Action, counts: float = 4) -> Motion:
    return move(events_of(actions, weight=Weight.SEAT), counts=counts, stance="seated")


def turned(points: FloatArray, degrees: float) -> FloatArray:
    """Points turned clockwise about the room's origin."""
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    x, z = points[..., 0], points[..., 2]
    return np.stack([c * x - s * z, points[..., 1], s * x + c * z], axis=-1)


@pytest.mark.parametrize("stance", ["standing", "seated"])
def test_a_dancer_who_waits_breathes_and_keeps_her_feet(stance: Stance) -> None:
    points = move((), counts=8, stance=stance).frames.points_m
    for name in ("left_heel", "right_toe", "left_ball"):
        assert np.ptp(points[:, JOINT[name]], axis=0).max() < 1e-9
    assert 0.001 < np.ptp(points[:, JOINT["left_shoulder"]], axis=0).max() < 0.02


def test_a_motion_has_a_frame_at_both_ends_and_all_joints() -> None:
    motion = move((), counts=3, stance="seated", per_count=10)
    assert motion.frames.points_m.shape == (31, len(JOINTS), 3)
    assert motion.frames.bearing.shape == (31, 2)
    assert motion.frames.active.shape == (31, 4)


def test_the_chair_is_there_seated_and_not_standing() -> None:
    assert move((), counts=1, stance="standing").chair is None
    chair = move((), counts=1, stance="seated").chair
    assert chair is not None
    assert chair.seat_m == Body().chair.seat_m


@pytest.mark.parametrize("counts", [0, -1, 1e9])
def test_a_motion_without_a_length_is_refused(counts: float) -> None:
    with pytest.raises(FigureError):
        move((), counts=counts, stance="seated")


def test_a_step_lands_on_its_count_and_not_before() -> None:
    motion = standing(one("step", Foot.RIGHT, Direction.FORWARD))
    there = joint(motion, "right_toe", 2)
    assert np.linalg.norm(joint(motion, "right_toe", 3) - there) < 1e-9
    assert np.linalg.norm(joint(motion, "right_toe", 1.75) - there) > 0.05
    assert joint(motion, "right_toe", 1.7)[1] > 0.015
    assert there[1] == pytest.approx(0.0, abs=1e-9)


def test_on_and_counts_each_foot_lands_in_its_own_half() -> None:
    feet = [(0, Foot.RIGHT), (Fraction(1, 2), Foot.LEFT), (1, Foot.RIGHT)]
    motion = standing(*(Action(at(t + 2), foot, "step", Direction.FORWARD) for t, foot in feet), counts=5)
    for moment, side in ((2.0, "right"), (2.5, "left"), (3.0, "right")):
        held = joint(motion, f"{side}_ball", moment)
        assert np.linalg.norm(joint(motion, f"{side}_ball", moment + 1 / 24) - held) < 1e-6


def test_the_weight_comes_over_the_foot_that_steps() -> None:
    motion = standing(one("step", Foot.RIGHT, Direction.RIGHT))
    assert motion.frames.bearing[round(1.5 * 24)] == pytest.approx([1.0, 0.0])
    assert motion.frames.bearing[round(2.6 * 24)] == pytest.approx([0.0, 1.0])
    pelvis, foot = joint(motion, "pelvis", 3), joint(motion, "right_ankle", 3)
    assert abs(pelvis[2] - foot[2]) < 0.09


def test_a_foot_that_touches_bears_nothing() -> None:
    motion = standing(one("touch", Foot.RIGHT, Direction.FORWARD))
    assert motion.frames.bearing[round(2.5 * 24)] == pytest.approx([1.0, 0.0])
    assert joint(motion, "right_ball", 2)[1] < 0.005
    assert joint(motion, "right_heel", 2)[1] > 0.03


@pytest.mark.parametrize("make", [standing, seated])
def test_a_heel_touches_with_its_toes_up(make: type) -> None:
    motion = make(one("heel", Foot.RIGHT, Direction.FORWARD))
    assert joint(motion, "right_heel", 2)[1] < 0.005
    assert joint(motion, "right_toe", 2)[1] > 0.06


def test_a_seated_knee_lifts_the_foot_fifteen_centimetres_at_most() -> None:
    motion = seated(one("hitch", Foot.RIGHT, Direction.UP))
    assert 0.08 < joint(motion, "right_heel", 2)[1] <= 0.15
    assert joint(motion, "right_knee", 2)[1] > joint(motion, "left_knee", 2)[1] + 0.08


def test_raised_heels_come_up_on_the_count_and_toes_stay() -> None:
    for motion in (standing(one("raise", Foot.BOTH, Direction.UP)), seated(one("raise", Foot.BOTH, Direction.UP))):
        for side in ("left", "right"):
            assert joint(motion, f"{side}_heel", 2)[1] > 0.06
            assert np.linalg.norm(joint(motion, f"{side}_ball", 2) - joint(motion, f"{side}_ball", 0)) < 0.004


def test_a_fan_keeps_the_heel_and_a_swivel_keeps_the_ball() -> None:
    fan = seated(one("fan", Foot.RIGHT, Direction.RIGHT))
    assert np.linalg.norm(joint(fan, "right_heel", 2) - joint(fan, "right_heel", 0)) < 1e-6
    assert joint(fan, "right_toe", 2)[2] > joint(fan, "right_toe", 0)[2] + 0.1
    swivel = seated(one("swivel", Foot.BOTH, Direction.RIGHT))
    assert np.linalg.norm(joint(swivel, "left_ball", 2) - joint(swivel, "left_ball", 0)) < 1e-6
    assert joint(swivel, "left_heel", 2)[2] > joint(swivel, "left_heel", 0)[2] + 0.05


def test_heels_and_toes_in_turn_travel_to_the_side_named() -> None:
    verbs = ("swivel", "fan", "swivel", "fan")
    steps = [Action(at(n), Foot.BOTH, verb, Direction.RIGHT) for n, verb in enumerate(verbs)]
    motion = seated(*steps, counts=6)
    moved = joint(motion, "right_heel", 5) - joint(motion, "right_heel", 0)
    assert 0.02 < moved[2] < 0.4
    toe, heel = joint(motion, "left_toe", 5), joint(motion, "left_heel", 5)
    assert abs(toe[2] - heel[2]) < 0.05


def test_a_circle_on_the_floor_comes_home_over_its_counts() -> None:
    steps = [Action(at(n), Foot.RIGHT, "sweep", Direction.CENTRE) for n in range(1, 5)]
    motion = seated(*steps, counts=6)
    ball = motion.frames.points_m[:, JOINT["right_ball"]]
    assert np.linalg.norm(joint(motion, "right_ball", 4) - joint(motion, "right_ball", 0)) < 0.01
    assert np.ptp(ball[:, 0]) > 0.15
    assert np.ptp(ball[:, 2]) > 0.15
    assert ball[:, 1].max() < 0.01


def test_a_drag_is_one_slide_over_its_counts_along_the_floor() -> None:
    steps = [Action(at(1), Foot.RIGHT, "step", Direction.RIGHT)]
    steps += [Action(at(n), Foot.LEFT, "drag", Direction.TOGETHER) for n in (2, 3)]
    motion = standing(*steps)
    way = [float(joint(motion, "left_ball", t)[2]) for t in (1.4, 2.0, 2.5, 3.0)]
    assert way == sorted(way)
    assert way[0] < way[1] - 0.02 < way[2] - 0.04
    frames = motion.frames.points_m[round(1.5 * 24) : 3 * 24 + 1, JOINT["left_ball"], 1]
    assert frames.max() < 0.02


def test_a_turning_step_turns_the_body_on_its_count_and_keeps_the_bearing_ball() -> None:
    motion = standing(one("step", Foot.RIGHT, Direction.FORWARD, turn_deg=90))
    assert motion.facing_deg[2 * 24] == pytest.approx(90.0)
    assert motion.facing_deg[24] == pytest.approx(0.0)
    assert np.linalg.norm(joint(motion, "left_ball", 2) - joint(motion, "left_ball", 1)) < 1e-6
    nose = joint(motion, "nose", 3) - joint(motion, "head", 3)
    assert nose[2] > 5 * abs(nose[0])


def test_a_dance_begun_at_another_wall_is_the_same_dance_turned() -> None:
    dance = sound_dance(SHEETS[0])
    events = wall_events(dance)
    front = move(events, counts=dance.counts, stance="standing")
    side = move(events, counts=dance.counts, stance="standing", start_facing_deg=270)
    assert np.abs(turned(front.frames.points_m, 270) - side.frames.points_m).max() < 1e-9
    assert side.facing_deg == pytest.approx(front.facing_deg + 270)


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_a_looped_wall_ends_as_it_begins_seen_from_the_next_wall(path: Path) -> None:
    dance = sound_dance(path)
    stance: Stance = "seated" if dance.seated else "standing"
    motion = move(wall_events(dance), counts=dance.counts, stance=stance, loop=True)
    first, last = motion.frames.points_m[0], motion.frames.points_m[-1]
    feet = [JOINT[f"{side}_{name}"] for side in ("left", "right") for name in ("heel", "ball", "toe")]
    again = turned(first, net_turn_deg(dance))
    again[:, [0, 2]] += (last[feet] - again[feet]).mean(axis=0)[[0, 2]]
    assert np.linalg.norm(last - again, axis=1).max() < 0.02
    assert motion.facing_deg[0] == pytest.approx(0.0)


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_a_looped_wall_comes_back_to_its_place(path: Path) -> None:
    dance = sound_dance(path)
    stance: Stance = "seated" if dance.seated else "standing"
    motion = move(wall_events(dance), counts=dance.counts, stance=stance, loop=True)
    feet = [JOINT[f"{side}_ball"] for side in ("left", "right")]
    began = turned(motion.frames.points_m[0], net_turn_deg(dance))
    assert np.linalg.norm((motion.frames.points_m[-1] - began)[feet][:, [0, 2]], axis=1).max() < 0.12


def test_no_arms_leaves_the_hands_at_rest() -> None:
    clap = one("arms", None, arms=(ArmMove(Foot.BOTH, "clap"),))
    events = events_of([clap], weight=Weight.SEAT)
    quiet = move(events, counts=4, stance="seated", arms=False)
    still = move((), counts=4, stance="seated")
    assert np.abs(quiet.frames.points_m - still.frames.points_m)[:, JOINT["left_wrist"]].max() < 0.01


def test_palms_meet_on_the_clap_and_are_a_head_apart_before_it() -> None:
    motion = seated(one("arms", None, arms=(ArmMove(Foot.BOTH, "clap"),)))

    def apart(moment: float) -> float:
        wrists = joint(motion, "left_wrist", moment) - joint(motion, "right_wrist", moment)
        return float(np.linalg.norm(wrists))

    assert apart(2.0) < 0.06
    assert apart(1.6) > 0.14


@pytest.mark.parametrize(("place", "above_m"), [("chest", 0.12), ("shoulder", 0.15)])
def test_no_gesture_takes_a_hand_higher_than_its_place(place: str, above_m: float) -> None:
    for gesture in GESTURES:
        motion = seated(one("arms", None, arms=(ArmMove(Foot.RIGHT, gesture.name, place),)))  # type: ignore[arg-type]
        for moment in (1.5, 1.75, 2.0):
            over = joint(motion, "right_wrist", moment) - joint(motion, "right_shoulder", moment)
            assert over[1] < above_m, gesture.name


def test_hands_come_home_when_nothing_more_is_asked_and_stay_where_they_are_reached() -> None:
    still = move((), counts=6, stance="seated")
    punch = seated(one("arms", None, arms=(ArmMove(Foot.RIGHT, "punch", "chest", Direction.FORWARD),)), counts=6)
    assert np.linalg.norm(joint(punch, "right_wrist", 4) - joint(still, "right_wrist", 4)) < 0.02
    opened = seated(one("arms", None, arms=(ArmMove(Foot.BOTH, "open", "shoulder"),)), counts=6)
    assert joint(opened, "right_wrist", 4)[2] > 0.5
    assert np.linalg.norm(joint(opened, "right_wrist", 4) - joint(opened, "right_wrist", 2)) < 0.03


def test_both_hands_pat_the_knee_that_is_lifted() -> None:
    motion = seated(one("hitch", Foot.RIGHT, arms=(ArmMove(Foot.BOTH, "pat", "knee"),)))
    for side in ("left", "right"):
        palm = (joint(motion, f"{side}_wrist", 2) + joint(motion, f"{side}_fingertip", 2)) / 2
        assert np.linalg.norm(palm - joint(motion, "right_knee", 2)) < 0.17


def test_thumbs_turn_up_and_down() -> None:
    reach = Action(at(1), None, "arms", arms=(ArmMove(Foot.BOTH, "reach", "chest", Direction.FORWARD),))
    down = Action(at(2), None, "arms", arms=(ArmMove(Foot.BOTH, "rotate", "chest", Direction.DOWN),))
    up = Action(at(3), None, "arms", arms=(ArmMove(Foot.BOTH, "rotate", "chest", Direction.UP),))
    motion = seated(reach, down, up, counts=4)
    for side in ("left", "right"):
        for moment, sign in ((2.0, -1), (3.0, 1)):
            middle = (joint(motion, f"{side}_wrist", moment) + joint(motion, f"{side}_fingertip", moment)) / 2
            assert sign * (joint(motion, f"{side}_thumb", moment) - middle)[1] > 0.03


def test_the_hand_that_follows_goes_along_over_its_foot() -> None:
    arms = (ArmMove(Foot.RIGHT, "follow", "foot"),)
    steps = [Action(at(n), Foot.RIGHT, "sweep", Direction.CENTRE, arms=arms) for n in range(1, 5)]
    motion = seated(*steps, counts=6)
    for moment in (2.0, 2.5, 3.0, 3.5):
        palm = (joint(motion, "right_wrist", moment) + joint(motion, "right_fingertip", moment)) / 2
        assert np.hypot(*(palm - joint(motion, "right_ball", moment))[[0, 2]]) < 0.12


def test_a_step_made_smaller_for_want_of_time_is_told_with_its_line_and_count() -> None:
    far = [Action(at(0), Foot.LEFT, "lunge", Direction.BACK), Action(at(1), Foot.RIGHT, "lunge", Direction.FORWARD)]
    quick = [Action(at(Fraction(5, 4)), Foot.LEFT, "lunge", Direction.FORWARD, line=7)]
    events = events_of([*far, *quick], weight=Weight.RIGHT)
    told = findings(danced(events, counts=2, stance="standing").smaller, events)
    assert [(one.line, one.count, one.kind) for one in told] == [(7, "5/4", "little-time")]
    assert "left foot has no time" in told[0].message


def test_a_step_that_has_time_and_room_is_not_told() -> None:
    events = events_of([one("step", Foot.LEFT, Direction.FORWARD)], weight=Weight.RIGHT)
    assert danced(events, counts=4, stance="standing").smaller == ()


def test_a_hand_changes_its_shape_little_by_little_on_the_way_to_a_gesture() -> None:
    motion = seated(one("arms", None, arms=(ArmMove(Foot.BOTH, "rotate"),)))
    shown = [motion.frames.shape(frame, 1) for frame in range(len(motion.facing_deg))]
    assert "thumb" in {shape.now for shape in shown}
    on_the_way = [shape.gone for shape in shown if shape.before != shape.now]
    assert len(set(on_the_way)) > 3


def test_the_limb_that_leads_is_told() -> None:
    motion = seated(one("kick", Foot.LEFT, Direction.FORWARD))
    assert motion.frames.active[2 * 24 - 1, 0] > 0.9
    assert motion.frames.active[:, 1:].max() == 0.0
    assert motion.frames.active[0].max() == 0.0


def test_left_and_right_are_mirror_images() -> None:
    steps = [
        Action(
            at(1), Foot.RIGHT, "step", Direction.CENTRE, arms=(ArmMove(Foot.RIGHT, "reach", None, Direction.RIGHT),)
        ),
        Action(at(2), Foot.RIGHT, "heel", Direction.FORWARD_RIGHT, arms=(ArmMove(Foot.BOTH, "clap"),)),
        Action(at(3), Foot.RIGHT, "hook", Direction.ACROSS_FRONT, arms=(ArmMove(Foot.RIGHT, "circle", "chest"),)),
    ]
    right, left = seated(*steps), seated(*(step.mirrored for step in steps))
    mirror = np.array([1.0, 1.0, -1.0])
    for name in JOINTS:
        other = name.replace("left", "x").replace("right", "left").replace("x", "right")
        a, b = right.frames.points_m[:, JOINT[name]], left.frames.points_m[:, JOINT[other]]
        crossed_arms = any(part in name for part in ("elbow", "wrist", "finger", "thumb"))  # right over left, both ways
        assert np.abs(a - b * mirror).max() < (0.02 if crossed_arms else 1e-9), name


def test_between_frames_the_motion_goes_straight() -> None:
    motion = move((), counts=1, stance="seated", per_count=4)
    half = motion.at(np.array([0.125]))
    between = motion.frames.points_m[:2].mean(axis=0)
    assert half.points_m[0] == pytest.approx(between)


@given(st.floats(1.35, 1.95), st.sampled_from(["female", "male", "neutral"]), st.sampled_from([SHEETS[0], SHEETS[5]]))
def test_short_and_tall_bodies_dance_without_breaking_a_truth(stature_m: float, sex: str, path: Path) -> None:
    dance = sound_dance(path)
    body = Body(stature_m, sex)  # type: ignore[arg-type]
    stance: Stance = "seated" if dance.seated else "standing"
    found = breaches(danced(wall_events(dance), counts=dance.counts, stance=stance, body=body))
    assert found == []
