"""Beats and seconds: 60 seconds divided by beats a minute; a table worked by hand (arithmetic, no other source).

| beats/min | 1 beat (s) | 8 | 32 | 64 |
Values with six places are rounded there, so the tolerance is half of the last place.
"""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.music.counting import count_times, seconds_for

TABLE = [
    (60, 1.000, 8.000, 32.000, 64.000),
    (80, 0.750, 6.000, 24.000, 48.000),
    (100, 0.600, 4.800, 19.200, 38.400),
    (110, 0.545455, 4.363636, 17.454545, 34.909091),
    (120, 0.500, 4.000, 16.000, 32.000),
    (128, 0.468750, 3.750, 15.000, 30.000),
]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row[0]} bpm")
def test_counts_last_as_long_as_the_table_says(row: tuple[float, ...]) -> None:
    bpm, *seconds = row
    for counts, expected in zip((1, 8, 32, 64), seconds, strict=True):
        assert seconds_for(counts, tempo_bpm=bpm) == pytest.approx(expected, abs=5e-7)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row[0]} bpm")
def test_counts_on_even_beats_fall_where_the_table_says(row: tuple[float, ...]) -> None:
    bpm, one, eight, thirty_two, sixty_four = row
    times = count_times(np.arange(65) * 60 / bpm, counts_per_beat=1)
    assert times[[1, 8, 32, 64]] == pytest.approx([one, eight, thirty_two, sixty_four], abs=5e-7)
