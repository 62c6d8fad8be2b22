"""Centre of mass and balance: Winter 2009 (table 4.1) by way of Duarte's open notebook on body segment parameters;
de Leva 1996; Hof, Gazendam & Sinke 2005, J Biomech 38:1-8. An independent mechanics library is the second witness.
"""

from __future__ import annotations

import mujoco
import numpy as np
import pytest

from softshoe.dance.action import Action
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced as events_of
from softshoe.dance.places import Direction
from softshoe.figure.balance import centre_of_mass, extrapolated_m, point_of, stability_margin_m, weighted_centre
from softshoe.figure.body import Body, table
from softshoe.figure.motion import JOINT
from softshoe.figure.move import move

TOE, ANKLE, KNEE, HIP = np.array([[1.011, 0.013], [0.849, 0.110], [0.864, 0.549], [0.721, 0.928]])


def test_centre_of_mass_of_one_lower_limb() -> None:
    """Duarte's notebook, Winter's table: foot (0.930, 0.062), leg (0.858, 0.359), thigh (0.783, 0.764), limb
    (0.818, 0.584) m; unrounded (81.7707, 58.3668) cm."""
    rows = table("segments")
    parts = (("foot", ANKLE, TOE), ("leg", KNEE, ANKLE), ("thigh", HIP, KNEE))
    centres = np.array([a + rows[f"dw_{name}_com"].value * (b - a) for name, a, b in parts])
    assert centres == pytest.approx(np.array([[0.930, 0.0615], [0.857505, 0.358913], [0.782919, 0.763893]]), abs=1e-6)
    masses = np.array([rows[f"dw_{name}_mass"].value for name, _, _ in parts])
    assert weighted_centre(masses, centres) == pytest.approx([0.817707, 0.583668], abs=1e-6)


def _hanging(body: Body) -> np.ndarray:
    """A body upright with its arms hanging straight, without shoes, from the lengths of the tables."""
    points = move((), counts=1, stance="standing", body=body).frames.points_m[0].copy()
    tall = body.stature_m
    for side, sign in (("left", -1), ("right", 1)):
        heights = {"shoulder": 0.818, "elbow": 0.632, "wrist": 0.486, "fingertip": 0.378}
        heights |= {"hip": 0.530, "knee": 0.285, "ankle": 0.039}
        for joint, share in heights.items():
            wide = body.half_shoulders_m if share > 0.35 and joint not in ("hip",) else body.half_hips_m
            points[JOINT[f"{side}_{joint}"]] = (0.0, share * tall, sign * wide)
        points[JOINT[f"{side}_heel"]] = (-0.04 * tall, 0, sign * body.half_hips_m)
        points[JOINT[f"{side}_toe"]] = (0.11 * tall, 0, sign * body.half_hips_m)
    points[JOINT["pelvis"]], points[JOINT["neck"]] = (0, 0.530 * tall, 0), (0, 0.850 * tall, 0)
    points[JOINT["crown"]] = (0, tall, 0)
    return points


def _arms(points: np.ndarray, body: Body, way: np.ndarray, sides: tuple[str, ...]) -> np.ndarray:
    moved = points.copy()
    for side in sides:
        shoulder = points[JOINT[f"{side}_shoulder"]]
        for joint, far in (("elbow", body.upper_arm_m), ("wrist", body.arm_m), ("fingertip", body.arm_m + body.hand_m)):
            moved[JOINT[f"{side}_{joint}"]] = shoulder + far * way
    return moved


@pytest.mark.parametrize("sex", ["female", "male", "neutral"])
def test_standing_height_of_the_whole_bodys_centre_of_mass(sex: str) -> None:
    """Sanity range: 0.53 to 0.59 of stature (women 0.553, men 0.570 with de Leva's own lengths)."""
    body = Body(1.7, sex)  # type: ignore[arg-type]
    height = centre_of_mass(_hanging(body), body)[1] / body.stature_m
    assert 0.53 <= height <= 0.59


@pytest.mark.parametrize(("sex", "rise"), [("female", 0.030), ("male", 0.034)])
def test_both_arms_overhead_raise_it_by_three_hundredths_of_stature(sex: str, rise: float) -> None:
    body = Body(1.7, sex)  # type: ignore[arg-type]
    low = _hanging(body)
    high = _arms(low, body, np.array([0.0, 1.0, 0.0]), ("left", "right"))
    raised = (centre_of_mass(high, body) - centre_of_mass(low, body))[1] / body.stature_m
    assert raised == pytest.approx(rise, abs=0.006)


@pytest.mark.parametrize(("sex", "stature_m", "forward_mm"), [("female", 1.735, 12.8), ("male", 1.741, 14.7)])
def test_one_arm_forward_moves_it_forward_by_a_centimetre(sex: str, stature_m: float, forward_mm: float) -> None:
    body = Body(stature_m, sex)  # type: ignore[arg-type]
    low = _hanging(body)
    out = _arms(low, body, np.array([1.0, 0.0, 0.0]), ("right",))
    moved = 1000 * (centre_of_mass(out, body) - centre_of_mass(low, body))[0]
    assert moved == pytest.approx(forward_mm, abs=2.0)


