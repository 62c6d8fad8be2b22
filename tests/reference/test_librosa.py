"""librosa 0.11 (McFee et al., "librosa: Audio and Music Signal Analysis in Python", SciPy 2015): a second pair of ears.

A general music library that shares nothing with this one: its mel bands, and its beats on a song whose beats are known,
as ``librosa_says.py`` wrote them down.
"""

from __future__ import annotations

import numpy as np
import pytest

from reference.librosa_says import BANDS, LOWEST_HZ, RATE_HZ, WRITTEN, song_hash
from softshoe.music.audio import Sound
from softshoe.music.ear import mel_bands
from softshoe.music.listen import listen
from softshoe.render.demo_song import demo_song, demo_truth

WINDOW_S = 0.07  # the usual tolerance of beat scores (Davies, Degara, Plumbley 2009)


@pytest.fixture(scope="module")
def said() -> dict[str, np.ndarray]:
    with np.load(WRITTEN) as written:
        return {name: written[name] for name in written.files}


@pytest.mark.parametrize(("bands", "window"), BANDS)
def test_mel_bands_are_those_of_the_library(said: dict[str, np.ndarray], bands: int, window: int) -> None:
    assert str(said["version"]).startswith("0.11")
    ours = mel_bands(bands=bands, window=window, rate_hz=RATE_HZ, lowest_hz=LOWEST_HZ)
    theirs = said[f"mel_{bands}_{window}"].T
    assert ours == pytest.approx(theirs / theirs.sum(axis=0), abs=2e-3)


def f_measure(found_s: np.ndarray, true_s: np.ndarray) -> float:
    hits = sum(np.abs(found_s - beat).min() <= WINDOW_S for beat in true_s)
    return 2 * hits / (len(found_s) + len(true_s))


def test_our_beats_are_no_worse_than_the_library_s_where_the_truth_is_known(said: dict[str, np.ndarray]) -> None:
    samples, rate_hz = demo_song()
    assert str(said["song"]) == song_hash(samples), "the demo song has changed: run tests/reference/librosa_says.py"
    true_s = np.asarray(demo_truth()["beats"])
    ours = listen(Sound(samples, rate_hz, 0))
    assert f_measure(np.asarray(ours.beats_s), true_s) >= max(0.97, f_measure(said["beats_s"], true_s))
    assert ours.tempo_bpm == pytest.approx(100.0, abs=0.1)
