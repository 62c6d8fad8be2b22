"""Body segments: Drillis & Contini 1966 and Dempster as reprinted in Winter 2009 (fig. 4.1, table 4.1); de Leva 1996
(table 4); ANSUR II (Gordon et al. 2014). Each value is cited where it is used.
"""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.dance.action import Action
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced as events_of
from softshoe.figure.body import Body, seat_gap_m, table
from softshoe.figure.motion import JOINT
from softshoe.figure.move import move
from softshoe.figure.reach import angle_deg

SEGMENTS = table("segments")


def value(key: str) -> float:
    return SEGMENTS[key].value


def test_winter_fig_4_1_foot_of_a_180_cm_dancer() -> None:
    assert Body(1.80).foot_m == pytest.approx(0.152 * 1.80)


def test_winter_fig_4_1_lengths_are_differences_of_heights() -> None:
    body = Body(1.0 * 1.5)
    assert body.thigh_m == pytest.approx((0.530 - 0.285) * 1.5)
    assert body.shank_m == pytest.approx((0.285 - 0.039) * 1.5)
    assert body.trunk_m == pytest.approx((0.818 - 0.530) * 1.5)


def test_hip_joints_stand_a_tenth_of_stature_apart_not_the_drawing_width() -> None:
    """0.10 to 0.11 of stature: memory. Drillis & Contini's 0.191 is the width of the whole pelvis in the drawing."""
    assert 0.10 <= 2 * Body(1.0 * 1.7).half_hips_m / 1.7 <= 0.11


@pytest.mark.parametrize(("sex", "total"), [("f", 0.9999), ("m", 1.0000)])
def test_de_leva_table_4_masses_add_up(sex: str, total: float) -> None:
    limbs = ("upper_arm", "forearm", "hand", "thigh", "shank", "foot")
    whole = value(f"dl_{sex}_head_mass") + value(f"dl_{sex}_trunk_mass")
    whole += 2 * sum(value(f"dl_{sex}_{limb}_mass") for limb in limbs)
    assert whole == pytest.approx(total, abs=5e-5)


@pytest.mark.parametrize(("sex", "total"), [("f", 0.4257), ("m", 0.4346)])
def test_de_leva_table_4_the_trunk_is_its_three_parts(sex: str, total: float) -> None:
    parts = sum(value(f"dl_{sex}_{part}_trunk_mass") for part in ("upper", "middle", "lower"))
    assert parts == pytest.approx(total, abs=5e-5)
    assert value(f"dl_{sex}_trunk_mass") == pytest.approx(total)


def test_winter_table_4_1_masses_add_up() -> None:
    assert value("dw_foot_mass") + value("dw_leg_mass") + value("dw_thigh_mass") == pytest.approx(0.161)
    assert value("dw_upper_arm_mass") + value("dw_forearm_mass") + value("dw_hand_mass") == pytest.approx(0.050)
    assert value("dw_thorax_mass") + value("dw_abdomen_mass") + value("dw_pelvis_mass") == pytest.approx(0.497)
    assert value("dw_hat_mass") == pytest.approx(0.578 + 2 * 0.050)
    assert value("dw_hat_mass") + 2 * value("dw_total_leg_mass") == pytest.approx(1.000)


def test_the_same_point_of_the_shank_has_another_share_from_other_endpoints() -> None:
    """de Leva 1996, men: 0.4395 to the ankle joint centre, 0.4459 to the lateral malleolus; ours ends at the joint."""
    assert value("dl_m_shank_com") == pytest.approx(0.4395)
    shank = next(part for part in Body(sex="male").parts if part.name == "left_shank")
    assert shank.centre == pytest.approx(0.4395)
    assert (shank.first, shank.last) == ("left_knee", "left_ankle")


@pytest.mark.parametrize("sex", ["female", "male", "neutral"])
def test_the_parts_of_a_body_weigh_the_whole_body(sex: str) -> None:
    assert sum(part.mass for part in Body(sex=sex).parts) == pytest.approx(1.0, abs=2e-4)  # type: ignore[arg-type]


def test_neutral_is_the_mean_of_both_sexes() -> None:
    masses = [next(p.mass for p in Body(sex=sex).parts if p.name == "trunk") for sex in ("female", "male", "neutral")]
    assert masses[2] == pytest.approx((masses[0] + masses[1]) / 2)


def test_seated_knee_lift_and_hip_bend_follow_from_the_thigh() -> None:
    """Worked sum on Drillis & Contini: stature 1.60 m, thigh 0.392 m; hip flexion 110 lifts the knee by 0.134 m."""
    assert Body(1.60).thigh_m == pytest.approx(0.392)
    assert Body(1.60).thigh_m * np.sin(np.radians(110 - 90)) == pytest.approx(0.134, abs=5e-4)


def test_the_figures_knee_lift_agrees_with_its_hip_bend_and_the_lean_is_added() -> None:
    """Same sum: trunk upright, the knee rises by thigh x sin(bend - 90); a lean of the trunk adds to the bend."""
    lift = Action(Count.at_moment(2), Foot.RIGHT, "hitch")
    motion = move(events_of([lift], weight=Weight.SEAT), counts=3, stance="seated", body=Body(1.60))
    points = motion.frames.points_m[2 * motion.per_count]
    hip, knee = points[JOINT["right_hip"]], points[JOINT["right_knee"]]
    trunk = points[JOINT["neck"]] - points[JOINT["pelvis"]]
    bend = 180 - float(angle_deg(trunk, knee - hip))
    lean = float(np.degrees(np.arctan2(trunk[0], trunk[1])))
    rise = float(knee[1] - hip[1])
    assert rise == pytest.approx(0.392 * np.sin(np.radians(bend - lean - 90)), abs=0.004)


def test_seat_fit_of_a_short_older_woman() -> None:
    """NHANES 2015-2016: women 65+, 5th percentile 146.7 cm; popliteal 0.238 (ANSUR II) = 34.9 cm + 2.5 cm shoe = 37.4:
    on a seat of 45 cm her feet hang about 7.6 cm short."""
    body = Body(1.467, "female")
    assert body.popliteal_m == pytest.approx(0.349, abs=0.0015)
    assert seat_gap_m(body, 0.45) == pytest.approx(0.076, abs=0.0015)


def test_ansur_popliteal_normal_curve() -> None:
    """ANSUR II women: mean 388.2, sd 23.6 mm; mean - 1.645 sd = 349.4, observed 5th percentile 350."""
    mean, fifth = value("ansur2_f_poplitealheight_mean"), value("ansur2_f_poplitealheight_5th")
    assert (mean, fifth) == pytest.approx((388.2, 350.0))
    assert mean - 1.645 * 23.6 == pytest.approx(349.4, abs=0.05)
