"""Whether a song swings: where, between two beats, most is played.

The onsets of every beat are laid over each other. In an even song something sounds half way; in one that swings it
comes later, up to two thirds through, and nothing sounds half way. What is not clear is not called swung.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.music.ear import ONSETS_HZ, RATE_HZ, onset_curves
from softshoe.music.songmap import Swing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.music.audio import Sound
    from softshoe.music.ear import FloatArray
    from softshoe.music.engine import SampleArray

PLACES = 96  # places in a beat
EVEN, LATEST = 0.5, 0.72
SWUNG_FROM = 0.57  # of a beat: earlier, an off-beat is even
OFF_BEAT = (0.44, LATEST)
NEAR = 0.035  # of a beat: so near to a place an onset belongs to it
AT_BEAT = 0.08  # of a beat: so far the beats may be told early or late
LEAST = 0.1  # of what sounds on the beats: less between them is nothing
CLEARER = 2.0  # a swung off-beat is so many times what sounds half way
TRIPLET = 0.5  # of what sounds at two thirds: so much at one third, and the beat is in three
BEATS_TOGETHER, LEAST_TOGETHER = 16, 3
AGREED = 0.6  # of the stretches of a song that have off-beats
STEADY = 0.25  # of the usual beat: a beat longer or shorter by more is left out


def off_beats(sound: Sound) -> SampleArray:
    """Return the onsets of the middle and high range, shape (n,), ``ONSETS_HZ`` a second: the bass seldom swings."""
    _, middle, high = onset_curves(sound.mono(RATE_HZ))
    return np.asarray(middle + high, dtype=np.float32)


def heard_swing(onsets: SampleArray, beats_s: Sequence[float]) -> Swing | None:
    """Return how a song goes between its beats, None when too little is played there.

    onsets : shape (n,), 0 or more, ``ONSETS_HZ`` a second
    """
    rows = _beats(np.asarray(onsets, dtype=np.float64), np.asarray(beats_s, dtype=np.float64))
    if len(rows) < BEATS_TOGETHER:
        return None
    rows = np.roll(rows, -_early(rows.mean(axis=0)), axis=1)
    whole = _share(rows.mean(axis=0))
    parts = [_share(part.mean(axis=0)) for part in np.array_split(rows, max(1, len(rows) // BEATS_TOGETHER))]
    heard = [share for share in parts if share is not None]
    if whole is None or len(heard) < min(LEAST_TOGETHER, len(parts)):
        return None
    swung = whole >= SWUNG_FROM
    agree = sum((share >= SWUNG_FROM) == swung for share in heard) / len(heard)
    if agree < AGREED:
        return None
    profile = _bare(rows.mean(axis=0))
    triplets = swung and _at(profile, 1 / 3) >= TRIPLET * _at(profile, 2 / 3)
    return Swing(round(whole if swung else EVEN, 3), round(agree * len(heard) / len(parts), 2), triplets)


def _beats(onsets: FloatArray, beats_s: FloatArray) -> FloatArray:
    """The onsets in each steady beat, shape (beats, PLACES)."""
    if len(beats_s) < 2 or not len(onsets):
        return np.zeros((0, PLACES))
    lengths = np.diff(beats_s)
    usual = float(np.median(lengths))
    steady = np.abs(lengths - usual) <= STEADY * usual
    at_s = beats_s[:-1][steady][:, None] + lengths[steady][:, None] * np.arange(PLACES) / PLACES
    return np.interp(at_s * ONSETS_HZ, np.arange(len(onsets)), onsets)


def _early(profile: FloatArray) -> int:
    """How many places behind the told beat the sound of it is loudest."""
    most = round(AT_BEAT * PLACES)
    around = np.roll(profile, most)[: 2 * most + 1]
    return int(np.argmax(around)) - most


def _bare(profile: FloatArray) -> FloatArray:
    return np.maximum(0.0, profile - np.median(profile))


def _at(profile: FloatArray, place: float) -> float:
    """The most that sounds near a place of the beat."""
    first, last = round((place - NEAR) * PLACES), round((place + NEAR) * PLACES)
    return float(profile[first : last + 1].max())


def _share(raw: FloatArray) -> float | None:
    """Where the off-beat falls, 0.44 to 0.72 of a beat; None when there is none, or it is not clear."""
    profile = _bare(raw)
    first, last = (round(place * PLACES) for place in OFF_BEAT)
    top = first + int(np.argmax(profile[first : last + 1]))
    beat = float(np.roll(profile, 3)[:7].max())
    if not first < top < last or profile[top] < LEAST * beat or profile[top] <= 0:
        return None
    near = slice(top - 2, top + 3)
    share = float(np.average(np.arange(PLACES)[near], weights=profile[near])) / PLACES
    if share >= SWUNG_FROM and profile[top] < CLEARER * _at(profile, EVEN):
        return None
    return share
