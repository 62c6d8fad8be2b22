"""The six kinds of version as abilities, and the kind that abilities come nearest to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.adapt.limits import abilities

if TYPE_CHECKING:
    from softshoe.adapt.version import Abilities, Kind

LIMITS_OF: dict[Kind, tuple[str, ...]] = {
    "standing": (),
    "supported": ("chair",),
    "seated": ("seat",),
    "arms": ("feet",),
    "left": ("right foot", "right hand"),
    "right": ("left foot", "left hand"),
}


def abilities_for(kind: Kind) -> Abilities:
    """Return what a kind of version leaves out."""
    return abilities(kind, LIMITS_OF[kind], standing=kind in ("standing", "supported"))


def kind_for(given: Abilities) -> Kind:
    """Return the kind of version that these abilities come nearest to."""
    limits = given.limits
    if "feet" in limits:
        return "arms"
    for kind in ("left", "right"):
        if set(LIMITS_OF[kind]) <= limits:
            return kind
    if "seat" in limits:
        return "seated"
    return "supported" if "chair" in limits else "standing"
