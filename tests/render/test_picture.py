from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest

from render.film_scene import PER_COUNT, seated, walking
from softshoe.dance.action import Action, Event
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.figure.motion import JOINT, Motion
from softshoe.render.look import palette
from softshoe.render.picture import AHEAD_COUNTS, figure_marks, svg_of
from softshoe.render.picture_camera import Camera, rig_for
from softshoe.render.picture_words import described
from softshoe.render.stage import Capsule, Mark, Polygon, Text

BOX = (100.0, 50.0, 500.0, 450.0)


def _marks(motion: Motion, moment: float, view: str = "mirror") -> list[Mark]:
    rig = rig_for(motion, BOX, view=view)  # type: ignore[arg-type]
    return figure_marks(motion.at(np.array([moment, moment + AHEAD_COUNTS])), rig.at(moment), motion)


def _letter(marks: list[Mark], words: str) -> Text:
    return next(m for m in marks if isinstance(m, Text) and m.words == words)


@pytest.mark.parametrize("view", ["mirror", "behind"])
def test_in_both_views_the_figures_right_is_the_viewers_right(view: str) -> None:
    marks = _marks(seated(), 0.0, view)
    assert _letter(marks, "L").x < _letter(marks, "R").x


def test_a_foot_that_goes_forward_comes_lower_in_the_mirror_and_higher_from_behind() -> None:
    motion = seated()
    home, out = (_letter(_marks(motion, moment), "R").y for moment in (0.0, 1.0))
    assert out > home + 5
    home, out = (_letter(_marks(motion, moment, "behind"), "R").y for moment in (0.0, 1.0))
    assert out < home - 5


def _bars(marks: list[Mark]) -> list[Capsule]:
    return [m for m in marks if isinstance(m, Capsule) and m.fill == palette()["ink"] and m.y0 == m.y1]


def test_a_ground_bar_lies_under_every_foot_that_bears_as_long_as_its_share() -> None:
    motion = seated()
    assert len(_bars(_marks(motion, 0.0))) == 2
    assert len(_bars(_marks(motion, 1.0))) == 1
    both, one = np.array([[1.0, 1.0]]), np.array([[0.5, 1.0]])
    whole, half = (
        _bars(_marks(replace(motion, frames=replace(motion.frames, bearing=np.repeat(b, 8 * PER_COUNT + 1, 0))), 0.0))[
            0
        ]
        for b in (both, one)
    )
    assert half.x1 - half.x0 == pytest.approx((whole.x1 - whole.x0) / 2)


def _arrows(marks: list[Mark]) -> int:
    return sum(isinstance(m, Polygon) and m.fill == palette()["accent"] for m in marks)


def test_the_moving_limb_has_an_arrow_and_a_resting_figure_has_none() -> None:
    motion = seated()
    assert _arrows(_marks(motion, 0.3)) == 1
    assert _arrows(_marks(seated(forward_m=0.0), 0.3)) == 0


def test_the_chair_lies_behind_the_dancer_who_faces_us_and_before_one_seen_from_behind() -> None:
    motion = seated()

    def places(view: str) -> tuple[int, int]:
        fills = [getattr(m, "fill", None) for m in _marks(motion, 0.0, view)]
        return max(k for k, fill in enumerate(fills) if fill == palette()["wood"]), fills.index(palette()["top"])

    back, body = places("mirror")
    assert back < body
    back, body = places("behind")
    assert back > body


@pytest.mark.parametrize("view", ["mirror", "behind"])
@pytest.mark.parametrize("motion", [seated(), walking(), walking(right_m=6.0)], ids=["seated", "walk", "far"])
def test_the_whole_body_stays_in_its_box_at_every_moment(motion: Motion, view: str) -> None:
    rig = rig_for(motion, BOX, view=view)  # type: ignore[arg-type]
    for moment in np.linspace(0, motion.counts, 17):
        spots = rig.at(float(moment)).project(motion.at(np.array([moment])).points_m[0])
        assert spots[:, 0].min() >= BOX[0] - 1
        assert spots[:, 0].max() <= BOX[2] + 1
        assert spots[:, 1].min() >= BOX[1] - 1
        assert spots[:, 1].max() <= BOX[3] + 1


def test_the_camera_stands_still_for_a_seated_dancer_and_follows_one_who_walks_far() -> None:
    assert (
        np.ptp(rig_for(seated(), BOX, view="mirror").track_m)
        < 1e-9 + 2 * np.abs(rig_for(seated(), BOX, view="mirror").track_m[0]).max() + 1e-9
    )
    assert np.ptp(rig_for(walking(right_m=6.0), BOX, view="mirror").track_m[:, 1]) > 2.0
    assert np.ptp(rig_for(walking(right_m=0.2), BOX, view="mirror").track_m[:, 1]) < 1e-9


def test_nearer_things_are_larger_and_lower_on_the_floor() -> None:
    near, far = Camera("mirror", 200.0, 0.0, 0.0).project(np.array([[0.5, 0.0, 0.1], [-0.5, 0.0, 0.1]]))
    assert near[3] > far[3]
    assert near[1] > far[1]


def test_a_picture_for_a_sheet_is_an_svg_with_its_description() -> None:
    root = ElementTree.fromstring(svg_of(seated(), 1.0, alt="Count 2: right heel forward & open"))
    assert root[0].text == "Count 2: right heel forward & open"
    assert {"L", "R"} <= {node.text for node in root}


def test_a_figure_turned_away_shows_no_face() -> None:
    motion = walking(right_m=0.0)
    points = motion.frames.points_m.copy()
    points[:, :, [0, 2]] *= -1
    turned = replace(motion, frames=replace(motion.frames, points_m=points))
    assert len(_marks(turned, 0.0)) < len(_marks(motion, 0.0))
    assert points[0, JOINT["nose"], 0] < points[0, JOINT["head"], 0]


def test_an_event_is_described_with_foot_place_turn_weight_and_hands() -> None:
    action = Action(
        Count.at_moment("1/2"), Foot.LEFT, "step", Direction.BACK, -90, (ArmMove(Foot.BOTH, "push", "chest"),)
    )
    assert described(Event(action, Weight.LEFT, 270)) == (
        "Count 1&: left foot, step back; a turn of 90 degrees to the left, to face 9:00; "
        "the left foot bears the weight. Both hands: push, chest."
    )
    assert described(Event(Action(Count.at_moment(3), None, "hold"), Weight.SEAT, 0)) == (
        "Count 4: nothing moves; the seat bears the weight."
    )