@pytest.mark.parametrize(
    ("x", "v", "length", "edge", "ahead", "margin"),
    [
        (0.05, 0.20, 0.90, 0.15, 0.110578, 0.039422),
        (0.00, 0.30, 1.00, 0.12, 0.095783, 0.024217),
        (0.02, 0.10, 0.85, 0.10, 0.049436, 0.050564),
    ],
)
def test_hof_2005_margin_of_stability(
    x: float, v: float, length: float, edge: float, ahead: float, margin: float
) -> None:
    assert float(extrapolated_m(np.array(x), np.array(v), pendulum_m=length)) == pytest.approx(ahead, abs=1e-6)
    assert stability_margin_m(x, v, edge, pendulum_m=length) == pytest.approx(margin, abs=1e-6)


def test_standing_still_the_margin_is_the_static_one_and_moving_away_makes_it_larger() -> None:
    assert stability_margin_m(0.05, 0.0, 0.15, pendulum_m=0.9) == pytest.approx(0.10)
    assert stability_margin_m(0.05, -0.1, 0.15, pendulum_m=0.9) > 0.10


# -- the second witness: mujoco ------------------------------------------------------------------------------------


def _danced() -> tuple[np.ndarray, Body]:
    steps = [
        Action(Count.at_moment(1), Foot.RIGHT, "step", Direction.RIGHT),
        Action(Count.at_moment(2), Foot.LEFT, "kick", Direction.FORWARD),
        Action(Count.at_moment(3), Foot.LEFT, "flick", Direction.BACK),
    ]
    body = Body(1.68, "female")
    motion = move(events_of(steps, weight=Weight.LEFT), counts=4, stance="standing", body=body)
    return motion.frames.points_m[[0, 24, 36, 48, 60, 72, 90]], body


def _mass_model(points: np.ndarray, body: Body) -> str:
    parts = []
    for part in body.parts:
        a, b = point_of(points, part.first), point_of(points, part.last)
        x, y, z = a + part.centre * (b - a)
        inertial = f'<inertial pos="0 0 0" mass="{part.mass * 60:.9f}" diaginertia="1 1 1"/>'
        parts.append(f'<body pos="{x:.12f} {y:.12f} {z:.12f}">{inertial}</body>')
    return f'<mujoco><worldbody><body name="all">{"".join(parts)}</body></worldbody></mujoco>'


def test_mujoco_finds_the_same_centre_of_mass() -> None:
    frames, body = _danced()
    for points in frames:
        model = mujoco.MjModel.from_xml_string(_mass_model(points, body))
        data = mujoco.MjData(model)
        mujoco.mj_forward(model, data)
        theirs = data.subtree_com[mujoco.mj_name2id(model, mujoco.mjtObj.mjOBJ_BODY, "all")]
        assert centre_of_mass(points, body) == pytest.approx(theirs, abs=1e-7)


LEG = """<mujoco><worldbody><body name="thigh" pos="{hip}"><joint type="ball"/><geom size="0.01"/>
<body name="shank" pos="0 -{thigh} 0"><joint type="hinge" axis="0 0 1"/><geom size="0.01"/>
<body name="ankle" pos="0 -{shank} 0"><geom size="0.01"/></body></body></body></worldbody></mujoco>"""


@pytest.mark.parametrize("side", ["left", "right"])
def test_mujoco_turning_hip_and_knee_puts_knee_and_ankle_where_ours_are(side: str) -> None:
    frames, body = _danced()
    for points in frames:
        hip, knee, ankle = (points[JOINT[f"{side}_{joint}"]] for joint in ("hip", "knee", "ankle"))
        down, shin = (knee - hip) / body.thigh_m, (ankle - knee) / body.shank_m
        hinge = np.cross(shin, down)
        bend = np.arctan2(np.linalg.norm(hinge), down @ shin)
        hinge /= np.linalg.norm(hinge)
        turn = np.column_stack([np.cross(-down, hinge), -down, hinge])
        quaternion = np.zeros(4)
        mujoco.mju_mat2Quat(quaternion, turn.ravel())
        place = " ".join(f"{c:.12f}" for c in hip)
        model = mujoco.MjModel.from_xml_string(LEG.format(hip=place, thigh=body.thigh_m, shank=body.shank_m))
        data = mujoco.MjData(model)
        data.qpos[:4], data.qpos[4] = quaternion, -bend
        mujoco.mj_forward(model, data)
        assert data.body("shank").xpos == pytest.approx(knee, abs=1e-8)
        assert data.body("ankle").xpos == pytest.approx(ankle, abs=1e-8)
