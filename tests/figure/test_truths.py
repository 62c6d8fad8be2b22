"""The truths hold over the sound dances, over every verb and gesture, and over any choreography; and they can fail."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from figure.choreographies import choreography
from figure.made_events import SHEETS, every_gesture, every_verb, sound_dance
from softshoe.dance.footwork import wall_events
from softshoe.figure.danced import Danced
from softshoe.figure.motion import JOINT, Frames
from softshoe.figure.move import danced
from softshoe.figure.truths import CHECKS, breaches

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.figure.motion import Stance

STANCES: tuple[Stance, ...] = ("standing", "seated")


@pytest.mark.parametrize("loop", [False, True])
@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_a_sound_dance_breaks_no_truth(path: Path, loop: bool) -> None:
    dance = sound_dance(path)
    stance: Stance = "seated" if dance.seated else "standing"
    assert breaches(danced(wall_events(dance), counts=dance.counts, stance=stance, loop=loop)) == []


def test_there_are_nine_sound_dances_seated_and_standing() -> None:
    assert len(SHEETS) == 9
    assert {sound_dance(path).seated for path in SHEETS} == {True, False}


@pytest.mark.parametrize("stance", STANCES)
def test_every_verb_in_every_direction_breaks_no_truth(stance: Stance) -> None:
    events, counts = every_verb(stance)
    assert breaches(danced(events, counts=counts, stance=stance)) == []


@pytest.mark.parametrize("stance", STANCES)
def test_every_gesture_in_every_direction_breaks_no_truth(stance: Stance) -> None:
    events, counts = every_gesture(stance)
    assert breaches(danced(events, counts=counts, stance=stance, per_count=16)) == []


@pytest.mark.parametrize("number", range(12))
def test_a_made_choreography_of_free_feet_breaks_no_truth(number: int) -> None:
    """A few of the thousand that benchmarks/figure.py judges, each third one seated as there."""
    stance: Stance = "seated" if number % 3 == 2 else "standing"
    events, counts = choreography(number, stance)
    assert breaches(danced(events, counts=counts, stance=stance)) == []


@pytest.mark.parametrize("number", [619, 840, 2985])
def test_where_feet_cross_or_leave_in_half_a_count_a_way_with_room_is_found(number: int) -> None:
    """A foot that leaves before the other has landed, a heel across and a swivel, a landing in the other foot's way."""
    events, counts = choreography(number, "standing")
    assert breaches(danced(events, counts=counts, stance="standing")) == []


def _spoilt(joint: str, shift: tuple[float, float, float], *, stance: Stance = "standing") -> set[str]:
    """The truths that a motion breaks when one joint is carried off in a stretch of it."""
    path = next(p for p in SHEETS if sound_dance(p).seated == (stance == "seated"))
    dance = sound_dance(path)
    true = danced(wall_events(dance), counts=dance.counts, stance=stance)
    points = true.motion.frames.points_m.copy()
    points[100:140, JOINT[joint]] += shift
    frames = Frames(points, true.motion.frames.bearing, true.motion.frames.active)
    spoilt = Danced(replace(true.motion, frames=frames), true.events, true.body, true.miss_m)
    return {breach.truth for breach in breaches(spoilt)}


@pytest.mark.parametrize(
    ("joint", "shift", "truth"),
    [
        ("left_heel", (0.0, -0.1, 0.0), "floor"),
        ("left_toe", (0.0, -0.1, 0.0), "floor"),
        ("right_knee", (-0.25, 0.0, 0.0), "knee side"),
        ("left_elbow", (0.3, 0.25, 0.0), "elbow side"),
        ("right_wrist", (0.0, 0.05, 0.0), "bone"),
        ("right_fingertip", (-0.2, 0.2, 0.0), "wrist"),
        ("neck", (0.0, -0.1, 0.5), "side bend"),
        ("nose", (-0.1, 0.0, 0.1), "turn"),
        ("left_wrist", (0.0, 0.9, 0.0), "speed"),
        ("left_ankle", (-0.2, 0.0, 0.0), "ankle up"),
        ("pelvis", (0.0, 0.0, 0.9), "side bend"),
    ],
)
def test_a_motion_that_breaks_a_truth_is_found_out(joint: str, shift: tuple[float, float, float], truth: str) -> None:
    assert truth in _spoilt(joint, shift)


def test_a_hand_in_a_thigh_is_found_out() -> None:
    assert "hand in thigh" in _spoilt("right_wrist", (0.0, -0.12, 0.0), stance="seated")


def test_feet_that_slide_while_they_bear_are_found_out() -> None:
    dance = sound_dance(SHEETS[0])
    true = danced(wall_events(dance), counts=dance.counts, stance="standing")
    slide = np.linspace(0.0, 8.0, len(true.motion.facing_deg))[:, None, None] * np.array([1.0, 0.0, 0.0])
    frames = Frames(true.motion.frames.points_m + slide, true.motion.frames.bearing, true.motion.frames.active)
    found = breaches(replace(true, motion=replace(true.motion, frames=frames)))
    assert {"slip", "contact"} <= {breach.truth for breach in found}


def test_a_clap_whose_palms_miss_each_other_and_a_centre_of_mass_over_nothing_are_found_out() -> None:
    dance = sound_dance(SHEETS[0])
    true = danced(wall_events(dance), counts=dance.counts, stance="standing")
    points = true.motion.frames.points_m.copy()
    for joint in ("left_wrist", "left_fingertip"):
        points[:, JOINT[joint], 2] -= 0.2
    for joint in ("crown", "neck", "left_shoulder", "right_shoulder"):
        points[:, JOINT[joint], 0] += 0.5
    frames = Frames(points, true.motion.frames.bearing, true.motion.frames.active)
    found = {breach.truth for breach in breaches(replace(true, motion=replace(true.motion, frames=frames)))}
    assert {"clap", "balance"} <= found


def test_every_check_says_what_it_stands_for() -> None:
    assert len(CHECKS) == 21
    assert all(check.__doc__ for check in CHECKS)
