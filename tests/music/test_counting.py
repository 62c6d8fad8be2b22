"""Seconds of counts."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.errors import MusicError, SettingError
from softshoe.music.counting import count_times, seconds_for


@pytest.mark.parametrize("beats", [[], [1.0], [1.0, 1.0], [2.0, 1.0], [1.0, float("nan")]])
def test_fewer_than_two_rising_beats_cannot_be_counted_on(beats: list[float]) -> None:
    with pytest.raises(MusicError, match="no steady beat"):
        count_times(np.array(beats), counts_per_beat=1)


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
def test_counts_a_beat_and_tempo_must_be_positive(wrong: float) -> None:
    with pytest.raises(SettingError):
        count_times(np.array([0.0, 1.0]), counts_per_beat=wrong)
    with pytest.raises(SettingError):
        seconds_for(8, tempo_bpm=wrong)


@given(st.lists(st.floats(0.2, 2.0), min_size=1, max_size=60), st.sampled_from([0.5, 1.0, 2.0]))
def test_counts_begin_on_the_first_beat_rise_and_never_pass_the_last(gaps: list[float], counts_per_beat: float) -> None:
    beats = np.cumsum([1.0, *gaps])
    times = count_times(beats, counts_per_beat=counts_per_beat)
    assert times[0] == beats[0]
    assert np.all(np.diff(times) > 0)
    assert times[-1] <= beats[-1] + 1e-9
    assert len(times) == int((len(beats) - 1) * counts_per_beat) + 1
