"""Which gesture a clause means that names none ("up", "to the chest"), and where hands go, as an event says it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.chair_parts import GOES, HEIGHTS, MIRROR, OTHER, OWN, SOUNDS, DeclinedError

if TYPE_CHECKING:
    from softshoe.wording.chair_clauses import Clause
    from softshoe.wording.chair_parts import State

PREPS = ("on", "in", "to", "into", "onto")
PATTED = ("thigh", "lap", "knee", "shoulder", "hip")
STAYS = ("shake", "wave", "circle", "roll")
SWAYS = ("swing", "sweep", "push", "reach", "punch", "point")
SIDEWAYS = (*GOES, "sweep", "swing", "wave", "snap", "clap", "raise", "open")
HOMEWARDS = ("", "in", "back")


def inferred(c: Clause, state: State, place: str, way: str) -> str:
    """Return the gesture that a clause means by its place and its way."""
    if state.gest in ("roll", "circle") and way and not (c.limb or c.side):
        raise DeclinedError("which way round")
    if c.turn and place in ("thigh", "knee", "lap") and not way:
        return "drum"
    if way not in HOMEWARDS and c.ends("fist", "fists") and way not in ("apart", "wide"):
        return "punch"
    if place == "thigh" and not way and not c.limb and not c.has(*PREPS):
        return "pat"
    if c.has("rest", "rests"):
        return "rest"
    if place in HEIGHTS and not way and state.gest in (*SOUNDS, *STAYS) and not c.limb:
        return state.gest
    if way in HOMEWARDS and (place or way):
        return _homewards(c, state, place, way)
    return _outwards(c, state, place, way)


def _homewards(c: Clause, state: State, place: str, way: str) -> str:
    """ "Back", "to the chest", "on the thighs"."""
    out = state.out or (state.last_out if way or place in ("chest", "waist") else "")
    if place in PATTED and state.gest in ("pat", "drum") and not c.limb:
        return state.gest
    if place in ("lap", "thigh", "hip", "knee") or (place in ("head", "shoulder") and c.upon):
        return "rest"
    if not way and state.place in ("lap", "thigh", "knee") and state.gest in ("rest", "lower") and not c.upon:
        return "raise"  # "hands to the knees, to the chest"
    if place in ("shoulder", "head") and not way:
        return _raised(c, state, place)
    if state.gest == "swing" and not place:
        return "swing"
    if c.ends("hands") and place and (c.label or out == "open"):
        return "pull" if way else "rest"
    if out in GOES:
        return "pull"
    if out == "open" or (way == "in" and c.ends("arms", "arm")):
        return "close"
    if not way:
        return "rest"
    if out != "raise" and way == "in" and not place:
        raise DeclinedError("in what")
    return "lower" if out == "raise" else "pull"


def _raised(c: Clause, state: State, place: str) -> str:
    """ "To the shoulders", "to the head": up to there, or back from where they went."""
    went = state.out or state.last_out
    if not went or (place == "head" and went not in GOES):
        return "raise"
    if went not in GOES or (c.label and c.ends("hands")):
        raise DeclinedError("to the shoulder")
    return "pull"


def _outwards(c: Clause, state: State, place: str, way: str) -> str:
    """ "Up", "forward", "out to the side"."""
    out, named = state.out, bool(c.limb or c.side)
    if way == "up":
        return out if out in GOES else "raise"
    if way == "down":
        if not (named or place or out or state.gest or state.side):
            raise DeclinedError("down what")
        return out if out in GOES and not place else "lower"
    if way == "forward":
        return out if out in (*GOES, "raise", "swing") else "reach"
    if way in ("apart", "out"):
        return out if out in (*GOES, "raise") else "open"
    if way in MIRROR and not named and state.gest in SWAYS:
        return state.gest
    if way in (*MIRROR, "side", "across"):
        arm = bool(c.limb) and c.ends("arm", "wing") and way != "across"
        return out if out in SIDEWAYS else "open" if arm else "reach"
    raise DeclinedError("what is done")


def whither(gest: str, side: str, way: str, place: str) -> str:
    """Return where the hands go, as an event says it."""
    own = OWN.get(side, "apart")
    if way in ("side", "apart"):
        return own
    if way == "wide":
        return "" if gest in ("open", "raise") else own
    if way == "out":
        return own if gest == "open" else "forward" if gest in GOES else ""
    if way == "across":
        over = side in OWN and gest != "sweep"
        return "" if gest == "cross" else OWN[OTHER[side]] if over else "across front"
    if way == "in":
        return "back" if gest == "swing" else "centre" if gest in ("pull", "close") else ""
    if gest == "lower":
        return way if way in MIRROR else ""
    usual = {"pull": "back", "reach": "up" if place == "overhead" else ""}
    return way or usual.get(gest, "")
