"""A dance laid on a song for a page: the runs to choose from, and one run count by count under the song's phrases."""

from __future__ import annotations

from bisect import bisect_right
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from softshoe.studio.reading import dance_of, finding

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.lay import FitResult
    from softshoe.fit.pins import Pins
    from softshoe.fit.run import Run
    from softshoe.fit.timeline import Moment
    from softshoe.music.songmap import SongMap

NEAR_S = 0.02


class _ById:
    """A value that can't be hashed, told from others by its words."""

    def __init__(self, value: Any) -> None:
        self.value, self.words = value, repr(value)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _ById) and self.words == other.words

    def __hash__(self) -> int:
        return hash(self.words)


@lru_cache(maxsize=16)
def _laid(words: str, song: _ById, pins: _ById) -> FitResult:
    from softshoe.fit.lay import fit

    return fit(dance_of(words), song.value, pins=pins.value)


def laid(words: str, song: SongMap, pins: Pins) -> FitResult:
    """Return the ways to lay a dance on a song, the last few kept; raises FitError for a pin that can't hold."""
    return _laid(words, _ById(song), _ById(pins))


def runs_view(words: str, found: FitResult) -> dict[str, Any]:
    """Return the runs to choose from, the best first, and what no run can mend."""
    dance = dance_of(words)
    return {
        "runs": [_run(dance, run, number) for number, run in enumerate(found.runs)],
        "findings": [finding(number, one) for number, one in enumerate(found.findings)],
        "counts": dance.counts,
        "sections": _sections(dance),
        "seated": dance.seated,
    }


def _run(dance: Dance, run: Run, number: int) -> dict[str, Any]:
    from softshoe.fit.told import gives, sheet_lines

    return {
        "number": number,
        "total": round(run.score.total),
        "gives": gives(run).partition(", ")[2],
        "walls": len(run.walls),
        "why": list(run.why),
        "charged": [{"part": part, "points": -value} for part, value in run.score.parts.items()],
        "sheet": list(sheet_lines(dance, run)),
        "beats_per_count": run.beats_per_count,
        "start": run.start.time_s,
    }


def _sections(dance: Dance) -> list[dict[str, Any]]:
    from softshoe.dance.footwork import wall_events
    from softshoe.render.sheet_names import section_name

    events = wall_events(dance)
    return [{"from": float(one.start.moment), "name": section_name(dance, one, events)} for one in dance.sections]


def walls_view(words: str, song: SongMap, run: Run) -> dict[str, Any]:
    """Return a run count by count: every moment of the song, and the pieces of each phrase that lie under it.

    A moment is [second, part, wall, count from 0 (-1 for none), facing]; a piece is a stretch of moments of one wall or
    tag within one phrase.
    """
    from softshoe.fit.timeline import timeline
    from softshoe.fit.told import wall_rows

    dance = dance_of(words)
    moments = timeline(dance, run, song)
    edges = sorted({0, *(bisect_right([m.at_s for m in moments], at - NEAR_S) for at in song.phrases_s), len(moments)})
    rows = [_row(moments, a, b) for a, b in pairwise(edges)]
    happens = {row.wall: row.happens for row in wall_rows(dance, run, song)}
    return {
        "moments": [_moment(one) for one in moments],
        "rows": rows,
        "happens": happens,
        "end": song.end_s,
        "ending": None if run.ending is None else run.ending.what,
    }


def _moment(one: Moment) -> list[Any]:
    count = -1 if one.count is None else float(one.count.moment)
    return [round(one.at_s, 3), one.part, one.wall, count if one.part != "intro" else -one.to_go, one.facing_deg]


def _row(moments: tuple[Moment, ...], first: int, last: int) -> dict[str, Any]:
    pieces: list[dict[str, Any]] = []
    for k in range(first, last):
        one = moments[k]
        same = (one.part, one.wall, one.tag)
        if pieces and pieces[-1]["same"] == same:
            pieces[-1]["counts"] += 1
            continue
        before = moments[k - 1] if k else None
        goes_on = before is not None and (before.part, before.wall, before.tag) == same
        pieces.append({"same": same, "part": one.part, "wall": one.wall, "counts": 1, "facing": one.facing_deg,
                       "at": round(one.at_s, 3), "goes_on": goes_on, "from": k})  # fmt: skip
    for piece in pieces:
        del piece["same"]
    return {"at": round(moments[first].at_s, 3), "counts": last - first, "pieces": pieces}
