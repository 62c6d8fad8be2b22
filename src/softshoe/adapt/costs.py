"""What a change gives up, in named parts with the weights of ``costs.csv``: the search keeps what costs least.

Places are those of the trade in step lengths from the standing foot, so a foot that misses by more costs more.
"""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.tables import table

if TYPE_CHECKING:
    from collections import defaultdict
    from collections.abc import Mapping

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

D = Direction
WEIGHTS = {row["part"]: float(row["costs"]) for row in table("adapt/costs")}
MEANS = {row["part"]: row["means"] for row in table("adapt/costs")}
PLACES = {  # step lengths from the standing foot for a right foot: outward, forward
    D.FORWARD: (0.2, 1.0), D.BACK: (0.2, -1.0), D.RIGHT: (1.0, 0.0), D.LEFT: (-0.6, 0.0),
    D.FORWARD_RIGHT: (0.7, 0.7), D.FORWARD_LEFT: (-0.4, 0.7), D.BACK_RIGHT: (0.7, -0.7), D.BACK_LEFT: (-0.4, -0.7),
    D.TOGETHER: (0.2, 0.0), D.CENTRE: (0.2, 0.0), D.IN_PLACE: (0.2, 0.0), D.ACROSS_FRONT: (-0.3, 0.3),
    D.ACROSS_BEHIND: (-0.3, -0.3), D.APART: (1.0, 0.0), D.UP: (0.2, 0.0), D.DOWN: (0.2, 0.0),
}  # fmt: skip
FAMILIES = (
    {"step", "rock", "recover", "stomp", "drop", "lunge", "sway", "grind", "pivot"},
    {"touch", "point", "heel", "stomp-up"},
    {"kick", "hitch", "flick", "hook", "scuff", "brush"},
    {"sweep", "drag"},
    {"swivel", "fan", "raise", "lower", "bump", "hop", "jump"},
)
STRUCK = {"stomp", "stomp-up", "scuff", "brush", "jump", "hop"}
HEIGHTS = {"lap": 0, "thigh": 0, "knee": 0, "hip": 1, "waist": 1, "chest": 2, "shoulder": 3, "head": 4, "overhead": 5}
WALKED = {D.FORWARD: (0, 1), D.BACK: (0, -1), D.LEFT: (-1, 0), D.RIGHT: (1, 0), D.FORWARD_LEFT: (-1, 1),
          D.FORWARD_RIGHT: (1, 1), D.BACK_LEFT: (-1, -1), D.BACK_RIGHT: (1, -1)}  # fmt: skip
HOME = (D.TOGETHER, D.CENTRE, D.IN_PLACE)
COMES_BACK = ("rock", "sway", "grind")


def cost_of(parts: Mapping[str, float]) -> float:
    """Return what named parts cost together."""
    return sum(WEIGHTS[part] * times for part, times in parts.items())


def walked(action: Action) -> tuple[int, int]:
    """Return how far the body goes with an action, in steps to the right and forward."""
    if not VERB[action.verb].takes_weight or action.verb in COMES_BACK or action.dir is None:
        return 0, 0
    return WALKED.get(action.dir, (0, 0))


def comes_home(action: Action) -> bool:
    """True for a step home: the dancer is back at her place."""
    return VERB[action.verb].takes_weight and action.dir is D.CENTRE


def add_feet(
    parts: defaultdict[str, float],
    was: tuple[Action, ...],
    now: tuple[Action, ...],
    *,
    arms: bool,
    resting: bool = False,
) -> None:
    """Add what feet gave up between two moments; ``arms``: the arms still do something; ``resting``: one leg rests."""
    if was and not now:
        parts["feet gone" if arms else "nothing"] += 1
    for one, two in zip(was, now, strict=False):
        if one != two:
            _add_action(parts, one, two, "this leg" if resting else "side")
    if len(was) > len(now) > 0:
        parts["feet gone"] += 1


def _add_action(parts: defaultdict[str, float], one: Action, two: Action, side: str) -> None:
    parts[side] += one.foot is not two.foot
    like, there = (a.mirrored if a.foot is Foot.LEFT else a for a in (one, two))
    (x0, y0), (x1, y1) = (PLACES[a.dir] if a.dir is not None else (0.2, 0.0) for a in (like, there))
    parts["direction"] += min(1.5, hypot(x1 - x0, y1 - y0)) + (one.dir not in HOME and two.dir in HOME)
    if one.verb != two.verb:
        family = next((f for f in FAMILIES if one.verb in f), {one.verb})
        parts["look"] += 0.5 if two.verb in family else 1
    parts["accent"] += one.verb in STRUCK and two.verb not in STRUCK
    parts["level"] += VERB[one.verb].lifts is not VERB[two.verb].lifts
    parts["turn"] += bool(one.turn_deg) and not two.turn_deg
    parts["travel"] += walked(one) != walked(two)


def add_arms(parts: defaultdict[str, float], was: tuple[ArmMove, ...], now: tuple[ArmMove, ...]) -> None:
    """Add what arms gave up between two moments."""
    if was and not now:
        parts["arms gone"] += 1
    for one, two in zip(was, now, strict=False):
        parts["arms side"] += one.side is not two.side
        parts["arms look"] += one.gesture != two.gesture
        parts["arms way"] += one.toward is not two.toward
        parts["arms height"] += min(1, abs(HEIGHTS.get(one.place or "", 2) - HEIGHTS.get(two.place or "", 2)) / 2)
    if len(was) > len(now) > 0:
        parts["arms side"] += 1
