from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fit.made_maps import dance_named
from softshoe.fit.tempo import SEATED, STANDING, band_for, counting


@pytest.mark.parametrize(
    ("bpm", "beats_per_count", "verdict"),
    [
        (100, 1.0, "fits"),
        (88, 1.0, "fits"),
        (180, 2.0, "fits"),
        (50, 0.5, "fits"),
        (120, 1.0, "too fast"),
        (144, 2.0, "fits"),
    ],
)
def test_seated_counts_are_beats_until_the_band_is_left(bpm: float, beats_per_count: float, verdict: str) -> None:
    chosen = counting(bpm, SEATED)
    assert (chosen.beats_per_count, chosen.verdict) == (beats_per_count, verdict)


def test_a_song_a_little_slow_is_not_danced_at_double_time_because_of_a_quick_dance() -> None:
    dance = dance_named("signal_box")
    assert dance.tempo_bpm == 114
    chosen = counting(80, band_for(dance), stated=114)
    assert chosen.beats_per_count == 1
    assert chosen.verdict.endswith("slow")


def test_the_dances_own_tempo_always_lies_inside_its_band() -> None:
    slow = replace(dance_named("cushion"), tempo_bpm=(60.0, 64.0))
    quick = replace(dance_named("brass_button"), tempo_bpm=150.0)
    assert counting(62, band_for(slow), stated=62).suits
    assert counting(150, band_for(quick), stated=150).suits


def test_a_waltz_is_counted_on_its_beat_whatever_its_tempo() -> None:
    assert counting(170, band_for(dance_named("millpond")), stated=96, halves=False).beats_per_count == 1


@given(st.floats(35, 250))
def test_what_is_chosen_is_never_farther_outside_than_the_beat_itself(bpm: float) -> None:
    for band in (SEATED, STANDING):
        chosen = counting(bpm, band)
        outside = max(0.0, band.slow - chosen.counts_per_min, chosen.counts_per_min - band.fast)
        if outside:
            assert not band.slow <= bpm <= band.fast
