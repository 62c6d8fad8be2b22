"""How sure a hearing is, as likelihoods between 0 and 1.

The numbers in the curves below were chosen by eye on made songs, made noise and synthetic speech, with a handful of
recordings in view whose truth is not known. They were not fitted, and are not calibrated.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.music.beats import tracked
from softshoe.music.songmap import Confidence

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from softshoe.music.counted import Hearing, Way
    from softshoe.music.engine import Pulse
    from softshoe.music.songmap import Said

    FloatArray = NDArray[np.float64]

TRIED_S = 100.0  # so much of the song is enough to know whether it has a beat
PIECES_S = (0.7, 1.9)
FIRST_PHRASE = 0.6
NO_BEAT = 0.5  # below this the beat is reported as not steady


def logistic(x: float) -> float:
    """Return the likelihood of odds of e to the x.

    >>> logistic(0.0)
    0.5
    """
    return float(1 / (1 + np.exp(-np.clip(x, -30, 30))))


def _shuffled(curve: FloatArray, hz: float, seed: int) -> FloatArray:
    """Return the same sounds in an order that has no beat: pieces of uneven length, mixed."""
    rng = np.random.default_rng(seed)
    cuts = np.cumsum(rng.uniform(*PIECES_S, size=int(len(curve) / hz / PIECES_S[0]) + 2) * hz).astype(int)
    pieces = np.split(curve, cuts[cuts < len(curve)])
    return np.concatenate([pieces[i] for i in rng.permutation(len(pieces))])


def _caught(curve: FloatArray, hz: float, bpm: float) -> float:
    frames = tracked(curve, hz, bpm=bpm)
    return float(curve[frames].mean() / max(1e-9, float(curve.mean()))) if len(frames) else 0.0


def beat_gain(heard: Hearing, pulse: Pulse) -> float:
    """Return how much more sound the beats catch than the best beats through the same sounds mixed; 1 is by chance."""
    hz = pulse.frames_hz
    middle = 0.5 * (heard.beats_s[0] + heard.beats_s[-1])
    first = max(heard.beats_s[0], middle - TRIED_S / 2)
    curve = pulse.beat[int(first * hz) : int(min(heard.beats_s[-1], middle + TRIED_S / 2) * hz)]
    chance = np.mean([_caught(_shuffled(curve, hz, seed), hz, heard.tempo_bpm) for seed in (1, 2)])
    return _caught(curve, hz, heard.tempo_bpm) / max(1e-9, float(chance))


def _bars(heard: Hearing) -> float:
    """Return how sure the place of the bar's first beat is."""
    bar, downs = heard.evidence.bar, np.array(heard.form.downbeats, dtype=int)
    if len(downs) < 4:
        return 0.2
    means = []
    for k in range(1, heard.form.metre):
        moved = downs + k
        means.append(float(bar[moved[moved < len(bar)]].mean()))
    lead = float(bar[downs].mean()) - max(means)
    return logistic(3.2 * lead - 1.3 + 0.2 * min(np.sqrt(len(downs)), 10))


def phrase_sureness(heard: Hearing) -> tuple[float, ...]:
    """Return for each phrase how sure its start is: how it stands out from the bars around it."""
    metre, say = heard.form.metre, heard.evidence.phrase
    found = []
    for place, at in enumerate(heard.form.phrases):
        beside = [at + k * metre for k in (-4, -3, -2, -1, 1, 2, 3, 4) if 0 <= at + k * metre < len(say)]
        if at == 0:  # nothing comes before it that it could stand out from
            found.append(FIRST_PHRASE)
            continue
        lead = float(say[at]) - max((float(say[b]) for b in beside), default=0.0)
        regular = _regular(heard, place)
        found.append(logistic(0.9 * lead + 0.35 * float(say[at]) + 1.1 * regular))
    return tuple(found)


def _regular(heard: Hearing, place: int) -> float:
    """Return 1 when the phrases on both sides are of the usual length, -1 when both are odd."""
    starts = (*heard.form.phrases, heard.form.n_beats)
    usual = 8 * heard.form.metre
    sides = [starts[place + 1] - starts[place]] if place + 2 < len(starts) else []
    if place:
        sides.append(starts[place] - starts[place - 1])
    return float(np.mean([1.0 if s == usual else 0.0 if s == usual // 2 else -1.0 for s in sides])) if sides else 0.0


def beat_likelihood(heard: Hearing, gain: float) -> float:
    """Return the likelihood that this sound has a steady beat at all, wherever it falls; ``gain`` as ``beat_gain``."""
    return logistic(12 * (gain - 1.17) + 3 * (float(np.median(heard.steady)) - 0.5))


def confidence(heard: Hearing, others: list[Way], said: Said, *, beating: float, first_count: float) -> Confidence:
    """Return how sure each part of a hearing is, against the other ways to hear the song; what was said is sure.

    beating : likelihood that there is a steady beat at all
    first_count : likelihood of the chosen first count among those that could be
    """
    tapped = len(said.taps_s) > 1
    beats = 1.0 if tapped else beating
    slower_or_faster, elsewhere = _rivals(heard, others)
    tempo = 1.0 if said.tempo_bpm or tapped else beats / (1 + slower_or_faster)
    beats = beats if tapped else beats / (1 + elsewhere) * (0.7 + 0.3 * tempo)
    metre = 1.0 if said.metre else max(heard.three, 1 - heard.three) * (0.6 + 0.4 * beats)
    downbeats = _bars(heard) * beats * metre
    phrases = tuple(p * (0.3 + 0.7 * downbeats) for p in phrase_sureness(heard))
    strong = float(np.mean(phrases)) if phrases else 0.2
    start = 1.0 if said.first_count_s is not None else first_count * (0.35 + 0.65 * downbeats)
    return Confidence(
        beats=_two(beats),
        downbeats=_two(downbeats),
        eights=_two(downbeats * (0.4 + 0.6 * strong)),
        first_count=_two(start),
        tempo=_two(tempo),
        metre=_two(metre),
        phrases=tuple(_two(p) for p in phrases),
    )


def _rivals(heard: Hearing, others: list[Way]) -> tuple[float, float]:
    """Return how likely, against the first way, are other tempos, and the same tempo with beats in other places."""
    tempo, place = 0.0, 0.0
    for way in others:
        likely = float(np.exp(3.5 * (way.score - heard.score)))
        if abs(np.log2(way.tempo_bpm / heard.tempo_bpm)) > 0.04:
            tempo += likely
        elif _apart(way, heard) > 0.25:
            place += likely
    return tempo, place


def _apart(way: Way, heard: Hearing) -> float:
    """Return how far the beats of two ways are from each other in the middle of cases, in beats."""
    away = np.abs(way.beats_s[:, None] - heard.beats_s[None, :]).min(axis=1)
    return float(np.median(away) * heard.tempo_bpm / 60)


def _two(x: float) -> float:
    """Return a likelihood with two places; more would say more than is known."""
    return round(float(np.clip(x, 0, 1)), 2)
