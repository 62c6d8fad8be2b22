"""The tempo as it goes, in points and in words."""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.music.tempo_curve import tempo_curve, tempo_words


def beats(bpm: np.ndarray) -> list[float]:
    return np.concatenate([[0.4], 0.4 + np.cumsum(60 / bpm)]).tolist()


@pytest.mark.parametrize("count", [0, 1, 2, 3])
def test_hardly_any_beats_have_no_tempo(count: int) -> None:
    assert tempo_curve([0.5 * k for k in range(count)]) == ()
    assert tempo_words(()) == "not known"


def test_a_steady_song_is_two_points_however_loosely_it_is_played() -> None:
    loose = np.array(beats(np.full(200, 112.0))) + np.random.default_rng(1).normal(0, 0.008, 201)
    curve = tempo_curve(loose.tolist())
    assert len(curve) == 2
    assert tempo_words(curve) == "steady at 112"


def test_a_band_that_hurries_drifts_from_one_tempo_to_another() -> None:
    curve = tempo_curve(beats(np.linspace(108, 114, 300)))
    assert tempo_words(curve) == "drifts from 108 to 114"
    assert np.interp(80, *zip(*curve, strict=True)) == pytest.approx(111, abs=1)


def test_a_band_that_comes_back_wanders() -> None:
    curve = tempo_curve(beats(110 + 4 * np.sin(np.linspace(0, 2 * np.pi, 300))))
    assert tempo_words(curve).startswith("wanders between")


def test_two_songs_in_one_are_told_with_the_moment() -> None:
    curve = tempo_curve(beats(np.concatenate([np.full(160, 96.0), np.full(160, 128.0)])))
    assert tempo_words(curve) == "changes at 1:40 from 96 to 128"


def test_a_held_bar_is_no_change_of_tempo() -> None:
    held = np.array(beats(np.full(200, 120.0)))
    held[100:] += 1.7
    assert tempo_words(tempo_curve(held.tolist())) == "steady at 120"
