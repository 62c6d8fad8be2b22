"""Truths a motion must keep: each check reads joint points only and yields what breaks it.

Ceilings of joints are means of people over sixty (``data/body/ranges.csv``): a ceiling, never a target. Lengths in
metres, angles in degrees, moments in counts from 0. Nothing here says that a movement suits a person.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.dance.feet import Foot
from softshoe.figure.balance import centre_of_mass, foot_outline, hull, margin_m
from softshoe.figure.body import table
from softshoe.figure.feet_rules import LASTING, foot_rule
from softshoe.figure.motion import JOINT
from softshoe.figure.reach import angle_deg, dot, unit
from softshoe.figure.skeleton import ahead, rightward

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from softshoe.dance.action import Event
    from softshoe.figure.body import Body
    from softshoe.figure.motion import FloatArray, Motion

SLIP_M = 0.002  # in one frame
FLOOR_M = 0.001
MISS_M = 0.012
ON_FLOOR_M = 0.004
ON_TIME_M = 0.006
HAND_IN_M = 0.012
PALMS_M = 0.045
LEAST_MARGIN_M = -0.002
ELBOW_SIDE_M = 0.06  # how far an elbow may pass to the wrong side for a moment, between two gestures
EVERY = 4  # of the frames at rest, one in so many is looked at
REST_M = 0.02  # a count: slower than this the centre of mass is at rest
FOOT_SPEED_M_S, HAND_SPEED_M_S = 7.5, 8.0  # peak speeds of a quick dance at 120 counts a minute; design values
SIDES = ("left", "right")


class Breach(NamedTuple):
    """What broke: the truth, the limb, when, how much and what was allowed."""

    truth: str
    limb: str
    moment: float
    value: float
    limit: float


@dataclass(frozen=True, slots=True, eq=False)
class Danced:
    """A motion with what it was made from; ``miss_m`` (n, 4) is how far feet and hands miss their places."""

    motion: Motion
    events: Sequence[Event]
    body: Body
    miss_m: FloatArray

    def joint(self, name: str) -> FloatArray:
        """Return a joint's points (n, 3)."""
        points: FloatArray = self.motion.frames.points_m[:, JOINT[name], :]
        return points

    def moment(self, frame: int) -> float:
        """Return the moment of a frame."""
        return frame / self.motion.per_count

    def frame(self, moment: float) -> int:
        """Return the frame of a moment."""
        return round(moment * self.motion.per_count)

    @property
    def facing(self) -> FloatArray:
        """Return the facing of each frame [rad]."""
        turned: FloatArray = np.radians(self.motion.facing_deg)
        return turned


def _over(truth: str, limb: str, danced: Danced, values: FloatArray, limit: float) -> Iterator[Breach]:
    """Yield the worst frame where values pass a limit."""
    worst = int(np.argmax(values))
    if values[worst] > limit:
        yield Breach(truth, limb, danced.moment(worst), float(values[worst]), limit)


def _least(*ids: str) -> float:
    """Return the smallest of the rows with these ids: the ceiling for everybody."""
    return min(table("ranges")[one].value for one in ids)


def floor(danced: Danced) -> Iterator[Breach]:
    """No foot goes under the floor."""
    for side in SIDES:
        low = np.minimum(danced.joint(f"{side}_heel")[:, 1], danced.joint(f"{side}_toe")[:, 1])
        yield from _over("floor", f"{side} foot", danced, -low, FLOOR_M)


def slip(danced: Danced) -> Iterator[Breach]:
    """A foot that bears keeps a point of its sole where it is."""
    for index, side in enumerate(SIDES):
        spots = [danced.joint(f"{side}_heel"), danced.joint(f"{side}_toe"), danced.joint(f"{side}_ball")]
        moved = [np.linalg.norm(np.diff(s[:, [0, 2]], axis=0), axis=1) + 9.0 * (s[1:, 1] > ON_FLOOR_M) for s in spots]
        bears = danced.motion.frames.bearing[:, index] > 0.97
        still = np.minimum.reduce(moved) * (bears[1:] & bears[:-1])
        yield from _over("slip", f"{side} foot", danced, np.append(still, 0.0), SLIP_M)


