"""Abilities of a dancer or a group, and the version of a dance made for them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance
    from softshoe.dance.feet import Foot

Kind = Literal["standing", "supported", "seated", "arms", "left", "right"]
KINDS: tuple[Kind, ...] = ("standing", "supported", "seated", "arms", "left", "right")


@dataclass(frozen=True, slots=True)
class Abilities:
    """What one dancer, or a group, can and may do. No diagnosis is needed or kept.

    ``sides`` are the sides that work; ``arms_high`` hands above the shoulder; ``cautions`` ids of the cautions table.
    """

    name: str
    support: Literal["free", "chair back", "seat"]
    feet: bool = True
    sides: tuple[Foot, ...] = ()
    arms_high: bool = True
    turns: bool = True
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """One thing altered: at that count, what it was, what it is now, and why, as plain sentences."""

    at: Count
    was: str
    now: str
    reason: str


@dataclass(frozen=True, slots=True)
class Version:
    """The same counts for other abilities. ``cautions`` are ids of the cautions table that touch what is left."""

    kind: Kind
    dance: Dance
    changes: tuple[Change, ...]
    cautions: tuple[str, ...]
