"""The figure: joint points to marks, far things first.

Radii are metres of a grown person drawn a little rounder than life; feet, hands and head a little larger, because they
tell the dance. The left side wears stripes, the right side one solid colour; a shoe fills as its foot bears weight.
What did not move since it was drawn is the very same marks: from frame to frame of a film, half of the body.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from operator import itemgetter
from typing import TYPE_CHECKING, Any

from softshoe.figure.motion import JOINT, HandShape
from softshoe.render.look import guise_now, mix, palette
from softshoe.render.look_signs import letter, stripes
from softshoe.render.picture_hand import hand_item
from softshoe.render.picture_head import head_item
from softshoe.render.picture_outfit import outfit_marks
from softshoe.render.stage import Capsule, Line, Mark, Polygon, blob

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from softshoe.figure.motion import FloatArray
    from softshoe.render.look import Guise
    from softshoe.render.picture_camera import Seen

Item = tuple[float, list[Mark]]
Spot = tuple[float, float, float, float]  # x px, y px, nearness m, px a metre
OUTLINE_PX = 2.2
FILL_LEVELS = 8
HEEL_ON_M = 0.08  # the letter stands on the heel when it is so much nearer than the toe
LETTER_M, LETTER_LEAST_PX = 0.047, 11.0
SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Limb:
    """One limb: its two joints (of a side), radii at both [m], the cloth, how much nearer it is sorted [m]."""

    start: str
    end: str
    r0_m: float
    r1_m: float
    cloth: str
    nearer_m: float = 0.0


LIMBS = (
    Limb("shoulder", "elbow", 0.060, 0.050, "sleeve", 0.02),
    Limb("elbow", "wrist", 0.050, 0.040, "sleeve", 0.04),
    Limb("hip", "knee", 0.090, 0.070, "trousers", 0.0),
    Limb("knee", "ankle", 0.070, 0.050, "trousers", 0.0),
)


def _of(*names: str) -> Callable[[Sequence[Any]], tuple[Any, ...]]:
    """What takes these joints out of all."""
    return itemgetter(*(JOINT[name] for name in names))


def _sides(*names: str) -> dict[str, Callable[[Sequence[Any]], tuple[Any, ...]]]:
    return {side: _of(*(f"{side}_{name}" for name in names)) for side in SIDES}


NOSE, HEAD = JOINT["nose"], JOINT["head"]
TORSO = _of(*(f"{side}_{joint}" for joint in ("shoulder", "hip") for side in SIDES), "chest", "pelvis", "neck", "head")
SHOE, HAND = _sides("heel", "ball", "toe", "ankle"), _sides("wrist", "fingertip", "thumb")
LEG, ARM = _sides("hip", "knee", "ankle"), _sides("shoulder", "elbow", "wrist")
LIMBS_AT = {
    side: tuple((limb, JOINT[f"{side}_{limb.start}"], JOINT[f"{side}_{limb.end}"]) for limb in LIMBS) for side in SIDES
}
CHAINS = {"left": ("leg",), "right": ("leg", "arm")}  # the left sleeve is striped and shows no seam
KEPT = 16  # so many of a part's places are kept for the next frames
STRAIGHT_DEG = 28.0
NECK_M = 0.052
SOCK_FROM = 0.58  # the share of the shin that the trouser leg covers
BANDS = {"sleeve": 4, "sock": 3, "shoe": 3}


def figure_items(
    spots: list[Spot],
    points_m: FloatArray,
    bearing: tuple[float, float],
    *,
    view: Seen,
    seated: bool,
    shapes: tuple[HandShape, HandShape] = (HandShape(), HandShape()),
) -> list[Item]:
    """Return the body's parts as (nearness, marks), unsorted. ``spots`` are the joints on the screen,
    ``shapes`` those of the hands.

    Seen from behind a chair, shins and feet lie beyond it even when they are drawn back.
    """
    below = -0.3 if seated and view == "behind" else 0.0
    guise, places = guise_now(), points_m.tolist()
    reach_m = math.dist(places[NOSE], places[HEAD])
    items = [*_torso(TORSO(spots), view, seated, guise), _head(spots[HEAD], spots[NOSE], reach_m, guise)]
    for side, bears, shape in zip(SIDES, bearing, shapes, strict=True):
        upper, fore, thigh, shin = (
            _limb(spots[start], spots[end], side, limb, guise) for limb, start, end in LIMBS_AT[side]
        )
        items += [upper, fore, (thigh[0] - (0.0 if seated else 0.15), thigh[1]), *_seams(spots, places, side, guise)]
        level = round(bears * FILL_LEVELS) / FILL_LEVELS
        foot = _foot(SHOE[side](spots), side, level, guise)
        items += [(near + below, marks) for near, marks in (shin, foot)]
        hand_m = math.dist(*HAND[side](places)[:2])
        items.append(_hand(HAND[side](spots), side, shape, hand_m, view == "mirror", guise))
    return items


@lru_cache(maxsize=KEPT)
def _head(centre: Spot, nose: Spot, reach_m: float, _guise: Guise) -> Item:
    return head_item(centre, nose, reach_m)


@lru_cache(maxsize=KEPT)
def _hand(spots: tuple[Spot, ...], side: str, shape: HandShape, hand_m: float, mirrored: bool, _guise: Guise) -> Item:
    wrist, tip, thumb = spots
    return hand_item(wrist, tip, thumb, side=side, shape=shape, hand_m=hand_m, mirrored=mirrored)


def between(a: Spot, b: Spot, share: float) -> Spot:
    """Return the spot a share of the way from one to another."""
    x, y, near, size = (p + (q - p) * share for p, q in zip(a, b, strict=True))
    return x, y, near, size


def _near(*spots: Spot) -> float:
    return sum(s[2] for s in spots) / len(spots)


def _tube(a: Spot, b: Spot, r0_m: float, r1_m: float, fill: str) -> Capsule:
    return Capsule(a[0], a[1], r0_m * a[3], b[0], b[1], r1_m * b[3], fill, palette()["outline"], OUTLINE_PX)


def _ball(a: Spot, r_m: float) -> tuple[float, float, float]:
    return a[0], a[1], r_m * a[3]


@lru_cache(maxsize=4 * KEPT)
def _limb(a: Spot, b: Spot, side: str, limb: Limb, _guise: Guise) -> Item:
    colours = palette()
    near = _near(a, b) + limb.nearer_m
    if limb.cloth == "sleeve":
        return near, _sided(_tube(a, b, limb.r0_m, limb.r1_m, ""), side, "sleeve")
    marks: list[Mark] = []
    if limb.end == "ankle":
        cuff = between(a, b, SOCK_FROM)
        marks += _sided(_tube(cuff, b, 0.052, limb.r1_m, ""), side, "sock")
        b = cuff
    marks.append(_tube(a, b, limb.r0_m, limb.r1_m if limb.end == "knee" else 0.062, colours["trousers"]))
    return near, marks


def _seams(spots: list[Spot], places_m: list[list[float]], side: str, guise: Guise) -> list[Item]:
    """Where a limb is nearly straight, knee and elbow show no outline across it."""
    items: list[Item] = []
    for chain in CHAINS[side]:
        joints = LEG[side] if chain == "leg" else ARM[side]
        if _bend_deg(*joints(places_m)) < STRAIGHT_DEG:
            items.append(_seam(*joints(spots), chain == "leg", guise))
    return items


@lru_cache(maxsize=KEPT)
def _seam(before: Spot, spot: Spot, after: Spot, leg: bool, _guise: Guise) -> Item:
    over = max(spot[2], _near(spot, before), _near(spot, after))
    fill = palette()["trousers" if leg else "right"]
    return over + 0.045, _patch(spot, before, after, 0.070 if leg else 0.050, fill)


def _patch(spot: Spot, before: Spot, after: Spot, r_m: float, fill: str) -> list[Mark]:
    """A piece of cloth over the joint, just inside the limb's edges."""
    dx, dy = after[0] - before[0], after[1] - before[1]
    length = max(math.hypot(dx, dy), 1e-6)
    r = r_m * spot[3]
    ux, uy, half, along = dx / length, dy / length, r - OUTLINE_PX * 0.6, min(r * 0.75, length / 3)
    corners = ((along, half), (along, -half), (-along, -half), (-along, half))
    return [Polygon(tuple((spot[0] + ux * a - uy * b, spot[1] + uy * a + ux * b) for a, b in corners), fill)]