def bend_deg(danced: Danced, first: str, middle: str, last: str) -> FloatArray:
    """Return how far a joint is bent from straight."""
    return angle_deg(danced.joint(middle) - danced.joint(first), danced.joint(last) - danced.joint(middle))


def knees(danced: Danced) -> Iterator[Breach]:
    """Knees bend forward, and no further than knees do."""
    ceiling = _least("mckay60_kn_flex_f", "mckay60_kn_flex_m")
    front = ahead(danced.facing) + np.array([0.0, 0.5, 0.0])
    for side in SIDES:
        yield from _over(
            "knee", side, danced, bend_deg(danced, f"{side}_hip", f"{side}_knee", f"{side}_ankle"), ceiling
        )
        out = _off_line(danced, f"{side}_hip", f"{side}_knee", f"{side}_ankle")
        yield from _over("knee side", side, danced, -dot(out, front)[:, 0], 0.002)


def _off_line(danced: Danced, first: str, middle: str, last: str) -> FloatArray:
    """Return the way from the line first-last to the middle joint."""
    along = unit(danced.joint(last) - danced.joint(first))
    way = danced.joint(middle) - danced.joint(first)
    off: FloatArray = way - dot(way, along) * along
    return off


def elbows(danced: Danced) -> Iterator[Breach]:
    """Elbows bend no further than elbows do, and never up and forward while the hand is low."""
    ceiling = _least("mckay60_el_flex_f", "mckay60_el_flex_m")
    for side, sign in (("left", -1.0), ("right", 1.0)):
        bend = bend_deg(danced, f"{side}_shoulder", f"{side}_elbow", f"{side}_wrist")
        yield from _over("elbow", side, danced, bend, ceiling)
        back = -0.5 * ahead(danced.facing) + 0.7 * sign * rightward(danced.facing) - np.array([0.0, 0.8, 0.0])
        low = danced.joint(f"{side}_wrist")[:, 1] < danced.joint(f"{side}_shoulder")[:, 1]
        out = _off_line(danced, f"{side}_shoulder", f"{side}_elbow", f"{side}_wrist")
        yield from _over("elbow side", side, danced, -dot(out, back)[:, 0] * low, ELBOW_SIDE_M)


def hips(danced: Danced) -> Iterator[Breach]:
    """Hips bend no further than hips do, the lean of the trunk counted in."""
    ceiling = _least("mckay60_hip_flex_f", "mckay60_hip_flex_m")
    trunk = danced.joint("neck") - danced.joint("pelvis")
    for side in SIDES:
        thigh = danced.joint(f"{side}_knee") - danced.joint(f"{side}_hip")
        yield from _over("hip", side, danced, 180.0 - angle_deg(trunk, thigh), ceiling)


def ankles(danced: Danced) -> Iterator[Breach]:
    """Ankles: toes up no further than a loaded foot allows, down no further than a free one."""
    up = _least("mckay60_an_df_lunge_f", "mckay60_an_df_lunge_m")
    down = _least("mckay60_an_pf_f", "mckay60_an_pf_m")
    for side in SIDES:
        sole = danced.joint(f"{side}_ball") - danced.joint(f"{side}_heel")
        shank = danced.joint(f"{side}_knee") - danced.joint(f"{side}_ankle")
        flexed = 90.0 - angle_deg(sole, shank)
        yield from _over("ankle up", side, danced, flexed, up)
        yield from _over("ankle down", side, danced, -flexed, down)


def shoulders(danced: Danced) -> Iterator[Breach]:
    """Upper arms rise no higher than shoulders do."""
    ceiling = _least("soucie45_sh_flex_f", "soucie45_sh_flex_m")
    trunk = danced.joint("pelvis") - danced.joint("neck")
    for side in SIDES:
        arm = danced.joint(f"{side}_elbow") - danced.joint(f"{side}_shoulder")
        yield from _over("shoulder", side, danced, angle_deg(trunk, arm), ceiling)


def wrists(danced: Danced) -> Iterator[Breach]:
    """Wrists bend no further than wrists do."""
    ceiling = _least("aaos_wrist_flexion", "aaos_wrist_extension")
    for side in SIDES:
        bend = bend_deg(danced, f"{side}_elbow", f"{side}_wrist", f"{side}_fingertip")
        yield from _over("wrist", side, danced, bend, ceiling)


