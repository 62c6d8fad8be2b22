"""Abilities of a dancer or a group, and the version of a dance made for them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance

Kind = Literal["standing", "supported", "seated", "arms", "left", "right"]
KINDS: tuple[Kind, ...] = ("standing", "supported", "seated", "arms", "left", "right")


@dataclass(frozen=True, slots=True)
class Abilities:
    """What one dancer, or a group, would rather do and leave out. No diagnosis is needed or kept.

    ``limits`` are ids of the limits table, with what follows from them (:func:`softshoe.adapt.limits.abilities`);
    ``cautions`` ids of the cautions table, printed with the version; ``standing`` a seated dance is wanted on the feet.
    """

    name: str
    limits: frozenset[str] = frozenset()
    cautions: tuple[str, ...] = ()
    standing: bool = False

    @property
    def seated(self) -> bool:
        """True when the dance is danced on a chair or a wheelchair."""
        return "seat" in self.limits


@dataclass(frozen=True, slots=True)
class Change:
    """One thing altered: at that count, what it was, what it is now, and why, as plain sentences."""

    at: Count
    was: str
    now: str
    reason: str
    source: str = "common practice"


@dataclass(frozen=True, slots=True)
class Breach:
    """One count that asks for more than the abilities: which limit, and what asks for it."""

    at: Count
    limit: str
    what: str


@dataclass(frozen=True, slots=True)
class Version:
    """The same counts for other abilities. ``cautions`` are ids of the cautions table that touch what is left.

    ``costs`` is what was given up by named part (:mod:`softshoe.adapt.costs`), ``lost`` the same as sentences,
    ``breaches`` what asks for more than the abilities all the same (nothing, unless something was put in by hand).
    """

    kind: Kind
    dance: Dance
    changes: tuple[Change, ...]
    cautions: tuple[str, ...]
    abilities: Abilities = Abilities("as written")
    costs: Mapping[str, float] | None = None
    lost: tuple[str, ...] = ()
    breaches: tuple[Breach, ...] = ()
