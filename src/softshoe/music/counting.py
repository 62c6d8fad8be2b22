"""Seconds of counts: where the numbers of a dance fall on the beats of a song."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from softshoe.errors import MusicError, SettingError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    FloatArray = NDArray[np.float64]


def count_times(beats_s: FloatArray, *, counts_per_beat: float) -> FloatArray:
    """Return the time at which each dance count falls.

    beats_s : shape (n_beats,), n_beats >= 2, increasing. [s]
    counts_per_beat : 1 counting every beat, 0.5 every other beat, 2 twice a beat. [-]

    Returns shape (n_counts,); the first is ``beats_s[0]``. [s]
    Raises MusicError when there are fewer than two beats or they do not increase, SettingError when counts_per_beat is
    not a positive number.
    Notes: straight between beats; nothing is invented after the last one.

    >>> count_times(np.array([1.0, 1.5, 2.0]), counts_per_beat=0.5).tolist()
    [1.0, 2.0]
    """
    beats = np.asarray(beats_s, dtype=np.float64)
    if not (np.isfinite(counts_per_beat) and counts_per_beat > 0):
        raise SettingError("counts per beat", f"{counts_per_beat} can't be counted",
                           "a beat holds some part of a count", "use 0.5, 1 or 2")  # fmt: skip
    if beats.ndim != 1 or len(beats) < 2 or not np.all(np.isfinite(beats)) or np.any(np.diff(beats) <= 0):
        raise MusicError("beats", "no steady beat to count on", f"{beats.size} beats, or not one after the other",
                         "tap the beat along with the song, or give its tempo")  # fmt: skip
    last = len(beats) - 1
    n_counts = int(np.floor(last * counts_per_beat + 1e-9)) + 1
    return np.interp(np.arange(n_counts) / counts_per_beat, np.arange(last + 1), beats)


def seconds_for(counts: float, *, tempo_bpm: float) -> float:
    """Return how long a number of counts lasts at one count a beat. [s]

    tempo_bpm : above 0. [beats a minute]

    >>> seconds_for(32, tempo_bpm=128)
    15.0
    """
    if not (np.isfinite(tempo_bpm) and tempo_bpm > 0):
        raise SettingError("tempo", f"{tempo_bpm} is no tempo", "a tempo is a number of beats a minute above 0",
                           "give the beats a minute, as in 112")  # fmt: skip
    return 60 * counts / tempo_bpm