def trunk(danced: Danced) -> Iterator[Breach]:
    """The trunk leans and turns no further than backs do, the head no further than necks do."""
    spine = danced.joint("neck") - danced.joint("pelvis")
    side = np.degrees(np.arcsin(np.abs(dot(unit(spine), rightward(danced.facing))[:, 0])))
    yield from _over("side bend", "trunk", danced, side, _least("cfr_trunk_side_bend"))
    width = danced.joint("right_shoulder") - danced.joint("left_shoulder")
    turn = angle_deg(width * np.array([1.0, 0.0, 1.0]), rightward(danced.facing))
    yield from _over("turn", "trunk", danced, turn, _least("cfr_trunk_rotation"))
    look = danced.joint("nose") - danced.joint("neck")
    gaze = angle_deg(look * np.array([1.0, 0.0, 1.0]), ahead(danced.facing))
    yield from _over("turn", "neck", danced, gaze, _least("nk_rot_70plus"))


def reach(danced: Danced) -> Iterator[Breach]:
    """Feet are always where they were sent; hands at the moments of the dance."""
    moments = {danced.frame(float(event.action.at.moment)) for event in danced.events}
    set_ = np.isin(np.arange(len(danced.miss_m)), list(moments))
    for index, limb in enumerate(("left foot", "right foot", "left hand", "right hand")):
        miss = danced.miss_m[:, index] * (set_ if "hand" in limb else 1.0)
        yield from _over("reach", limb, danced, miss, MISS_M)


def contact(danced: Danced) -> Iterator[Breach]:
    """A foot set on the floor is there at its moment, moves before, and stays a little."""
    for side, foot in (("left", Foot.LEFT), ("right", Foot.RIGHT)):
        spots = (danced.joint(f"{side}_heel"), danced.joint(f"{side}_ball"), danced.joint(f"{side}_toe"))
        for event in danced.events:
            action = event.action
            rule = foot_rule(action.verb, danced.motion.stance)
            moment = float(action.at.moment)
            floor_verb = rule.solver == "land" and rule.shape.fixed is None and not rule.shape.up
            floor_verb = floor_verb and not _goes_on(event, danced.events)
            if action.foot is not foot or not floor_verb or not 0 <= moment < danced.motion.counts:
                continue
            frame = danced.frame(moment)
            low = min(float(s[frame, 1]) for s in spots)
            if low > ON_TIME_M:
                yield Breach("contact", f"{side} foot", moment, low, ON_TIME_M)
            after = min(frame + 1, len(spots[0]) - 1)
            moved = min(float(np.linalg.norm(s[after] - s[frame])) for s in spots)
            if moved > ON_TIME_M and rule.after is None:
                yield Breach("contact", f"{side} foot", moment, moved, ON_TIME_M)


def _goes_on(event: Event, events: Sequence[Event]) -> bool:
    """Tell whether a drag or a sweep is still under way: the same foot does the same within the next count."""
    action = event.action
    return action.verb in LASTING and any(
        later.action.verb == action.verb
        and later.action.foot is action.foot
        and 0 < later.action.at.moment - action.at.moment <= 1
        for later in events
    )


def thighs(danced: Danced) -> Iterator[Breach]:
    """Hands lie on thighs, not in them."""
    radius = danced.body.thigh_thick_m - HAND_IN_M
    for hand in SIDES:
        palm = (danced.joint(f"{hand}_wrist") + danced.joint(f"{hand}_fingertip")) / 2
        for leg in SIDES:
            hip, knee = danced.joint(f"{leg}_hip"), danced.joint(f"{leg}_knee")
            far = _from_bone(palm, hip, knee)
            if danced.motion.stance == "seated":
                yield from _over("hand in thigh", f"{hand} hand, {leg} thigh", danced, radius - far, 0.0)


def _from_bone(point: FloatArray, start: FloatArray, end: FloatArray) -> FloatArray:
    bone = end - start
    share = np.clip(dot(point - start, bone) / dot(bone, bone), 0.15, 1.0)
    far: FloatArray = np.linalg.norm(point - start - share * bone, axis=1)
    return far


