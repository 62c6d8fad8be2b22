"""What is known of a song: where its beats, bars, counts of eight and phrases begin, and how sure that is.

All times are seconds from the start of the file. ``eights`` are sixes in 3/4. A phrase is a musical sentence, most
often 32 beats. ``first_count`` is where the dance's count 1 of the first wall falls. ``end`` is where the music stops,
or where a fade has fallen by 6 dB. ``tempo_curve`` holds points (second, beats a minute) between which the tempo goes
evenly; ``why`` holds sentences for the leader; ``swing`` is None where nothing clear is played between the beats.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from softshoe.errors import Finding

MetreOfSong = Literal[3, 4]


@dataclass(frozen=True, slots=True)
class Said:
    """What the listener says; it always wins. None: nothing was said.

    ``taps_s`` are beats tapped along, ``ones_s`` moments at which a count of eight begins, both in seconds.
    """

    tempo_bpm: float | None = None
    first_count_s: float | None = None
    metre: MetreOfSong | None = None
    taps_s: tuple[float, ...] = ()
    ones_s: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Confidence:
    """How sure each part is, 0 to 1; ``phrases`` holds one number a phrase."""

    beats: float
    downbeats: float
    eights: float
    first_count: float
    tempo: float
    metre: float
    phrases: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another way to hear the song: half or double time, another first count, another metre."""

    tempo_bpm: float
    first_count_s: float
    metre: MetreOfSong
    confidence: float


@dataclass(frozen=True, slots=True)
class Swing:
    """What was heard between the beats: ``share`` is where "&" falls, 0.5 in an even song, up to 0.72 where it swings.

    ``triplets``: the beat is played in three. ``confidence`` 0 to 1.
    """

    share: float
    confidence: float
    triplets: bool = False


@dataclass(frozen=True, slots=True)
class SongMap:
    """The song, counted. Every array increases; ``downbeats``, ``eights`` and ``phrases`` are among ``beats``.

    ``alternatives`` are other ways to hear it, the likeliest first.
    """

    beats_s: tuple[float, ...]
    downbeats_s: tuple[float, ...]
    eights_s: tuple[float, ...]
    phrases_s: tuple[float, ...]
    first_count_s: float
    end_s: float
    tempo_bpm: float
    metre: MetreOfSong
    confidence: Confidence
    alternatives: tuple[Alternative, ...] = ()
    said: Said = field(default_factory=Said)
    findings: tuple[Finding, ...] = ()
    tempo_curve: tuple[tuple[float, float], ...] = ()
    why: tuple[str, ...] = ()
    swing: Swing | None = None