def _bend_deg(a: list[float], b: list[float], c: list[float]) -> float:
    """How far the way from a over b to c bends at b: 0 when straight."""
    into, out = [q - p for p, q in zip(a, b, strict=True)], [q - p for p, q in zip(b, c, strict=True)]
    size = math.hypot(*into) * math.hypot(*out)
    return (
        math.degrees(math.acos(max(-1.0, min(1.0, sum(p * q for p, q in zip(into, out, strict=True)) / size))))
        if size
        else 0.0
    )


def _sided(tube: Capsule, side: str, part: str) -> list[Mark]:
    """The left is striped, the right solid."""
    colours = palette()
    ground = colours["left_pale"] if side == "left" else colours["right"]
    clothed = Capsule(tube.x0, tube.y0, tube.r0, tube.x1, tube.y1, tube.r1, ground, tube.ink, tube.width)
    return [clothed, *(stripes(clothed, BANDS[part], colours["left"]) if side == "left" else [])]


@lru_cache(maxsize=KEPT)
def _foot(spots: tuple[Spot, ...], side: str, level: float, _guise: Guise) -> Item:
    colours = palette()
    heel, ball, toe, ankle = spots
    pale = colours["left_pale"] if side == "left" else colours["right"]
    fill = mix(colours["paper"], pale, level)
    size = toe[3]
    back = (heel[0], heel[1] - 0.044 * heel[3], heel[2], heel[3])
    front = (ball[0], ball[1] - 0.052 * size, ball[2], size)
    shoe = blob(
        [
            (back[0], back[1], 0.050 * heel[3]),
            (front[0], front[1], 0.056 * size),
            (toe[0], toe[1] - 0.044 * size, 0.046 * size),
            (ankle[0], ankle[1], 0.048 * ankle[3]),
        ],
        fill,
        colours["outline"],
        OUTLINE_PX,
    )
    marks: list[Mark] = [shoe]
    tube = Capsule(back[0], back[1], 0.050 * heel[3], front[0], front[1], 0.056 * size, "", None, OUTLINE_PX)
    if side == "left" and level > 0:
        marks += stripes(tube, BANDS["shoe"], mix(colours["paper"], colours["left"], level))
    marks += _heel_line(back, front)
    marks += letter(
        *(back if heel[2] > toe[2] + HEEL_ON_M else front)[:2],
        max(LETTER_LEAST_PX, LETTER_M * size),
        side=side,
        filled=level > 0.5,
    )
    return max(heel[2], toe[2]) + 0.03, marks