def claps(danced: Danced) -> Iterator[Breach]:
    """Palms meet in a clap at its moment, and not before."""
    apart = np.linalg.norm(_palm(danced, "left") - _palm(danced, "right"), axis=1)
    for event in danced.events:
        moment = float(event.action.at.moment)
        if 0.3 < moment <= danced.motion.counts and any(a.gesture == "clap" for a in event.action.arms):
            frame = danced.frame(moment)
            if apart[frame] > PALMS_M:
                yield Breach("clap", "hands", moment, float(apart[frame]), PALMS_M)
            before = float(apart[danced.frame(moment - 0.25)])
            if before < 2 * PALMS_M:
                yield Breach("clap gap", "hands", moment - 0.25, before, 2 * PALMS_M)


def _palm(danced: Danced, side: str) -> FloatArray:
    wrist, tip = danced.joint(f"{side}_wrist"), danced.joint(f"{side}_fingertip")
    middle: FloatArray = wrist + 0.45 * (tip - wrist)
    return middle


def balance(danced: Danced) -> Iterator[Breach]:
    """Standing still on what bears, the centre of mass is over it."""
    if danced.motion.stance != "standing":
        return
    frames = danced.motion.frames
    centre = centre_of_mass(frames.points_m, danced.body)[:, [0, 2]]
    speed = np.linalg.norm(np.diff(centre, axis=0), axis=1) * danced.motion.per_count
    at_rest = np.append(np.maximum(speed[:-1], speed[1:]) < REST_M, [False, False])
    for frame in np.flatnonzero(at_rest)[::EVERY]:
        outline = support(danced, int(frame))
        if len(outline) > 2 and (found := margin_m(outline, centre[frame])) < LEAST_MARGIN_M:
            yield Breach("balance", "centre of mass", danced.moment(int(frame)), found, LEAST_MARGIN_M)


def support(danced: Danced, frame: int) -> FloatArray:
    """Return the outline (m, 2) of the feet that bear at a frame."""
    bearing = danced.motion.frames.bearing[frame]
    corners = [
        foot_outline(
            danced.joint(f"{side}_heel")[frame], danced.joint(f"{side}_toe")[frame], width_m=danced.body.foot_width_m
        )
        for side, share in zip(SIDES, bearing, strict=True)
        if share > 0.25
    ]
    return hull(np.concatenate(corners)) if corners else np.zeros((0, 2))


def bones(danced: Danced) -> Iterator[Breach]:
    """Bones keep their length."""
    body = danced.body
    for side in SIDES:
        for first, last, length in (
            ("hip", "knee", body.thigh_m),
            ("knee", "ankle", body.shank_m),
            ("shoulder", "elbow", body.upper_arm_m),
            ("elbow", "wrist", body.forearm_m),
        ):
            long = np.linalg.norm(danced.joint(f"{side}_{last}") - danced.joint(f"{side}_{first}"), axis=1)
            yield from _over("bone", f"{side} {first}", danced, np.abs(long - length), 1e-6)


def speeds(danced: Danced, *, count_s: float = 0.5) -> Iterator[Breach]:
    """Feet and hands move no faster than a quick dance at 120 counts a minute asks of them."""
    for side in SIDES:
        for joint, limit in (("ankle", FOOT_SPEED_M_S), ("wrist", HAND_SPEED_M_S)):
            moved = np.linalg.norm(np.diff(danced.joint(f"{side}_{joint}"), axis=0), axis=1)
            yield from _over("speed", f"{side} {joint}", danced, moved * danced.motion.per_count / count_s, limit)


CHECKS: tuple[Callable[[Danced], Iterator[Breach]], ...] = (
    floor,
    slip,
    knees,
    elbows,
    hips,
    ankles,
    shoulders,
    wrists,
    trunk,
    reach,
    contact,
    thighs,
    claps,
    balance,
    bones,
    speeds,
)


def breaches(danced: Danced) -> list[Breach]:
    """Return everything that breaks a truth, in the order of the checks."""
    return [breach for check in CHECKS for breach in check(danced)]
