"""Speech over music: the music steps back while somebody speaks, and comes back slowly.

Levels are loudness relative to the speech. The music's own ups and downs are measured, so that it lies at least
``UNDER_LU`` below the speech wherever words are heard, and ``BESIDE_LU`` below it elsewhere. The step is smooth: it is
over before a word begins, and gaps of up to three seconds are bridged, so that regular counts and cues make nothing
pump.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.render.loudness import lowest_within, ratio
from softshoe.render.loudness_meter import QUIETEST_LUFS, integrated_lufs, loudness_curve

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.render.band import Samples
    from softshoe.render.loudness_meter import Curve

STEP_S = 0.05
CENTRE_LU = 3.01  # a mono sound on both loudspeakers is so much louder than on one
UNDER_LU = 12.5
TICK_PEAK_LU = 12.0  # a tick's peak above the music's loudness: its 60 ms then sound some 3 LU above it
BESIDE_LU = 6.0
AHEAD_S, BEHIND_S = 0.1, 0.4
BRIDGED_S = 3.0  # between one saying and the next
SLOPE_S = 0.8  # how long the step down or up lasts
AROUND_S = 1.5  # the music's level is taken over so much to either side


def duck(music: Samples, rate_hz: int, *, speech_lufs: float, spoken: Iterable[tuple[float, float]]) -> None:
    """Turn the music down in place: beside the speech everywhere, well under it from start to end of each spoken span.

    music : (2, n). spoken : (start, end) seconds of everything said, in any order.
    """
    if not np.any(music):
        return
    curve, music_lufs = loudness_curve(music, rate_hz, step_s=STEP_S)
    gains = step_gains(around(curve), music_lufs, speech_lufs=speech_lufs, spoken=spoken)
    middles = (np.arange(len(gains)) + 0.5) * STEP_S * rate_hz
    for at in range(0, music.shape[1], rate_hz):
        block = music[:, at : at + rate_hz]
        block *= np.interp(np.arange(at, at + block.shape[1]), middles, gains).astype(np.float32)


def around(curve: Curve) -> Curve:
    """Return a loudness curve averaged (as power) over a second and a half to either side."""
    half = round(AROUND_S / STEP_S)
    power = 10 ** (curve / 10)
    window = np.ones(2 * half + 1)
    total = np.convolve(power, window)[half : half + len(power)]
    places = np.convolve(np.ones(len(power)), window)[half : half + len(power)]
    return np.asarray(10 * np.log10(total / places))


def step_gains(level: Curve, music_lufs: float, *, speech_lufs: float, spoken: Iterable[tuple[float, float]]) -> Curve:
    """Return the music's gain at each step (a ratio): never above what leaves every word clear."""
    beside_db = speech_lufs - BESIDE_LU - max(music_lufs, QUIETEST_LUFS)
    wanted = np.full(len(level), beside_db)
    under = np.minimum(beside_db, speech_lufs - UNDER_LU - level)
    speaking = np.zeros(len(level), bool)
    for start_s, end_s in bridged(spoken):
        speaking[max(0, int((start_s - AHEAD_S) / STEP_S)) : int((end_s + BEHIND_S) / STEP_S) + 1] = True
    wanted[speaking] = under[speaking]
    half = round(SLOPE_S / 2 / STEP_S)
    kernel = np.hanning(2 * half + 3)[1:-1]
    held = np.pad(lowest_within(wanted, before=half, after=half), half, mode="edge")
    smooth = np.convolve(held, kernel / kernel.sum(), "valid")
    return np.asarray(10 ** (smooth / 20))


def bridged(spoken: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the spans of speech in order, those that follow each other closely as one.

    >>> bridged([(5.0, 5.5), (1.0, 1.5), (3.0, 3.5), (9.0, 9.5)])
    [(1.0, 5.5), (9.0, 9.5)]
    """
    spans: list[tuple[float, float]] = []
    for start_s, end_s in sorted(spoken):
        if spans and start_s - spans[-1][1] <= BRIDGED_S:
            spans[-1] = (spans[-1][0], max(spans[-1][1], end_s))
        else:
            spans.append((start_s, end_s))
    return spans


def speech_over(music: Samples, speech: Samples, rate_hz: int, *, spoken: Iterable[tuple[float, float]]) -> None:
    """Add mono speech to the music in place, the music ducked below it."""
    heard = integrated_lufs(speech[None, :], rate_hz) + CENTRE_LU
    if heard > QUIETEST_LUFS:
        duck(music, rate_hz, speech_lufs=heard, spoken=spoken)
    music += speech


def ticks_over(music: Samples, ticks: Samples, rate_hz: int) -> None:
    """Add mono ticks (peak 1) to the music in place: clear, and the music as loud as without them."""
    lufs = integrated_lufs(music, rate_hz)
    music += ticks * np.float32(ratio(lufs + TICK_PEAK_LU) if lufs > QUIETEST_LUFS else 0.5)
