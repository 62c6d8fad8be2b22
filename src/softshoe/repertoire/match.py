"""Which kept dances sit well on a song."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.repertoire.store import Kept


@dataclass(frozen=True, slots=True)
class Match:
    """A kept dance and the best run of it on the song."""

    kept: Kept
    run: Run


def matches(kept: Iterable[Kept], song: SongMap) -> tuple[Match, ...]:
    """Return the dances that can be laid on the song, the best fit first; equal fits by title."""
    from softshoe.fit.lay import fit

    found = [Match(one, result.runs[0]) for one in kept if (result := fit(one.dance, song, most=1)).runs]
    return tuple(sorted(found, key=lambda match: (-match.run.score.total, match.kept.dance.title)))