def _heel_line(back: Spot, front: Spot) -> list[Mark]:
    """A line across the shoe where the heel ends, seen when the foot is not end on."""
    dx, dy = front[0] - back[0], front[1] - back[1]
    length = math.hypot(dx, dy)
    if length < 12:
        return []
    half = 0.046 * back[3]
    x, y = back[0] + dx * 0.14, back[1] + dy * 0.14
    across = ((x - dy / length * half, y + dx / length * half), (x + dy / length * half, y - dx / length * half))
    return [Line(across, palette()["outline"], 2.0)]


@lru_cache(maxsize=KEPT)
def _torso(spots: tuple[Spot, ...], view: Seen, seated: bool, _guise: Guise) -> list[Item]:
    colours = palette()
    shoulders, hips, (chest, pelvis, neck, head) = spots[:2], spots[2:4], spots[4:]
    waist = between(pelvis, chest, 0.25)
    body = blob(
        [_ball(between(s, chest, 0.12), 0.062) for s in shoulders]
        + [_ball(between(waist, h, 0.85), 0.085) for h in hips]
        + [_ball(neck, 0.06), _ball(chest, 0.105), _ball(waist, 0.115)],
        colours["top"],
        colours["outline"],
        OUTLINE_PX,
    )
    seat = blob([_ball(h, 0.095) for h in hips], colours["trousers"], colours["outline"], OUTLINE_PX)
    throat = _tube(neck, between(neck, head, 0.6), NECK_M, NECK_M, colours["skin"])
    return [
        (min(_near(*hips), _near(chest, pelvis)) - (0.05 if seated else 0.16), [seat]),
        (_near(chest, pelvis) - 0.02, [body, *outfit_marks(shoulders[0], shoulders[1], neck, pelvis, view=view)]),
        (_near(neck) + 0.03, [throat]),
    ]
