"""librosa 0.11 (McFee et al., "librosa: Audio and Music Signal Analysis in Python", SciPy 2015): a second pair of ears.

A general music library that shares nothing with this one: its mel bands, and its beats on a song whose beats are known.
"""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from softshoe.music.audio import Sound
from softshoe.music.ear import mel_bands
from softshoe.music.listen import listen
from softshoe.render.demo_song import demo_song, demo_truth

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import librosa

WINDOW_S = 0.07  # the usual tolerance of beat scores (Davies, Degara, Plumbley 2009)


@pytest.mark.parametrize(("bands", "window"), [(48, 2048), (12, 4096)])
def test_mel_bands_are_those_of_the_library(bands: int, window: int) -> None:
    ours = mel_bands(bands=bands, window=window, rate_hz=22_050, lowest_hz=100.0)
    theirs = librosa.filters.mel(sr=22_050, n_fft=window, n_mels=bands, fmin=100.0, htk=True, norm=None).T
    assert ours == pytest.approx(theirs / theirs.sum(axis=0), abs=2e-3)


def f_measure(found_s: np.ndarray, true_s: np.ndarray) -> float:
    hits = sum(np.abs(found_s - beat).min() <= WINDOW_S for beat in true_s)
    return 2 * hits / (len(found_s) + len(true_s))


def test_our_beats_are_no_worse_than_the_library_s_where_the_truth_is_known() -> None:
    samples, rate_hz = demo_song()
    true_s = np.asarray(demo_truth()["beats"])
    ours = listen(Sound(samples, rate_hz, 0))
    mono = samples.mean(axis=0)
    _, theirs_s = librosa.beat.beat_track(y=mono, sr=rate_hz, units="time")
    assert f_measure(np.asarray(ours.beats_s), true_s) >= max(0.97, f_measure(np.asarray(theirs_s), true_s))
    assert ours.tempo_bpm == pytest.approx(100.0, abs=0.1)
