"""Which of many kept dances suit a song: a quick look at what is told of each, then the most hopeful really fitted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from softshoe.dance.dance import Dance
from softshoe.dance.feet import Weight

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from softshoe.music.songmap import SongMap

TRIED = 12  # so many are really fitted


@dataclass(frozen=True, slots=True)
class Suited:
    """How a dance sits on a song: ``points`` of 100, ``why`` in a sentence; an estimate where it was not fitted."""

    points: float
    why: str
    fitted: bool


@dataclass(frozen=True, slots=True)
class AllSuited:
    """The best, as places among the rows that were given; how many suit at all."""

    best: tuple[tuple[int, Suited], ...]
    total: int


def suited(rows: Sequence[Any], song: SongMap, whole: Callable[[int], Dance] | None, *, most: int) -> AllSuited:
    """Return which of these rows suit the song, the best first.

    whole : gives the dance of a row, to be fitted; None fits none
    """
    from softshoe.fit.match import promising

    alike: dict[tuple[object, ...], list[int]] = {}
    for at, row in enumerate(rows):
        alike.setdefault(tuple(row[key] for key in KEYS), []).append(at)
    headers = [_header_alone(rows[places[0]]) for places in alike.values()]
    hopeful, _ = promising(headers, [song])
    groups = list(alike.values())
    ranked = [(cost, at) for cost, group, _ in hopeful for at in groups[group]]
    best = [
        (at, Suited(max(0.0, 100 - cost), "looked at quickly: metre, tempo and phrases", fitted=False))
        for cost, at in ranked
    ]
    if whole is None:
        return AllSuited(tuple(best[:most]), len(best))
    tried = [(at, _fitted(whole(at), song)) for at, _ in best[: min(TRIED, most)]]
    good = sorted(((at, one) for at, one in tried if one), key=lambda pair: -pair[1].points)
    return AllSuited((*good, *best[len(tried) : most]), len(best) - len(tried) + len(good))


KEYS = ("counts", "seated", "metre", "tempo_low", "tempo_high")


def _header_alone(row: Any) -> Dance:
    """A dance with its header alone: all that the quick look asks for."""
    low, high = row["tempo_low"], row["tempo_high"]
    tempo = low if low == high else (low, high)
    return Dance("", row["counts"], None, None, bool(row["seated"]), row["metre"], tempo, None, Weight.BOTH, (), ())


def _fitted(dance: Dance, song: SongMap) -> Suited | None:
    from softshoe.errors import FitError
    from softshoe.fit.lay import fit

    try:
        runs = fit(dance, song, most=1).runs
    except FitError:
        return None
    return Suited(runs[0].score.total, runs[0].why[0], fitted=True) if runs else None
