"""A song laid out like a page of writing: one phrase a line, its counts in eights, extra counts at the end.

Lines are numbers and words only; ``song_picture`` draws them and ``song_words`` reads them out.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from softshoe.render.page import FAIRLY_SURE, SURE, sure_words

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap

Kind = Literal["intro", "phrase", "on"]
NEAR_S = 0.01
EIGHTS_A_LINE = 4
LONG_EIGHTS = 5  # a phrase of so many eights or more goes on in a line of its own
TEMPO_TOLD = 0.02


@dataclass(frozen=True, slots=True)
class SongLine:
    """A line of counts.

    beats_s : seconds of its counts
    ends_s : where the count after its last one falls, or the music ends
    ones : which of its counts begin an eight, from 0
    extra : how many counts at its end make no whole eight
    number : of the phrase it belongs to, from 1; 0 in an intro
    begins : which of its counts is count 1 of the dance, or None
    waits : how many of its counts pass before the dance begins
    sure : how sure its start is, 0 to 1, or None where nothing was claimed
    tempo_bpm : told where the tempo of the song changes
    """

    kind: Kind
    beats_s: tuple[float, ...]
    ends_s: float
    ones: tuple[int, ...]
    extra: int
    number: int = 0
    begins: int | None = None
    waits: int = 0
    sure: float | None = None
    tempo_bpm: float | None = None

    @property
    def counts(self) -> int:
        """How many counts the line has."""
        return len(self.beats_s)

    @property
    def certainty(self) -> Literal["sure", "fairly sure", "please check"] | None:
        """How sure its start is, in words."""
        if self.sure is None:
            return None
        return "sure" if self.sure >= SURE else "fairly sure" if self.sure >= FAIRLY_SURE else "please check"


def song_lines(song: SongMap) -> tuple[SongLine, ...]:
    """Return the lines of a song, from its first beat to its last."""
    if not song.beats_s:
        return ()
    starts = [bisect_left(song.beats_s, start - NEAR_S) for start in song.phrases_s]
    edges = sorted({0, *starts, len(song.beats_s)})
    lines: list[SongLine] = []
    for first, last in pairwise(edges):
        number = starts.index(first) + 1 if first in starts else 0
        lines += _lines(song, first, last, number)
    return tuple(lines)


def _lines(song: SongMap, first: int, last: int, number: int) -> list[SongLine]:
    """Return a phrase as one line, or as several when it is long."""
    eight = 2 * song.metre
    whole = EIGHTS_A_LINE * eight
    cuts = [first]
    while last - cuts[-1] >= LONG_EIGHTS * eight:
        cuts.append(cuts[-1] + whole)
    begins = bisect_left(song.beats_s, song.first_count_s - NEAR_S)
    kind: Kind = "intro" if not number or last <= begins else "phrase"
    found = []
    for place, (a, b) in enumerate(pairwise([*cuts, last])):
        sure = song.confidence.phrases[number - 1] if number and not place else None
        ones = tuple(k - a for k in range(a, b) if _is_one(song, k))
        after = song.beats_s[b] if b < len(song.beats_s) else max(song.end_s, song.beats_s[b - 1])
        found.append(
            SongLine(
                kind="on" if place else kind,
                beats_s=song.beats_s[a:b],
                ends_s=after,
                ones=ones,
                extra=(b - a - ones[-1]) % eight if b == last and b < len(song.beats_s) and ones else 0,
                number=number,
                begins=begins - a if a <= begins < b else None,
                waits=max(0, min(b, begins) - a),
                sure=sure,
                tempo_bpm=_tempo(song, song.beats_s[a]),
            )
        )
    return found


def _is_one(song: SongMap, beat: int) -> bool:
    at = bisect_left(song.eights_s, song.beats_s[beat] - NEAR_S)
    return at < len(song.eights_s) and abs(song.eights_s[at] - song.beats_s[beat]) < NEAR_S


def _tempo(song: SongMap, at_s: float) -> float | None:
    """Return the tempo at a moment, where it is not the same all through the song."""
    curve = song.tempo_curve
    if len(curve) < 2 or max(v for _, v in curve) / min(v for _, v in curve) - 1 < TEMPO_TOLD:
        return None
    for (t0, v0), (t1, v1) in pairwise(curve):
        if at_s <= t1:
            return v0 + (v1 - v0) * max(0.0, at_s - t0) / max(1e-9, t1 - t0)
    return curve[-1][1]


def song_words(song: SongMap, name: str) -> str:
    """Return all that the picture shows, for those who can't see it: a sentence a line."""
    from softshoe.music.why import clock

    told = [f"{name}, counted."]
    for line in song_lines(song):
        what = {"intro": "Intro", "on": f"Phrase {line.number} goes on", "phrase": f"Phrase {line.number}"}[line.kind]
        if line.kind == "on" and line.waits == line.counts:
            what = "Intro goes on"
        words = [f"{what} from {clock(line.beats_s[0])}, {line.counts} counts"]
        if line.extra:
            words.append(f"the last {line.extra} of them extra")
        if line.begins is not None:
            words.append(
                "count 1 of the dance" + (" is its first" if not line.begins else f" is its count {line.begins + 1}")
            )
        if line.certainty:
            words.append(sure_words(line.sure or 0.0))
        told.append(", ".join(words) + ".")
    told.append(f"The music ends at {clock(song.end_s)}.")
    return " ".join((*told, *song.why))
