"""What the figure shows otherwise than a dance says: steps made smaller for want of time or room."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.footwork import wall_events
from softshoe.figure.move import danced
from softshoe.figure.smaller import findings

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding
    from softshoe.figure.motion import Support


def shown_smaller(dance: Dance, *, support: Support | None = None) -> tuple[Finding, ...]:
    """Return a note for every step that the figure makes smaller than written, with line and count. ``support`` is what
    holds the dancer (None: the chair of a seated one, the bare floor of a standing one)."""
    events = wall_events(dance)
    if not events:
        return ()
    on: Support = support or ("chair" if dance.seated else "free")
    motion = danced(events, counts=dance.counts, stance="standing", support=on, loop=True)
    return findings(motion.smaller, events)
