"""Many dances and many songs: which belong together. A quick look leaves most pairs out; what is left is really fitted.

The quick look asks for the metre, for a tempo inside the dance's band, and walks over the phrase lengths once; its
estimate depends on the dance only by its length, so that ten thousand pairs take a second or two.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING, Literal

from softshoe.errors import FitError
from softshoe.fit.grid import nearest_index
from softshoe.fit.lay import fit
from softshoe.fit.rules import Weights, limit, tag_lengths
from softshoe.fit.tempo import band_for, counting, stated_bpm

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.fit.tempo import Band
    from softshoe.music.songmap import SongMap

LeftOut = Literal["metre", "tempo", "phrases", "beat"]
TRIED = 24  # so many pairs are really fitted
HOPELESS = 60.0  # points: a pair estimated to lose more is not tried
Phrases = tuple[tuple[float, float], ...]  # beats of each phrase, how sure the start behind it is


@dataclass(frozen=True, slots=True)
class Match:
    """A dance and a song by name, and the best run of the one on the other."""

    dance: str
    song: str
    run: Run


@dataclass(frozen=True, slots=True)
class Matched:
    """Matches, the best first; how many pairs were left out, and why; how many looked possible but were not tried."""

    matches: tuple[Match, ...]
    left_out: dict[LeftOut, int]
    not_tried: int


@dataclass(frozen=True, slots=True)
class _DanceTrait:
    index: int
    counts: int
    three: bool
    band: Band
    stated: float | None


@dataclass(frozen=True, slots=True)
class _SongTrait:
    index: int
    three: bool
    tempo_bpm: float
    phrases: Phrases


def matched(
    dances: Iterable[tuple[str, Dance]],
    songs: Iterable[tuple[str, SongMap]],
    *,
    most: int = TRIED,
    weights: Weights | None = None,
) -> Matched:
    """Return the best pairs of these dances and songs, each given by name; at most ``most`` are really fitted.

    Both may come from anywhere, one after another: a folder, the repertoire, a list. Each is gone through once.
    """
    dances, songs = list(dances), list(songs)
    hopeful, left_out = promising([dance for _, dance in dances], [song for _, song in songs])
    found = []
    for _, d, s in hopeful[:most]:
        run = _best(dances[d][1], songs[s][1], weights)
        if run is None:
            left_out["beat"] = left_out.get("beat", 0) + 1
        else:
            found.append(Match(dances[d][0], songs[s][0], run))
    found.sort(key=lambda match: (match.run.score.charged, match.dance, match.song))
    return Matched(tuple(found), left_out, max(0, len(hopeful) - most))


def promising(
    dances: Sequence[Dance], songs: Sequence[SongMap]
) -> tuple[list[tuple[float, int, int]], dict[LeftOut, int]]:
    """Return the pairs that a quick look leaves, the best first: what each may lose [points], the places of dance and
    song; and how many were left out, and why. Of a dance only the header's facts are looked at.
    """
    left_out: dict[LeftOut, int] = {}
    hopeful: list[tuple[float, int, int]] = []
    traits = list(_dance_traits(dances))
    for song in [_song_trait(index, song) for index, song in enumerate(songs)]:
        known: dict[tuple[int, float, bool], float] = {}
        for trait in traits:
            why, cost = _looked_at(trait, song, known)
            if why is not None:
                left_out[why] = left_out.get(why, 0) + 1
            else:
                hopeful.append((cost, trait.index, song.index))
    return sorted(hopeful), left_out


def _best(dance: Dance, song: SongMap, weights: Weights | None) -> Run | None:
    try:
        runs = fit(dance, song, most=1, weights=weights).runs
    except FitError:
        return None
    return runs[0] if runs else None


def _dance_traits(dances: Sequence[Dance]) -> Iterator[_DanceTrait]:
    for index, dance in enumerate(dances):
        yield _DanceTrait(index, dance.counts, dance.metre == "3/4", band_for(dance), stated_bpm(dance))


def _song_trait(index: int, song: SongMap) -> _SongTrait:
    known = [(at, sure) for at, sure in zip(song.phrases_s, song.confidence.phrases, strict=False)]
    starts = [(nearest_index(song.beats_s, at), sure) for at, sure in known if at > song.first_count_s - 0.1]
    lengths = tuple((float(b - a), sure) for (a, _), (b, sure) in pairwise(starts))
    return _SongTrait(index, song.metre == 3, song.tempo_bpm, lengths)


def _looked_at(
    dance: _DanceTrait, song: _SongTrait, known: dict[tuple[int, float, bool], float]
) -> tuple[LeftOut | None, float]:
    """Why a pair is left out, or None and what it is estimated to lose."""
    if dance.three != song.three:
        return "metre", 0.0
    chosen = counting(song.tempo_bpm, dance.band, stated=dance.stated, halves=not dance.three)
    if chosen.verdict.startswith("too"):
        return "tempo", 0.0
    key = dance.counts, chosen.beats_per_count, dance.three
    if key not in known:
        known[key] = estimated(song.phrases, dance.counts, chosen.beats_per_count, three=dance.three)
    return (None, known[key]) if known[key] <= HOPELESS else ("phrases", known[key])


def estimated(phrases: Phrases, counts: int, beats_per_count: float, *, three: bool) -> float:
    """Return what a dance of so many counts loses on these phrases, walking over them once [points].

    Each phrase that does not begin with a wall is repaired as cheaply as its distance allows, or missed. Footwork is
    not looked at, nor what would pay later.

    >>> estimated(((32, 1.0), (32, 1.0), (36, 1.0), (32, 1.0)), 32, 1.0, three=False)
    6.0
    """
    weights = Weights()
    usual = median(length for length, _ in phrases) / beats_per_count if phrases else 0.0
    cost, into, learnt = 0.0, 0.0, set()
    for length, sure in phrases:
        into = (into + length / beats_per_count) % counts
        if not into or (counts > usual > 0 and into % usual == 0):
            continue
        missed = weights.of("missed") * (sure if sure >= limit("guess") else 0.0)
        price, name = _repair(into, counts, weights, three=three)
        price = weights.of("again") if name in learnt else price
        if price < missed:
            learnt.add(name)
            into = 0.0
        cost += min(price, missed)
    return cost


def _repair(into: float, counts: int, weights: Weights, *, three: bool) -> tuple[float, tuple[str, float]]:
    """The cheapest repair of a phrase that begins so many counts into a wall, and what makes it the same again."""
    unit = 3 if three else 4
    tag = weights.of("tag") if into in tag_lengths(three=three) else float("inf")
    early = into * 2 < counts
    cut = weights.of("restart_early" if early else "restart") if into % unit == 0 else float("inf")
    return min((tag, ("tag", into)), (cut, ("restart", into)))
