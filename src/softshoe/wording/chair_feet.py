"""What a clause of a chair class has the feet do: marches, heels and toes, kicks, knees, and the way home."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.chair_parts import MARCH, OWN, Beat, DeclinedError, FootPart

if TYPE_CHECKING:
    from softshoe.wording.chair_clauses import Clause
    from softshoe.wording.chair_parts import State

IN_PLACE = "in place"
AHEAD = ("heel", "kick")  # go forward where nothing is said


def on_foot(c: Clause, state: State) -> bool:
    """Return whether a clause is for the feet."""
    bare = c.side in OWN and not (c.limb or c.gest or c.place or c.dirs)
    homewards = c.home or (c.dirs == ["in"] and not c.place and not c.gest)
    goes_on = bool(state.step) and ((homewards and not c.limb) or bare)
    goes_on = goes_on or (c.home and bool(state.away) and not (c.limb or c.gest or c.place))
    track = state.track == "feet"
    listed = track and (bare or (bool(state.step) and not (c.gest or c.limb or c.place)))
    return bool(c.step or c.foot or goes_on or listed)


def puts_down(c: Clause, state: State) -> None:
    """ "Lift the right knee, put it down": the foot comes down."""
    down = c.gest in ("rest", "lower") and state.step in ("hitch", "kick")
    if down and c.limb in ("", "that") and not (c.place or c.side):
        c.gest, c.limb, c.home, c.down, c.dirs = "", "", True, True, []


def feet_beats(c: Clause, state: State) -> list[Beat]:
    """Return the feet's part of a clause."""
    if c.gest or c.place:
        raise DeclinedError("foot and hand in one clause")
    foot = c.foot if c.foot in OWN else c.side if c.side in OWN else ""
    step = c.step or state.step or (MARCH if state.track == "feet" and not c.dirs else "")
    if c.home:
        state.away = ""
        return [_home(foot or state.foot, IN_PLACE if c.down else "centre")]
    if step == MARCH:
        return _marched(c, foot, state)
    if step == "stomp" and not foot:
        raise DeclinedError("which foot stamps")
    step = "toe" if step == "touch" and c.dirs else step
    foot = foot or state.foot
    if not foot or step in ("", "touch", "step"):
        raise DeclinedError("which foot, and what")
    dirs = [d for d in c.dirs if d != "out"] if len(c.dirs) > 1 else list(c.dirs)
    if len(dirs) > 1:
        raise DeclinedError("several ways")
    way = dirs[0] if dirs else ""
    if way == "in" or (way == "down" and not c.step):
        state.away = ""
        return [_home(foot, "centre" if way == "in" else IN_PLACE)]
    beat = Beat(feet=(FootPart(foot, {"toe": "touch"}.get(step, step), _way(step, foot, way)),))
    state.foot, state.step = foot, step
    state.away = "" if step == "stomp" else foot
    return [beat]


def _home(foot: str, way: str) -> Beat:
    if not foot:
        raise DeclinedError("whose way home")
    return Beat(feet=(FootPart(foot, "step", way),))


def _marched(c: Clause, foot: str, state: State) -> list[Beat]:
    state.step = MARCH
    if not c.step and state.counted:
        raise DeclinedError("a march that has its counts is told step by step")
    if c.step == MARCH:
        state.counted = c.counted
        if c.times and not c.length:
            c.length, c.times = c.times, 0
    return [Beat(feet=(FootPart(foot, MARCH, IN_PLACE),))]


def _way(step: str, foot: str, way: str) -> str:
    """Return where a foot goes, as an event says it."""
    if way in ("up", "down", "wide", "across") or (step == "heel" and way == "out"):
        raise DeclinedError("where the foot goes")
    if step == "hitch":
        return "up"
    whither = {"side": OWN[foot], "out": OWN[foot], "": "forward" if step in AHEAD else "", "apart": ""}.get(way, way)
    if step == "toe" and not whither:
        raise DeclinedError("where the toe goes")
    return whither or (IN_PLACE if step == "stomp" else "")
