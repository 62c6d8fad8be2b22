"""A version of somebody's own, by its name: what she or her group would leave out, and the counts put in by hand."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.adapt.adapt import adapt
from softshoe.adapt.by_hand import instead
from softshoe.adapt.kinds import abilities_for, kind_for
from softshoe.adapt.limits import abilities
from softshoe.errors import WorkbenchError

if TYPE_CHECKING:
    from softshoe.adapt.version import Abilities, Kind, Version
    from softshoe.dance.dance import Dance

NO_NAME = re.compile(r"[^\w]+")
LONGEST = 40


@dataclass(frozen=True, slots=True)
class Own:
    """A version that is wanted: its name, ids of the limits table, counts put in by hand, ids of the cautions table.

    ``standing``: a seated dance is wanted on the feet.
    """

    name: str
    limits: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    standing: bool = False

    @property
    def abilities(self) -> Abilities:
        """What is left out, with what follows from it; raises SettingError for a limit that no table has."""
        return abilities(self.name, self.limits, self.cautions, standing=self.standing)

    @property
    def kind(self) -> Kind:
        """The kind of version that it comes nearest to."""
        return kind_for(self.abilities)

    @property
    def plain(self) -> bool:
        """True where it is no more than one of the six kinds."""
        return not self.instead and self.abilities.limits == abilities_for(self.kind).limits

    @property
    def stem(self) -> str:
        """The name as files have it.

        >>> Own("Tuesday group, 2 o'clock").stem
        'for-tuesday-group-2-o-clock'
        """
        return "for-" + (NO_NAME.sub("-", self.name.casefold())[:LONGEST].strip("-") or "own")


def own_of(given: Abilities, *, instead: tuple[str, ...] = ()) -> Own:
    """Return abilities as a version that is wanted."""
    return Own(given.name, tuple(sorted(given.limits)), instead, given.cautions, given.standing)


def own_version(dance: Dance, own: Own) -> Version:
    """Return the version; a count that can no longer be put in, since the sheet changed, is left as it was made.

    Raises SettingError for a limit that no table has.
    """
    version = adapt(dance, own.abilities)
    for one in own.instead:
        try:
            version = instead(version, one)[0]
        except WorkbenchError:  # the sheet changed meanwhile
            continue
    return version
