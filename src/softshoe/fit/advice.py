"""What would make a dance fit a song better, each really tried: the dance changed, another start, another song."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from softshoe.errors import WorkbenchError
from softshoe.fit.anatomy import anatomy
from softshoe.fit.changed import holds, repeated, shortened, swapped
from softshoe.fit.lay import fit
from softshoe.fit.match import TRIED, promising
from softshoe.fit.pins import Pins
from softshoe.fit.rules import limit
from softshoe.fit.tempo import band_for, countings
from softshoe.fit.told import gives

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from softshoe.dance.dance import Dance
    from softshoe.fit.rules import Weights
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap

    Change = Callable[[Dance], Iterator[tuple[str, Dance]]]

Kind = Literal["swap", "repeat", "cut", "start", "tempo", "song"]
CHANGES: tuple[tuple[Kind, Change], ...] = (
    ("swap", swapped), ("repeat", repeated), ("cut", shortened),
)  # fmt: skip
STARTS, EACH, ALL = 8, 2, 8


@dataclass(frozen=True, slots=True)
class Advice:
    """One thing to do, in words, and what it gives: the score then, and the run (None: for a practice tempo).

    ``changed_counts``: how many counts longer or shorter the dance becomes.
    """

    kind: Kind
    words: str
    total: float
    run: Run | None = None
    changed_counts: int = 0


def advice(
    dance: Dance,
    song: SongMap,
    now: float,
    *,
    songs: Iterable[tuple[str, SongMap]] = (),
    weights: Weights | None = None,
) -> tuple[Advice, ...]:
    """Return what gains at least five points over the score ``now``, the best first; of each kind two at most.

    ``songs`` are others that could be taken, by name.
    """
    found = [
        *_changes(dance, song, weights),
        *_starts(dance, song, weights),
        *_songs(dance, ((name, other) for name, other in songs if other != song), weights),
    ]
    gain = [one for one in found if one.total >= now + limit("gain")]
    better = sorted(gain, key=lambda one: (-one.total, one.changed_counts))
    kept: list[Advice] = []
    for one in better:
        if sum(other.kind == one.kind for other in kept) < (EACH if one.kind != "song" else ALL):
            kept.append(one)
    return (*kept[:ALL], *_tempo(dance, song, now))


def _best(dance: Dance, song: SongMap, weights: Weights | None, pins: Pins | None = None) -> Run | None:
    try:
        runs = fit(dance, song, most=1, weights=weights, pins=pins).runs
    except WorkbenchError:
        return None
    return runs[0] if runs else None


def _changes(dance: Dance, song: SongMap, weights: Weights | None) -> Iterator[Advice]:
    """The dance changed; of changes that leave the same places for repairs the first."""
    if not holds(dance):
        return
    tried = {_shape(dance)}
    for kind, changes in CHANGES:
        for words, changed in changes(dance):
            if _shape(changed) in tried:
                continue
            tried.add(_shape(changed))
            run = _best(changed, song, weights)
            if run is not None:
                yield Advice(
                    kind, f"{words}: then {gives(run)}.", run.score.total, run, abs(changed.counts - dance.counts)
                )


def _shape(dance: Dance) -> tuple[object, ...]:
    seen = anatomy(dance)
    return dance.counts, seen.cuts, seen.turn_deg, tuple(seen.facings_deg[counts] for counts, _ in seen.cuts)


def _starts(dance: Dance, song: SongMap, weights: Weights | None) -> Iterator[Advice]:
    """Another start on one of the first counts of eight."""
    for at_s in song.eights_s[:STARTS]:
        run = _best(dance, song, weights, Pins(start_s=at_s))
        if run is not None:
            minutes, seconds = divmod(round(run.start.time_s), 60)
            words = f"Start at {minutes}:{seconds:02d}, after {run.start.intro_counts} counts: then {gives(run)}."
            yield Advice("start", words, run.score.total, run)


def _songs(dance: Dance, songs: Iterable[tuple[str, SongMap]], weights: Weights | None) -> Iterator[Advice]:
    """Other songs, those that a quick look finds hopeful."""
    given = list(songs)
    hopeful, _ = promising([dance], [song for _, song in given])
    for _, _, index in hopeful[:TRIED]:
        name, other = given[index]
        run = _best(dance, other, weights)
        if run is not None:
            yield Advice("song", f"Choose “{name}”: there {gives(run)}.", run.score.total, run)


def _tempo(dance: Dance, song: SongMap, now: float) -> tuple[Advice, ...]:
    """How much slower or faster the song would have to be played for the people of the dance."""
    chosen = countings(dance, song, Pins())[0]
    if chosen.suits:
        return ()
    band = band_for(dance)
    edge = band.slow if chosen.counts_per_min < band.slow else band.fast
    share = edge / chosen.counts_per_min
    way = "slower" if share < 1 else "faster"
    if limit("slower") <= share <= limit("faster"):
        words = f"Play it at {share:.0%} of its tempo, {way}: then {edge:.0f} counts a minute, which suits."
    else:
        words = (
            f"The song would have to be played at {share:.0%} of its tempo, {way}: more than most listeners bear. "
            "Choose another song."
        )
    return (Advice("tempo", words, now),)
